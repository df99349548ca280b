//! Whole screws of other sizes and kinds than the sample's: every operation is planned, written, read back and proved on
//! what the ones before it leave.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::sync::Arc;

use common::Dice;
use threadwright::design::{self, Step};
use threadwright::job::{self, Job};
use threadwright::post::{self, Lead};
use threadwright::proof;
use threadwright::source::Source;
use threadwright::toolpath::{self, Choice};

/// Cells of the carve: a band that is left standing, or a cut too many, is larger by far.
const CELLS_MM: f64 = 0.25;

/// The sample of a whole screw with some of its lines written otherwise, and lines at its end.
fn changed(changes: &[(&str, &str)], added: &str) -> Job {
    let samples = common::root().join("samples");
    let mut text = common::read(&samples.join("finishing-press.toml")).text().to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from} is not in the sample");
        text = text.replacen(from, to, 1);
    }
    let (job, findings) = job::read(&Source::new("changed.toml", text + added), &mut |name| {
        Ok(common::read(&samples.join(name)))
    });
    job.unwrap_or_else(|| panic!("{changes:?}: {findings:?}"))
}

fn proves(what: &str, changes: &[(&str, &str)], added: &str) {
    if let Err(why) = common::prove_steps(&changed(changes, added), CELLS_MM) {
        panic!("{what}: {why}");
    }
}

/// The first of a job's steps, and its program.
fn first_program(job: &Job) -> (Step, Arc<Source>) {
    let screw = design::screw(job).0.expect("it can be made");
    let step = design::steps(job, &screw, false).0.remove(0);
    let work = toolpath::work(job, &screw, &step, &Choice::default()).0.expect("it can be cut");
    let text = post::step_program(job, &screw, &step.setup, &work, &Lead::default());
    (step, Source::new("first.nc", text))
}

/// From a stick that is hardly thick enough to one with a third too much, whatever its section.
#[test]
fn any_stick_that_is_thick_enough_becomes_the_screw() {
    for shape in ["square", "octagon", "round"] {
        for size in ["52", "54", "56", "57.5", "59", "62.5", "65"] {
            let changes = [
                ("shape = \"octagon\"", format!("shape = \"{shape}\"")),
                ("size = 54 ", format!("size = {size} ")),
            ];
            let changes = changes.each_ref().map(|(from, to)| (*from, to.as_str()));
            proves(&format!("{shape} {size}"), &changes, "");
        }
    }
}

/// Lines for the saw at both ends, also where the thread begins at the nose and where the nose has a plain stretch.
#[test]
fn lines_for_the_saw_are_cut_beside_every_nose() {
    let marks = "\n[marks]\ncutter = \"cutters/v60-flat-1.toml\"\ndepth = 1\n";
    let chamfer = "[nose]\nchamfer = 3          # with the flank of the thread's cutter\nfeed = 3600\n";
    for (what, change) in [("a chamfered nose", (chamfer, chamfer)), ("a nose as it is", (chamfer, ""))] {
        proves(what, &[change], marks);
    }
    let plain = ("thread_length = 240", "thread_length = 230\nplain_nose = 10");
    proves("a plain nose", &[plain, (chamfer, "")], marks);
}

/// Hexagonal and round tenons, and a screw of the other hand.
#[test]
fn tenons_and_hands_of_every_kind() {
    proves("hexagonal", &[("flats = 4", "flats = 6"), ("across = 28", "across = 30")], "");
    proves("round", &[("flats = 4\n", ""), ("across = 28\n", "")], "");
    proves("left-hand", &[("hand = \"right\"", "hand = \"left\"")], "");
}

