//! From the path of a job to everything that follows from it: what every verb but `new` begins with.

use std::path::{Path, PathBuf};

use super::Outcome;
use super::files::{self, FileError};
use super::tell::Teller;
use crate::design::{self, Screw};
use crate::drawing::Drawing;
use crate::feeds::{self, Plan};
use crate::finding::{Finding, Severity};
use crate::job::{self, Job};
use crate::report::json::Document;
use crate::setup::Setup;
use crate::units::LengthUnit;

/// A job that can be cut, and what follows from it.
pub(crate) struct Shop {
    pub(crate) job: Job,
    /// The job as it was read, with what it leaves to the wood.
    pub(crate) asked: Job,
    /// The plan that the wood made of it, if the job left it one.
    pub(crate) plan: Option<Plan>,
    pub(crate) screw: Screw,
    pub(crate) setup: Setup,
    pub(crate) drawing: Drawing,
    /// What was found on the way: nothing that stops.
    pub(crate) findings: Vec<Finding>,
    /// The files that were read.
    pub(crate) inputs: Vec<PathBuf>,
}

/// Reads a job, with the machine and the cutter it names beside it, and designs its screw. When that fails, everything
/// has been told already and the outcome comes back.
pub(crate) fn open(path: &Path, verb: &str, teller: &Teller) -> Result<Shop, Outcome> {
    let document = || Document::new(verb).with("job", path.display().to_string());
    let source = files::read(path).map_err(|error| teller.file_error(&error, document()))?;
    if files::looks_like_program(source.text()) {
        let words = format!("{} is a program; the job file comes first, then the program", path.display());
        return Err(teller.usage(&words, document()));
    }
    let folder = path.parent().unwrap_or_else(|| Path::new("")).to_path_buf();
    let mut system: Option<FileError> = None;
    let mut inputs = vec![path.to_path_buf()];
    let mut load = |name: &str| {
        inputs.push(folder.join(name));
        files::read(&folder.join(name)).map_err(|error| {
            let words = error.to_string();
            if error.outcome() == Outcome::System {
                system = Some(error);
            }
            words
        })
    };
    let (job, mut findings) = job::read(&source, &mut load);
    if let Some(error) = system {
        return Err(teller.file_error(&error, document()));
    }
    let unit = job.as_ref().map_or(LengthUnit::Mm, |job| job.unit);
    let screw = job.as_ref().and_then(|job| {
        let (screw, more) = design::screw(job);
        findings.extend(more);
        screw
    });
    let stopped = findings.iter().any(|finding| finding.severity == Severity::Stop);
    let (Some(job), Some(screw), false) = (job, screw, stopped) else {
        teller.findings(&findings, unit);
        teller.remark(&format!("{}: {}", path.display(), crate::report::findings::count(&findings)));
        teller.document(&document().findings(&findings));
        return Err(Outcome::BadInput);
    };
    let asked = job.clone();
    let settled = feeds::settle(job, &screw);
    findings.extend(settled.findings);
    let job = settled.job;
    let setup = design::setup(&job, &screw);
    let drawing = design::drawing(&job, &screw);
    Ok(Shop { job, asked, plan: settled.plan, screw, setup, drawing, findings, inputs })
}
