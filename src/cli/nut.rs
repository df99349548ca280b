//! `nut`: sizes of the nut, and the programs that make it, proved by themselves and with the screw in the nut.

mod judge;

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::Nut as Arguments;
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, cut, files, series};
use crate::design::fit::When;
use crate::design::nut::{NutStep, nut_steps};
use crate::design::{self, Nut};
use crate::post::{self, NutLead};
use crate::press;
use crate::proof::Before;
use crate::proof::nut::NutBefore;
use crate::proof::pair::{self, PairSection};
use crate::report;
use crate::report::json::Document;
use crate::setup::Season;
use crate::source::Source;
use crate::toolpath::{self, NutPath};
use judge::{Judgement, judge, stops};

/// One program of a nut as it is written.
struct Program {
    step: NutStep,
    path: NutPath,
    text: Arc<Source>,
    target: PathBuf,
}

/// Reads the job, sizes the nut, proves its programs, tells; with `--out` lets them appear.
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
    let stopped = stops(&shop.findings);
    let base = args.out.clone().unwrap_or_else(|| cut::default_name(&args.job));
    let to_stdout = args.out.as_ref().is_some_and(|out| files::is_dash(out));
    let programs = if stopped { Vec::new() } else { programs(&shop, &nut, &base, to_stdout) };
    let (press, _) = press::press(&shop.job, &shop.screw);
    let minutes: Vec<(&str, f64)> = programs
        .iter()
        .map(|program| (program.step.name(), post::nut_minutes(&program.step.setup, &program.path)))
        .collect();
    let told = report::nut::Told::of(&shop.job, &shop.screw, &nut, &press, &minutes);
    let document = document.with("nut", &told).findings(&shop.findings);
    // Whoever proves a program of a nut knows its sizes.
    if !teller.json() && !to_stdout && args.programs.is_empty() {
        teller.figures(&report::nut::text(&shop.job, &shop.screw, &nut, &told));
    }
    if stopped {
        if args.out.is_some() {
            teller.remark("nothing was written");
        }
        teller.document(&document.with("written", false));
        return Outcome::BadInput;
    }
    if programs.is_empty() && (args.out.is_some() || !args.programs.is_empty()) {
        let words = "the job names no cutter for its nut, or its machine mills no flat work: add cutter = \"...\" under [nut], \
                     or ask for the sizes alone";
        return teller.usage(words, document);
    }
    if programs.is_empty() {
        teller.document(&document);
        return Outcome::Done;
    }
    let texts = match texts(args, &programs, &shop) {
        Ok(texts) => texts,
        Err(Unread::File(error)) => return teller.file_error(&error, document),
        Err(Unread::Usage(words)) => return teller.usage(&words, document),
    };
    if let Some(refused) = refused(to_stdout, &programs, args, &shop) {
        return match refused {
            Unread::File(error) => teller.file_error(&error, document),
            Unread::Usage(words) => teller.usage(&words, document),
        };
    }
    let steps: Vec<NutStep> = programs.iter().map(|program| program.step.clone()).collect();
    let judgement = judge(&mut shop, &nut, &steps, &texts, args.fineness.fine, teller);
    judgement.tell(&steps, &texts, !to_stdout, teller);
    let document = judgement.told(document, &texts);
    if args.out.is_some() {
        return write(args, to_stdout, &shop, programs, &judgement, document, teller);
    }
    teller.document(&document);
    if judgement.proved() { Outcome::Done } else { Outcome::Wrong }
}

