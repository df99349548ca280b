//! What the verbs begin with whose results are looked at: the programs of a job, its own or others, each with the shop and
//! the drawing of its step, and their proofs.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::Seen as Args;
use super::files::{self, Written};
use super::series::{self, Judged};
use super::shop::{self, Shop};
use super::tell::Teller;
use super::{Outcome, prove};
use crate::design::Step;
use crate::finding::Finding;
use crate::post;
use crate::proof::{Before, Proof};
use crate::report::json::Document;
use crate::source::Source;

/// A program with the step of the job that it makes.
pub(crate) struct Looked {
    /// What it is called on a page: `2-relief`, or the name of its file.
    pub(crate) name: String,
    pub(crate) text: Arc<Source>,
    pub(crate) step: Step,
}

/// A job, its programs and what was found out about them. There is at least one program, and a proof of each.
pub(crate) struct Seen {
    pub(crate) shop: Shop,
    pub(crate) programs: Vec<Looked>,
    pub(crate) proofs: Vec<Proof>,
    pub(crate) proved: bool,
    pub(crate) document: Document,
}

impl Seen {
    /// The programs as whoever carves them wants them.
    pub(crate) fn run(&self) -> Vec<Before<'_>> {
        let one = |looked| -> Before<'_> {
            let Looked { text, step, .. }: &Looked = looked;
            Before { program: text, setup: &step.setup }
        };
        self.programs.iter().map(one).collect()
    }

    /// The step after which everything stands that is looked at.
    pub(crate) fn last(&self) -> Option<(&Looked, &Proof)> {
        self.programs.last().zip(self.proofs.last())
    }

    /// Everything there is to say: about the job first, then about each program.
    pub(crate) fn findings(&self) -> Vec<Finding> {
        let own = self.proofs.iter().flat_map(|proof| &proof.findings);
        self.shop.findings.iter().chain(own).cloned().collect()
    }

    pub(crate) fn outcome(&self) -> Outcome {
        if self.proved { Outcome::Done } else { Outcome::Wrong }
    }
}

/// Where a result goes and what is said of it.
pub(crate) struct Target<'a> {
    pub(crate) verb: &'static str,
    /// The key of the result's name in the document.
    pub(crate) what: &'static str,
    pub(crate) out: &'a Path,
    pub(crate) fine: Option<f64>,
}

/// Opens the job, reads or writes its programs, proves them and tells. When that fails, everything has been told already.
pub(crate) fn open(args: &Args, target: &Target<'_>, teller: &Teller) -> Result<Seen, Outcome> {
    let document = document(args, target);
    check(args, target, &document, teller)?;
    let mut shop = shop::open(&args.job, target.verb, teller)?;
    let inputs: Vec<PathBuf> = shop.inputs.iter().chain(&args.programs).cloned().collect();
    if !files::is_dash(target.out)
        && let Err(error) = files::check_target(target.out, &inputs)
    {
        return Err(teller.file_error(&error, document));
    }
    let programs = if args.programs.is_empty() {
        own(&mut shop, args, &document, teller)?
    } else {
        others(&mut shop, args, &document, teller)?
    };
    let judged: Vec<Judged<'_>> = programs
        .iter()
        .map(|one| Judged { text: &one.text, setup: &one.step.setup, drawing: &one.step.drawing })
        .collect();
    let proofs = series::prove(&judged, &post::digest(&shop.job), target.fine, teller);
    let proved = proofs.iter().all(Proof::proved);
    let document = if let [proof] = &proofs[..] {
        document.proof(proof, &shop.findings)
    } else {
        let parts = programs.iter().zip(&proofs);
        let parts = parts.map(|(one, proof)| Document::part(one.text.name()).proof(proof, &[]));
        document.with("proved", proved).parts("programs", parts.collect()).findings(&shop.findings)
    };
    prove::tell_seen(&shop, &judged, &proofs, args.programs.is_empty(), teller);
    Ok(Seen { shop, programs, proofs, proved, document })
}

pub(super) fn document(args: &Args, target: &Target<'_>) -> Document {
    Document::new(target.verb)
        .with("job", files::shown(&args.job, files::STANDARD_INPUT))
        .with(target.what, files::shown(target.out, files::STANDARD_OUTPUT))
}

/// Standard input can be read once.
pub(super) fn check(
    args: &Args,
    target: &Target<'_>,
    document: &Document,
    teller: &Teller,
) -> Result<(), Outcome> {
    let dashes = args.programs.iter().chain([&args.job]).filter(|path| files::is_dash(path)).count();
    if dashes > 1 {
        let words = "only one of job and programs can come from standard input; name files for the others";
        return Err(teller.usage(words, document.clone()));
    }
    let folder = !files::is_dash(target.out) && target.out.file_name().is_none();
    if folder {
        let words = format!("{} is no name of a file", target.out.display());
        return Err(teller.usage(&words, document.clone()));
    }
    Ok(())
}

/// The programs that `cut` would write.
fn own(shop: &mut Shop, args: &Args, document: &Document, teller: &Teller) -> Result<Vec<Looked>, Outcome> {
    let base = default_name(&args.job, &[], "nc");
    let name = |part: &str| series::file_of(&base, part).display().to_string();
    let Some(programs) = series::write(shop, args.join, &name) else {
        teller.findings(&shop.findings, shop.job.unit);
        teller.remark("nothing was written");
        teller.document(&document.clone().with("written", false).findings(&shop.findings));
        return Err(Outcome::BadInput);
    };
    let looked = |program: series::Program| {
        let name = if program.part.is_empty() { bare(program.text.name()) } else { program.part };
        Looked { name, text: program.text, step: program.step }
    };
    Ok(programs.into_iter().map(looked).collect())
}

/// The programs that are named.
fn others(
    shop: &mut Shop,
    args: &Args,
    document: &Document,
    teller: &Teller,
) -> Result<Vec<Looked>, Outcome> {
    let texts = texts(args, document, teller)?;
    let steps = series::steps(shop, args.join);
    if texts.len() > steps.len() {
        let words = format!(
            "the job has {} program{}, and {} are given",
            steps.len(),
            if steps.len() == 1 { "" } else { "s" },
            texts.len()
        );
        return Err(teller.usage(&words, document.clone()));
    }
    let looked = |(text, step): (Arc<Source>, Step)| Looked { name: bare(text.name()), text, step };
    Ok(texts.into_iter().zip(steps).map(looked).collect())
}

/// The texts of the programs that are named.
pub(super) fn texts(args: &Args, document: &Document, teller: &Teller) -> Result<Vec<Arc<Source>>, Outcome> {
    let mut texts = Vec::new();
    for path in &args.programs {
        let text = files::read(path).map_err(|error| teller.file_error(&error, document.clone()))?;
        if files::looks_like_job(text.text()) {
            let words = format!("{} is a job; the programs come after it", text.name());
            return Err(teller.usage(&words, document.clone()));
        }
        texts.push(text);
    }
    Ok(texts)
}

/// A file's name without its folder: a page need not tell where it was made.
pub(super) fn bare(path: &str) -> String {
    path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned()
}

/// Writes a text that was made for looking at.
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

/// The name of the only program, or else of the job, with another ending, in the current folder.
pub(crate) fn default_name(job: &Path, programs: &[PathBuf], ending: &str) -> PathBuf {
    let named = match programs {
        [one] if !files::is_dash(one) => one,
        _ => job,
    };
    PathBuf::from(format!("{}.{ending}", files::safe_stem(named)))
}
