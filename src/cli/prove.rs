//! `prove`: any program against a job.

use std::sync::Arc;

use anstyle::AnsiColor;

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
    let shop = match shop::open(&prove.job, "prove", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let document = Document::new("prove")
        .with("job", prove.job.display().to_string())
        .with("program", prove.program.display().to_string());
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
    tell(&shop, &program, &proof, true, teller)
}

/// Proves a program, with a sign of life if it takes long.
pub(crate) fn proof_of(shop: &Shop, program: &Arc<Source>, fine: Option<f64>, teller: &Teller) -> Proof {
    with_sign("carving the virtual blank", teller.silent(), || {
        proof::prove(program, &shop.setup, &shop.drawing, fine.map(Cells::square))
    })
}

/// Shows findings, figures unless standard output is wanted for something else, and the verdict.
pub(crate) fn tell(shop: &Shop, program: &Source, proof: &Proof, figures: bool, teller: &Teller) -> Outcome {
    let all: Vec<Finding> = shop.findings.iter().chain(&proof.findings).cloned().collect();
    teller.findings(&all, shop.job.unit);
    if figures && !teller.json() {
        teller.figures(&format!("{}\n", report::proof::table(proof, &shop.drawing)));
    }
    let top = shop.setup.machine.a.top_deg_per_min / 360.0;
    if let Some(rpm) = proof.measured.a_rate_if_misread_rpm.filter(|&rpm| rpm > top) {
        teller.remark(&format!(
            "mind F: a machine that reads it another way than feed.convention says would turn A at {} (top speed \
             {top:.0} rev/min)",
            if rpm > 10.0 * top { "many times its top speed".to_owned() } else { format!("{rpm:.0} rev/min") }
        ));
    }
    let (verdict, colour) = if proof.proved() {
        ("proved", AnsiColor::Green)
    } else {
        ("NOT PROVED, do not cut", AnsiColor::Red)
    };
    let style = colour.on_default().bold();
    let count = report::findings::count(&all);
    teller.remark(&format!(
        "{}: {style}{verdict}{style:#} ({count}, {} moves)",
        program.name(),
        proof.motions
    ));
    if proof.proved() { Outcome::Done } else { Outcome::Wrong }
}
