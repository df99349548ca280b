//! Good programs altered one way each: every alteration must raise its own finding and no other stop, and the good
//! programs must raise none. Cases stand in `tests/faults/cases.toml`; adding one needs no Rust.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::collections::BTreeSet;

use serde::Deserialize;
use threadwright::design;
use threadwright::drawing::Threading;
use threadwright::finding::{Severity, proof as code};
use threadwright::post;
use threadwright::proof::{self, Before, Proof};

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
    let mut wrong = Vec::new();
    for case in cases() {
        let proof = prove_case(&case.job, &case.file, &case.before, case.step, case.air);
        let of = |severity: Severity| -> BTreeSet<&str> {
            proof.findings.iter().filter(|f| f.severity == severity).map(|f| f.code.name).collect()
        };
        let (stops, cares) = (of(Severity::Stop), of(Severity::Care));
        let expected = BTreeSet::from([case.expect.as_str()]);
        let right = match case.severity.as_deref() {
            Some("care") => stops.is_empty() && cares == expected && proof.proved(),
            _ => stops == expected && !proof.proved(),
        };
        if !right {
            let (file, altered, expect) = (&case.file, &case.altered, &case.expect);
            wrong.push(format!("{file} ({altered}): want {expect}, got stops {stops:?}, cares {cares:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_good_programs_raise_nothing() {
    for name in common::SAMPLES {
        let proof = prove(&format!("../../samples/{name}.toml"), &format!("good/{name}.nc"));
        assert!(proof.findings.is_empty(), "{name}: {:?}", proof.findings);
    }
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
        assert!(proof.findings.is_empty(), "program {step}: {:?}", proof.findings);
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
    let covered: BTreeSet<String> = cases().into_iter().map(|case| case.expect).collect();
    let missing: Vec<&str> =
        code::ALL.iter().map(|c| c.name).filter(|name| !covered.contains(*name)).collect();
    assert!(missing.is_empty(), "no fault raises {missing:?}");
}
