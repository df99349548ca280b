//! `try`: programs to try a set-up with, in the air, along the extents, or on scrap.

use std::path::PathBuf;
use std::sync::Arc;

use super::args::Try;
use super::series::{self, Judged};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, cut, files, prove};
use crate::design;
use crate::drawing::{Drawing, Threading};
use crate::finding::{Finding, Severity};
use crate::post::{self, Lead};
use crate::proof::Proof;
use crate::report::json::Document;
use crate::setup::Setup;
use crate::source::Source;
use crate::toolpath::{self, Work};

/// A program to try, with what it is proved against.
struct Trial {
    path: PathBuf,
    text: Arc<Source>,
    setup: Setup,
    drawing: Drawing,
}

/// Plans, writes, proves, and only then lets the files appear.
pub(crate) fn run(attempt: &Try, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&attempt.job, "try", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let base = attempt.out.clone().unwrap_or_else(|| cut::default_name(&attempt.job));
    let document = Document::new("try").with("job", attempt.job.display().to_string());
    if files::is_dash(&base) {
        return teller.usage("programs to try are written to files: name one with --out", document);
    }
    let made =
        if attempt.scrap { scrap(&mut shop, attempt, &base) } else { spindle_off(&mut shop, attempt, &base) };
    let trials = match made {
        Some(trials) if !shop.findings.iter().any(|finding| finding.severity == Severity::Stop) => trials,
        _ => {
            teller.findings(&shop.findings, shop.job.unit);
            teller.remark("nothing was written");
            teller.document(&document.with("written", false).findings(&shop.findings));
            return Outcome::BadInput;
        }
    };
    for trial in &trials {
        if let Err(error) = files::check_target(&trial.path, &shop.inputs) {
            return teller.file_error(&error, document);
        }
    }
    // Each stands for itself: what runs in the air is proved above the whole blank.
    let digest = post::digest(&shop.job);
    let mut proofs: Vec<Proof> = Vec::new();
    for trial in &trials {
        let judged = Judged { text: &trial.text, setup: &trial.setup, drawing: &trial.drawing };
        proofs.extend(series::prove(&[judged], &digest, attempt.fineness.fine, teller));
    }
    let proved = proofs.iter().all(Proof::proved);
    let judged: Vec<Judged<'_>> = trials
        .iter()
        .map(|trial| Judged { text: &trial.text, setup: &trial.setup, drawing: &trial.drawing })
        .collect();
    prove::tell_all(&shop, &judged, &proofs, &series::is_news, teller);
    let document = teller.judged(document, |document| {
        let parts = trials.iter().zip(&proofs);
        let parts = parts.map(|(trial, proof)| Document::part(trial.text.name()).proof(proof, &[]));
        document.with("proved", proved).parts("programs", parts.collect()).findings(&shop.findings)
    });
    if !proved {
        teller.remark("nothing was written");
        teller.document(&document.with("written", false));
        return Outcome::Wrong;
    }
    let targets: Vec<PathBuf> = trials.iter().map(|trial| trial.path.clone()).collect();
    let texts: Vec<String> = trials.iter().map(|trial| trial.text.text().to_owned()).collect();
    cut::put(&targets, &texts, attempt.replace, document, Outcome::Done, teller)
}

/// Programs that cut nothing: each step lifted, or one trip along the extents of all.
fn spindle_off(shop: &mut Shop, attempt: &Try, base: &std::path::Path) -> Option<Vec<Trial>> {
    let programs = series::write(shop, attempt.join, &|_| String::new())?;
    let count = programs.len();
    let mut trials = Vec::new();
    if attempt.extents {
        let works: Vec<&Work> = programs.iter().map(|program| &program.work).collect();
        let work = toolpath::extents(&shop.job, &shop.screw, &works);
        // The cutter that is in the collet first.
        let setup = programs.first().map_or_else(|| shop.setup.clone(), |program| program.step.setup.clone());
        let words = "goes slowly to the ends of the work, above everything, spindle off";
        trials.push(trial(shop, series::file_of(base, "extents"), &setup, &work, "extents", words));
        return Some(trials);
    }
    for (index, program) in programs.iter().enumerate() {
        match toolpath::in_air(&shop.job, &shop.screw, &program.work) {
            Ok(work) => {
                let part = series::part_of(&program.step, index, count);
                let part = if part.is_empty() { "air".to_owned() } else { format!("{part}-air") };
                let words = "the same moves lifted clear of the blank, spindle off";
                let title = format!("{} in the air", program.step.name());
                let path = series::file_of(base, &part);
                trials.push(trial(shop, path, &program.step.setup, &work, &title, words));
            }
            Err(finding) => shop.findings.push(*finding),
        }
    }
    Some(trials)
}

fn trial(shop: &Shop, path: PathBuf, setup: &Setup, work: &Work, title: &str, words: &str) -> Trial {
    let lead = Lead {
        title: Some(title.to_owned()),
        lines: vec![words.to_owned()],
        thread: false,
        digest: post::digest(&shop.job),
        spindle_off: true,
    };
    let text = post::step_program(&shop.job, &shop.screw, setup, work, &lead);
    let drawing = Drawing { thread: Threading::Air, stretches: Vec::new(), ..shop.drawing.clone() };
    Trial { text: Source::new(path.display().to_string(), text), path, setup: setup.clone(), drawing }
}

/// The same thread on scrap; the trial piece then is the job.
fn scrap(shop: &mut Shop, attempt: &Try, base: &std::path::Path) -> Option<Vec<Trial>> {
    let diameter = attempt.diameter.map(|length| length * shop.job.unit.mm());
    let job = design::trial(&shop.job, &shop.screw, attempt.turns, diameter);
    let (screw, mut findings) = design::screw(&job);
    let path = screw.as_ref().and_then(|screw| {
        let (path, more) = toolpath::plan(&job, screw);
        findings.extend(more);
        path
    });
    shop.findings.extend(findings.into_iter().map(without_place));
    let (screw, path) = screw.zip(path)?;
    let setup = design::setup(&job, &screw);
    let lines = vec![format!(
        "trial piece: {} long, {} of it for the chuck",
        job.unit.show(setup.blank.to_s_mm - setup.blank.from_s_mm),
        job.unit.show(job.machine.chuck.grip_mm)
    )];
    let lead = Lead { lines, thread: true, digest: post::digest(&shop.job), ..Lead::default() };
    let text = post::step_program(&job, &screw, &setup, &Work::of_thread(&job, &path), &lead);
    let drawing = design::drawing(&job, &screw);
    let path = series::file_of(base, "scrap");
    Some(vec![Trial { text: Source::new(path.display().to_string(), text), path, setup, drawing }])
}

/// What is said of a trial piece points at no line of the job: its sizes are not written there.
fn without_place(finding: Finding) -> Finding {
    let message = format!("the trial piece: {}", finding.message);
    Finding { mark: None, also: Vec::new(), message, ..finding }
}
