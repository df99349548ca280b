//! Reads a job: its own text and those of the machine, the cutter and the jig it names, every fault at once.

use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use super::amount::Plain;
use super::desk::{Desk, Required};
use super::file::{BlankFile, CutterFile, JigFile, JobFile, MachineFile};
use super::jig::{self, Jig};
use super::{Job, agree, cutter, cutting, machine, mill, nut, operations, page, press, screw, season, woods};
use crate::finding::{Finding, Severity, job as codes};
use crate::setup::{Cutter, Machine, Mill};
use crate::source::{Mark, Source};
use crate::units::LengthUnit;
use crate::wood::Species;

/// What stands at the top of a job.
pub(super) const REQUIRED: &[Required] = &[
    ("title", "title = \"nipping press\"", "title = \"nipping press\""),
    ("units", "units = \"mm\" (or \"inch\")", "units = \"mm\" (or \"inch\")"),
    ("wood", "wood = \"hard maple\"", "wood = \"hard maple\""),
    ("machine", "machine = \"machines/bench.toml\"", "machine = \"machines/bench.toml\""),
    ("cutter", "cutter = \"cutters/v60.toml\"", "cutter = \"cutters/v60.toml\""),
];

/// A file with one of these at its top is a job, whatever else it holds.
const JOB_TABLES: &[&str] =
    &["screw", "blank", "cutting", "season", "nut", "press", "machine", "cutter", "jig"];
/// Keys at the top of a file by which a machine, a cutter or a jig is known.
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
    ("lead_screw", "jig"),
    ("gears", "jig"),
    ("studs", "jig"),
];

/// Stands for the feed of a job without a machine: in range in every unit, and used by nothing.
const HAND_FEED: f64 = 100.0;

/// Gets the text of a machine, cutter or jig file by the path as written in the job, or says in a sentence that names the
/// file why it cannot be had: `machines/bench.toml cannot be read: no such file`.
pub type Load<'a> = dyn FnMut(&str) -> Result<Arc<Source>, String> + 'a;

/// Reads a job file. `load` is given each path the job names for its machine, cutter and jig.
///
/// Returns every finding, and the job when none of them stops it. Values are converted to mm here and nowhere later.
pub fn read(source: &Arc<Source>, load: &mut Load) -> (Option<Job>, Vec<Finding>) {
    read_for(source, load, false)
}

/// Reads a job file as [`read`] does, for work that writes no program: the machine may be left out, and with it the
/// feed. In their place stand a bench without limits and a feed that says nothing; plan no program from such a job.
pub fn read_by_hand(source: &Arc<Source>, load: &mut Load) -> (Option<Job>, Vec<Finding>) {
    read_for(source, load, true)
}

fn read_for(source: &Arc<Source>, load: &mut Load, by_hand: bool) -> (Option<Job>, Vec<Finding>) {
    let mut desk = Desk::default();
    let job = check(source, load, by_hand, &mut desk);
    if let Some(finding) = other_unit(source, load, by_hand, &desk) {
        desk.findings.retain(|finding| finding.code != &codes::OUT_OF_RANGE);
        desk.find(finding);
    }
    let job = job.filter(|_| !desk.stops()).map(|job| Job { marks: desk.marks, ..job });
    (job, desk.findings)
}

/// Sizes out of range from which on the unit is suspected.
const MANY_SIZES: usize = 4;

