//! What the text of a program must hold, whatever the machine. Read with a few string splits, never with the proving
//! half's reader.

use super::*;
use crate::design::sample;
use crate::drawing::Hand;
use crate::job::{Order, Travel};
use crate::setup::{CommentStyle, Tip, TopTurns, XEnd, ZZero};
use crate::toolpath;

mod header;

fn text_of(job: &Job) -> String {
    let (screw, findings) = design::screw(job);
    assert!(findings.is_empty(), "{findings:?}");
    let screw = screw.unwrap();
    let (path, findings) = toolpath::plan(job, &screw);
    assert!(findings.is_empty(), "{findings:?}");
    program(job, &screw, &path.unwrap())
}

/// A person who goes on at a line of the program must come to the pass that stands there.
#[test]
fn each_pass_is_told_at_the_line_of_its_words() {
    let job = sample::job();
    let screw = design::screw(&job).0.unwrap();
    let work = toolpath::Work::of_thread(&job, &toolpath::plan(&job, &screw).0.unwrap());
    let setup = design::setup(&job, &screw);
    let (text, lines) = step_program_lines(&job, &screw, &setup, &work, &Lead::default());
    let text: Vec<&str> = text.lines().collect();
    assert!(lines.len() > 3 && lines.len() == work.notes.len());
    for (line, words) in lines.iter().zip(&work.notes) {
        assert_eq!(text[line - 1], format!("({words})"));
    }
}

/// One motion line: its G word and where X, Z and A stand after it.
#[derive(Clone, Copy, Debug)]
struct Line {
    g: u32,
    x: f64,
    z: f64,
    a: f64,
    f: Option<f64>,
    axes: usize,
}

fn motions(text: &str) -> Vec<Line> {
    let mut at = Line { g: 0, x: 0.0, z: 0.0, a: 0.0, f: None, axes: 0 };
    let mut lines = Vec::new();
    for line in text.lines().filter(|line| line.starts_with("G0 ") || line.starts_with("G1 ")) {
        (at.axes, at.f) = (0, None);
        for word in line.split(' ') {
            let number: f64 = word[1..].parse().unwrap();
            match &word[..1] {
                "G" => at.g = number as u32,
                "F" => at.f = Some(number),
                letter => {
                    at.axes += 1;
                    *match letter {
                        "X" => &mut at.x,
                        "Z" => &mut at.z,
                        _ => &mut at.a,
                    } = number;
                }
            }
        }
        lines.push(at);
    }
    lines
}

/// Pairs of line ends between which X and A move together at a constant Z.
fn helices(lines: &[Line]) -> impl Iterator<Item = (Line, Line)> + '_ {
    lines.windows(2).filter(|pair| pair[1].g == 1 && pair[1].axes == 2).map(|pair| (pair[0], pair[1]))
}

