//! One wood, with the source of everything that is known about it. What is not known is not there.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Property;
use crate::setup::{Dust, Timber};

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Origin {
    /// Read in the source named.
    Seen,
    /// Remembered of the source named; not read again.
    Memory,
    /// Computed from values that were read.
    Computed,
    /// Computed, and a value or the rule is from memory.
    ComputedMemory,
    /// From a file of the user's own.
    Own,
}

impl Origin {
    /// As it is shown.
    pub fn words(self) -> &'static str {
        match self {
            Origin::Seen => "seen",
            Origin::Memory => "from memory",
            Origin::Computed => "computed",
            Origin::ComputedMemory => "computed, from memory",
            Origin::Own => "your own",
        }
    }

    /// The origin of that name in the table.
    pub fn of_name(name: &str) -> Option<Origin> {
        match name {
            "seen" => Some(Origin::Seen),
            "memory" => Some(Origin::Memory),
            "computed" => Some(Origin::Computed),
            "computed-memory" => Some(Origin::ComputedMemory),
            _ => None,
        }
    }

    /// Whether memory has a part in it: to be told wherever the value is shown.
    pub fn from_memory(self) -> bool {
        matches!(self, Origin::Memory | Origin::ComputedMemory)
    }
}

/// A value and where it comes from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Known {
    /// In the unit of its [`Property`].
    pub value: f64,
    /// The text it is from.
    pub source: String,
    /// How it got here.
    pub origin: Origin,
    /// What else is to be said about it (a range, a doubt); mostly empty.
    pub note: String,
}

/// What is known of a wood's dust.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DustKnown {
    /// Its class.
    pub class: Dust,
    /// The text it is from.
    pub source: String,
    /// How it got here.
    pub origin: Origin,
    /// What it does, in a few words; may be empty.
    pub words: String,
}

/// A wood.
#[derive(Clone, Debug, PartialEq)]
pub struct Species {
    /// The name it is listed by.
    pub name: String,
    /// Other names it goes by.
    pub other_names: Vec<String>,
    /// Botanical name; empty if not given.
    pub botanical: String,
    /// Where it grows; empty if not given.
    pub region: String,
    /// What its dust does; `None` if nothing was ever looked up.
    pub dust: Option<DustKnown>,
    /// Whether it is from a file of the user's own.
    pub own: bool,
    pub(super) values: BTreeMap<Property, Known>,
}

impl Species {
    /// A wood from the given values, and what follows from them by the rules of [`super::derive`].
    pub fn new(name: impl Into<String>, values: BTreeMap<Property, Known>) -> Self {
        let mut species = Species {
            name: name.into(),
            other_names: Vec::new(),
            botanical: String::new(),
            region: String::new(),
            dust: None,
            own: false,
            values,
        };
        super::derive::fill(&mut species);
        species
    }

    /// What is known of a property; `None` when it is missing.
    pub fn get(&self, property: Property) -> Option<&Known> {
        self.values.get(&property)
    }

    /// The bare value of a property.
    pub fn value(&self, property: Property) -> Option<f64> {
        self.get(property).map(|known| known.value)
    }

    /// Everything that is known, in the order of [`Property::ALL`].
    pub fn known(&self) -> impl Iterator<Item = (Property, &Known)> {
        self.values.iter().map(|(property, known)| (*property, known))
    }

    /// Name and botanical name: `hornbeam (Carpinus betulus)`.
    pub fn full_name(&self) -> String {
        if self.botanical.is_empty() {
            self.name.clone()
        } else {
            format!("{} ({})", self.name, self.botanical)
        }
    }

    /// What a set-up says of this wood, called `name` by the job.
    pub fn timber(&self, name: &str) -> Timber {
        let density = self.get(Property::Density);
        let modulus = self.get(Property::Moe);
        Timber {
            name: name.to_owned(),
            density_kg_m3: density.map(|known| known.value),
            density_from_memory: density.is_some_and(|known| known.origin.from_memory()),
            modulus_gpa: modulus.map(|known| known.value),
            modulus_from_memory: modulus.is_some_and(|known| known.origin.from_memory()),
            dust: self.dust.as_ref().map(|dust| dust.class),
            dust_from_memory: self.dust.as_ref().is_some_and(|dust| dust.origin.from_memory()),
        }
    }
}
