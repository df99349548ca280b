//! Checks a hand jig: its lead screw, its box of gears, and where the quadrant lets studs stand. In a job or in a file
//! of its own. Which gears cut a given screw is not asked here.

use std::sync::Arc;

use super::amount::Plain;
use super::desk::{AGREE_MM, Desk, Required};
use super::file::JigFile;
use super::limits::{say, tidy};
use super::press::optional;
use super::{Marks, page};
use crate::drawing::Hand;
use crate::finding::{Finding, job as codes};
use crate::source::Source;
use crate::units::{LengthUnit, MM_PER_INCH};

/// A jig or lathe whose lead screw is driven from the blank by gears. Lengths in mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Jig {
    /// What the shop calls it.
    pub title: String,
    /// Advance of the lead screw per turn of it.
    pub lead_screw_mm: f64,
    /// Teeth of every gear in the box, growing; a gear that is there twice stands twice.
    pub gears: Vec<u32>,
    /// Pitch diameter of a gear over its teeth.
    pub module_mm: f64,
    /// Shaft of blank, studs and lead screw, collars and nuts that stand over it included.
    pub shaft_diameter_mm: Option<f64>,
    /// Studs that can be set up between blank and lead screw.
    pub studs: u32,
    /// From the axis of the blank to the axis of the lead screw.
    pub axes_apart_mm: Option<f64>,
    /// Nearest place of a stud to the axis of the lead screw.
    pub nearest_stud_mm: f64,
    /// Farthest place of a stud from the axis of the lead screw.
    pub farthest_stud_mm: Option<f64>,
    /// Hand that is cut when blank and lead screw turn the same way.
    pub alike_cuts: Hand,
    /// Evenly spaced marks or holes on the wheel of the blank, if it has some.
    pub index_marks: Option<u32>,
}

/// More gears than this are not looked through: no box of a small shop holds them, and trains grow past counting.
const MOST_GEARS: usize = 100;

const REQUIRED: &[Required] = &[
    ("jig.title", "title = \"the bench jig\"", "title = \"the bench jig\""),
    ("jig.gears", "gears = [20, 20, 30, 40, 50, 60]", "gears = [20, 20, 30, 40, 50, 60]"),
    ("jig.studs", "studs = 2", "studs = 2"),
    ("jig.alike_cuts", "alike_cuts = \"right\"", "alike_cuts = \"right\""),
];

/// Reads a jig file alone. Its keys are marked as `jig.…`; the jig is there when no finding stops it.
pub fn read_jig(source: &Arc<Source>) -> (Option<Jig>, Marks, Vec<Finding>) {
    let mut desk = Desk::default();
    let jig = from_text(source, &mut desk).filter(|_| !desk.stops());
    (jig, desk.marks, desk.findings)
}

/// Reads a jig file at a desk.
pub(super) fn from_text(source: &Arc<Source>, desk: &mut Desk) -> Option<Jig> {
    let text = page::mend(source, "jig", desk)?;
    let table = page::parse(&text);
    let others = [("headstock", "machine"), ("spindle", "machine"), ("flutes", "cutter"), ("screw", "job")];
    if page::is_other(&table, source, "jig", &others, desk) {
        return None;
    }
    let file: JigFile = page::fill(table, source, "jig", desk);
    check(&file, file.units.unwrap_or_default(), desk)
}

/// Checks a jig whose lengths are in `unit`.
pub(super) fn check(file: &JigFile, unit: LengthUnit, desk: &mut Desk) -> Option<Jig> {
    desk.require(REQUIRED, unit);
    let lead_screw = lead_screw(file, unit, desk);
    let module = module(file, unit, desk);
    let gears = gears(file.gears.as_deref(), desk);
    let studs = desk.count("jig.studs", file.studs);
    let shaft = optional("jig.shaft_diameter", file.shaft_diameter, unit, desk);
    let axes_apart = optional("jig.axes_apart", file.axes_apart, unit, desk);
    let nearest = optional("jig.nearest_stud", file.nearest_stud, unit, desk);
    let farthest = optional("jig.farthest_stud", file.farthest_stud, unit, desk);
    let marks = optional("jig.index_marks", file.index_marks, unit, desk);
    let (nearest, farthest) = (nearest?, farthest?);
    if let (Some(near), Some(far)) = (nearest, farthest)
        && near >= far
    {
        let message = format!(
            "the nearest place of a stud, {}, is not nearer than the farthest, {}",
            say(unit, near),
            say(unit, far)
        );
        let also = Some(("jig.farthest_stud", "farthest place".to_owned()));
        let help = "both are measured from the axis of the lead screw, about which the quadrant swings";
        desk.complain(&codes::DISAGREE, "jig.nearest_stud", message, also, help);
        return None;
    }
    Some(Jig {
        title: file.title.clone().unwrap_or_default(),
        lead_screw_mm: lead_screw?,
        gears: gears?,
        module_mm: module?,
        shaft_diameter_mm: shaft?,
        studs: studs?,
        axes_apart_mm: axes_apart?,
        nearest_stud_mm: nearest.unwrap_or(0.0),
        farthest_stud_mm: farthest,
        alike_cuts: file.alike_cuts?,
        index_marks: marks?.map(|marks| marks as u32),
    })
}

