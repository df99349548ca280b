//! What a screw will hold, as a maker meets it: the samples, laws that hold whatever the numbers, every finding, and
//! woods of which nothing is known.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::process::Command;

use common::{Made, SAMPLES, make, root, sample};
use threadwright::design;
use threadwright::finding::{self, Finding};
use threadwright::job::{Job, PressLoad, State};
use threadwright::press::{Holds, Press, press};
use threadwright::report;

fn held(job: &Job) -> (Press, Vec<Finding>) {
    let screw = design::screw(job).0.expect("the job is a screw");
    press(job, &screw)
}

#[test]
fn less_friction_presses_harder_and_lets_go_more_easily() {
    for name in SAMPLES {
        let (press, _) = held(&sample(name).job);
        for held in &press.held {
            assert!(
                held.load_n[0] <= held.load_n[1] && held.efficiency[0] <= held.efficiency[1],
                "{name}: {held:?}"
            );
            assert!(held.let_go_n[0] <= held.let_go_n[1]);
            assert!(held.efficiency[1] < 1.0);
            // A screw that stays put by its threads alone has an efficiency below a half.
            assert!(held.alone > Holds::Just || held.efficiency[1] < 0.5, "{name}: {held:?}");
            assert!(held.with_collar <= held.alone, "a collar only helps");
        }
    }
}

#[test]
fn the_work_of_the_hand_is_the_work_on_the_load_and_what_friction_takes() {
    let job = sample("nipping-press").job;
    let (press, _) = held(&job);
    for friction in [0.0, 0.1, 0.4] {
        let load = press.works.load_n(friction);
        let raised = press.works.raise_n_mm(load, friction);
        assert!((raised - press.works.hand_n_mm()).abs() < 1e-6 * raised);
        if friction == 0.0 {
            // Without friction one turn of the hand is the load times the lead, up and down alike.
            let work = load * job.screw.lead_mm;
            assert!((2.0 * std::f64::consts::PI * raised - work).abs() < 1e-9 * work);
            assert!((press.works.lower_n_mm(load, friction) + raised).abs() < 1e-6 * raised);
        }
    }
    // Just at the friction that locks it, the threads alone neither hold back nor drive.
    let at_rest = press.works.thread.lower_n_mm(1000.0, press.lock_friction);
    assert!(at_rest.abs() < 1e-9, "{at_rest}");
}

#[test]
fn everything_grows_with_the_pull() {
    let mut job = sample("nipping-press").job;
    job.press.handle_diameter_mm = Some(30.0);
    job.press.tenon_diameter_mm = Some(35.0);
    let (one, _) = held(&job);
    job.press.hand_force_n = Some(2.0 * one.works.hand_n.value);
    let (two, _) = held(&job);
    for (one, two) in one.checks.iter().zip(&two.checks) {
        assert!((two.asked - 2.0 * one.asked).abs() < 1e-9 * two.asked, "{}", one.place);
        assert_eq!(one.bears.map(f64::round), two.bears.map(f64::round), "{}", one.place);
    }
    let (a, b) = (one.pull_at_most_n().expect("known"), two.pull_at_most_n().expect("known"));
    assert!((a - b).abs() < 1e-9 * a, "the pull that a weak piece bears is its own: {a} against {b}");
    assert!(one.checks.iter().any(|check| check.place == "handle, bent"));
    assert!(one.checks.iter().any(|check| check.place == "tenon, twisted"));
}

#[test]
fn more_starts_are_quicker_press_less_and_hold_worse() {
    for name in SAMPLES {
        let made = sample(name);
        let (press, _) = held(&made.job);
        let own = press.choices.iter().find(|choice| choice.own).expect("the job's own is among them");
        let outcome = own.outcome.as_ref().expect("it can be made");
        let usual = press.usually();
        // Its depth was solved from its own flat once more: the same to the last bits that matter.
        assert!((outcome.load_n[1] - usual.load_n[1]).abs() < 1e-6 * usual.load_n[1], "{name}");
        assert_eq!(outcome.holds, press.held.iter().map(|held| held.with_collar).collect::<Vec<_>>());
        for pair in press.choices.windows(2).filter(|pair| pair[0].pitch_mm == pair[1].pitch_mm) {
            let (Ok(fewer), Ok(more)) = (&pair[0].outcome, &pair[1].outcome) else { continue };
            if pair[0].starts < pair[1].starts {
                assert!(more.turns < fewer.turns && more.load_n[1] < fewer.load_n[1], "{name}");
                assert!(more.holds.iter().zip(&fewer.holds).all(|(more, fewer)| more >= fewer), "{name}");
            }
        }
    }
}

#[test]
fn a_single_start_of_fine_pitch_stays_put_and_a_steep_one_does_not() {
    let Made { mut job, .. } = sample("nipping-press");
    job.press.collar_friction = Some(0.0);
    let waxed = |job: &Job| {
        let (press, _) = held(job);
        press.held.iter().find(|held| held.condition.state == Some(State::Waxed)).expect("a row").with_collar
    };
    assert_eq!(waxed(&job), Holds::Maybe);
    (job.screw.starts, job.screw.lead_mm) = (1, 10.0);
    assert_eq!(waxed(&job), Holds::Stays);
    (job.screw.starts, job.screw.lead_mm) = (4, 40.0);
    assert_eq!(waxed(&job), Holds::BacksOff);
}

