//! `fit`: whether screw and nut stay free through the year.

use super::Outcome;
use super::args::Fit;
use super::shop;
use super::tell::Teller;
use crate::design::{self, fit::Verdict};
use crate::finding::Severity;
use crate::report;
use crate::report::json::Document;

/// Reads the job, works out the fit, tells.
pub(crate) fn run(args: &Fit, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&args.job, "fit", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let (fit, more) = design::fit(&shop.job, &shop.screw);
    shop.findings.extend(more);
    teller.findings(&shop.findings, shop.job.unit);
    let document = Document::new("fit").with("job", args.job.display().to_string()).with("fit", &fit);
    teller.document(&document.findings(&shop.findings));
    let (Some(fit), Some(nut)) = (fit, &shop.job.nut) else {
        return Outcome::BadInput;
    };
    if !teller.json() {
        teller.figures(&report::fit::text(&shop.job, &shop.screw, nut, &fit));
    }
    let stopped = shop.findings.iter().any(|finding| finding.severity == Severity::Stop);
    if stopped || fit.verdict == Verdict::Binds { Outcome::Wrong } else { Outcome::Done }
}
