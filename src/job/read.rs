//! Reads a job: its own text and those of the machine and the cutter it names, every fault at once.

use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use super::desk::{Desk, Required};
use super::file::{CutterFile, JobFile, MachineFile};
use super::{Job, agree, cutter, cutting, machine, page, screw, woods};
use crate::finding::{Finding, job as codes};
use crate::setup::{Cutter, Machine};
use crate::source::{Mark, Source};
use crate::units::LengthUnit;

/// What stands at the top of a job.
pub(super) const REQUIRED: &[Required] = &[
    ("title", "title = \"nipping press\"", "title = \"nipping press\""),
    ("units", "units = \"mm\" (or \"inch\")", "units = \"mm\" (or \"inch\")"),
    ("wood", "wood = \"hard maple\"", "wood = \"hard maple\""),
    ("machine", "machine = \"machines/bench.toml\"", "machine = \"machines/bench.toml\""),
    ("cutter", "cutter = \"cutters/v60.toml\"", "cutter = \"cutters/v60.toml\""),
];

/// A file with one of these at its top is a job, whatever else it holds.
const JOB_TABLES: &[&str] = &["screw", "blank", "cutting", "machine", "cutter"];
/// Keys at the top of a file by which a machine or a cutter is known.
const OTHER_FILES: &[(&str, &str)] = &[
    ("headstock", "machine"),
    ("zero", "machine"),
    ("x", "machine"),
    ("z", "machine"),
    ("a", "machine"),
    ("spindle", "machine"),
    ("tip", "cutter"),
    ("tip_diameter", "cutter"),
    ("flutes", "cutter"),
    ("cutting_diameter", "cutter"),
    ("shank_diameter", "cutter"),
];

/// Gets the text of a machine or cutter file by the path as written in the job, or says in a sentence that names the
/// file why it cannot be had: `machines/bench.toml cannot be read: no such file`.
pub type Load<'a> = dyn FnMut(&str) -> Result<Arc<Source>, String> + 'a;

/// Reads a job file. `load` is given each path the job names for its machine and cutter.
///
/// Returns every finding, and the job when none of them stops it. Values are converted to mm here and nowhere later.
pub fn read(source: &Arc<Source>, load: &mut Load) -> (Option<Job>, Vec<Finding>) {
    let mut desk = Desk::default();
    let job = check(source, load, &mut desk);
    let job = job.filter(|_| !desk.stops()).map(|job| Job { marks: desk.marks, ..job });
    (job, desk.findings)
}

fn check(source: &Arc<Source>, load: &mut Load, desk: &mut Desk) -> Option<Job> {
    let text = page::mend(source, "", desk)?;
    let mut table = page::parse(&text);
    if page::is_empty(&table, source, desk) {
        return None;
    }
    let is_job = JOB_TABLES.iter().any(|key| table.contains_key(*key));
    if !is_job && page::is_other(&table, source, "job", OTHER_FILES, desk) {
        return None;
    }
    // Either may be a path or a table, so they are taken out before the rest is read.
    let machine = shop_part(&mut table, "machine", source, desk);
    let cutter = shop_part(&mut table, "cutter", source, desk);
    let file: JobFile = page::fill(table, source, "", desk);
    let unit = file.units;
    let machine = machine.and_then(|part| read_machine_part(part, unit, source, load, desk));
    let cutter = cutter.and_then(|part| read_cutter_part(part, unit, source, load, desk));
    desk.require(REQUIRED, unit.unwrap_or_default());
    desk.require(screw::REQUIRED, unit.unwrap_or_default());
    desk.require(cutting::REQUIRED, unit.unwrap_or_default());
    // Without a unit no length of the job can be judged.
    let unit = unit?;
    let cut = file.cutting.unwrap_or_default();
    let run_out = cutting::run_out(&cut, unit, desk);
    let screw = file.screw.and_then(|screw| screw::check(&screw, run_out, unit, desk));
    let (blank, blank_length) = cutting::blank(&file.blank.unwrap_or_default(), unit, desk);
    let cutting =
        if desk.marks.get("cutting").is_some() { cutting::check(&cut, run_out, unit, desk) } else { None };
    let species = woods::of_job(file.wood.as_deref(), &[], desk);
    // A missing title or wood stops the job anyway; it need not hide what follows.
    let job = Job {
        title: file.title.unwrap_or_default(),
        unit,
        wood: file.wood.unwrap_or_default(),
        species,
        screw: screw?,
        blank: blank?,
        cutting: cutting?,
        cutter: cutter?,
        machine: machine?,
        marks: super::Marks::default(),
    };
    agree::check(&job, blank_length, desk);
    Some(job)
}

/// A machine or a cutter as a job gives it.
enum ShopPart<'s> {
    Path(String),
    Inline(DeTable<'s>),
}

/// Takes `machine` or `cutter` out of the job's table.
fn shop_part<'s>(
    table: &mut DeTable<'s>,
    key: &str,
    source: &Arc<Source>,
    desk: &mut Desk,
) -> Option<ShopPart<'s>> {
    let value = table.remove(key)?;
    let mark = Mark::new(source, value.span());
    desk.marks.0.insert(key.to_owned(), mark.clone());
    match value.into_inner() {
        DeValue::String(path) => Some(ShopPart::Path(path.into_owned())),
        DeValue::Table(inline) => Some(ShopPart::Inline(inline)),
        _ => {
            let finding = Finding::new(&codes::KIND_WRONG, format!("`{key}` is neither a path nor a table"));
            let help = format!("write {key} = \"{key}s/name.toml\" or a table [{key}]");
            desk.find(finding.at(mark).help(help));
            desk.spoil(key);
            None
        }
    }
}

/// The text of a machine or cutter file, or a finding at the path.
fn load_part(key: &str, path: &str, load: &mut Load, desk: &mut Desk) -> Option<Arc<Source>> {
    match load(path) {
        Ok(text) => Some(text),
        Err(why) => {
            let help = format!("the path of the {key} file is looked up from the folder of the job");
            desk.find(Finding::new(&codes::FILE_MISSING, why).at_some(desk.marks.get(key)).help(help));
            None
        }
    }
}

fn read_machine_part(
    part: ShopPart,
    unit: Option<LengthUnit>,
    source: &Arc<Source>,
    load: &mut Load,
    desk: &mut Desk,
) -> Option<Machine> {
    match part {
        ShopPart::Path(path) => {
            let text = load_part("machine", &path, load, desk)?;
            machine::from_text(&text, unit.unwrap_or_default(), desk)
        }
        ShopPart::Inline(table) => {
            let file: MachineFile = page::fill(table, source, "machine", desk);
            let own_unit = file.units.or(unit)?;
            machine::check(&file, own_unit, unit.unwrap_or_default(), desk)
        }
    }
}

fn read_cutter_part(
    part: ShopPart,
    unit: Option<LengthUnit>,
    source: &Arc<Source>,
    load: &mut Load,
    desk: &mut Desk,
) -> Option<Cutter> {
    match part {
        ShopPart::Path(path) => {
            let text = load_part("cutter", &path, load, desk)?;
            cutter::from_text(&text, desk)
        }
        ShopPart::Inline(table) => {
            let file: CutterFile = page::fill(table, source, "cutter", desk);
            let own_unit = file.units.or(unit)?;
            cutter::check(&file, own_unit, desk)
        }
    }
}
