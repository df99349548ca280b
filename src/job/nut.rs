//! Checks `[nut]`. Whether it fits the screw, and whether its cutter can make it, is the business of design.

use std::sync::Arc;

use super::desk::{Desk, Required};
use super::file::NutFile;
use super::limits::{say, tidy};
use super::read::Load;
use super::thread_mill;
use super::{Marks, NutAsked, NutMilled, cutter, woods};
use crate::finding::{Finding, job as codes};
use crate::setup::{Clamps, Cutter, Machine, ThreadMill};
use crate::source::Source;
use crate::units::LengthUnit;
use crate::wood::Species;

/// Keys without which there is no nut. Its wood is the screw's unless it says otherwise.
pub(super) const REQUIRED: &[Required] = &[
    ("nut.board", "board = \"flat-sawn\"", "board = \"flat-sawn\""),
    ("nut.length", "length = 75", "length = 3"),
];

/// Keys without which a nut that names a cutter cannot be milled.
const MILLED: &[Required] = &[
    ("nut.rpm", "rpm = 12000", "rpm = 12000"),
    ("nut.feed", "feed = 1500", "feed = 60"),
    ("nut.below", "below = 20", "below = \"3/4\""),
    ("nut.clamps_from", "clamps_from = 60", "clamps_from = 2.5"),
    ("nut.clamp_height", "clamp_height = 25", "clamp_height = 1"),
];

/// Keys that only tell how a nut is milled.
const ONLY_MILLED: &[&str] = &[
    "boring",
    "rpm",
    "feed",
    "passes",
    "milling",
    "step",
    "below",
    "below_diameter",
    "clamps_from",
    "clamp_height",
];

/// Radial steps when the job names none (common practice, no source).
const USUAL_PASSES: u32 = 4;
/// How much a bore goes deeper in a turn when the job names nothing (common practice, no source).
const USUAL_STEP_MM: f64 = 2.0;

/// The wood of the screw, and the woods of the job's own file.
pub(super) struct ScrewWood<'a> {
    pub(super) name: Option<&'a str>,
    pub(super) species: Option<&'a Species>,
    pub(super) own: &'a [Species],
}

/// Checks the table. `None` when something is missing or wrong; every fault is reported.
pub(super) fn check(
    file: &NutFile,
    screw: &ScrewWood<'_>,
    unit: LengthUnit,
    load: &mut Load,
    desk: &mut Desk,
) -> Option<NutAsked> {
    desk.require(REQUIRED, unit);
    let species = match &file.wood {
        Some(name) => woods::known(name, "nut.wood", screw.own, desk),
        None => screw.species.cloned(),
    };
    let length = desk.number("nut.length", file.length, unit);
    let radial = desk.number("nut.radial_clearance", file.radial_clearance, unit);
    let flank = desk.number("nut.flank_clearance", file.flank_clearance, unit);
    let along = desk.number("nut.along_grain", file.along_grain, unit);
    let across = desk.number("nut.across_grain", file.across_grain, unit);
    let start_angle = match file.start_angle {
        Some(written) => desk.number("nut.start_angle", Some(written), unit),
        None => Some(0.0),
    };
    let chamfer = desk.number("nut.chamfer", file.chamfer, unit);
    let milled = milled(file, unit, load, desk);
    Some(NutAsked {
        wood: file.wood.clone().or_else(|| screw.name.map(str::to_owned))?,
        species,
        board: file.board?,
        length_mm: length?,
        radial_clearance_mm: radial,
        flank_clearance_mm: flank,
        along_grain_mm: along,
        across_grain_mm: across,
        start_angle_deg: start_angle?,
        chamfer_mm: chamfer,
        milled,
    })
}

/// How it is milled. A fault here stops the job, so that an absence says that the job names no cutter.
fn milled(file: &NutFile, unit: LengthUnit, load: &mut Load, desk: &mut Desk) -> Option<NutMilled> {
    let rpm = desk.number("nut.rpm", file.rpm, unit);
    let feed = desk.number("nut.feed", file.feed, unit);
    let passes = desk.count("nut.passes", file.passes.or(Some(USUAL_PASSES)));
    let step = match file.step {
        Some(written) => desk.number("nut.step", Some(written), unit),
        None => Some(USUAL_STEP_MM),
    };
    let below = desk.number("nut.below", file.below, unit);
    let below_diameter = desk.number("nut.below_diameter", file.below_diameter, unit);
    let from_axis = desk.number("nut.clamps_from", file.clamps_from, unit);
    let height = desk.number("nut.clamp_height", file.clamp_height, unit);
    let Some(path) = &file.cutter else {
        if !desk.given("nut.cutter") {
            no_cutter(desk);
        }
        return None;
    };
    desk.require(MILLED, unit);
    let cutter = thread_cutter(path, load, desk);
    let boring = match &file.boring {
        Some(path) => boring_cutter(path, load, desk).map(Some),
        None => Some(None),
    };
    Some(NutMilled {
        cutter: cutter?,
        boring: boring?,
        rpm: rpm?,
        feed_mm_per_min: feed?,
        passes: passes?,
        milling: file.milling.unwrap_or_default(),
        step_mm: step?,
        below_mm: below?,
        below_diameter_mm: below_diameter,
        clamps: Clamps { from_axis_mm: from_axis?, height_mm: height? },
    })
}

