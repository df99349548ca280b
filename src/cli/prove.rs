//! `prove`: any program against a job, or all the programs of a job one after the other.

use std::sync::Arc;

use anstyle::AnsiColor;

use super::args::Prove;
use super::series::{self, Judged};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, files};
use crate::design::Step;
use crate::drawing::Drawing;
use crate::finding::{Code, Finding, Severity};
use crate::post;
use crate::proof::Proof;
use crate::report;
use crate::report::json::Document;
use crate::source::Source;

/// Reads job and programs, proves, tells.
pub(crate) fn run(prove: &Prove, teller: &Teller) -> Outcome {
    if files::is_dash(&prove.job) && prove.programs.iter().any(|path| files::is_dash(path)) {
        let words = "job and program cannot both come from standard input; name a file for one of them";
        return teller.usage(words, Document::new("prove"));
    }
    let mut shop = match shop::open(&prove.job, "prove", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let named = |document: Document| match &prove.programs[..] {
        [one] => document.with("program", files::shown(one, files::STANDARD_INPUT)),
        _ => document,
    };
    let document = named(Document::new("prove").with("job", files::shown(&prove.job, files::STANDARD_INPUT)));
    let mut programs = Vec::new();
    for path in &prove.programs {
        let program = match files::read(path) {
            Ok(program) => program,
            Err(error) => return teller.file_error(&error, document),
        };
        if files::looks_like_job(program.text()) {
            let words = format!("{} is a job; the programs come after it", program.name());
            return teller.usage(&words, document);
        }
        if files::looks_like_page(program.text()) {
            let words = format!(
                "{} is a page, a drawing or a list of data; give the program itself, such as press.nc",
                program.name()
            );
            return teller.usage(&words, document);
        }
        programs.push(program);
    }
    let steps = series::steps(&mut shop, prove.join);
    if programs.len() > steps.len() {
        let words = format!(
            "the job has {} program{}, and {} are given",
            steps.len(),
            if steps.len() == 1 { "" } else { "s" },
            programs.len()
        );
        return teller.usage(&words, document);
    }
    let left: Vec<String> = steps[programs.len()..].iter().map(Step::name).collect();
    if 1 < programs.len() && !left.is_empty() {
        teller.remark(&format!("not given, and not proved here: {}\n", left.join(", ")));
    }
    let judged: Vec<Judged<'_>> =
        programs.iter().zip(&steps).map(|(text, step)| judged(text, step)).collect();
    let proofs = series::prove(&judged, &post::digest(&shop.job), prove.fineness.fine, teller);
    if let ([program], [proof]) = (&programs[..], &proofs[..]) {
        teller.document(&teller.judged(document, |document| document.proof(proof, &shop.findings)));
        let findings: Vec<Finding> = shop.findings.iter().chain(&proof.findings).cloned().collect();
        return tell(&steps[0].drawing, program, proof, &findings, true, teller);
    }
    let document = teller.judged(document, |document| {
        let parts = programs.iter().zip(&proofs);
        let parts = parts.map(|(program, proof)| Document::part(program.name()).proof(proof, &[]));
        let proved = proofs.iter().all(Proof::proved);
        document.with("proved", proved).parts("programs", parts.collect()).findings(&shop.findings)
    });
    teller.document(&document);
    tell_all(&shop, &judged, &proofs, &|_| true, teller)
}

fn judged<'a>(text: &'a Arc<Source>, step: &'a Step) -> Judged<'a> {
    Judged { text, setup: &step.setup, drawing: &step.drawing }
}

/// Shows findings, figures unless standard output is wanted for something else, and the verdict.
pub(crate) fn tell(
    drawing: &Drawing,
    program: &Source,
    proof: &Proof,
    findings: &[Finding],
    figures: bool,
    teller: &Teller,
) -> Outcome {
    teller.findings(findings, drawing.unit);
    if figures && !teller.json() {
        teller.figures(&format!("{}\n", report::proof::table(proof, drawing)));
    }
    verdict(program, proof, findings, teller);
    if proof.proved() { Outcome::Done } else { Outcome::Wrong }
}

/// The same for several programs: the figures of the last, which measure all that was done. Of the findings only those
/// that are news are shown.
pub(crate) fn tell_all(
    shop: &Shop,
    programs: &[Judged<'_>],
    proofs: &[Proof],
    news: &dyn Fn(&Finding) -> bool,
    teller: &Teller,
) -> Outcome {
    teller.findings(&shop.findings, shop.job.unit);
    let found: Vec<Vec<Finding>> =
        proofs.iter().map(|proof| proof.findings.iter().filter(|f| news(f)).cloned().collect()).collect();
    tell_once(programs, &found, teller);
    if let (false, Some(last), Some(proof)) = (teller.json(), programs.last(), proofs.last()) {
        teller.figures(&format!("{}\n", report::proof::table(proof, last.drawing)));
    }
    for ((program, proof), findings) in programs.iter().zip(proofs).zip(&found) {
        verdict(program.text, proof, findings, teller);
    }
    if proofs.iter().all(Proof::proved) { Outcome::Done } else { Outcome::Wrong }
}

/// The same for programs whose result is looked at elsewhere: no figures, and of what is news in programs of one's own.
pub(crate) fn tell_seen(shop: &Shop, programs: &[Judged<'_>], proofs: &[Proof], own: bool, teller: &Teller) {
    teller.findings(&shop.findings, shop.job.unit);
    let news = |finding: &&Finding| !own || series::is_news(finding);
    let found: Vec<Vec<Finding>> =
        proofs.iter().map(|proof| proof.findings.iter().filter(news).cloned().collect()).collect();
    tell_once(programs, &found, teller);
    for ((program, proof), findings) in programs.iter().zip(proofs).zip(&found) {
        verdict(program.text, proof, findings, teller);
    }
}

/// Shows what was found in each of several programs. A note that an earlier program had too is not shown again; the
/// programs that it holds for as well are named once.
pub(super) fn tell_once(programs: &[Judged<'_>], found: &[Vec<Finding>], teller: &Teller) {
    let mut told: Vec<&Code> = Vec::new();
    let mut again: Vec<(&Code, Vec<&str>)> = Vec::new();
    for (program, findings) in programs.iter().zip(found) {
        let plain = |finding: &Finding| finding.severity == Severity::Note && finding.follows.is_none();
        let (old, new): (Vec<&Finding>, Vec<&Finding>) =
            findings.iter().partition(|finding| plain(finding) && told.contains(&finding.code));
        for finding in old {
            let known = again.iter_mut().find(|(code, _)| *code == finding.code);
            match known {
                Some((_, names)) if names.contains(&program.text.name()) => {}
                Some((_, names)) => names.push(program.text.name()),
                None => again.push((finding.code, vec![program.text.name()])),
            }
        }
        let new: Vec<Finding> = new.into_iter().cloned().collect();
        told.extend(new.iter().filter(|finding| plain(finding)).map(|finding| finding.code));
        teller.findings(&new, program.drawing.unit);
    }
    for (code, names) in again {
        teller.remark(&format!("note[{}] holds for {} too\n", code.name, names.join(", ")));
    }
}

fn verdict(program: &Source, proof: &Proof, findings: &[Finding], teller: &Teller) {
    let (verdict, colour) = if proof.proved() {
        ("proved", AnsiColor::Green)
    } else {
        ("NOT PROVED, do not cut", AnsiColor::Red)
    };
    let style = colour.on_default().bold();
    let count = report::findings::count(findings);
    let minutes = proof.measured.minutes.map_or(String::new(), |minutes| format!(", about {minutes:.0} min"));
    teller.remark(&format!(
        "{}: {style}{verdict}{style:#} ({count}, {}{minutes})",
        program.name(),
        report::findings::counted(proof.motions, "move")
    ));
}