#[test]
fn a_right_hand_thread_is_x_against_a_on_either_end_when_the_top_turns_to_the_front() {
    let mut wrong = Vec::new();
    for headstock in [XEnd::XPlus, XEnd::XMinus] {
        for a_plus in [TopTurns::ToFront, TopTurns::ToBack] {
            for hand in [Hand::Right, Hand::Left] {
                let mut job = sample::job();
                (job.machine.headstock, job.machine.a_plus, job.screw.hand) = (headstock, a_plus, hand);
                let lead = -a_plus.sign() * hand.sign() * 20.0;
                let lines = motions(&text_of(&job));
                let mut turns = 0.0;
                for (from, to) in helices(&lines) {
                    // Start 1 runs through A0 at X0, start 2 half a turn beside it.
                    let off = (to.x - lead * to.a / 360.0).rem_euclid(10.0);
                    let off = off.min(10.0 - off);
                    let slope = (to.x - from.x) / (to.a - from.a) * 360.0;
                    if (slope - lead).abs() > 1e-3 || off > 2e-4 {
                        wrong.push(format!("{headstock:?} {a_plus:?} {hand:?}: {from:?} to {to:?}"));
                    }
                    turns += (to.a - from.a).abs() / 360.0;
                }
                assert!(turns > 6.0 * 16.0, "six passes of sixteen turns, found {turns}");
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn starts_stand_apart_by_their_share_of_a_turn() {
    let mut job = sample::job();
    (job.screw.starts, job.screw.lead_mm, job.cutting.order) = (3, 30.0, Order::ByDepth);
    let text = text_of(&job);
    let lines = motions(&text);
    let phases: Vec<f64> = helices(&lines)
        .filter(|(from, to)| (from.x - to.x).abs() > 100.0)
        .map(|(_, to)| (to.a + to.x / 30.0 * 360.0).rem_euclid(360.0))
        .map(|phase| if phase > 359.9 { phase - 360.0 } else { phase })
        .collect();
    assert_eq!(phases.len(), 9, "three starts at three depths\n{text}");
    for (index, phase) in phases.iter().enumerate() {
        // A runs with theta here: -d k is +1.
        let wanted = 120.0 * (index % 3) as f64;
        assert!((phase - wanted).abs() < 2e-3, "pass {index}: {phase} against {wanted}");
    }
}

#[test]
fn the_first_move_is_up_and_rapids_move_one_axis() {
    for travel in [Travel::OneWay, Travel::BothWays] {
        let mut job = sample::job();
        job.cutting.travel = travel;
        let text = text_of(&job);
        let first = text.lines().find(|line| line.starts_with("G0 ") || line.starts_with("G1 "));
        assert_eq!(first, Some("G0 Z55.0"));
        let lines = motions(&text);
        assert!(lines.iter().all(|line| line.g == 1 || line.axes == 1), "{text}");
        // The blank's edge is 25 above the axis: no rapid below it, wherever X and A go.
        assert!(lines.iter().all(|line| line.g == 1 || line.z >= 30.0), "{text}");
    }
}

#[test]
fn every_feed_move_says_its_feed_and_lasts_as_planned() {
    for convention in [FeedConvention::InverseTime, FeedConvention::Linear, FeedConvention::Combined] {
        for unit in [LengthUnit::Mm, LengthUnit::Inch] {
            let mut job = sample::job();
            (job.machine.feed, job.machine.style.unit) = (convention, unit);
            // One ten-thousandth of an inch is too coarse for a lead of 20 mm to the same share.
            job.machine.style.decimals = 5;
            let lines = motions(&text_of(&job));
            for (from, to) in lines.iter().zip(&lines[1..]).filter(|(_, to)| to.g == 1) {
                let f = to.f.expect("a feed move without F");
                let mm = unit.mm();
                let (x, z, a) = ((to.x - from.x) * mm, (to.z - from.z) * mm, to.a - from.a);
                let minutes = match convention {
                    FeedConvention::InverseTime => 1.0 / f,
                    FeedConvention::Linear => x.hypot(z) / (f * mm),
                    FeedConvention::Combined => x.hypot(z).hypot(a) / (f * mm),
                };
                let way = x.hypot(z).hypot(a.to_radians() * 25.0);
                let speed = if a == 0.0 { 500.0 } else { 1500.0 };
                assert!(
                    (way / minutes / speed - 1.0).abs() < 1e-4,
                    "{convention:?} {unit:?}: {} mm/min from {from:?} to {to:?}",
                    way / minutes
                );
            }
        }
    }
}

#[test]
fn an_inch_program_has_the_same_sizes() {
    let mut job = sample::job();
    job.machine.style.unit = LengthUnit::Inch;
    let text = text_of(&job);
    assert!(text.contains("\nG20\n") && !text.contains("G21"), "{text}");
    let deepest = motions(&text).iter().map(|line| line.z).fold(f64::INFINITY, f64::min);
    assert_eq!(deepest, 0.7087, "18 mm");
}

#[test]
fn z_counts_from_the_finished_surface_when_the_machine_has_it_so() {
    let mut job = sample::job();
    job.machine.z_zero = ZZero::FinishedSurface;
    let deepest = motions(&text_of(&job)).iter().map(|line| line.z).fold(f64::INFINITY, f64::min);
    assert_eq!(deepest, -7.0);
}

#[test]
fn a_spindle_switched_by_hand_gets_a_stop_at_either_end_and_no_spindle_words() {
    for (end, word) in [(EndWord::M2, "M2"), (EndWord::M30, "M30")] {
        let mut job = sample::job();
        job.machine.spindle.control = SpindleControl::Hand;
        job.machine.style.end = end;
        let text = text_of(&job);
        assert!(!text.contains("M3 ") && !text.contains("M5"), "{text}");
        let stops: Vec<usize> = text.match_indices("\nM0\n").map(|(at, _)| at).collect();
        let feeds: Vec<usize> = text.match_indices("\nG1 ").map(|(at, _)| at).collect();
        assert_eq!(stops.len(), 2, "{text}");
        assert!(stops[0] < feeds[0], "the first stop comes before the first feed move");
        let tail = format!(
            "\nG0 Z55.0\n(switch the spindle off, then let the program go on to its end)\nM0\nG94\n{word}\n"
        );
        assert!(text.ends_with(&tail), "{text}");
    }
}

#[test]
fn only_plain_characters_and_short_lines() {
    let mut job = sample::job();
    job.title = "pressa \u{e0} deux colonnes (grande); 100 %\n(MSG, hello)".to_owned();
    for comments in [CommentStyle::Parentheses, CommentStyle::Semicolon, CommentStyle::None] {
        for line_length in [40, 70] {
            job.machine.style.comments = comments;
            job.machine.style.line_length = line_length;
            job.machine.style.line_numbers = Some(10);
            let text = text_of(&job);
            assert!(text.is_ascii() && text.ends_with("M2\n"), "{text}");
            assert!(text.lines().all(|line| line.len() <= line_length), "{text}");
            let marked = |line: &&str| line.starts_with(['(', ';']);
            assert_eq!(text.lines().any(|line| marked(&line)), comments != CommentStyle::None);
            assert!(!text.contains('%'), "{text}");
        }
    }
}

#[test]
fn the_same_job_gives_the_same_bytes() {
    assert_eq!(text_of(&sample::job()), text_of(&sample::job()));
}

#[test]
fn a_short_job_reads_like_this() {
    let mut job = sample::job();
    job.cutting.passes = crate::job::Passes::EqualArea(1);
    (job.screw.starts, job.screw.lead_mm) = (1, 10.0);
    job.machine.style.percent = true;
    insta::assert_snapshot!(text_of(&job));
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(200))]

    /// Whatever is asked within the ranges that a job file lets pass: no panic, and a program without a finding of
    /// weight `stop` reaches its root and never goes below it.
    #[test]
    fn any_job_gives_findings_or_a_program_that_reaches_the_root(
        crest in 8.0..400.0_f64,
        pitch in 1.0..120.0_f64,
        starts in 1..12_u32,
        share in 0.0..1.0_f64,
        from_flat in proptest::bool::ANY,
        angle in 20.0..150.0_f64,
        tip in 0.0..3.0_f64,
        ball in proptest::bool::ANY,
        passes in 1..60_u32,
        run_out in 0.05..5.0_f64,
        limit in proptest::option::of(90.0..100_000.0_f64),
    ) {
        let mut job = sample::job();
        job.screw.crest_diameter_mm = crest;
        (job.screw.pitch_mm, job.screw.starts, job.screw.lead_mm) = (pitch, starts, pitch * f64::from(starts));
        job.screw.depth = if from_flat {
            crate::job::DepthAsked::CrestFlat { flat_mm: share * pitch, depth_too_mm: None }
        } else {
            crate::job::DepthAsked::Depth { depth_mm: share * crest / 2.0 }
        };
        job.blank.size_mm = crest;
        job.cutter.included_angle_deg = angle;
        job.cutter.tip =
            if ball { Tip::Ball { radius_mm: tip + 0.05 } } else { Tip::Flat { diameter_mm: tip } };
        job.cutting.passes = crate::job::Passes::EqualArea(passes);
        job.cutting.run_out_turns = run_out;
        job.machine.a.limit_deg = limit;
        let (screw, findings) = design::screw(&job);
        let Some(screw) = screw else {
            proptest::prop_assert!(!findings.is_empty());
            return Ok(());
        };
        let (path, findings) = toolpath::plan(&job, &screw);
        let Some(path) = path else {
            proptest::prop_assert!(!findings.is_empty());
            return Ok(());
        };
        let text = program(&job, &screw, &path);
        proptest::prop_assert!(text.is_ascii() && text.lines().all(|line| line.len() <= 70), "{}", text);
        let deepest = motions(&text).iter().map(|line| line.z).fold(f64::INFINITY, f64::min);
        proptest::prop_assert!((deepest - screw.root_radius_mm).abs() <= 0.5001e-4, "{}", deepest);
    }
}

/// The way to the first place counts from over the nose, at the top of Z's travel; Z words may count from elsewhere than
/// the axis.
#[test]
fn the_time_of_a_program_holds_the_way_to_its_first_place() {
    let job = sample::job();
    let mut setup = design::setup(&job, &design::screw(&job).0.unwrap());
    (setup.z_limits_mm[1], setup.z_axis_mm) = (112.0, 12.0);
    let from = Place { s_mm: -5.0, theta_deg: 36.0, r_mm: 60.0 };
    let (machine, got) = (&setup.machine, minutes(&setup, from, &[]));
    let way =
        5.0 / machine.x.top_mm_per_min + 40.0 / machine.z.top_mm_per_min + 36.0 / machine.a.top_deg_per_min;
    assert!((got - way - machine.spindle.start_s / 60.0).abs() < 1e-12, "{got}");
}
