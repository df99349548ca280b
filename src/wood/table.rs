//! The table of species that comes with threadwright: three files in this folder, read once. Each value stands on a
//! line of its own with its source.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::{DustKnown, Known, Origin, Property, Species};
use crate::setup::{Dust, Timber};

const SPECIES: &str = include_str!("species.csv");
const VALUES: &str = include_str!("values.csv");
const SOURCES: &str = include_str!("sources.csv");

/// What would be hardest to cut of the woods of the table: as dense as the densest, as limp as the limpest.
pub fn hardest() -> Timber {
    let known = |property| all().iter().filter_map(move |species| species.value(property));
    Timber {
        name: "the hardest wood of the table".to_owned(),
        density_kg_m3: known(Property::Density).reduce(f64::max),
        modulus_gpa: known(Property::Moe).reduce(f64::min),
        ..Timber::default()
    }
}

/// A line of `species.csv`.
#[derive(Deserialize)]
struct SpeciesLine {
    name: String,
    other_names: String,
    botanical: String,
    region: String,
    dust: String,
    dust_origin: String,
    dust_source: String,
    dust_words: String,
}

/// A line of `values.csv`.
#[derive(Deserialize)]
struct ValueLine {
    species: String,
    property: String,
    value: f64,
    origin: String,
    source: String,
    note: String,
}

/// A line of `sources.csv`.
#[derive(Deserialize)]
struct SourceLine {
    source: String,
    words: String,
}

/// Every wood of the table, in its order.
pub fn all() -> &'static [Species] {
    static ALL: LazyLock<Vec<Species>> =
        LazyLock::new(|| read(SPECIES, VALUES, SOURCES).expect("a test reads the table that is built in"));
    &ALL
}

fn lines<T: for<'de> Deserialize<'de>>(text: &str) -> Result<Vec<T>, String> {
    csv::Reader::from_reader(text.as_bytes())
        .into_deserialize()
        .collect::<Result<_, _>>()
        .map_err(|why| why.to_string())
}

/// Puts the three files together; the fault in words if they do not fit.
fn read(species: &str, values: &str, sources: &str) -> Result<Vec<Species>, String> {
    let sources: BTreeMap<String, String> =
        lines::<SourceLine>(sources)?.into_iter().map(|line| (line.source, line.words)).collect();
    let source = |short: &str| sources.get(short).cloned().ok_or_else(|| format!("no source {short}"));
    let origin = |name: &str| Origin::of_name(name).ok_or_else(|| format!("no origin {name}"));
    let mut by_name: BTreeMap<String, BTreeMap<Property, Known>> = BTreeMap::new();
    for line in lines::<ValueLine>(values)? {
        let property =
            Property::of_name(&line.property).ok_or_else(|| format!("no property {}", line.property))?;
        let known = Known {
            value: line.value,
            source: source(&line.source)?,
            origin: origin(&line.origin)?,
            note: line.note,
        };
        if by_name.entry(line.species.clone()).or_default().insert(property, known).is_some() {
            return Err(format!("{} has {} twice", line.species, line.property));
        }
    }
    let mut all = Vec::new();
    for line in lines::<SpeciesLine>(species)? {
        let class = Dust::of_name(&line.dust).ok_or_else(|| format!("no dust {}", line.dust))?;
        let values = by_name.remove(&line.name).unwrap_or_default();
        all.push(Species {
            other_names: line
                .other_names
                .split(';')
                .map(|name| name.trim().to_owned())
                .filter(|n| !n.is_empty())
                .collect(),
            botanical: line.botanical,
            region: line.region,
            dust: Some(DustKnown {
                class,
                source: source(&line.dust_source)?,
                origin: origin(&line.dust_origin)?,
                words: line.dust_words,
            }),
            ..Species::new(line.name, values)
        });
    }
    match by_name.keys().next() {
        Some(stray) => Err(format!("values of {stray}, which is no species")),
        None => Ok(all),
    }
}
