//! From the path of a job to everything that follows from it: what every verb but `new` begins with.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::Outcome;
use super::files::{self, FileError};
use super::tell::Teller;
use crate::design::{self, Screw};
use crate::drawing::Drawing;
use crate::feeds;
use crate::finding::{Finding, Severity};
use crate::job::{self, Bench, Job};
use crate::report::json::Document;
use crate::setup::Setup;
use crate::source::Source;
use crate::units::LengthUnit;

/// A job that can be cut, and what follows from it.
pub(crate) struct Shop {
    pub(crate) job: Job,
    /// The job as it was read, with what it leaves to the wood.
    pub(crate) asked: Job,
    pub(crate) screw: Screw,
    pub(crate) setup: Setup,
    pub(crate) drawing: Drawing,
    /// What was found on the way: nothing that stops.
    pub(crate) findings: Vec<Finding>,
    /// The files that were read.
    pub(crate) inputs: Vec<PathBuf>,
}

/// Why a job cannot be cut.
pub(crate) struct Failure {
    /// What was found.
    pub(crate) findings: Vec<Finding>,
    /// In a few words.
    pub(crate) words: String,
    unit: LengthUnit,
    file: Option<FileError>,
    usage: bool,
}

impl Failure {
    fn of_file(error: FileError) -> Self {
        let words = error.to_string();
        Failure { findings: Vec::new(), words, unit: LengthUnit::Mm, file: Some(error), usage: false }
    }
}

/// Reads a job, with the machine and the cutter it names beside it, and designs its screw. When that fails, everything
/// has been told already and the outcome comes back.
pub(crate) fn open(path: &Path, verb: &str, teller: &Teller) -> Result<Shop, Outcome> {
    open_with(job::read, path, verb, teller)
}

/// Does the same for a verb that plans no program: the job may leave its machine out.
pub(crate) fn open_by_hand(path: &Path, verb: &str, teller: &Teller) -> Result<Shop, Outcome> {
    open_with(job::read_by_hand, path, verb, teller)
}

/// A reader of jobs.
type Read = fn(&Arc<Source>, &mut job::Load) -> (Option<Job>, Vec<Finding>);

fn open_with(reader: Read, path: &Path, verb: &str, teller: &Teller) -> Result<Shop, Outcome> {
    let name = files::shown(path, files::STANDARD_INPUT);
    let document = || Document::new(verb).with("job", name.as_str());
    read_with(reader, path).map_err(|failure| match *failure {
        Failure { file: Some(error), .. } => teller.file_error(&error, document()),
        Failure { usage: true, words, .. } => teller.usage(&words, document()),
        Failure { findings, words, unit, .. } => {
            teller.findings(&findings, unit);
            teller.remark(&format!("{name}: {words}"));
            teller.document(&document().findings(&findings));
            Outcome::BadInput
        }
    })
}

/// What came of a bench: itself, what was found on the way, the files that were read.
pub(crate) type BenchRead = (Option<Bench>, Vec<Finding>, Vec<PathBuf>);

/// Reads a job without a screw; `None` when it has one, or is no such file at all. Standard input is left for a job.
pub(crate) fn bench(path: &Path) -> Option<BenchRead> {
    if files::is_dash(path) {
        return None;
    }
    let source = files::read(path).ok().filter(|source| job::is_bench(source.text()))?;
    let folder = path.parent().unwrap_or_else(|| Path::new("")).to_path_buf();
    let mut inputs = vec![path.to_path_buf()];
    let (bench, findings) = job::read_bench(&source, &mut |name: &str| {
        inputs.push(folder.join(name));
        files::read(&folder.join(name)).map_err(|error| error.to_string())
    });
    Some((bench, findings, inputs))
}

/// Opens a job, telling nothing.
pub(crate) fn read(path: &Path) -> Result<Shop, Box<Failure>> {
    read_with(job::read, path)
}

fn read_with(reader: Read, path: &Path) -> Result<Shop, Box<Failure>> {
    let source = files::read(path).map_err(|error| Box::new(Failure::of_file(error)))?;
    if files::looks_like_program(source.text()) {
        let name = files::shown(path, files::STANDARD_INPUT);
        let words = format!("{name} is a program; the job file comes first, then the program");
        return Err(Box::new(Failure {
            findings: Vec::new(),
            words,
            unit: LengthUnit::Mm,
            file: None,
            usage: true,
        }));
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
    let (job, mut findings) = reader(&source, &mut load);
    if let Some(error) = system {
        return Err(Box::new(Failure::of_file(error)));
    }
    let unit = job.as_ref().map_or(LengthUnit::Mm, |job| job.unit);
    let screw = job.as_ref().and_then(|job| {
        let (screw, more) = design::screw(job);
        findings.extend(more);
        screw
    });
    let stopped = findings.iter().any(|finding| finding.severity == Severity::Stop);
    let (Some(job), Some(screw), false) = (job, screw, stopped) else {
        let words = crate::report::findings::count(&findings);
        return Err(Box::new(Failure { findings, words, unit, file: None, usage: false }));
    };
    let asked = job.clone();
    let settled = feeds::settle(job, &screw);
    findings.extend(settled.findings);
    let job = settled.job;
    let setup = design::setup(&job, &screw);
    let drawing = design::drawing(&job, &screw);
    Ok(Shop { job, asked, screw, setup, drawing, findings, inputs })
}
