//! What the operator is told at the head of a program, against the words that follow it.

use super::*;

/// Rounding of a way written with four decimals, in minutes at the axes' top speeds.
const SAME_MIN: f64 = 1e-6;

#[test]
fn the_header_says_which_way_the_machine_counts() {
    let mut wrong = Vec::new();
    for (headstock, head) in [(XEnd::XPlus, "up"), (XEnd::XMinus, "down")] {
        for (a_plus, top) in [(TopTurns::ToFront, "front"), (TopTurns::ToBack, "back")] {
            for (z_zero, z) in [
                (ZZero::Axis, "(Z0: axis of rotation)"),
                (ZZero::FinishedSurface, "(Z0: top of the finished cylinder, 25.00 mm above the axis of)"),
            ] {
                let mut job = sample::job();
                (job.machine.headstock, job.machine.a_plus, job.machine.z_zero) = (headstock, a_plus, z_zero);
                let text = text_of(&job);
                let words = [
                    format!("(X0: nose face, X counts {head} towards the headstock)"),
                    format!("(to the {top}, or else the thread winds the wrong way)"),
                    z.to_owned(),
                ];
                wrong.extend(words.into_iter().filter(|words| !text.contains(words)));
                // The headstock lies where X counts to in the words: the cut goes there.
                let lines = motions(&text);
                let farthest = lines
                    .iter()
                    .map(|line| line.x)
                    .fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a });
                assert_eq!(farthest > 0.0, head == "up", "{farthest}");
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_extents_in_the_header_are_those_of_the_words() {
    for unit in [LengthUnit::Mm, LengthUnit::Inch] {
        let mut job = sample::job();
        job.machine.style.unit = unit;
        let text = text_of(&job);
        let lines = motions(&text);
        // The three opening moves come from an unknown place; from the third on all axes are known.
        let known = &lines[2..];
        for (name, unit, word) in [
            ("X", unit.name(), (|line: &Line| line.x) as fn(&Line) -> f64),
            ("Z", unit.name(), |line| line.z),
            ("A", "degrees", |line| line.a),
        ] {
            let low = known.iter().map(word).fold(f64::INFINITY, f64::min);
            let high = known.iter().map(word).fold(f64::NEG_INFINITY, f64::max);
            let words = format!("({name} {low:?} to {high:?} {unit})");
            assert!(text.contains(&words), "{words}\n{text}");
        }
    }
}

/// The comments of a program on a machine whose lines are long enough for each.
fn said(mut job: Job) -> Vec<String> {
    job.machine.style.line_length = 200;
    text_of(&job).lines().filter(|line| line.starts_with('(')).map(str::to_owned).collect()
}

#[track_caller]
fn says(job: Job, wanted: &str) {
    let said = said(job);
    assert!(said.iter().any(|line| line == wanted), "{wanted}\n{}", said.join("\n"));
}

#[test]
fn the_header_says_what_f_means() {
    for (feed, unit, wanted) in [
        (FeedConvention::InverseTime, LengthUnit::Mm, "(F: G93, one over the minutes that the line takes)"),
        (FeedConvention::Linear, LengthUnit::Mm, "(F: G94, mm/min along X and Z as if A stood still)"),
        (FeedConvention::Linear, LengthUnit::Inch, "(F: G94, in/min along X and Z as if A stood still)"),
        (
            FeedConvention::Combined,
            LengthUnit::Mm,
            "(F: G94, mm and degrees together, root of the sum of squares, per minute)",
        ),
        (
            FeedConvention::Combined,
            LengthUnit::Inch,
            "(F: G94, mm and degrees together, root of the sum of squares, per minute, divided by 25.4)",
        ),
    ] {
        let mut job = sample::job();
        (job.machine.feed, job.machine.style.unit) = (feed, unit);
        says(job, wanted);
    }
}

#[test]
fn the_header_says_where_the_thread_lies_and_what_is_turned_first() {
    let mut job = sample::job();
    says(job.clone(), "(full thread from X-20.0 to X-320.0, run-out to X-330.0 mm)");
    let nose = "(turn it first to less than 36.00 mm across from X0.0 to X-20.0: the plain nose lies below the root)";
    says(job.clone(), nose);
    job.machine.style.unit = LengthUnit::Inch;
    says(job.clone(), "(full thread from X-0.7874 to X-12.5984, run-out to X-12.9921 in)");
    job.screw.plain_nose_mm = 0.0;
    assert!(!said(job).iter().any(|line| line.contains("turn it first")));
}

#[test]
fn the_header_says_what_holds_the_blank_and_how_wide_the_cutter_is() {
    let mut job = sample::job();
    says(job.clone(), "(held: 40.00 mm of it in the chuck, tail centre 16.00 mm across)");
    says(
        job.clone(),
        "(cutter: V cutter of the press, 60 degrees, flat tip 1.00 mm, 20.00 mm across, sticking out 35.00 mm)",
    );
    job.machine.centre = None;
    says(job, "(held: 40.00 mm of it in the chuck, no tail centre)");
}

#[test]
fn the_header_says_where_to_park_and_where_the_flat_lies() {
    let mut job = sample::job();
    says(
        job.clone(),
        "(park before the start: cutter above the nose, Z at the top of its travel, A0 at the mark)",
    );
    says(job.clone(), "(A0: start 1 at the nose face, mark blank and chuck there)");
    job.blank.shape = crate::setup::BlankShape::Octagon;
    says(job, "(A0: start 1 at the nose face, a flat of the blank on top, mark blank and chuck there)");
}

/// The rapids of A that go against the way in which A turns with the cut, in turns.
fn wound_back(text: &str) -> Vec<f64> {
    // A right-hand thread on this machine counts A up.
    motions(text)
        .windows(2)
        .map(|pair| (pair[0].a - pair[1].a) / 360.0)
        .skip(2)
        .filter(|turns| *turns > 0.0)
        .collect()
}

#[test]
fn the_header_says_how_far_a_winds_back_and_where_it_ends() {
    let mut job = sample::job();
    let end = motions(&text_of(&job)).last().unwrap().a;
    let begin = motions(&text_of(&job))[2].a;
    let turns = (end - begin) / 360.0;
    says(
        job.clone(),
        &format!(
            "(A ends at A{end:?}: turn it on to the mark and set A to 0 before another run, or it first unwinds {turns:.0} turns)"
        ),
    );
    assert!(!said(job.clone()).iter().any(|line| line.contains("winds back")));
    // Room for four passes of the six and then two; for two each time; for one each time.
    for (limit, passes_back, times) in
        [(13_000.0, 2.0, "once"), (7000.0, 2.0, "2 times"), (3500.0, 1.0, "5 times")]
    {
        job.machine.a.limit_deg = Some(limit);
        let text = text_of(&job);
        let back = wound_back(&text);
        let most = back.iter().copied().fold(0.0, f64::max);
        assert!((most - 17.6 * passes_back).abs() < 1.5, "{most}\n{text}");
        says(
            job.clone(),
            &format!("(A winds back {times}, up to {most:.1} turns, above the blank, spindle running)"),
        );
        let lines = motions(&text);
        let (begin, end) = (lines[2].a, lines.last().unwrap().a);
        says(
            job.clone(),
            &format!(
                "(A ends at A{end:?}: another run first unwinds {:.0} turns, set no new A0 there, the limit of {limit} degrees counts from the old one)",
                (end - begin).abs() / 360.0
            ),
        );
    }
}

#[test]
fn a_short_thread_leaves_a_near_its_zero_and_says_nothing_of_it() {
    let mut job = sample::job();
    (job.screw.thread_length_mm, job.screw.plain_nose_mm, job.screw.starts) = (6.0, 0.0, 1);
    (job.screw.pitch_mm, job.screw.lead_mm) = (12.5, 12.5);
    job.cutting.passes = crate::job::Passes::EqualArea(1);
    let said = said(job);
    let ends: Vec<_> = said.iter().filter(|line| line.contains("A ends at")).collect();
    assert!(ends.is_empty(), "{ends:?}");
}

#[test]
fn the_minutes_count_the_way_to_the_first_pass() {
    let job = sample::job();
    let screw = design::screw(&job).0.unwrap();
    let path = toolpath::plan(&job, &screw).0.unwrap();
    let setup = design::setup(&job, &screw);
    let with = minutes(&setup, path.from, &path.moves);
    // 21.5747 mm of X and 120 - 55 mm of Z at 3000 mm/min, 388.3438 degrees at 7200 degrees/min.
    let way = (21.5747 + 65.0) / 3000.0 + 388.3438 / 7200.0;
    let at_start = setup.machine.spindle.start_s / 60.0;
    let mut rest = path.clone();
    rest.moves.clear();
    assert!((minutes(&setup, rest.from, &rest.moves) - at_start - way).abs() < SAME_MIN);
    says(job, &format!("(about {with:.0} minutes)"));
}
