//! A job file without a screw: machine, cutter and blank, enough to follow a program through the wood and too little to
//! prove it.

use std::sync::Arc;

use super::desk::{Desk, Required};
use super::file::JobFile;
use super::read::{self, Load};
use super::{page, woods};
use crate::finding::Finding;
use crate::setup::{BlankShape, Cutter, Machine};
use crate::source::Source;
use crate::units::LengthUnit;
use crate::wood::Species;

/// What stands on the bench. Lengths in mm whatever the unit of the file.
#[derive(Clone, Debug)]
pub struct Bench {
    /// What the shop calls it.
    pub title: String,
    /// The unit its maker thinks in.
    pub unit: LengthUnit,
    /// Name of the wood; empty when the file names none.
    pub wood: String,
    /// What is known of it.
    pub species: Option<Species>,
    /// The machine.
    pub machine: Machine,
    /// The cutter.
    pub cutter: Cutter,
    /// Section of the blank.
    pub shape: BlankShape,
    /// Diameter, or width across flats.
    pub size_mm: f64,
    /// From the tail end of the blank to X0.
    pub waste_nose_mm: f64,
    /// Whole length of the blank.
    pub length_mm: f64,
}

const TOP: &[Required] = &[
    ("units", "units = \"mm\" (or \"inch\")", "units = \"mm\" (or \"inch\")"),
    ("machine", "machine = \"machines/bench.toml\"", "machine = \"machines/bench.toml\""),
    ("cutter", "cutter = \"cutters/v60.toml\"", "cutter = \"cutters/v60.toml\""),
];
const BLANK: &[Required] = &[
    ("blank.shape", "shape = \"round\"", "shape = \"round\""),
    ("blank.size", "size = 50", "size = 2"),
    ("blank.length", "length = 400", "length = 16"),
];

/// Whether a text is a job that says what the blank is but no screw.
pub fn is_bench(text: &str) -> bool {
    let table = page::parse(text);
    table.contains_key("blank") && !table.contains_key("screw")
}

/// Reads a job without a screw. `load` is given each path the file names for its machine and cutter. What the file holds
/// beside those and the blank is left alone.
///
/// Returns every finding, and the bench when none of them stops it.
pub fn read_bench(source: &Arc<Source>, load: &mut Load) -> (Option<Bench>, Vec<Finding>) {
    let mut desk = Desk::default();
    let bench = check(source, load, &mut desk).filter(|_| !desk.stops());
    (bench, desk.findings)
}

fn check(source: &Arc<Source>, load: &mut Load, desk: &mut Desk) -> Option<Bench> {
    let text = page::mend(source, "", desk)?;
    let mut table = page::parse(&text);
    let machine = read::shop_part(&mut table, "machine", source, desk);
    let cutter = read::shop_part(&mut table, "cutter", source, desk);
    let file: JobFile = page::fill(table, source, "", desk);
    let unit = file.units;
    let machine = machine.and_then(|part| read::read_machine_part(part, unit, source, load, desk));
    let cutter = cutter.and_then(|part| read::read_cutter_part(part, unit, source, load, desk));
    desk.require(TOP, unit.unwrap_or_default());
    desk.require(BLANK, unit.unwrap_or_default());
    let unit = unit?;
    let own = file.woods.as_ref().map_or(Vec::new(), |path| read::own_woods(path, load, desk));
    let species = file.wood.as_deref().and_then(|name| woods::known(name, "wood", &own, desk));
    let blank = file.blank.unwrap_or_default();
    let size = desk.number("blank.size", blank.size, unit);
    let length = desk.number("blank.length", blank.length, unit);
    let waste = match blank.waste_nose {
        Some(_) => desk.number("blank.waste_nose", blank.waste_nose, unit),
        None => Some(0.0),
    };
    Some(Bench {
        title: file.title.unwrap_or_else(|| "a program".to_owned()),
        unit,
        wood: file.wood.unwrap_or_default(),
        species,
        machine: machine?.0,
        cutter: cutter?,
        shape: blank.shape?,
        size_mm: size?,
        waste_nose_mm: waste?,
        length_mm: length?,
    })
}
