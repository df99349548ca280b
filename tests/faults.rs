//! Good programs altered one way each: every alteration must raise its own finding and no other stop, and the good
//! programs must raise none. Cases stand in `tests/faults/cases.toml`; adding one needs no Rust.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::Deserialize;
use threadwright::design;
use threadwright::finding::{Severity, proof as code};
use threadwright::job;
use threadwright::proof::{self, DEFAULT_FINENESS_MM, Proof};
use threadwright::source::Source;

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
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn read(path: &Path) -> Arc<Source> {
    let text = fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    Source::new(path.file_name().expect("a file has a name").to_string_lossy(), text)
}

/// Proves a program against a job, both by their paths from `tests/faults`.
fn prove(job_path: &str, program: &str) -> Proof {
    let folder = root().join("tests/faults");
    let job_file = folder.join(job_path);
    let beside = job_file.parent().expect("a job lies in a folder");
    let (job, findings) = job::read(&read(&job_file), &mut |name| Ok(read(&beside.join(name))));
    let job = job.unwrap_or_else(|| panic!("{job_path}: {findings:?}"));
    let (screw, findings) = design::screw(&job);
    let screw = screw.unwrap_or_else(|| panic!("{job_path}: {findings:?}"));
    let (setup, drawing) = (design::setup(&job, &screw), design::drawing(&job, &screw));
    proof::prove(&read(&folder.join(program)), &setup, &drawing, DEFAULT_FINENESS_MM)
}

fn cases() -> Vec<Case> {
    let text =
        fs::read_to_string(root().join("tests/faults/cases.toml")).expect("the list of cases is there");
    let cases: Cases = toml::from_str(&text).expect("the list of cases is TOML");
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
        if !right {
            let (file, altered, expect) = (&case.file, &case.altered, &case.expect);
            wrong.push(format!("{file} ({altered}): want {expect}, got stops {stops:?}, cares {cares:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_good_programs_raise_nothing() {
    for name in ["nipping-press", "lying-press", "sewing-frame", "standing-press"] {
        let proof = prove(&format!("../../samples/{name}.toml"), &format!("good/{name}.nc"));
        assert!(proof.findings.is_empty(), "{name}: {:?}", proof.findings);
    }
}

/// A fault file is a good program with a few lines changed, so that what it raises is due to them.
#[test]
fn faults_are_small_alterations_of_good_programs() {
    for case in cases() {
        let text = |name: &str| read(&root().join("tests/faults").join(name)).text().to_owned();
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
