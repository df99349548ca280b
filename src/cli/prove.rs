//! `prove`: any program against a job.

use std::sync::Arc;

use super::args::Prove;
use super::progress::with_sign;
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, files};
use crate::finding::Finding;
use crate::proof::{self, Proof};
use crate::report;
use crate::report::json::Document;
use crate::source::Source;
use crate::stock::Cells;

/// Reads job and program, proves, tells.
pub(crate) fn run(prove: &Prove, teller: &Teller) -> Outcome {
    let document = Document::new("prove")
        .with("job", files::shown(&prove.job, files::STANDARD_INPUT))
        .with("program", files::shown(&prove.program, files::STANDARD_INPUT));
    if files::is_dash(&prove.job) && files::is_dash(&prove.program) {
        let words = "job and program cannot both come from standard input; name a file for one of them";
        return teller.usage(words, document);
    }
    let shop = match shop::open(&prove.job, "prove", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let program = match files::read(&prove.program) {
        Ok(program) => program,
        Err(error) => return teller.file_error(&error, document),
    };
    if files::looks_like_job(program.text()) {
        let words = format!("{} is a job; the program comes second", program.name());
        return teller.usage(&words, document);
    }
    let proof = proof_of(&shop, &program, prove.fineness.fine, teller);
    teller.document(&document.proof(&proof, &shop.findings));
    let findings: Vec<Finding> = shop.findings.iter().chain(&proof.findings).cloned().collect();
    tell(&shop, &program, &proof, &findings, true, teller)
}

/// Proves a program, with a sign of life if it takes long.
pub(crate) fn proof_of(shop: &Shop, program: &Arc<Source>, fine: Option<f64>, teller: &Teller) -> Proof {
    with_sign("carving the virtual blank", teller.silent(), || {
        proof::prove(program, &shop.setup, &shop.drawing, fine.map(Cells::square))
    })
}

/// Shows findings, figures unless standard output is wanted for something else, and the verdict.
pub(crate) fn tell(
    shop: &Shop,
    program: &Source,
    proof: &Proof,
    findings: &[Finding],
    figures: bool,
    teller: &Teller,
) -> Outcome {
    teller.findings(findings, shop.job.unit);
    if figures && !teller.json() {
        teller.figures(&format!("{}\n", report::proof::table(proof, &shop.drawing)));
    }
    let verdict = if proof.proved() { "proved" } else { "NOT PROVED, do not cut" };
    let count = report::findings::count(findings);
    teller.remark(&format!("{}: {verdict} ({count}, {} moves)", program.name(), proof.motions));
    if proof.proved() { Outcome::Done } else { Outcome::Wrong }
}
