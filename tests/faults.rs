//! Good programs altered one way each: every alteration must raise its own finding and no other stop, and the good
//! programs must raise none. Cases stand in `tests/faults/cases.toml`; adding one needs no Rust.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::collections::BTreeSet;

use serde::Deserialize;
use threadwright::finding::{Severity, proof as code};
use threadwright::proof::{self, Proof};
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
}

/// Proves a program against a job, both by their paths from `tests/faults`.
fn prove(job_path: &str, program: &str) -> Proof {
    let made = common::make(&format!("tests/faults/{job_path}"));
    let program = common::read(&common::root().join("tests/faults").join(program));
    proof::prove(&program, &made.setup, &made.drawing, None)
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
        let proof = prove(&case.job, &case.file);
        let of = |severity: Severity| -> BTreeSet<&str> {
            proof.findings.iter().filter(|f| f.severity == severity).map(|f| f.code.name).collect()
        };
        let (stops, cares) = (of(Severity::Stop), of(Severity::Care));
        let expected = BTreeSet::from([case.expect.as_str()]);
        let right = match case.severity.as_deref() {
            Some("care") => stops.is_empty() && cares == expected && proof.proved(),
            _ => stops == expected && !proof.proved(),
        };
        let told = proof.findings.iter().find(|finding| finding.code.name == case.expect);
        let mark = told.and_then(|finding| finding.mark.as_ref()).map_or("", Mark::text);
        let help = told.and_then(|finding| finding.help.as_deref()).unwrap_or_default();
        if case.marks.as_ref().is_some_and(|marks| marks != mark)
            || case.said.as_ref().is_some_and(|said| !help.contains(said))
        {
            wrong.push(format!("{}: points at {mark:?} and says {help:?}", case.file));
        }
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
        let machine = common::sample(name).setup.machine;
        assert!(common::news(&proof.findings, &machine).is_empty(), "{name}: {:?}", proof.findings);
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
