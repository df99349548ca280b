//! `show` for a program without a screw: a job file that says machine, cutter and blank and nothing else. The page shows
//! what the program cuts; nothing is proved.

use super::args::Seen as Args;
use super::seen::{self, Target};
use super::tell::Teller;
use super::{Outcome, files, shop, show};
use crate::design;
use crate::finding::{Finding, Severity};
use crate::proof::{self, Before, Story};
use crate::report::page::{self, Page, Shown};
use crate::rs274;

/// Writes the page of a program over a bench; `None` when the job has a screw, or cannot be read as a bench at all.
pub(super) fn show(args: &Args, target: &Target<'_>, teller: &Teller) -> Option<Outcome> {
    let bench = shop::bench(&args.job)?;
    let document = seen::document(args, target);
    if let Err(outcome) = seen::check(args, target, &document, teller) {
        return Some(outcome);
    }
    if args.programs.is_empty() {
        let words = format!("{} has no [screw], so a program has to be named to look at", args.job.display());
        return Some(teller.usage(&words, document));
    }
    let (bench, mut findings, mut inputs) = bench;
    let Some(bench) = bench else {
        teller.findings(&findings, crate::units::LengthUnit::Mm);
        let words = crate::report::findings::count(&findings);
        teller.remark(&format!("{}: {words}", args.job.display()));
        teller.document(&document.with("written", false).findings(&findings));
        return Some(Outcome::BadInput);
    };
    inputs.extend(args.programs.iter().cloned());
    if !files::is_dash(target.out)
        && let Err(error) = files::check_target(target.out, &inputs)
    {
        return Some(teller.file_error(&error, document));
    }
    let texts = match seen::texts(args, &document, teller) {
        Ok(texts) => texts,
        Err(outcome) => return Some(outcome),
    };
    let setup = design::bench_setup(&bench);
    for text in &texts {
        findings.extend(rs274::run(text, &proof::control(&setup)).findings);
    }
    teller.findings(&findings, bench.unit);
    let document = document.findings(&findings);
    let before: Vec<Before<'_>> = texts.iter().map(|program| Before { program, setup: &setup }).collect();
    let Some(story) = Story::of(&before) else {
        teller.remark("no page: the program cannot be followed");
        teller.document(&document.with("written", false));
        return Some(Outcome::Wrong);
    };
    let names: Vec<String> = texts.iter().map(|text| seen::bare(text.name())).collect();
    let programs: Vec<Shown<'_>> = texts
        .iter()
        .zip(&names)
        .map(|(text, name)| Shown { name, text, setup: &setup, proof: None })
        .collect();
    let page = page::html(&Page {
        title: &bench.title,
        wood: &bench.wood,
        programs: &programs,
        findings: &findings,
        story: &story,
        sheet: None,
        panels: &[],
    });
    teller.remark("the cut is shown, nothing is proved: the job has no [screw]");
    let stops = findings.iter().any(|finding: &Finding| finding.severity == Severity::Stop);
    let outcome = if stops { Outcome::Wrong } else { Outcome::Done };
    Some(show::write(target.out, page, args.replace, teller, document, outcome))
}
