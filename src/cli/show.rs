//! `show`: the inspection page of programs, the job's own or others.

use std::path::Path;

use super::args::Show;
use super::files::FileError;
use super::seen::{self, Seen, Target};
use super::tell::Teller;
use super::{Outcome, bench, draw, nut};
use crate::design;
use crate::proof::Story;
use crate::report::json::Document;
use crate::report::page::{self, Page, Panel, Shown};
use crate::report::{fit, pair, woods};

/// Proves the programs, follows them through the wood, and writes the page, whatever the verdict: what is wrong is best
/// seen there.
pub(crate) fn run(show: &Show, teller: &Teller) -> Outcome {
    let args = &show.seen;
    let out = show.out.clone().unwrap_or_else(|| seen::default_name(&args.job, &args.programs, "html"));
    let target = Target { verb: "show", what: "page", out: &out, fine: show.fineness.fine };
    if let Some(outcome) = bench::show(args, &target, teller) {
        return outcome;
    }
    let seen = match seen::open(args, &target, teller) {
        Ok(seen) => seen,
        Err(outcome) => return outcome,
    };
    let Some(story) = Story::of(&seen.run()) else {
        teller.remark("no page: the program cannot be followed");
        teller.document(&seen.document.with("written", false));
        return Outcome::Wrong;
    };
    let programs: Vec<Shown<'_>> = seen
        .programs
        .iter()
        .zip(&seen.proofs)
        .map(|(one, proof)| Shown {
            name: &one.name,
            text: &one.text,
            setup: &one.step.setup,
            proof: Some((&one.step.drawing, proof)),
        })
        .collect();
    let sheet = draw::sheet(&seen, &story);
    let page = page::html(&Page {
        title: &seen.shop.job.title,
        wood: &seen.shop.job.wood,
        programs: &programs,
        findings: &seen.findings(),
        story: &story,
        sheet: sheet.as_deref(),
        panels: &panels(&seen),
    });
    let outcome = seen.outcome();
    write(&out, page, args.replace, teller, seen.document, outcome)
}

/// The fit of the nut through the year, if the job tells what it takes, and what is known of the wood.
fn panels(seen: &Seen) -> Vec<Panel> {
    let job = &seen.shop.job;
    let (fit, _) = match &job.nut {
        Some(_) => design::fit(job, &seen.shop.screw),
        None => (None, Vec::new()),
    };
    let year = job.nut.as_ref().zip(fit).map(|(nut, known)| fit::panel(job, nut, &known));
    let pair = pair::panel(&nut::sections(&seen.shop, &seen.run()), job.unit);
    year.into_iter().chain(pair).chain(job.species.as_ref().map(woods::panel)).collect()
}

/// Writes a page.
pub(super) fn write(
    out: &Path,
    page: std::io::Result<String>,
    replace: bool,
    teller: &Teller,
    document: Document,
    outcome: Outcome,
) -> Outcome {
    match page {
        Ok(text) => seen::write(out, &text, replace, teller, document, outcome),
        Err(why) => teller.file_error(&FileError::Write { path: out.display().to_string(), why }, document),
    }
}
