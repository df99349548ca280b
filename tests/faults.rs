//! Good programs altered one way each: every alteration must raise its own finding and no other stop, and the good
//! programs must raise none. Cases stand in `tests/faults/cases.toml`; adding one needs no Rust.
//!
//! `RENEW_FAULTS=1 cargo test --test faults` writes the good programs anew, as they are made today, and carries every
//! alteration across.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::collections::BTreeSet;
use std::fs;

use serde::Deserialize;
use similar::{Algorithm, DiffOp, capture_diff_slices};
use threadwright::design;
use threadwright::drawing::Threading;
use threadwright::finding::{Severity, proof as code};
use threadwright::post;
use threadwright::proof::{self, Before, Proof};
use threadwright::source::Mark;

#[derive(Deserialize)]
struct Cases {
    case: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    file: String,
    good: String,
    job: String,
    expect: String,
    severity: Option<String>,
    altered: String,
    /// Where the finding points and words of its way out, where they matter.
    marks: Option<String>,
    said: Option<String>,
    /// The whole message, where a number in it matters.
    message: Option<String>,
    /// Programs that ran before.
    #[serde(default)]
    before: Vec<String>,
    /// Which program of its job it is, from 1; absent where the job has one only.
    step: Option<usize>,
    /// It is to run in the air.
    #[serde(default)]
    air: bool,
}

/// Proves a program against a job, both by their paths from `tests/faults`.
fn prove(job_path: &str, program: &str) -> Proof {
    prove_case(job_path, program, &[], None, false)
}

/// The same on what other programs of the job left. What the head says of the program counts where the job has several.
fn prove_case(job_path: &str, program: &str, before: &[String], step: Option<usize>, air: bool) -> Proof {
    let made = common::make(&format!("tests/faults/{job_path}"));
    let read = |name: &str| common::read(&common::root().join("tests/faults").join(name));
    let program = read(program);
    let screw = design::screw(&made.job).0.expect("the job has sizes");
    let (steps, _) = design::steps(&made.job, &screw, false);
    let texts: Vec<_> = before.iter().map(|name| read(name)).collect();
    // Without a step all programs are cut by the one that the job has.
    let setup_of = |index: usize| if step.is_some() { &steps[index].setup } else { &made.setup };
    let before: Vec<Before<'_>> = texts
        .iter()
        .enumerate()
        .map(|(index, text)| Before { program: text, setup: setup_of(index) })
        .collect();
    let mut drawing = step.map_or(made.drawing.clone(), |step| steps[step - 1].drawing.clone());
    if air {
        drawing.thread = Threading::Air;
    }
    let setup = step.map_or(&made.setup, |step| &steps[step - 1].setup);
    let mut proof = proof::prove_after(&before, &program, setup, &drawing, None);
    if let Some(step) = step {
        // The digest of the good programs is the one they carry; only a program that carries another is told so.
        let good = read("good/finishing-press-1-round.nc");
        let digest = post::read_digest(good.text()).expect("a good program carries a digest").to_owned();
        proof.add(proof::heads(&program, &digest, step));
    }
    proof
}

fn cases() -> Vec<Case> {
    let list = common::read(&common::root().join("tests/faults/cases.toml"));
    let cases: Cases = toml::from_str(list.text()).expect("the list of cases is TOML");
    cases.case
}

