//! Checks `[mill]` of a machine: what it does on flat work, with the rotary taken off. A machine without the table mills
//! no nut; everything else goes on as before.

use super::desk::{Desk, Required};
use super::file::MachineFile;
use super::limits::say;
use crate::finding::job as codes;
use crate::setup::{Arcs, Mill};
use crate::units::LengthUnit;

const REQUIRED: &[Required] = &[
    ("machine.mill.x_travel", "x_travel = 700", "x_travel = 28"),
    ("machine.mill.y_travel", "y_travel = 400", "y_travel = 16"),
    ("machine.mill.collet_lowest", "collet_lowest = 20", "collet_lowest = 1"),
    ("machine.mill.collet_highest", "collet_highest = 220", "collet_highest = 9"),
    ("machine.mill.y_top_speed", "y_top_speed = 4000", "y_top_speed = 160"),
    ("machine.mill.y_backlash", "y_backlash = 0.05", "y_backlash = 0.002"),
];

/// Checks the table. `None` when there is none, or when something is missing or wrong; every fault is reported.
pub(super) fn check(file: &MachineFile, unit: LengthUnit, desk: &mut Desk) -> Option<Mill> {
    let table = file.mill.as_ref()?;
    desk.require(REQUIRED, unit);
    let x_travel = desk.number("machine.mill.x_travel", table.x_travel, unit);
    let y_travel = desk.number("machine.mill.y_travel", table.y_travel, unit);
    let lowest = desk.number("machine.mill.collet_lowest", table.collet_lowest, unit);
    let highest = desk.number("machine.mill.collet_highest", table.collet_highest, unit);
    let y_top = desk.number("machine.mill.y_top_speed", table.y_top_speed, unit);
    let y_backlash = desk.number("machine.mill.y_backlash", table.y_backlash, unit);
    if let (Some(lowest), Some(highest)) = (lowest, highest)
        && lowest >= highest
    {
        desk.complain(
            &codes::DISAGREE,
            "machine.mill.collet_lowest",
            format!(
                "the lowest place of the collet nut, {}, is not below its highest, {}",
                say(unit, lowest),
                say(unit, highest)
            ),
            Some(("machine.mill.collet_highest", "highest place".to_owned())),
            "both are measured upwards from the bed to the face of the collet nut",
        );
        return None;
    }
    Some(Mill {
        x_travel_mm: x_travel?,
        y_travel_mm: y_travel?,
        collet_above_bed_mm: [lowest?, highest?],
        y_top_mm_per_min: y_top?,
        y_backlash_mm: y_backlash?,
        arcs: table.arcs.unwrap_or(Arcs::Centre),
    })
}