/// The screw in its nut as both are cut, as the job stands and in the wet and the dry season; empty when the job has no nut
/// that is milled, or it does not come out.
pub(crate) fn sections(shop: &Shop, screws: &[Before<'_>]) -> Vec<PairSection> {
    let (Some(nut), findings) = design::nut(&shop.job, &shop.screw) else { return Vec::new() };
    if stops(&findings) {
        return Vec::new();
    }
    let programs = programs(shop, &nut, Path::new("nut.nc"), false);
    let nuts: Vec<NutBefore<'_>> = programs
        .iter()
        .map(|program| NutBefore { program: &program.text, setup: &program.step.setup })
        .collect();
    let Some(last) = programs.last() else { return Vec::new() };
    let seasons = nut.fit.as_ref().map_or_else(
        || vec![Season { name: When::AsCut.words().to_owned(), ..Season::default() }],
        |fit| {
            let shown = [When::AsCut, When::BothWet, When::BothDry].map(When::words);
            fit.seasons().into_iter().filter(|season| shown.contains(&season.name.as_str())).collect()
        },
    );
    pair::section(screws, &shop.drawing, &nuts, &last.step.drawing, &seasons)
}

/// Why there is nothing to prove.
enum Unread {
    File(files::FileError),
    Usage(String),
}

/// The texts to prove: those of the files given, or those that the job asks for.
fn texts(args: &Arguments, programs: &[Program], shop: &Shop) -> Result<Vec<Arc<Source>>, Unread> {
    if args.programs.is_empty() {
        return Ok(programs.iter().map(|program| Arc::clone(&program.text)).collect());
    }
    if args.programs.len() > programs.len() {
        let (has, given) = (programs.len(), args.programs.len());
        let s = if has == 1 { "" } else { "s" };
        return Err(Unread::Usage(format!(
            "the nut of {} has {has} program{s}, and {given} are given",
            shop.job.title
        )));
    }
    let read = |path: &PathBuf| {
        let program = files::read(path).map_err(Unread::File)?;
        if files::looks_like_job(program.text()) {
            let words = format!("{} is a job; the programs come after it", program.name());
            return Err(Unread::Usage(words));
        }
        Ok(program)
    };
    args.programs.iter().map(read).collect()
}

/// What keeps the programs from being written, whatever they are.
fn refused(to_stdout: bool, programs: &[Program], args: &Arguments, shop: &Shop) -> Option<Unread> {
    args.out.as_ref()?;
    if to_stdout {
        return (programs.len() > 1).then(|| {
            let words = format!("the nut has {} programs, which do not fit into one output", programs.len());
            Unread::Usage(words)
        });
    }
    programs
        .iter()
        .find_map(|program| files::check_target(&program.target, &shop.inputs).err())
        .map(Unread::File)
}

/// Plans and writes the programs of a nut, as texts.
fn programs(shop: &Shop, nut: &Nut, base: &Path, to_stdout: bool) -> Vec<Program> {
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
        let name = if to_stdout { files::STANDARD_OUTPUT.to_owned() } else { target.display().to_string() };
        Some(Program { text: Source::new(name, text), step, path, target })
    });
    made.collect()
}

/// Lets the files appear: proved with the screw in the nut, or all of them with `--insist`, marked.
fn write(
    args: &Arguments,
    to_stdout: bool,
    shop: &Shop,
    programs: Vec<Program>,
    judgement: &Judgement,
    document: Document,
    teller: &Teller,
) -> Outcome {
    let proved = judgement.proved();
    if !proved && !args.insist {
        teller.remark("nothing was written");
        teller.document(&document.with("written", false));
        return Outcome::Wrong;
    }
    let mut targets = Vec::new();
    let mut texts = Vec::new();
    for program in programs {
        let text = program.text.text();
        let marked = if proved { None } else { post::mark_unproved(text, shop.job.machine.style) };
        // The machine may take no comments: then the name has to carry the warning.
        let target = match &marked {
            None if !proved && !to_stdout => cut::not_proved_name(&program.target),
            _ => program.target,
        };
        targets.push(target);
        texts.push(marked.unwrap_or_else(|| text.to_owned()));
    }
    let outcome = if proved { Outcome::Done } else { Outcome::Wrong };
    if to_stdout {
        return cut::say(texts.pop().unwrap_or_default(), document, outcome, teller);
    }
    cut::put(&targets, &texts, args.replace, document, outcome, teller)
}
