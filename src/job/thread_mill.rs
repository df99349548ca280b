//! Checks a cutter for threads in a hole, from a file of its own: V teeth on a neck. Whether it suits a nut is asked in
//! design.

use std::sync::Arc;

use super::desk::{AGREE_MM, Desk, Required};
use super::file::ThreadMillFile;
use super::limits::{say, tidy};
use super::{Marks, page};
use crate::finding::{Finding, job as codes};
use crate::setup::{ThreadMill, Tooth};
use crate::source::Source;
use crate::units::LengthUnit;

const REQUIRED: &[Required] = &[
    ("thread_mill.title", "title = \"60 degree tooth\"", "title = \"60 degree tooth\""),
    ("thread_mill.included_angle", "included_angle = 60", "included_angle = 60"),
    ("thread_mill.tip_flat", "tip_flat = 1.5", "tip_flat = \"1/16\""),
    ("thread_mill.tooth_diameter", "tooth_diameter = 26", "tooth_diameter = 1"),
    ("thread_mill.tooth_above_end", "tooth_above_end = 6", "tooth_above_end = \"1/4\""),
    ("thread_mill.flutes", "flutes = 2", "flutes = 2"),
    ("thread_mill.neck_diameter", "neck_diameter = 10", "neck_diameter = \"3/8\""),
    ("thread_mill.neck_length", "neck_length = 90", "neck_length = 3.5"),
    ("thread_mill.shank_diameter", "shank_diameter = 12", "shank_diameter = \"1/2\""),
    ("thread_mill.collet_diameter", "collet_diameter = 40", "collet_diameter = 1.5"),
    ("thread_mill.stick_out", "stick_out = 100", "stick_out = 4"),
];

/// Reads the file of a cutter for threads in a hole. Its keys are marked as `thread_mill.…`; the cutter is there when no
/// finding stops it.
pub fn read_thread_mill(source: &Arc<Source>) -> (Option<ThreadMill>, Marks, Vec<Finding>) {
    let mut desk = Desk::default();
    let cutter = from_text(source, &mut desk).filter(|_| !desk.stops());
    (cutter, desk.marks, desk.findings)
}

fn from_text(source: &Arc<Source>, desk: &mut Desk) -> Option<ThreadMill> {
    let text = page::mend(source, "thread_mill", desk)?;
    let table = page::parse(&text);
    let others =
        [("headstock", "machine"), ("shape", "plain cutter"), ("tip", "plain cutter"), ("screw", "job")];
    if page::is_other(&table, source, "thread mill", &others, desk) {
        return None;
    }
    let file: ThreadMillFile = page::fill(table, source, "thread_mill", desk);
    check(&file, file.units.unwrap_or_default(), desk)
}

fn check(file: &ThreadMillFile, unit: LengthUnit, desk: &mut Desk) -> Option<ThreadMill> {
    desk.require(REQUIRED, unit);
    let angle = desk.number("thread_mill.included_angle", file.included_angle, unit);
    let flat = desk.number("thread_mill.tip_flat", file.tip_flat, unit);
    let diameter = desk.number("thread_mill.tooth_diameter", file.tooth_diameter, unit);
    let middle = desk.number("thread_mill.tooth_above_end", file.tooth_above_end, unit);
    let rows = desk.count("thread_mill.rows", file.rows.or(Some(1)));
    let spacing = desk.number("thread_mill.row_spacing", file.row_spacing, unit);
    let flutes = desk.count("thread_mill.flutes", file.flutes);
    let neck = desk.number("thread_mill.neck_diameter", file.neck_diameter, unit);
    let neck_length = desk.number("thread_mill.neck_length", file.neck_length, unit);
    let shank = desk.number("thread_mill.shank_diameter", file.shank_diameter, unit);
    let collet = desk.number("thread_mill.collet_diameter", file.collet_diameter, unit);
    let stick_out = desk.number("thread_mill.stick_out", file.stick_out, unit);
    let rows = rows?;
    if rows > 1 {
        desk.require(&[("thread_mill.row_spacing", "row_spacing = 10", "row_spacing = \"1/4\"")], unit);
    }
    let lowest =
        Tooth { middle_mm: middle?, diameter_mm: diameter?, included_angle_deg: angle?, tip_flat_mm: flat? };
    let spacing_mm = if rows > 1 { spacing? } else { 0.0 };
    let row = |row: u32| Tooth { middle_mm: lowest.middle_mm + f64::from(row) * spacing_mm, ..lowest };
    let cutter = ThreadMill {
        title: file.title.clone().unwrap_or_default(),
        teeth: (0..rows).map(row).collect(),
        flutes: flutes?,
        neck_diameter_mm: neck?,
        neck_length_mm: neck_length?,
        shank_diameter_mm: shank?,
        collet_diameter_mm: collet?,
        stick_out_mm: stick_out?,
        edge: file.edge.unwrap_or_default(),
    };
    sizes_fit(&cutter, lowest, unit, desk);
    Some(cutter)
}

/// The sizes of one cutter against each other.
fn sizes_fit(cutter: &ThreadMill, lowest: Tooth, unit: LengthUnit, desk: &mut Desk) {
    if cutter.neck_diameter_mm >= lowest.diameter_mm - AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "thread_mill.neck_diameter",
            format!(
                "the neck is {} thick, the teeth on it only {} across",
                say(unit, cutter.neck_diameter_mm),
                say(unit, lowest.diameter_mm)
            ),
            Some(("thread_mill.tooth_diameter", "over the tips".to_owned())),
            "measure both again: the teeth stand out from the neck",
        );
        return;
    }
    let slope = (lowest.included_angle_deg / 2.0).to_radians().tan();
    let half_mm = lowest.tip_flat_mm / 2.0 + (lowest.diameter_mm - cutter.neck_diameter_mm) / 2.0 * slope;
    if lowest.middle_mm < half_mm - AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "thread_mill.tooth_above_end",
            format!(
                "a tooth of {} degrees is {} thick at the neck, half of it above and half below its middle; the end of \
                 the cutter is only {} below the middle",
                tidy(lowest.included_angle_deg, 2),
                say(unit, 2.0 * half_mm),
                say(unit, lowest.middle_mm)
            ),
            Some(("thread_mill.tip_flat", "the flat at the tip".to_owned())),
            format!("measure again; a whole tooth needs tooth_above_end of at least {}", unit.show_at_least(half_mm)),
        );
    }
    let top = cutter.teeth.last().map_or(lowest.middle_mm, |tooth| tooth.middle_mm) + half_mm;
    if top > cutter.neck_length_mm + AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "thread_mill.neck_length",
            format!(
                "the neck ends {} above the end of the cutter, its teeth only {} above it",
                say(unit, cutter.neck_length_mm),
                say(unit, top)
            ),
            Some(("thread_mill.tooth_above_end", "the middle of the lowest tooth".to_owned())),
            "neck_length goes from the end of the cutter to where it gets thicker above the teeth",
        );
    }
    if cutter.neck_length_mm > cutter.stick_out_mm + AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "thread_mill.stick_out",
            format!(
                "the cutter sticks out {}, but its neck alone is {} long",
                say(unit, cutter.stick_out_mm),
                say(unit, cutter.neck_length_mm)
            ),
            Some(("thread_mill.neck_length", "from the end to where it gets thicker".to_owned())),
            "stick_out is measured from the end of the cutter to the collet nut",
        );
    }
}
