//! The proof of a nut's programs, and of the screw in the nut, as the verb asks for it: from the texts alone, before any
//! file appears.

use std::sync::Arc;

use super::super::progress::with_sign;
use super::super::series;
use super::super::shop::Shop;
use super::super::tell::Teller;
use crate::design::Nut;
use crate::design::nut::NutStep;
use crate::finding::{Finding, Severity};
use crate::post;
use crate::proof::nut::{NutBefore, NutProof, prove};
use crate::proof::pair::{self, PairProof, nut_wood, screw_wood};
use crate::proof::{self, Before};
use crate::report;
use crate::report::json::Document;
use crate::report::nut_proof::{nut_table, pair_sentence, pair_table};
use crate::setup::Season;
use crate::source::Source;
use crate::stock::Cells;

/// What was found out of a nut.
pub(super) struct Judgement {
    /// One for each program, in their order.
    pub(super) proofs: Vec<NutProof>,
    /// The screw in the nut; why not, when there is none.
    pub(super) pair: Result<PairProof, &'static str>,
}

impl Judgement {
    /// Whether nothing speaks against cutting the nut: its programs are proved, and the pair is free where it was looked at.
    pub(super) fn proved(&self) -> bool {
        self.programs_proved() && self.pair.as_ref().map_or(true, PairProof::proved)
    }

    fn programs_proved(&self) -> bool {
        self.proofs.iter().all(NutProof::proved)
    }

    /// Puts it into the document.
    pub(super) fn told(&self, document: Document, texts: &[Arc<Source>]) -> Document {
        let parts = texts.iter().zip(&self.proofs).map(|(text, proof)| {
            Document::part(text.name())
                .with("proved", proof.proved())
                .with("measured", proof.measured)
                .with("uncertainty", proof.uncertainty)
                .findings(&proof.findings)
        });
        let document = document.with("proved", self.proved()).parts("programs", parts.collect());
        match &self.pair {
            Ok(pair) => {
                let part = Document::section()
                    .with("proved", pair.proved())
                    .with("fits", &pair.fits)
                    .with("flank_sure_mm", pair.flank_sure_mm)
                    .with("radial_sure_mm", pair.radial_sure_mm)
                    .findings(&pair.findings);
                document.with_section("pair", part)
            }
            Err(_) => document.with("pair", ()),
        }
    }

    /// Shows it: findings, figures of the last program, the pair, verdicts.
    pub(super) fn tell(&self, steps: &[NutStep], texts: &[Arc<Source>], figures: bool, teller: &Teller) {
        let Some(last) = steps.get(self.proofs.len().saturating_sub(1)) else { return };
        let unit = last.drawing.unit;
        let news = |proof: &NutProof| -> Vec<Finding> {
            proof.findings.iter().filter(|finding| series::is_news(finding)).cloned().collect()
        };
        for proof in &self.proofs {
            teller.findings(&news(proof), unit);
        }
        if let (true, Some(proof)) = (figures && !teller.json(), self.proofs.last()) {
            teller.figures(&format!("{}\n", nut_table(proof, &last.drawing)));
        }
        for (text, proof) in texts.iter().zip(&self.proofs) {
            let verdict = if proof.proved() { "proved" } else { "NOT PROVED, do not cut" };
            let minutes =
                proof.measured.minutes.map_or(String::new(), |minutes| format!(", about {minutes:.0} min"));
            let count = report::findings::count(&news(proof));
            let moves = report::findings::counted(proof.motions, "move");
            teller.remark(&format!("{}: {verdict} ({count}, {moves}{minutes})", text.name()));
        }
        match &self.pair {
            Ok(pair) => {
                teller.findings(&pair.findings, unit);
                if figures && !teller.json() && !pair.fits.is_empty() {
                    teller.figures(&format!("\nscrew in nut\n{}\n", pair_table(pair, unit)));
                }
                teller.remark(&format!("screw in nut: {}", pair_sentence(pair, unit)));
            }
            Err(why) => teller.remark(&format!("screw in nut: not looked at, {why}")),
        }
    }
}

/// Proves the programs, each on what the ones before it leave, and then the screw of the job in what all of them leave.
pub(super) fn judge(
    shop: &mut Shop,
    nut: &Nut,
    steps: &[NutStep],
    texts: &[Arc<Source>],
    fine: Option<f64>,
    teller: &Teller,
) -> Judgement {
    let cells = fine.map(Cells::square);
    // The screw's own programs, as `cut` writes them.
    let screws = series::write(shop, false, &|part| format!("screw {part}"));
    with_sign("carving nut and screw", teller.silent(), || {
        let befores: Vec<NutBefore<'_>> = steps
            .iter()
            .zip(texts)
            .map(|(step, program)| NutBefore { program, setup: &step.setup })
            .collect();
        let digest = post::nut_digest(&shop.job);
        let proofs: Vec<NutProof> = befores
            .iter()
            .zip(steps)
            .enumerate()
            .map(|(index, (one, step))| {
                let mut proof = prove(&befores[..index], one.program, one.setup, &step.drawing, cells);
                proof.add(proof::heads(one.program, &digest, index + 1));
                proof
            })
            .collect();
        let pair = pair_of(shop, nut, steps, &befores, screws.as_deref(), cells, &proofs);
        Judgement { proofs, pair }
    })
}

fn pair_of(
    shop: &Shop,
    nut: &Nut,
    steps: &[NutStep],
    nuts: &[NutBefore<'_>],
    screws: Option<&[series::Program]>,
    cells: Option<Cells>,
    proofs: &[NutProof],
) -> Result<PairProof, &'static str> {
    if nuts.len() < steps.len() {
        return Err("the program of the thread is not among those given");
    }
    // What is wrong with a piece is told there; together the two would only say it again.
    if proofs.iter().any(|proof| !proof.proved()) {
        return Err("the nut is not right yet");
    }
    let (Some(screws), Some(last)) = (screws, steps.last()) else {
        return Err("the job has no program of the screw");
    };
    let screws: Vec<Before<'_>> =
        screws.iter().map(|program| Before { program: &program.text, setup: &program.step.setup }).collect();
    let seasons = nut.fit.as_ref().map_or_else(
        || vec![Season { name: "as cut".to_owned(), ..Season::default() }],
        crate::design::Fit::seasons,
    );
    let screw = screw_wood(&screws, &shop.drawing, cells).ok_or("the job has no program of the screw")?;
    let nut = nut_wood(nuts, &last.drawing, cells).ok_or("the nut has no program")?;
    Ok(pair::prove(&screw, &nut, &seasons))
}

/// Findings that stop.
pub(super) fn stops(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Stop)
}