/// Rounding takes the corners first, from the middle of each corner: geometry has them half a side's angle beside the
/// sides, and every one of these cuts takes as much wood as the others of its level.
#[test]
fn corners_are_planed_where_the_corners_are() {
    for (shape, sides) in [("octagon", 8), ("square", 4)] {
        let job = changed(&[("shape = \"octagon\"", &format!("shape = \"{shape}\""))], "");
        let (step, text) = first_program(&job);
        let proof = proof::prove(&text, &step.setup, &step.drawing, None);
        assert!(proof.proved(), "{:?}", proof.findings);
        let lines: Vec<&str> = text.text().lines().collect();
        let mut levels: Vec<Vec<(f64, f64)>> = Vec::new();
        let mut a_deg = 0.0;
        for (number, line) in lines.iter().enumerate() {
            if line.contains("corners, level") {
                levels.push(Vec::new());
            } else if line.starts_with("(round: level") {
                break;
            } else if let Some(a) = line.strip_prefix("G0 A") {
                a_deg = a.parse().expect("a number");
            } else if line.starts_with("G1 X") {
                let removed = proof
                    .loads
                    .iter()
                    .find(|load| load.line == number + 1)
                    .map_or(0.0, |load| load.removed_mm3);
                levels.last_mut().expect("a level has begun").push((a_deg, removed));
            }
        }
        assert!(!levels.is_empty(), "no corners of a {shape}");
        for level in levels {
            let half = 180.0 / f64::from(sides);
            let mut corners: Vec<f64> =
                level.iter().map(|(a, _)| (a / half).rem_euclid(f64::from(2 * sides))).collect();
            corners.sort_by(f64::total_cmp);
            let odd: Vec<f64> = (0..sides).map(|corner| f64::from(2 * corner + 1)).collect();
            assert!(corners.iter().zip(&odd).all(|(a, b)| (a - b).abs() < 1e-6), "{shape}: {corners:?}");
            let [least, most] =
                [f64::min, f64::max].map(|of| level.iter().map(|cut| cut.1).reduce(of).unwrap_or(0.0));
            assert!(least > 100.0 && most < 1.02 * least, "{shape}: {level:?}");
        }
    }
}

/// A tapered nose runs straight from the root to the crest, a rounded one on a quarter of a circle that goes over into the
/// crest; both are drawn and cut.
#[test]
fn noses_have_the_shape_that_was_asked() {
    let chamfer = "chamfer = 3          # with the flank of the thread's cutter\nfeed = 3600\n";
    for asked in ["taper", "round_over"] {
        let nose = format!("{asked} = 6\ncutter = \"cutters/straight-8.toml\"\n");
        let job = changed(&[(chamfer, &nose)], "");
        let screw = design::screw(&job).0.expect("it can be made");
        let (steps, findings) = design::steps(&job, &screw, false);
        assert!(findings.is_empty(), "{findings:?}");
        let crest = job.screw.crest_diameter_mm / 2.0;
        let step = steps.iter().find(|step| step.name() == "nose").expect("a nose");
        let stretch = step.drawing.stretches.iter().find(|stretch| stretch.name.contains("nose"));
        let points = &stretch.expect("the nose is drawn").points;
        let (first, last) = (points[0], *points.last().expect("points"));
        assert!((first.s_mm - 0.0).abs() < 1e-9 && (last.s_mm - 6.0).abs() < 1e-9, "{points:?}");
        assert!((last.r_mm - crest).abs() < 1e-9, "{points:?}");
        for point in points {
            let off = if asked == "taper" {
                let root = screw.root_radius_mm;
                point.r_mm - (root + (crest - root) * point.s_mm / 6.0)
            } else {
                (point.s_mm - 6.0).hypot(point.r_mm - (crest - 6.0)) - 6.0
            };
            assert!(off.abs() < 1e-9, "{asked}: {point:?}");
        }
        proves(asked, &[(chamfer, &nose)], "");
    }
}

