//! `nut`: sizes of the nut, and the programs that make it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::Nut as Arguments;
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, cut, files, series};
use crate::design::nut::{NutStep, nut_steps};
use crate::design::{self, Nut};
use crate::finding::Severity;
use crate::post::{self, NutLead};
use crate::press;
use crate::report;
use crate::report::json::Document;
use crate::source::Source;
use crate::toolpath::{self, NutPath};

/// One program of a nut.
struct Program {
    step: NutStep,
    path: NutPath,
    text: Arc<Source>,
    target: PathBuf,
}

/// Reads the job, sizes the nut, tells; with `--out` writes its programs.
pub(crate) fn run(args: &Arguments, teller: &Teller) -> Outcome {
    // Sizes alone need no machine.
    let mut shop = match shop::open_by_hand(&args.job, "nut", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let (nut, more) = design::nut(&shop.job, &shop.screw);
    shop.findings.extend(more);
    let document = Document::new("nut").with("job", files::shown(&args.job, files::STANDARD_INPUT));
    teller.findings(&shop.findings, shop.job.unit);
    let Some(nut) = nut else {
        teller.document(&document.findings(&shop.findings));
        return Outcome::BadInput;
    };
    let stopped = shop.findings.iter().any(|finding| finding.severity == Severity::Stop);
    let base = args.out.clone().unwrap_or_else(|| cut::default_name(&args.job));
    let programs = if stopped { Vec::new() } else { programs(&shop, &nut, &base) };
    let (press, _) = press::press(&shop.job, &shop.screw);
    let minutes: Vec<(&str, f64)> = programs
        .iter()
        .map(|program| (program.step.name(), post::nut_minutes(&program.step.setup, &program.path)))
        .collect();
    let told = report::nut::Told::of(&shop.job, &shop.screw, &nut, &press, &minutes);
    let document = document.with("nut", &told).findings(&shop.findings);
    if !teller.json() && !args.out.as_ref().is_some_and(|out| files::is_dash(out)) {
        teller.figures(&report::nut::text(&shop.job, &shop.screw, &nut, &told));
    }
    if stopped {
        if args.out.is_some() {
            teller.remark("nothing was written");
        }
        teller.document(&document.with("written", false));
        return Outcome::BadInput;
    }
    if let Some(out) = &args.out {
        return write(args, out, &shop, programs, document, teller);
    }
    teller.document(&document);
    Outcome::Done
}

/// Plans and writes the programs of a nut, as texts.
fn programs(shop: &Shop, nut: &Nut, base: &Path) -> Vec<Program> {
    let steps = nut_steps(&shop.job, nut);
    let (count, digest) = (steps.len(), post::nut_digest(&shop.job));
    let made = steps.into_iter().enumerate().filter_map(|(index, step)| {
        let path = toolpath::nut_work(&shop.job, nut, &step)?;
        let (part, place) = if count == 1 {
            ("nut".to_owned(), String::new())
        } else {
            let number = index + 1;
            (format!("nut-{number}-{}", step.name()), format!("program {number} of {count} of the nut"))
        };
        let lead = NutLead { place, digest: digest.clone() };
        let target = series::file_of(base, &part);
        let text = post::nut_program(&shop.job, nut, &step, &path, &lead);
        Some(Program { text: Source::new(target.display().to_string(), text), step, path, target })
    });
    made.collect()
}

/// Whether a program is proved, from its text. There is no proof of nuts yet, so none is: this is the one place that has to
/// ask it, and everything below goes by its answer.
fn proved(_program: &Program) -> bool {
    false
}

/// Lets the files appear: those that are proved, or all of them with `--insist`, marked.
fn write(
    args: &Arguments,
    out: &Path,
    shop: &Shop,
    programs: Vec<Program>,
    document: Document,
    teller: &Teller,
) -> Outcome {
    let to_stdout = files::is_dash(out);
    if programs.is_empty() {
        let words =
            "the job names no cutter for its nut: add cutter = \"...\" under [nut], or leave --out away";
        return teller.usage(words, document);
    }
    if to_stdout && programs.len() > 1 {
        let words = format!("the nut has {} programs, which do not fit into one output", programs.len());
        return teller.usage(&words, document);
    }
    for program in programs.iter().filter(|_| !to_stdout) {
        if let Err(error) = files::check_target(&program.target, &shop.inputs) {
            return teller.file_error(&error, document);
        }
    }
    let all_proved = programs.iter().all(proved);
    let document = document.with("proved", all_proved);
    if !all_proved && !args.insist {
        teller.remark(
            "nothing was written: no proof reads the programs of a nut yet; add --insist to have them written, marked as not \
             proved",
        );
        teller.document(&document.with("written", false));
        return Outcome::Wrong;
    }
    let mut targets = Vec::new();
    let mut texts = Vec::new();
    for program in programs {
        let text = program.text.text();
        let (text, target) = if proved(&program) {
            (text.to_owned(), program.target)
        } else {
            match post::mark_without_proof(text, shop.job.machine.style) {
                Some(marked) => (marked, program.target),
                // The machine takes no comments: the name has to carry the warning.
                None if !to_stdout => (text.to_owned(), cut::not_proved_name(&program.target)),
                None => (text.to_owned(), program.target),
            }
        };
        targets.push(target);
        texts.push(text);
    }
    let outcome = if all_proved { Outcome::Done } else { Outcome::Wrong };
    if to_stdout {
        let text = texts.pop().unwrap_or_default();
        if teller.json() {
            teller.document(&document.with("written", false).with("text", text));
        } else {
            teller.result(&text);
        }
        return outcome;
    }
    cut::put(&targets, &texts, args.replace, document, outcome, teller)
}
