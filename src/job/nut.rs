//! Checks `[nut]`. Whether it fits the screw is the business of design.

use super::NutAsked;
use super::desk::{Desk, Required};
use super::file::NutFile;
use super::limits::say;
use super::woods;
use crate::finding::job as codes;
use crate::units::LengthUnit;
use crate::wood::Species;

/// Keys without which there is no nut. Its wood is the screw's unless it says otherwise.
pub(super) const REQUIRED: &[Required] = &[
    ("nut.board", "board = \"flat-sawn\"", "board = \"flat-sawn\""),
    ("nut.length", "length = 75", "length = 3"),
];

/// Checks the table. `wood` and `species` are the screw's, `own` the woods of the job's own file. `None` when something
/// is missing or wrong; every fault is reported.
pub(super) fn check(
    file: &NutFile,
    wood: Option<&str>,
    species: Option<&Species>,
    own: &[Species],
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<NutAsked> {
    desk.require(REQUIRED, unit);
    let species = match &file.wood {
        Some(name) => woods::known(name, "nut.wood", own, desk),
        None => species.cloned(),
    };
    let length = desk.number("nut.length", file.length, unit);
    let radial = desk.number("nut.radial_clearance", file.radial_clearance, unit);
    let flank = desk.number("nut.flank_clearance", file.flank_clearance, unit);
    Some(NutAsked {
        wood: file.wood.clone().or_else(|| wood.map(str::to_owned))?,
        species,
        board: file.board?,
        length_mm: length?,
        radial_clearance_mm: radial,
        flank_clearance_mm: flank,
    })
}

/// A nut longer than the thread is never full.
pub(super) fn fits_thread(nut: &NutAsked, thread_length_mm: f64, unit: LengthUnit, desk: &mut Desk) {
    if nut.length_mm > thread_length_mm {
        desk.complain(
            &codes::DISAGREE,
            "nut.length",
            format!(
                "the nut is {} long, the thread only {}",
                say(unit, nut.length_mm),
                say(unit, thread_length_mm)
            ),
            Some(("screw.thread_length", "the full thread".to_owned())),
            "length is measured along the screw: about the crest diameter, or half as much again",
        );
    }
}