/// A pass that is said to clean the flank towards the head stands nearer to the head than the one before it, which on the
/// sample's machine is where X counts down; the other one nearer to the nose. Each by what the groove is wider than the tip:
/// 1.8 less 1, half of it.
#[test]
fn flank_passes_stand_on_the_side_they_name() {
    let made = common::sample("backing-press");
    let lead = made.job.screw.lead_mm;
    // Where the helix of each pass would be at A 0, with the words of the pass.
    let mut passes: Vec<(&str, f64)> = Vec::new();
    let (mut says, mut before) = ("", None);
    for line in made.program.lines() {
        if line.starts_with("(start") {
            (says, before) = (line, None);
        }
        let word = |letter: char| -> Option<f64> {
            line.split(' ').find_map(|word| word.strip_prefix(letter))?.parse().ok()
        };
        let (Some(x), Some(a), false) = (word('X'), word('A'), line.contains('Z')) else { continue };
        if let Some((x0, a0)) = before.replace((x, a)) {
            let per_degree: f64 = (x - x0) / (a - a0);
            assert!((per_degree.abs() * 360.0 - lead).abs() < 1e-3, "{line}");
            passes.push((says, x - per_degree.signum() * lead * a / 360.0));
        }
    }
    let depth = passes.iter().rfind(|(says, _)| !says.contains("flank")).expect("a pass to full depth").1;
    for (side, aside) in [("towards the head", -0.4), ("towards the nose", 0.4)] {
        let pass = passes.iter().find(|(says, _)| says.contains(side)).expect("a flank pass").1;
        let shift = (pass - depth + lead / 2.0).rem_euclid(lead) - lead / 2.0;
        assert!((shift - aside).abs() < 2e-3, "{side}: {shift}");
    }
}

/// Sizes in round numbers, which lie on the cells of the carve, in any mixture that makes sense.
#[test]
fn round_sizes_of_every_kind() {
    let mut dice = Dice(0x0000_0A11_517E_5001);
    let mut wrong = Vec::new();
    for _ in 0..60 {
        let half = |dice: &mut Dice, least: f64, most: f64| (2.0 * dice.between(least, most)).round() / 2.0;
        let tenon = half(&mut dice, 25.0, 55.0);
        let corners = half(&mut dice, 26.0, 40.0);
        let flats = *dice.pick(&["flats = 4", "flats = 6", ""]);
        let across = half(&mut dice, corners * 0.88, corners - 1.0);
        let across = if flats.is_empty() { String::new() } else { format!("across = {across}") };
        let texts = [
            ("length = 45", format!("length = {tenon}")),
            ("diameter = 34 ", format!("diameter = {corners} ")),
            ("flats = 4", flats.to_owned()),
            ("across = 28", across),
            ("from_shoulder = 15", format!("from_shoulder = {}", half(&mut dice, 8.0, 30.0))),
            ("width = 12", format!("width = {}", half(&mut dice, 8.0, 20.0))),
            ("diameter = 38", format!("diameter = {}", half(&mut dice, 34.0, 46.0))),
            ("thread_length = 240", format!("thread_length = {}", half(&mut dice, 120.0, 250.0))),
            // A wider one asks for a faster feed than the sample's, which its proof says.
            ("chamfer = 3 ", format!("chamfer = {} ", half(&mut dice, 1.0, 4.0))),
            ("size = 54 ", format!("size = {} ", half(&mut dice, 52.0, 62.0))),
        ];
        let changes: Vec<(&str, &str)> = texts.iter().map(|(from, to)| (*from, to.as_str())).collect();
        if let Err(why) = common::prove_steps(&changed(&changes, ""), CELLS_MM) {
            wrong.push(format!("{why}: {texts:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} of 60:\n{}", wrong.len(), wrong.join("\n"));
}

/// Passes by the wood, and all other operations with them.
#[test]
fn a_plan_by_the_wood_leaves_the_other_operations_as_they_are() {
    let by_hand =
        "rpm = 9500\nfeed = 2400          # along the thread, mm a minute\npasses = 4\nspring_pass = true\n";
    proves("by the wood", &[(by_hand, "plan = \"by-wood\"\n")], "");
}

/// A plan that was left to the wood, and never worked out, is told.
#[test]
fn passes_that_were_never_worked_out_are_told() {
    let by_hand =
        "rpm = 9500\nfeed = 2400          # along the thread, mm a minute\npasses = 4\nspring_pass = true\n";
    let job = changed(&[(by_hand, "plan = \"by-wood\"\n")], "");
    let screw = design::screw(&job).0.expect("it has sizes");
    let (path, findings) = toolpath::plan(&job, &screw);
    assert!(path.is_none());
    common::examples::hold(|code| code == "plan-open", &findings);
    assert_eq!(findings.first().map(|finding| finding.code.name), Some("plan-open"));
}
