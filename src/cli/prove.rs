//! `prove`: any program against a job, or all the programs of a job one after the other.

use std::sync::Arc;

use super::args::Prove;
use super::series::{self, Judged};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, files};
use crate::design::{self, Step};
use crate::drawing::Drawing;
use crate::finding::Finding;
use crate::post;
use crate::proof::Proof;
use crate::report;
use crate::report::json::Document;
use crate::setup::Setup;
use crate::source::Source;

/// Reads job and programs, proves, tells.
pub(crate) fn run(prove: &Prove, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&prove.job, "prove", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let named = |document: Document| match &prove.programs[..] {
        [one] => document.with("program", one.display().to_string()),
        _ => document,
    };
    let document = named(Document::new("prove").with("job", prove.job.display().to_string()));
    let mut programs = Vec::new();
    for path in &prove.programs {
        let program = match files::read(path) {
            Ok(program) => program,
            Err(error) => return teller.file_error(&error, document),
        };
        if files::looks_like_job(program.text()) {
            let words = format!("{} is a job; the programs come after it", program.name());
            return teller.usage(&words, document);
        }
        programs.push(program);
    }
    let (steps, findings) = design::steps(&shop.job, &shop.screw, prove.join);
    shop.findings.extend(findings);
    if programs.len() > steps.len() {
        let words = format!(
            "the job has {} program{}, and {} are given",
            steps.len(),
            if steps.len() == 1 { "" } else { "s" },
            programs.len()
        );
        return teller.usage(&words, document);
    }
    let judged: Vec<Judged<'_>> =
        programs.iter().zip(&steps).map(|(text, step)| judged(text, step)).collect();
    let proofs = series::prove(&judged, &post::digest(&shop.job), prove.fineness.fine, teller);
    if let ([program], [proof]) = (&programs[..], &proofs[..]) {
        teller.document(&document.proof(proof, &shop.findings));
        return tell(&shop, &steps[0].drawing, program, proof, true, teller);
    }
    let parts = programs.iter().zip(&proofs);
    let parts = parts.map(|(program, proof)| Document::part(program.name()).proof(proof, &[]));
    let proved = proofs.iter().all(Proof::proved);
    let document = document.with("proved", proved).parts("programs", parts.collect());
    teller.document(&document.findings(&shop.findings));
    tell_all(&shop, &judged, &proofs, true, teller)
}

fn judged<'a>(text: &'a Arc<Source>, step: &'a Step) -> Judged<'a> {
    Judged { text, setup: &step.setup, drawing: &step.drawing }
}

/// Shows findings, figures unless standard output is wanted for something else, and the verdict.
pub(crate) fn tell(
    shop: &Shop,
    drawing: &Drawing,
    program: &Source,
    proof: &Proof,
    figures: bool,
    teller: &Teller,
) -> Outcome {
    let all: Vec<Finding> = shop.findings.iter().chain(&proof.findings).cloned().collect();
    teller.findings(&all, shop.job.unit);
    if figures && !teller.json() {
        teller.figures(&format!("{}\n", report::proof::table(proof, drawing)));
    }
    mind_f(&shop.setup, std::slice::from_ref(proof), teller);
    verdict(program, proof, &all, teller);
    if proof.proved() { Outcome::Done } else { Outcome::Wrong }
}

/// The same for several programs: the figures of the last, which measure all that was done.
pub(crate) fn tell_all(
    shop: &Shop,
    programs: &[Judged<'_>],
    proofs: &[Proof],
    figures: bool,
    teller: &Teller,
) -> Outcome {
    teller.findings(&shop.findings, shop.job.unit);
    for proof in proofs {
        teller.findings(&proof.findings, shop.job.unit);
    }
    if let (true, Some(last), Some(proof)) = (figures && !teller.json(), programs.last(), proofs.last()) {
        teller.figures(&format!("{}\n", report::proof::table(proof, last.drawing)));
    }
    mind_f(&shop.setup, proofs, teller);
    for (program, proof) in programs.iter().zip(proofs) {
        verdict(program.text, proof, &proof.findings, teller);
    }
    if proofs.iter().all(Proof::proved) { Outcome::Done } else { Outcome::Wrong }
}

fn verdict(program: &Source, proof: &Proof, findings: &[Finding], teller: &Teller) {
    let verdict = if proof.proved() { "proved" } else { "NOT PROVED, do not cut" };
    let count = report::findings::count(findings);
    let minutes = proof.measured.minutes.map_or(String::new(), |minutes| format!(", about {minutes:.0} min"));
    teller.remark(&format!("{}: {verdict} ({count}, {} moves{minutes})", program.name(), proof.motions));
}

/// What would happen on a machine that reads F another way.
fn mind_f(setup: &Setup, proofs: &[Proof], teller: &Teller) {
    let top = setup.machine.a.top_deg_per_min / 360.0;
    let misread = proofs.iter().filter_map(|proof| proof.measured.a_rate_if_misread_rpm).reduce(f64::max);
    if let Some(rpm) = misread.filter(|&rpm| rpm > top) {
        teller.remark(&format!(
            "mind F: a machine that reads it another way than feed.convention says would turn A at {} (top speed \
             {top:.0} rev/min)",
            if rpm > 10.0 * top { "many times its top speed".to_owned() } else { format!("{rpm:.0} rev/min") }
        ));
    }
}
