//! `press`: what the screw will hold.

use super::args::Press;
use super::shop;
use super::tell::Teller;
use super::{Outcome, files};
use crate::press;
use crate::report;
use crate::report::json::Document;

/// Reads the job, works out what its screw holds, tells.
pub(crate) fn run(args: &Press, teller: &Teller) -> Outcome {
    let mut shop = match shop::open_by_hand(&args.job, "press", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let (press, more) = press::press(&shop.job, &shop.screw);
    shop.findings.extend(more);
    teller.findings(&shop.findings, shop.job.unit);
    if teller.json() {
        let document = Document::new("press").with("job", files::shown(&args.job, files::STANDARD_INPUT));
        let document = document.with("press", report::press::json(&shop.job, &press));
        teller.document(&document.findings(&shop.findings));
    } else {
        teller.figures(&report::press::text(&shop.job, &press));
    }
    Outcome::Done
}