/// Advance of the lead screw per turn, mm.
fn lead_screw(file: &JigFile, unit: LengthUnit, desk: &mut Desk) -> Option<f64> {
    let advance = desk.number("jig.lead_screw", file.lead_screw, unit);
    let per_inch = desk.number("jig.threads_per_inch", file.threads_per_inch, unit);
    if !desk.given("jig.lead_screw") && !desk.given("jig.threads_per_inch") {
        desk.require(&[("jig.lead_screw", "lead_screw = 2.5", "threads_per_inch = 8")], unit);
    }
    let from_count = per_inch.map(|count| MM_PER_INCH / count);
    if let (Some(advance), Some(other), Some(count)) = (advance, from_count, per_inch)
        && (advance - other).abs() > AGREE_MM
    {
        let count = tidy(count, 4);
        let message =
            format!("a lead screw of {} a turn has not {count} threads per inch", say(unit, advance));
        let also = format!("{count} per inch are {} a turn", say(unit, other));
        let help = "keep the one that is stamped on the jig and leave the other out";
        desk.complain(
            &codes::DISAGREE,
            "jig.lead_screw",
            message,
            Some(("jig.threads_per_inch", also)),
            help,
        );
        return None;
    }
    // Threads per inch are what is exact where both are given.
    from_count.or(advance)
}

/// Module of the gears, mm.
fn module(file: &JigFile, unit: LengthUnit, desk: &mut Desk) -> Option<f64> {
    // A module is millimetres by its definition, whatever the file speaks.
    let module = desk.number("jig.module", file.module, LengthUnit::Mm);
    let per_inch = desk.number("jig.diametral_pitch", file.diametral_pitch, unit);
    if !desk.given("jig.module") && !desk.given("jig.diametral_pitch") {
        desk.require(&[("jig.module", "module = 1.5", "diametral_pitch = 16")], unit);
    }
    let from_count = per_inch.map(|count| MM_PER_INCH / count);
    if let (Some(module), Some(other)) = (module, from_count)
        && (module - other).abs() > AGREE_MM
    {
        let message = format!(
            "a module of {} is a diametral pitch of {}",
            tidy(module, 4),
            tidy(MM_PER_INCH / module, 4)
        );
        let also = format!("this one is a module of {}", tidy(other, 4));
        desk.complain(
            &codes::DISAGREE,
            "jig.module",
            message,
            Some(("jig.diametral_pitch", also)),
            "measure over the tips of a gear: module = diameter over (teeth + 2), in mm",
        );
        return None;
    }
    module.or(from_count)
}

/// The box, sorted.
fn gears(written: Option<&[Plain]>, desk: &mut Desk) -> Option<Vec<u32>> {
    let written = written?;
    if written.len() < 2 {
        let held = if written.is_empty() { "no gear" } else { "one gear" };
        desk.complain(
            &codes::KIND_WRONG,
            "jig.gears",
            format!("the box holds {held}; a train takes two"),
            None,
            "list the teeth of every gear, one that you have twice two times: gears = [20, 20, 40]",
        );
        return None;
    }
    if written.len() > MOST_GEARS {
        desk.complain(
            &codes::OUT_OF_RANGE,
            "jig.gears",
            format!("the box holds {} gears; the most is {MOST_GEARS}", written.len()),
            None,
            "leave out what you would not put on",
        );
        return None;
    }
    let teeth: Vec<Option<u32>> =
        written.iter().enumerate().map(|(index, teeth)| gear(index, *teeth, desk)).collect();
    let mut teeth: Vec<u32> = teeth.into_iter().collect::<Option<_>>()?;
    teeth.sort_unstable();
    Some(teeth)
}

/// One gear of the list.
fn gear(index: usize, written: Plain, desk: &mut Desk) -> Option<u32> {
    let key = format!("jig.gears.{index}");
    let teeth = desk.number(&format!("jig.gears.{index}"), Some(written), LengthUnit::Mm)?;
    if teeth.fract() != 0.0 {
        let message = format!("`gears` holds {}; a gear has whole teeth", tidy(teeth, 4));
        let help = "list teeth, not diameters; count them all round";
        desk.complain(&codes::KIND_WRONG, &key, message, None, help);
        return None;
    }
    Some(teeth as u32)
}
