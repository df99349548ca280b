//! Woods by name: the one that a job names, and those of a file of the user's own, where every table is a wood. A wood
//! that no table has is no fault; what will be missing is told. Nothing is filled in for a value that is not given.

use std::collections::BTreeMap;
use std::sync::Arc;

use toml::de::{DeTable, DeValue};

use super::desk::Desk;
use super::file::WoodFile;
use super::page;
use crate::finding::{Finding, job as codes};
use crate::source::{Mark, Source};
use crate::units::LengthUnit;
use crate::wood::{self, DustKnown, Known, Origin, Property, Species};

/// What a percentage is multiplied by to be a share.
const SHARE_PER_PERCENT: f64 = 0.01;

/// Reads a file of woods alone. The woods are there when no finding stops them.
pub fn read_woods(source: &Arc<Source>) -> (Vec<Species>, Vec<Finding>) {
    let mut desk = Desk::default();
    let woods = from_text(source, &mut desk);
    (if desk.stops() { Vec::new() } else { woods }, desk.findings)
}

/// The wood of that name, written at `key`, if a table has it; reports one that is not known.
pub(super) fn known(name: &str, key: &str, own: &[Species], desk: &mut Desk) -> Option<Species> {
    match wood::find(name, own) {
        Ok(species) => Some(species.clone()),
        // It may be the one that could not be read.
        Err(_) if desk.is_spoiled("woods") => None,
        Err(near) => {
            let message = format!(
                "no table has a wood called \"{name}\": its movement, strength and dust are not known"
            );
            // Screw and nut of one unknown wood are one thing to mend.
            if desk.findings.iter().any(|told| told.code == &codes::WOOD_UNKNOWN && told.message == message) {
                return None;
            }
            let offer = near.words().map_or(String::new(), |words| format!("did you mean {words}? "));
            let help = format!(
                "{offer}`threadwright woods` lists those that are known; a file of your own can add to them"
            );
            let finding = Finding::new(&codes::WOOD_UNKNOWN, message);
            desk.find(finding.at_some(desk.marks.get(key)).help(help));
            None
        }
    }
}

/// Reads a file of woods at a desk.
pub(super) fn from_text(source: &Arc<Source>, desk: &mut Desk) -> Vec<Species> {
    let Some(text) = page::mend(source, "woods", desk) else {
        return Vec::new();
    };
    let others = [("screw", "job"), ("headstock", "machine"), ("tip", "cutter")];
    let table = page::parse(&text);
    if page::is_other(&table, source, "woods", &others, desk) {
        return Vec::new();
    }
    if table.is_empty() && !desk.stops() {
        let finding =
            Finding::new(&codes::KEY_MISSING, "there is no wood in this file").at(Mark::line(source, 1));
        desk.find(
            finding.help("write [pear], say, on a line of its own and what is known of that wood below"),
        );
    }
    let mut woods = Vec::new();
    for (name, value) in table {
        let mark = Mark::new(source, name.span());
        let name = name.into_inner().into_owned();
        let value = value.into_inner();
        if let DeValue::Table(table) = value {
            woods.extend(wood_of(&name, table, source, &mark, desk));
        } else if matches!(value, DeValue::Array(_)) {
            let finding = Finding::new(&codes::KIND_WRONG, format!("`{name}` is a single wood"));
            desk.find(
                finding
                    .at(mark)
                    .help(format!("write [{name}] with single brackets, each wood under its own name")),
            );
        } else {
            let finding = Finding::new(&codes::KEY_UNKNOWN, format!("`{name}` stands below no wood"));
            desk.find(finding.at(mark).help("write the name of the wood in brackets above: [pear]"));
        }
    }
    woods
}

/// Every wood of the table moves more along its rings than square to them; one that does not may have its two numbers in
/// each other's place.
fn swapped(prefix: &str, given: &[(Property, Option<f64>)], desk: &mut Desk) {
    let value =
        |wanted: Property| given.iter().find_map(|(property, value)| value.filter(|_| *property == wanted));
    for (radial, tangential, key) in [
        (Property::ShrinkRadial, Property::ShrinkTangential, "shrink"),
        (Property::MoveRadial, Property::MoveTangential, "move"),
    ] {
        let Some((r, t)) = value(radial).zip(value(tangential)).filter(|(r, t)| r > t) else { continue };
        let (radial_key, tangential_key) =
            (format!("{prefix}.{key}_radial"), format!("{prefix}.{key}_tangential"));
        let [r, t] = [radial.show(r), tangential.show(t)];
        desk.complain(
            &codes::SHRINK_SWAPPED,
            &radial_key,
            format!("{key}_radial is {r}, more than {key}_tangential, {t}: are the two swapped?"),
            Some((&tangential_key, "along the rings".to_owned())),
            "wood moves more along its rings (tangential) than square to them (radial): exchange the two numbers, unless \
             they were measured like this",
        );
    }
}

/// One wood of the file.
fn wood_of(
    name: &str,
    table: DeTable,
    source: &Arc<Source>,
    mark: &Mark,
    desk: &mut Desk,
) -> Option<Species> {
    let prefix = format!("woods.{name}");
    desk.marks.0.insert(prefix.clone(), mark.clone());
    let file: WoodFile = page::fill(table, source, &prefix, desk);
    desk.require_at(&prefix, "source", "source = \"weighed and measured in the shop\"");
    let unit = LengthUnit::Mm;
    let percent = |value: Option<f64>| value.map(|value| value * SHARE_PER_PERCENT);
    let given = [
        (Property::Density, desk.number(&format!("{prefix}.density"), file.density, unit)),
        (Property::ShrinkRadial, desk.number(&format!("{prefix}.shrink_radial"), file.shrink_radial, unit)),
        (
            Property::ShrinkTangential,
            desk.number(&format!("{prefix}.shrink_tangential"), file.shrink_tangential, unit),
        ),
        (
            Property::MoveRadial,
            percent(desk.number(&format!("{prefix}.move_radial"), file.move_radial, unit)),
        ),
        (
            Property::MoveTangential,
            percent(desk.number(&format!("{prefix}.move_tangential"), file.move_tangential, unit)),
        ),
        (Property::Moe, desk.number(&format!("{prefix}.moe"), file.moe, unit)),
        (Property::Mor, desk.number(&format!("{prefix}.mor"), file.mor, unit)),
        (Property::Shear, desk.number(&format!("{prefix}.shear"), file.shear, unit)),
        (
            Property::CompressionAcross,
            desk.number(&format!("{prefix}.compression_across"), file.compression_across, unit),
        ),
        (Property::Hardness, desk.number(&format!("{prefix}.hardness"), file.hardness, unit)),
    ];
    swapped(&prefix, &given, desk);
    let from = file.source?;
    let known = |value| Known { value, source: from.clone(), origin: Origin::Own, note: String::new() };
    let values: BTreeMap<Property, Known> =
        given.into_iter().filter_map(|(property, value)| Some((property, known(value?)))).collect();
    let names = file.other_names.unwrap_or_default();
    let mut species = Species::new(name, values);
    species.other_names =
        names.split([',', ';']).map(|name| name.trim().to_owned()).filter(|name| !name.is_empty()).collect();
    species.botanical = file.botanical.unwrap_or_default();
    species.region = file.region.unwrap_or_default();
    species.own = true;
    species.dust = file.dust.map(|class| DustKnown {
        class,
        source: from.clone(),
        origin: Origin::Own,
        words: file.dust_words.unwrap_or_default(),
    });
    Some(species)
}