/// Whether the sizes of a job are all wrong for one reason: with the other unit of length none of them is out of range.
fn other_unit(source: &Arc<Source>, load: &mut Load, by_hand: bool, desk: &Desk) -> Option<Finding> {
    let wrong =
        |desk: &Desk| desk.findings.iter().filter(|finding| finding.code == &codes::OUT_OF_RANGE).count();
    let count = wrong(desk);
    let mark =
        desk.marks.get("units").filter(|mark| MANY_SIZES <= count && Arc::ptr_eq(&mark.source, source))?;
    let (unit, other) = if mark.text().contains("mm") { ("mm", "inch") } else { ("inch", "mm") };
    let said = |unit| if unit == "mm" { "mm" } else { "inches" };
    let mut text = source.text().to_owned();
    text.replace_range(mark.span.clone(), &format!("\"{other}\""));
    let mut again = Desk::default();
    check(&Source::new(source.name(), text), load, by_hand, &mut again);
    if 0 < wrong(&again) {
        return None;
    }
    Some(
        Finding::new(
            &codes::UNITS_UNLIKELY,
            format!(
                "read in {}, {count} sizes are out of range; read in {}, none is",
                said(unit),
                said(other)
            ),
        )
        .at(mark.clone())
        .help(format!(
            "write units = \"{other}\"; a single length may name its own, such as \"1 1/2 in\" or \"38 mm\""
        )),
    )
}

/// Whether these are the screws of an order, each named by its job.
fn names_jobs(screws: &DeValue<'_>) -> bool {
    let DeValue::Array(screws) = screws else { return false };
    screws.iter().any(|screw| screw.get_ref().get("job").is_some())
}

fn check(source: &Arc<Source>, load: &mut Load, by_hand: bool, desk: &mut Desk) -> Option<Job> {
    let text = page::mend(source, "", desk)?;
    let mut table = page::parse(&text);
    if page::is_empty(&table, source, desk) {
        return None;
    }
    if let Some(screws) = table.get("screw").filter(|screw| names_jobs(screw.get_ref())) {
        let finding = Finding::new(
            &codes::KIND_WRONG,
            "this is an order, several screws together; a job has one [screw]",
        )
        .at(Mark::new(source, screws.span()))
        .help("make it with `threadwright order`, or give one of the jobs it names");
        desk.find(finding);
        return None;
    }
    let is_job = JOB_TABLES.iter().any(|key| table.contains_key(*key));
    if !is_job && page::is_other(&table, source, "job", OTHER_FILES, desk) {
        return None;
    }
    // Either may be a path or a table, so they are taken out before the rest is read.
    let machine = shop_part(&mut table, "machine", source, desk);
    let cutter = shop_part(&mut table, "cutter", source, desk);
    let jig = shop_part(&mut table, "jig", source, desk);
    let no_machine = by_hand && !desk.given("machine");
    let file: JobFile = page::fill(table, source, "", desk);
    let unit = file.units;
    let machine = machine.and_then(|part| read_machine_part(part, unit, source, load, desk));
    let cutter = cutter.and_then(|part| read_cutter_part(part, unit, source, load, desk));
    // A faulty jig stops the job, so that its absence here says that there is none.
    let jig = jig.and_then(|part| read_jig_part(part, unit, source, load, desk));
    let top = REQUIRED.iter().filter(|row| !(no_machine && row.0 == "machine"));
    desk.require(&top.copied().collect::<Vec<_>>(), unit.unwrap_or_default());
    desk.require(screw::REQUIRED, unit.unwrap_or_default());
    desk.require(cutting::REQUIRED, unit.unwrap_or_default());
    if desk.marks.get("cutting").is_none() {
        desk.require(cutting::SPEEDS, unit.unwrap_or_default());
    }
    let machine =
        if no_machine { Some((machine::no_machine(unit.unwrap_or_default()), None)) } else { machine };
    // Without a unit no length of the job can be judged.
    let unit = unit?;
    let mut cut = file.cutting.clone().unwrap_or_default();
    let feed_given = ["cutting.feed", "cutting.feeds", "cutting.plan"].iter().any(|key| desk.given(key));
    if no_machine && !feed_given {
        cut.feed = Some(Plain(HAND_FEED));
        // Nobody is to be told that it is missing.
        desk.spoil("cutting.feed");
    }
    let run_out = cutting::run_out(&cut, unit, desk);
    let screw = file.screw.as_ref().and_then(|screw| screw::check(screw, run_out, unit, desk));
    let (blank, blank_length) =
        cutting::blank(file.blank.as_ref().unwrap_or(&BlankFile::default()), unit, desk);
    let own = file.woods.as_ref().map_or(Vec::new(), |path| own_woods(path, load, desk));
    let species = file.wood.as_deref().and_then(|name| woods::known(name, "wood", &own, desk));
    let season = file.season.as_ref().and_then(|season| season::check(season, unit, desk));
    let screw_wood = nut::ScrewWood { name: file.wood.as_deref(), species: species.as_ref(), own: &own };
    let nut = file.nut.as_ref().and_then(|nut| nut::check(nut, &screw_wood, unit, load, desk));
    let press = file
        .press
        .as_ref()
        .map_or(Some(press::PressAsked::default()), |press| press::check(press, &own, unit, desk));
    if let Some((nut, screw)) = nut.as_ref().zip(screw.as_ref()) {
        nut::fits_thread(nut, screw.thread_length_mm, unit, desk);
    }
    let cutting =
        if desk.marks.get("cutting").is_some() { cutting::check(&cut, run_out, unit, desk) } else { None };
    let operations = operations::check(&file, cutting.as_ref(), unit, load, desk);
    let (machine, mill) = machine.unzip();
    if let Some((nut, machine)) = nut.as_ref().zip(machine.as_ref()) {
        nut::fits_machine(nut, machine, desk);
    }
    // A missing title or wood stops the job anyway; it need not hide what follows.
    let job = Job {
        title: file.title.unwrap_or_default(),
        unit,
        wood: file.wood.unwrap_or_default(),
        species,
        screw: screw?,
        blank: blank?,
        cutting: cutting?,
        season,
        nut,
        press: press?,
        operations,
        cutter: cutter?,
        machine: machine?,
        mill: mill?,
        jig,
        marks: super::Marks::default(),
    };
    agree::check(&job, blank_length, desk);
    Some(job)
}

