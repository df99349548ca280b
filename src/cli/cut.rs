//! `cut`: writes the programs of a job and proves them from the written texts.

use std::path::{Path, PathBuf};

use super::args::Cut;
use super::files::Written;
use super::series::{self, Judged, Program};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, files, prove};
use crate::finding::Finding;
use crate::job;
use crate::post;
use crate::proof::Proof;
use crate::report::json::Document;

/// Plans, writes, proves, and only then lets the files appear.
pub(crate) fn run(cut: &Cut, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&cut.job, "cut", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let out = cut.out.clone().unwrap_or_else(|| default_name(&cut.job));
    let document = Document::new("cut").with("job", files::shown(&cut.job, files::STANDARD_INPUT));
    let to_stdout = files::is_dash(&out);
    let name = |part: &str| {
        if to_stdout {
            files::STANDARD_OUTPUT.to_owned()
        } else {
            series::file_of(&out, part).display().to_string()
        }
    };
    let programs = series::write(&mut shop, cut.join, &name);
    let document = match &programs {
        Some(programs) if programs.len() > 1 => document,
        _ => document.with("program", files::shown(&out, files::STANDARD_OUTPUT)),
    };
    let Some(programs) = programs else {
        teller.findings(&shop.findings, shop.job.unit);
        teller.remark("nothing was written");
        teller.document(&document.with("written", false).findings(&shop.findings));
        return Outcome::BadInput;
    };
    if to_stdout && programs.len() > 1 {
        let words = format!("the job has {} programs, which do not fit into one output", programs.len());
        return teller.usage(&words, document);
    }
    let mut targets: Vec<PathBuf> =
        programs.iter().map(|program| series::file_of(&out, &program.part)).collect();
    for target in targets.iter().filter(|_| !to_stdout) {
        if let Err(error) = files::check_target(target, &shop.inputs) {
            return teller.file_error(&error, document);
        }
    }
    let judged: Vec<Judged<'_>> = programs.iter().map(judged).collect();
    let proofs = series::prove(&judged, &post::digest(&shop.job), cut.fineness.fine, teller);
    let proved = proofs.iter().all(Proof::proved);
    let document = teller.judged(document, |document| told(document, &shop, &programs, &proofs));
    if let ([program], [proof]) = (&programs[..], &proofs[..]) {
        let findings: Vec<Finding> = shop
            .findings
            .iter()
            .chain(&proof.findings)
            .filter(|finding| series::is_news(finding))
            .cloned()
            .collect();
        prove::tell(&program.step.drawing, &program.text, proof, &findings, !to_stdout, teller);
    } else {
        prove::tell_all(&shop, &judged, &proofs, &series::is_news, teller);
    }
    if !proved && !cut.insist {
        teller.remark("nothing was written");
        teller.document(&document.with("written", false));
        return Outcome::Wrong;
    }
    let mut texts: Vec<String> = programs.iter().map(|program| program.text.text().to_owned()).collect();
    for ((text, target), _) in
        texts.iter_mut().zip(&mut targets).zip(&proofs).filter(|(_, proof)| !proof.proved())
    {
        match post::mark_unproved(text, shop.job.machine.style) {
            Some(marked) => *text = marked,
            // The machine takes no comments: the name has to carry the warning.
            None if !to_stdout => *target = not_proved_name(target),
            None => {}
        }
    }
    let outcome = if proved { Outcome::Done } else { Outcome::Wrong };
    if to_stdout {
        return say(texts.pop().unwrap_or_default(), document, outcome, teller);
    }
    let done = put(&targets, &texts, cut.replace, document, outcome, teller);
    if shop.job.marks.get("title").is_some_and(|mark| mark.source.text().contains(job::REMINDER)) {
        teller.warning(
            "care: the job says that its cutter and machine are still to be measured, so this is a program for none that \
             you have",
        );
    }
    done
}

/// Gives a program to standard output, alone or within the one JSON document.
pub(crate) fn say(text: String, document: Document, outcome: Outcome, teller: &Teller) -> Outcome {
    if teller.json() {
        teller.document(&document.with("written", false).with("text", text));
    } else {
        teller.result(&text);
    }
    outcome
}

/// Writes all files of a job or, when one of them would write over something else, none.
pub(crate) fn put(
    targets: &[PathBuf],
    texts: &[String],
    replace: bool,
    document: Document,
    outcome: Outcome,
    teller: &Teller,
) -> Outcome {
    for (target, text) in targets.iter().zip(texts) {
        if let Err(error) = files::check_content(target, text, replace) {
            return teller.file_error(&error, document);
        }
    }
    for (target, text) in targets.iter().zip(texts) {
        match files::write(target, text, replace) {
            Ok(Written::New) => teller.remark(&format!("wrote {} ({} bytes)", target.display(), text.len())),
            Ok(Written::Same) => teller.remark(&format!("{} was up to date", target.display())),
            Err(error) => return teller.file_error(&error, document),
        }
    }
    teller.document(&document.with("written", true));
    outcome
}

/// The proofs of one program or of several as JSON has them.
fn told(document: Document, shop: &Shop, programs: &[Program], proofs: &[Proof]) -> Document {
    if let [proof] = proofs {
        return document.proof(proof, &shop.findings);
    }
    let list = programs.iter().zip(proofs);
    let list = list.map(|(program, proof)| Document::part(program.text.name()).proof(proof, &[]));
    let proved = proofs.iter().all(Proof::proved);
    document.with("proved", proved).parts("programs", list.collect()).findings(&shop.findings)
}

pub(crate) fn judged(program: &Program) -> Judged<'_> {
    Judged { text: &program.text, setup: &program.step.setup, drawing: &program.step.drawing }
}

/// `press.nc` becomes `press-NOT-PROVED.nc`.
pub(crate) fn not_proved_name(path: &Path) -> PathBuf {
    let mut name = path.file_stem().unwrap_or_default().to_os_string();
    name.push("-NOT-PROVED");
    let named = path.with_file_name(name);
    path.extension().map_or(named.clone(), |ending| named.with_extension(ending))
}

/// The job's name with the ending of a program, in the current folder: `press.v2.toml` gives `press.v2.nc`.
pub(crate) fn default_name(job: &Path) -> PathBuf {
    PathBuf::from(files::safe_stem(job) + ".nc")
}
