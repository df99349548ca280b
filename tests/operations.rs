//! Whole screws of other sizes and kinds than the sample's: every operation is planned, written, read back and proved on
//! what the ones before it leave.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use common::Dice;
use threadwright::design;
use threadwright::job::{self, Job};
use threadwright::source::Source;
use threadwright::toolpath;

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
