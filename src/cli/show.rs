//! `show`: the inspection page of a program, the job's own or any other.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::Show;
use super::files::{self, Written};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, cut, prove};
use crate::finding::Finding;
use crate::proof::Story;
use crate::report::json::Document;
use crate::report::page::{self, Page};
use crate::source::Source;

/// Proves the program, follows it through the wood, and writes the page, whatever the verdict: what is wrong is best
/// seen there.
pub(crate) fn run(show: &Show, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&show.job, "show", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let out = show.out.clone().unwrap_or_else(|| default_name(&show.job, show.program.as_deref(), "html"));
    let document = Document::new("show")
        .with("job", show.job.display().to_string())
        .with("page", out.display().to_string());
    let inputs: Vec<PathBuf> = shop.inputs.iter().cloned().chain(show.program.clone()).collect();
    if !files::is_dash(&out)
        && let Err(error) = files::check_target(&out, &inputs)
    {
        return teller.file_error(&error, document);
    }
    let program = match program_of(&mut shop, &show.job, show.program.as_deref(), teller, &document) {
        Ok(program) => program,
        Err(outcome) => return outcome,
    };
    let proof = prove::proof_of(&shop, &program, show.fineness.fine, teller);
    let story = Story::of(&program, &shop.setup);
    let findings: Vec<Finding> = shop.findings.iter().chain(&proof.findings).cloned().collect();
    let document = document.proof(&proof, &shop.findings);
    prove::tell(&shop, &program, &proof, false, teller);
    let Some(story) = story else {
        teller.remark("no page: the program cannot be followed");
        teller.document(&document.with("written", false));
        return Outcome::Wrong;
    };
    let page = page::html(&Page {
        title: &shop.job.title,
        wood: &shop.job.wood,
        program: &program,
        setup: &shop.setup,
        proof: Some((&shop.drawing, &proof)),
        findings: &findings,
        story: &story,
        sheet: Some(&super::draw::sheet(&shop, &program, &proof, &story)),
    });
    let text = match page {
        Ok(text) => text,
        Err(why) => {
            let path = out.display().to_string();
            return teller.file_error(&files::FileError::Write { path, why }, document);
        }
    };
    let outcome = if proof.proved() { Outcome::Done } else { Outcome::Wrong };
    write(&out, &text, show.replace, teller, document, outcome)
}

/// The program to look at: the one named, or the one that `cut` would write.
pub(crate) fn program_of(
    shop: &mut Shop,
    job: &Path,
    program: Option<&Path>,
    teller: &Teller,
    document: &Document,
) -> Result<Arc<Source>, Outcome> {
    if let Some(path) = program {
        let program = files::read(path).map_err(|error| teller.file_error(&error, document.clone()))?;
        if files::looks_like_job(program.text()) {
            let words = format!("{} is a job; the program comes second", program.name());
            return Err(teller.usage(&words, document.clone()));
        }
        return Ok(program);
    }
    let Some(text) = cut::write_text(shop) else {
        teller.findings(&shop.findings, shop.job.unit);
        teller.remark("nothing was written");
        teller.document(&document.clone().with("written", false).findings(&shop.findings));
        return Err(Outcome::BadInput);
    };
    Ok(Source::new(default_name(job, None, "nc").display().to_string(), text))
}

/// Writes a result that was made for looking at.
pub(crate) fn write(
    out: &Path,
    text: &str,
    replace: bool,
    teller: &Teller,
    document: Document,
    outcome: Outcome,
) -> Outcome {
    if files::is_dash(out) {
        if teller.json() {
            teller.document(&document.with("written", false).with("text", text));
        } else {
            teller.result(text);
        }
        return outcome;
    }
    match files::write(out, text, replace) {
        Ok(Written::New) => teller.remark(&format!("wrote {} ({} bytes)", out.display(), text.len())),
        Ok(Written::Same) => teller.remark(&format!("{} was up to date", out.display())),
        Err(error) => return teller.file_error(&error, document),
    }
    teller.document(&document.with("written", true));
    outcome
}

/// The name of the program, or else of the job, with another ending, in the current folder.
pub(crate) fn default_name(job: &Path, program: Option<&Path>, ending: &str) -> PathBuf {
    let named = [program, Some(job)].into_iter().flatten().find(|path| !files::is_dash(path));
    let mut name = named.and_then(Path::file_stem).unwrap_or_else(|| "screw".as_ref()).to_os_string();
    name.push(".");
    name.push(ending);
    PathBuf::from(name)
}
