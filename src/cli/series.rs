//! The programs of a job in the order in which they are run: planned, written as text, and proved one after the other,
//! each on the wood that the texts before it leave.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::progress::with_sign;
use super::shop::Shop;
use super::tell::Teller;
use crate::design::{self, Step};
use crate::drawing::Drawing;
use crate::feeds;
use crate::finding::{Finding, Severity, program as code};
use crate::job::Job;
use crate::post::{self, Lead};
use crate::proof::{self, Proof};
use crate::setup::Setup;
use crate::source::Source;
use crate::stock::Cells;
use crate::toolpath::{self, Choice, Work};

/// One program of a series.
pub(crate) struct Program {
    /// Its part of the file's name: `1-round`; empty where a job has one program only.
    pub(crate) part: String,
    /// The step it makes.
    pub(crate) step: Step,
    /// Its moves.
    pub(crate) work: Work,
    /// Its text.
    pub(crate) text: Arc<Source>,
}

/// Plans and writes every program of a job. What stands against it goes to the shop's findings; nothing comes back
/// when some of it stops.
pub(crate) fn write(shop: &mut Shop, joined: bool, name: &dyn Fn(&str) -> String) -> Option<Vec<Program>> {
    let steps = steps(shop, joined);
    let count = steps.len();
    let mut programs = Vec::new();
    for (index, step) in steps.into_iter().enumerate() {
        let (work, findings) = toolpath::work(&shop.job, &shop.screw, &step, &Choice::default());
        for finding in findings {
            // Two steps may meet the same obstacle.
            if !shop.findings.iter().any(|old| old.message == finding.message) {
                shop.findings.push(finding);
            }
        }
        let Some(work) = work else { continue };
        let part = part_of(&step, index, count);
        let lead = lead_of(&shop.job, &step, index, count);
        let text = post::step_program(&shop.job, &shop.screw, &step.setup, &work, &lead);
        let text = Source::new(name(&part), text);
        programs.push(Program { part, step, work, text });
    }
    let stopped = shop.findings.iter().any(|finding| finding.severity == Severity::Stop);
    (!stopped && programs.len() == count).then_some(programs)
}

/// The steps of a job, that of the thread with the wood its passes are to meet. What stands against them goes to the shop's
/// findings.
pub(crate) fn steps(shop: &mut Shop, joined: bool) -> Vec<Step> {
    let (mut steps, findings) = design::steps(&shop.job, &shop.screw, joined);
    shop.findings.extend(findings);
    for step in steps.iter_mut().filter(|step| step.has_thread()) {
        step.setup.section_mm2 = feeds::section_mm2(&shop.job, &shop.screw);
    }
    steps
}

/// A step's part of a file's name; none where there is only one.
pub(crate) fn part_of(step: &Step, index: usize, count: usize) -> String {
    if count == 1 && step.has_thread() { String::new() } else { format!("{}-{}", index + 1, step.name()) }
}

/// What a program says of itself.
pub(crate) fn lead_of(job: &Job, step: &Step, index: usize, count: usize) -> Lead {
    let digest = post::digest(job);
    if count == 1 && step.has_thread() {
        return Lead { thread: true, digest, ..Lead::default() };
    }
    let mut lines = vec![format!("{} {} of {count}", proof::PLACE_WORDS, index + 1)];
    if !step.done.is_empty() {
        let done: Vec<&str> = step.done.iter().map(|operation| operation.name()).collect();
        lines.push(format!("done before: {}", done.join(", ")));
    }
    Lead {
        title: Some(step.name().replace('-', " and ")),
        lines,
        thread: step.has_thread(),
        digest,
        spindle_off: false,
    }
}

/// `folder/press.nc` and `1-round` make `folder/press-1-round.nc`; no part leaves the name as it is.
pub(crate) fn file_of(base: &Path, part: &str) -> PathBuf {
    if part.is_empty() {
        return base.to_path_buf();
    }
    let mut name = base.file_stem().unwrap_or_default().to_os_string();
    name.push("-");
    name.push(part);
    match base.extension() {
        Some(ending) => {
            name.push(".");
            name.push(ending);
        }
        None => name.push(".nc"),
    }
    base.with_file_name(name)
}

/// A program as it is judged: its text with the shop and the drawing of its step.
pub(crate) struct Judged<'a> {
    pub(crate) text: &'a Arc<Source>,
    pub(crate) setup: &'a Setup,
    pub(crate) drawing: &'a Drawing,
}

/// Proves programs in their order, each on what the ones before it leave. `expect` is what their heads should say:
/// the digest of the job.
pub(crate) fn prove(programs: &[Judged<'_>], digest: &str, fine: Option<f64>, teller: &Teller) -> Vec<Proof> {
    with_sign("carving the virtual blank", teller.silent(), || prove_quietly(programs, digest, fine))
}

/// Whether a finding is news to whoever has programs written: what goes beyond the standard because the machine file asks
/// for it is not.
pub(crate) fn is_news(finding: &Finding) -> bool {
    finding.code != &code::DIALECT_USED
}

/// The same without a sign of life.
pub(crate) fn prove_quietly(programs: &[Judged<'_>], digest: &str, fine: Option<f64>) -> Vec<Proof> {
    let judged: Vec<proof::Judged<'_>> = programs
        .iter()
        .map(|one| proof::Judged { program: one.text, setup: one.setup, drawing: one.drawing })
        .collect();
    let mut proofs = proof::prove_all(&[], &judged, fine.map(Cells::square));
    for (index, (proof, program)) in proofs.iter_mut().zip(programs).enumerate() {
        proof.add(proof::heads(program.text, digest, index + 1));
    }
    proofs
}