#[test]
fn each_fault_raises_its_own_finding_and_no_other_stop() {
    let (mut wrong, mut raised) = (Vec::new(), Vec::new());
    for case in cases() {
        let proof = prove_case(&case.job, &case.file, &case.before, case.step, case.air);
        let of = |severity: Severity| -> BTreeSet<&str> {
            proof.findings.iter().filter(|f| f.severity == severity).map(|f| f.code.name).collect()
        };
        let (stops, cares, notes) = (of(Severity::Stop), of(Severity::Care), of(Severity::Note));
        let expected = BTreeSet::from([case.expect.as_str()]);
        let right = match case.severity.as_deref() {
            Some("note") => stops.is_empty() && cares.is_empty() && notes == expected && proof.proved(),
            Some("care") => stops.is_empty() && cares == expected && proof.proved(),
            _ => stops == expected && !proof.proved(),
        };
        let told = proof.findings.iter().find(|finding| finding.code.name == case.expect);
        raised.extend(told.cloned());
        let mark = told.and_then(|finding| finding.mark.as_ref()).map_or("", Mark::text);
        let help = told.and_then(|finding| finding.help.as_deref()).unwrap_or_default();
        if case.marks.as_ref().is_some_and(|marks| marks != mark)
            || case.said.as_ref().is_some_and(|said| !help.contains(said))
            || case.message.as_ref().is_some_and(|words| told.is_none_or(|told| told.message != *words))
        {
            wrong.push(format!("{}: points at {mark:?} and says {help:?}", case.file));
        }
        if !right {
            let (file, altered, expect) = (&case.file, &case.altered, &case.expect);
            wrong.push(format!("{file} ({altered}): want {expect}, got stops {stops:?}, cares {cares:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let of_proofs = |name: &str| code::ALL.iter().any(|code| code.name == name);
    common::examples::hold(of_proofs, &raised);
}

/// A program for a control that takes F over millimetres and degrees together would run away on any other, and that is
/// worth a note; else there is nothing to say.
#[test]
fn the_good_programs_raise_nothing() {
    for name in common::SAMPLES {
        let proof = prove(&format!("../../samples/{name}.toml"), &format!("good/{name}.nc"));
        let machine = common::sample(name).setup.machine;
        let news = common::news(&proof.findings, &machine);
        let codes: Vec<&str> = news.iter().map(|finding| finding.code.name).collect();
        let expected: &[&str] = if name == "sewing-frame" { &["feed-reading"] } else { &[] };
        assert_eq!(codes, expected, "{name}: {:?}", proof.findings);
        assert!(proof.findings.iter().all(|finding| finding.severity == Severity::Note), "{name}");
    }
}

fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::to_owned).collect()
}

/// What was done to the old program, done to the new one; an error where the lines it was done to are not the same any
/// more.
fn carried_across(old: &[String], altered: &[String], new: &[String]) -> Result<Vec<String>, String> {
    // Where each line of the old program stands in the new one, and whether it is the same.
    let mut place = vec![(0, false); old.len()];
    for op in capture_diff_slices(Algorithm::Patience, old, new) {
        for at in op.old_range() {
            let on = at - op.old_range().start;
            let same = matches!(op, DiffOp::Equal { .. });
            place[at] = (if same { op.new_range().start + on } else { op.new_range().end }, same);
        }
    }
    let at_new = |line: usize| place.get(line).map_or(new.len(), |(at, _)| *at);
    let (mut result, mut done) = (Vec::new(), 0);
    for op in capture_diff_slices(Algorithm::Patience, old, altered) {
        if matches!(op, DiffOp::Equal { .. }) {
            continue;
        }
        let touched = op.old_range();
        if let Some(line) = touched.clone().find(|&line| !place[line].1) {
            return Err(format!("the line `{}` has changed", old[line]));
        }
        let from = at_new(touched.start);
        result.extend_from_slice(&new[done..from]);
        result.extend_from_slice(&altered[op.new_range()]);
        done = if touched.is_empty() { from } else { at_new(touched.end - 1) + 1 };
    }
    result.extend_from_slice(&new[done..]);
    Ok(result)
}

/// The good programs move as those that are written today; words in comments may lag behind.
#[test]
fn the_good_programs_are_todays() {
    let folder = common::root().join("tests/faults");
    let renew = std::env::var_os("RENEW_FAULTS").is_some();
    let mut failed = Vec::new();
    for name in common::SAMPLES {
        let path = folder.join(format!("good/{name}.nc"));
        let (old, new) = (lines(common::read(&path).text()), lines(&common::sample(name).program));
        if renew {
            for case in cases().iter().filter(|case| case.good == name && !case.file.starts_with("good/")) {
                let file = folder.join(&case.file);
                match carried_across(&old, &lines(common::read(&file).text()), &new) {
                    Ok(text) => fs::write(file, text.join("\n") + "\n").expect("a case can be written"),
                    Err(why) => failed.push(format!("{}: {why}; alter the new program by hand", case.file)),
                }
            }
            fs::write(path, new.join("\n") + "\n").expect("a good program can be written");
            continue;
        }
        let moves = |lines: &[String]| -> Vec<String> {
            lines.iter().filter(|line| !line.starts_with(['(', ';'])).cloned().collect()
        };
        if moves(&old) != moves(&new) {
            failed.push(format!("{name} moves otherwise today: RENEW_FAULTS=1 cargo test --test faults"));
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

/// From a sawn octagon to the finished screw: every program proves on what the ones before it leave, and the wood then
/// has the sizes of the drawing to 0.02 mm of diameter.
#[test]
fn a_whole_screw_proves_in_its_order() {
    let parts = ["1-round", "2-relief", "3-thread", "4-chamfer", "5-garter", "6-tenon"];
    let names: Vec<String> = parts.iter().map(|part| format!("good/finishing-press-{part}.nc")).collect();
    for step in 1..=names.len() {
        let job = "../../samples/finishing-press.toml";
        let proof = prove_case(job, &names[step - 1], &names[..step - 1], Some(step), false);
        let alarms: Vec<&str> = proof.findings.iter().map(|finding| finding.code.name).collect();
        assert!(alarms.iter().all(|name| *name == "feed-reading"), "program {step}: {alarms:?}");
        for part in proof.turned.iter().filter(|part| part.drawn_mm[0] == part.drawn_mm[1]) {
            let [drawn, _] = part.drawn_mm;
            let off = (part.least_mm - drawn).abs().max((part.greatest_mm - drawn).abs());
            assert!(
                off <= 0.02,
                "program {step}, {}: {} to {}, drawn {drawn}",
                part.name,
                part.least_mm,
                part.greatest_mm
            );
        }
        assert_eq!(proof.measured.lead_mm.is_some(), step >= 3, "the thread is measured once it is cut");
    }
}

/// A fault file is a good program with a few lines changed, so that what it raises is due to them.
#[test]
fn faults_are_small_alterations_of_good_programs() {
    for case in cases() {
        let text =
            |name: &str| common::read(&common::root().join("tests/faults").join(name)).text().to_owned();
        let (good, bad) = (text(&format!("good/{}.nc", case.good)), text(&case.file));
        let good: BTreeSet<&str> = good.lines().collect();
        let changed = bad.lines().filter(|line| !good.contains(line)).count();
        let kept = bad.lines().count() - changed;
        assert!(kept > 20, "{}: hardly anything of the good program is left", case.file);
    }
}

#[test]
fn every_code_of_the_proof_has_a_case() {
    let mut covered: BTreeSet<String> = cases().into_iter().map(|case| case.expect).collect();
    // It takes a program too long to be kept: tests/proof.rs writes one.
    covered.insert(code::PATH_ANGULAR.name.to_owned());
    // Slips of nuts and misfits of pairs stand in tests of their own, each with the code it must raise.
    let text = |name: &str| common::read(&common::root().join(name)).text().to_owned();
    let nuts = text("tests/nut_proof/faults.rs") + &text("tests/nut_proof/pair.rs");
    let missing: Vec<&str> = code::ALL
        .iter()
        .map(|c| c.name)
        .filter(|name| !covered.contains(*name) && !nuts.contains(&format!("\"{name}\"")))
        .collect();
    assert!(missing.is_empty(), "no fault raises {missing:?}");
}