/// The woods of the file that the job names besides the table.
pub(super) fn own_woods(path: &str, load: &mut Load, desk: &mut Desk) -> Vec<Species> {
    let before = desk.findings.len();
    let woods = load_part("woods", path, load, desk).map_or(Vec::new(), |text| woods::from_text(&text, desk));
    if desk.findings[before..].iter().any(|finding| finding.severity == Severity::Stop) {
        desk.spoil("woods");
    }
    woods
}

/// A machine, a cutter or a jig as a job gives it.
pub(super) enum ShopPart<'s> {
    Path(String),
    Inline(DeTable<'s>),
}

/// Takes `machine`, `cutter` or `jig` out of the job's table.
pub(super) fn shop_part<'s>(
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

/// The text of a file that the job names, or a finding at the path.
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

pub(super) fn read_machine_part(
    part: ShopPart,
    unit: Option<LengthUnit>,
    source: &Arc<Source>,
    load: &mut Load,
    desk: &mut Desk,
) -> Option<(Machine, Option<Mill>)> {
    match part {
        ShopPart::Path(path) => {
            let text = load_part("machine", &path, load, desk)?;
            machine::from_text(&text, unit.unwrap_or_default(), desk)
        }
        ShopPart::Inline(table) => {
            let file: MachineFile = page::fill(table, source, "machine", desk);
            let own_unit = file.units.or(unit)?;
            let mill = mill::check(&file, own_unit, desk);
            Some((machine::check(&file, own_unit, unit.unwrap_or_default(), desk)?, mill))
        }
    }
}

pub(super) fn read_cutter_part(
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

fn read_jig_part(
    part: ShopPart,
    unit: Option<LengthUnit>,
    source: &Arc<Source>,
    load: &mut Load,
    desk: &mut Desk,
) -> Option<Jig> {
    match part {
        ShopPart::Path(path) => {
            let text = load_part("jig", &path, load, desk)?;
            jig::from_text(&text, desk)
        }
        ShopPart::Inline(table) => {
            let file: JigFile = page::fill(table, source, "jig", desk);
            let own_unit = file.units.or(unit)?;
            jig::check(&file, own_unit, desk)
        }
    }
}
