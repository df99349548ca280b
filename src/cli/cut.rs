//! `cut`: writes the program of a job and proves it from the written text.

use std::path::{Path, PathBuf};

use super::args::Cut;
use super::files::Written;
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, files, prove};
use crate::finding::Severity;
use crate::post;
use crate::report::json::Document;
use crate::source::Source;
use crate::toolpath;

/// Plans, writes, proves, and only then lets the file appear.
pub(crate) fn run(cut: &Cut, teller: &Teller) -> Outcome {
    let mut shop = match shop::open(&cut.job, "cut", teller) {
        Ok(shop) => shop,
        Err(outcome) => return outcome,
    };
    let out = cut.out.clone().unwrap_or_else(|| default_name(cut));
    let document = Document::new("cut")
        .with("job", cut.job.display().to_string())
        .with("program", out.display().to_string());
    let to_stdout = files::is_dash(&out);
    if !to_stdout && let Err(error) = files::check_target(&out, &shop.inputs) {
        return teller.file_error(&error, document);
    }
    let name = if to_stdout { "standard output".to_owned() } else { out.display().to_string() };
    let Some(text) = write_text(&mut shop) else {
        teller.findings(&shop.findings, shop.job.unit);
        teller.remark("nothing was written");
        teller.document(&document.with("written", false).findings(&shop.findings));
        return Outcome::BadInput;
    };
    let program = Source::new(name, text);
    let proof = prove::proof_of(&shop, &program, cut.fineness.fine, teller);
    let document = document.proof(&proof, &shop.findings);
    prove::tell(&shop, &program, &proof, !to_stdout, teller);
    if !proof.proved() && !cut.insist {
        teller.remark("nothing was written");
        teller.document(&document.with("written", false));
        return Outcome::Wrong;
    }
    let mut out = out;
    let mut text = program.text().to_owned();
    if !proof.proved() {
        match post::mark_unproved(&text, shop.job.machine.style) {
            Some(marked) => text = marked,
            // The machine takes no comments: the name has to carry the warning.
            None if !to_stdout => out = not_proved_name(&out),
            None => {}
        }
    }
    let outcome = if proof.proved() { Outcome::Done } else { Outcome::Wrong };
    if to_stdout {
        if teller.json() {
            teller.document(&document.with("written", false).with("text", text));
        } else {
            teller.result(&text);
        }
        return outcome;
    }
    match files::write(&out, &text, cut.replace) {
        Ok(Written::New) => teller.remark(&format!("wrote {} ({} bytes)", out.display(), text.len())),
        Ok(Written::Same) => teller.remark(&format!("{} was up to date", out.display())),
        Err(error) => return teller.file_error(&error, document),
    }
    teller.document(&document.with("written", true));
    outcome
}

/// The program's text; `None` if no path can be planned or something stands against it, with the reasons among the
/// findings.
pub(crate) fn write_text(shop: &mut Shop) -> Option<String> {
    let (path, findings) = toolpath::plan(&shop.job, &shop.screw);
    shop.findings.extend(findings);
    let stopped = shop.findings.iter().any(|finding| finding.severity == Severity::Stop);
    path.filter(|_| !stopped).map(|path| post::program(&shop.job, &shop.screw, &path))
}

/// `press.nc` becomes `press-NOT-PROVED.nc`.
fn not_proved_name(path: &Path) -> PathBuf {
    let mut name = path.file_stem().unwrap_or_default().to_os_string();
    name.push("-NOT-PROVED");
    let named = path.with_file_name(name);
    path.extension().map_or(named.clone(), |ending| named.with_extension(ending))
}

/// The job's name with the ending of a program, in the current folder: `press.v2.toml` gives `press.v2.nc`.
fn default_name(cut: &Cut) -> PathBuf {
    let stem = if files::is_dash(&cut.job) { None } else { cut.job.file_stem() };
    let mut name = stem.unwrap_or_else(|| "screw".as_ref()).to_os_string();
    name.push(".nc");
    PathBuf::from(name)
}
