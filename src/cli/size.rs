//! `size`: every size that follows from a job.

use super::args::Size;
use super::shop;
use super::tell::Teller;
use super::{Outcome, files};
use crate::feeds;
use crate::finding::Severity;
use crate::report::json::Document;
use crate::report::size::{self, Sizes};
use crate::report::sketch;
use crate::toolpath;

/// Reads the job, designs the screw, tells.
pub(crate) fn run(args: &Size, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&args.job, "size", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    // Of the plan only the passes are shown, but what stands against it is: a machine too short shows here, not only in `cut`.
    let (path, more) = toolpath::plan(&shop.job, &shop.screw);
    shop.findings.extend(more);
    let trips = path.map_or_else(|| feeds::trips(&shop.job, &shop.screw).0, |path| path.trips);
    let sizes = Sizes::of(&shop.job, &shop.screw, &shop.setup, &trips);
    teller.findings(&shop.findings, shop.job.unit);
    if teller.json() {
        let document = Document::new("size").with("job", files::shown(&args.job, files::STANDARD_INPUT));
        teller.document(&document.with("sizes", sizes).findings(&shop.findings));
    } else {
        let sketch = sketch::section(&shop.drawing);
        teller.figures(&format!("{}\n\n{sketch}", size::text(&shop.job, &shop.setup, &sizes)));
    }
    let stopped = shop.findings.iter().any(|finding| finding.severity == Severity::Stop);
    if stopped { Outcome::BadInput } else { Outcome::Done }
}