#[test]
fn every_code_of_the_press_has_a_case() {
    let mut met = Vec::new();
    let mut say = |job: &Job| {
        let (_, findings) = held(job);
        for finding in &findings {
            assert!(finding.help.is_some() && finding.mark.is_some(), "{finding:?}");
            met.push(finding.clone());
        }
        findings.iter().map(|finding| finding.code.name).collect::<Vec<_>>()
    };
    let mut job = sample("nipping-press").job;
    job.press.hand_force_n = Some(150.0);
    assert!(say(&job).is_empty());
    // Hornbeam has no compression across the grain, the maple of the sample's nut has.
    job.nut = None;
    assert_eq!(say(&job), ["strength-unknown"]);
    job.press.hand_force_n = Some(1500.0);
    job.press.state = Some(State::Soaped);
    assert_eq!(say(&job), ["backs-off", "overloaded", "strength-unknown"]);
    // A pull that its own finding allows raises it no more.
    job.press.state = Some(State::Waxed);
    let most = held(&job).0.pull_at_most_n().expect("known");
    job.press.hand_force_n = Some(0.999 * most);
    assert!(!say(&job).contains(&"overloaded"));
    common::examples::hold(|_| true, &met);
    for code in finding::press::ALL {
        assert!(met.iter().any(|finding| finding.code == *code), "nothing raises {}", code.name);
    }
}

#[test]
fn what_no_table_has_is_said_and_not_guessed() {
    let mut job = sample("nipping-press").job;
    (job.wood, job.species) = ("bog myrtle".to_owned(), None);
    job.nut = None;
    let (press, findings) = held(&job);
    assert!(press.checks.iter().all(|check| check.bears.is_none() && check.factor().is_none()));
    assert!(press.weakest().is_none() && press.pull_at_most_n().is_none() && press.twist_deg.is_none());
    assert!(findings.iter().any(|finding| finding.message.contains("shear along the grain of bog myrtle")));
    let text = report::press::text(&job, &press);
    assert!(text.contains("not known") && !text.contains("NaN") && !text.contains("inf"), "{text}");
    // Loads and self-locking need no wood.
    assert!(press.usually().load_n[1] > 1000.0);
}

#[test]
fn what_is_usual_says_so_and_what_is_given_does_not() {
    let usual = report::press::text(&sample("lying-press").job, &held(&sample("lying-press").job).0);
    assert!(usual.contains("(usual) is common practice, no source"), "{usual}");
    let job = make("tests/jobs/good/press.toml").job;
    let (press, _) = held(&job);
    assert_eq!((press.works.hand_n.value, press.works.handle_mm.usual), (220.0, false));
    assert_eq!(press.usually().condition.name, "your own");
    assert_eq!(press.works.load, PressLoad::Pulls);
    assert!(press.checks.iter().any(|check| check.place == "core, pulled and twisted"));
    assert!(press.handle_gives_mm.is_some_and(|gives| gives > 1.0 && gives < 100.0));
    let text = report::press::text(&job, &press);
    // Only the nut, which the job has not, is as usual.
    assert!(text.contains("50 mm (usual) long") && text.contains("220 N at 350 mm from the axis"), "{text}");
}

#[test]
fn the_text_reads_as_it_should() {
    for name in ["nipping-press", "lying-press"] {
        let job = sample(name).job;
        let text = report::press::text(&job, &held(&job).0);
        assert!(text.lines().all(|line| line.len() <= 120), "{text}");
        insta::with_settings!({ snapshot_path => "said", prepend_module_to_snapshot => false, omit_expression => true }, {
            insta::assert_snapshot!(format!("press-{name}"), text);
        });
    }
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output =
        Command::new(env!("CARGO_BIN_EXE_threadwright")).args(arguments).output().expect("it starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("it ends by itself"), text(output.stdout), text(output.stderr))
}

#[test]
fn the_verb_tells_in_words_and_in_one_document() {
    let job = root().join("samples/nipping-press.toml").display().to_string();
    let (code, out, _) = run(&["press", &job]);
    assert_eq!(code, 0);
    assert!(out.contains("stays put"), "{out}");
    let (code, out, err) = run(&["press", "--json", &job]);
    let document: serde_json::Value = serde_json::from_str(&out).expect("one document");
    assert_eq!((code, err.as_str()), (0, ""));
    assert_eq!((document["schema"].as_i64(), document["verb"].as_str()), (Some(1), Some("press")));
    assert!(document["press"]["lock_friction"].as_f64().is_some_and(|friction| friction > 0.1));
    assert_eq!(document["press"]["states"][0]["least"]["from_memory"], false);
    let (code, out, _) = run(&["press", "--json", "nowhere.toml"]);
    let document: serde_json::Value = serde_json::from_str(&out).expect("one document on failure too");
    assert_eq!((code, document["verb"].as_str()), (3, Some("press")));
    let by_hand = root().join("tests/jobs/by-hand/no-machine.toml").display().to_string();
    assert_eq!(run(&["press", &by_hand]).0, 0, "a press needs no machine");
    assert_eq!(run(&["size", &by_hand]).0, 3, "sizes tell of the machine");
}