/// Keys of milling without a cutter to mill with are a slip.
fn no_cutter(desk: &mut Desk) {
    let given =
        ONLY_MILLED.iter().map(|leaf| format!("nut.{leaf}")).find(|key| desk.marks.get(key).is_some());
    if let Some(key) = given {
        let leaf = key.trim_start_matches("nut.").to_owned();
        desk.complain(
            &codes::KEY_MISSING,
            &key,
            format!("`{leaf}` tells how the nut is milled, and `cutter` is missing in [nut]"),
            None,
            format!(
                "add a line such as cutter = \"nut-cutters/tooth-60.toml\" below [nut], or take {leaf} out"
            ),
        );
    }
}

fn loaded(path: &str, key: &str, load: &mut Load, desk: &mut Desk) -> Option<Arc<Source>> {
    match load(path) {
        Ok(text) => Some(text),
        Err(why) => {
            let help = "the path of the cutter file is looked up from the folder of the job";
            desk.find(Finding::new(&codes::FILE_MISSING, why).at_some(desk.marks.get(key)).help(help));
            None
        }
    }
}

fn thread_cutter(path: &str, load: &mut Load, desk: &mut Desk) -> Option<ThreadMill> {
    let text = loaded(path, "nut.cutter", load, desk)?;
    let (cutter, marks, findings) = thread_mill::read_thread_mill(&text);
    keep(marks, findings, "thread_mill.", "nut.cutter", desk);
    cutter
}

fn boring_cutter(path: &str, load: &mut Load, desk: &mut Desk) -> Option<Cutter> {
    let text = loaded(path, "nut.boring", load, desk)?;
    let (cutter, marks, findings) = cutter::read_cutter(&text);
    keep(marks, findings, "cutter.", "nut.boring", desk);
    let cutter = cutter?;
    if cutter.is_straight() {
        return Some(cutter);
    }
    desk.complain(
        &codes::CUTTER_KIND,
        "nut.boring",
        format!("a bore needs a straight cutter, and {path} is a V cutter"),
        None,
        "name another cutter, such as boring = \"cutters/straight-20.toml\", or leave boring out and bore the hole first",
    );
    None
}

/// Keeps what was found in a cutter's file, its keys marked below the key that names it: `nut.cutter.rows`.
fn keep(marks: Marks, findings: Vec<Finding>, prefix: &str, key: &str, desk: &mut Desk) {
    desk.findings.extend(findings);
    for (name, mark) in marks.0 {
        let leaf = name.strip_prefix(prefix).unwrap_or(&name).to_owned();
        desk.marks.0.insert(format!("{key}.{leaf}"), mark);
    }
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

/// The spindle turns at the speed that the nut asks for.
pub(super) fn fits_machine(nut: &NutAsked, machine: &Machine, desk: &mut Desk) {
    let Some(rpm) = nut.milled.as_ref().map(|milled| milled.rpm) else { return };
    let spindle = &machine.spindle;
    let (bound, key, word) = if rpm < spindle.least_rpm {
        (spindle.least_rpm, "machine.spindle.least", "slowest")
    } else if rpm > spindle.top_rpm {
        (spindle.top_rpm, "machine.spindle.top", "fastest")
    } else {
        return;
    };
    let words =
        format!("the nut asks for {} rev/min, the spindle's {word} is {}", tidy(rpm, 1), tidy(bound, 1));
    let finding = Finding::new(&codes::RPM_PAST_SPINDLE, words)
        .at_some(desk.marks.get("nut.rpm"))
        .also_at(desk.marks.get(key), format!("{word} speed"))
        .help(format!("write rpm from {} to {}", tidy(spindle.least_rpm, 1), tidy(spindle.top_rpm, 1)))
        .values(rpm, bound);
    desk.find(finding);
}
