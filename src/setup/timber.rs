//! The wood of a blank, as far as both halves need to know it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The wood of the blank, as far as anyone knows it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Timber {
    /// As the job calls it.
    pub name: String,
    /// Density at 12 % moisture; `None` when it is not known.
    pub density_kg_m3: Option<f64>,
    /// Whether memory has a part in that density: to be told wherever it is shown.
    pub density_from_memory: bool,
    /// Stiffness along the grain (modulus of elasticity in bending), GPa; `None` when it is not known.
    pub modulus_gpa: Option<f64>,
    /// Whether memory has a part in that stiffness.
    pub modulus_from_memory: bool,
    /// What its dust is known to do; `None` when nothing is known of this wood.
    pub dust: Option<Dust>,
    /// Whether that is from memory.
    pub dust_from_memory: bool,
}

/// What the dust of a wood is known to do to people. Every hardwood dust is harmful; this is what comes on top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Dust {
    /// Nothing beyond what all wood dust does was found in what was read.
    NoneDocumented,
    /// Irritates skin, eyes, nose or throat.
    Irritant,
    /// Makes people allergic: skin or breath answer ever more strongly.
    #[serde(alias = "sensitizer")]
    Sensitiser,
    /// Poisonous.
    Toxic,
}

impl Dust {
    /// Every class, the mildest first.
    pub const ALL: [Dust; 4] = [Dust::NoneDocumented, Dust::Irritant, Dust::Sensitiser, Dust::Toxic];

    /// Its name: `none-documented`, `irritant`, `sensitiser`, `toxic`.
    pub fn name(self) -> &'static str {
        match self {
            Dust::NoneDocumented => "none-documented",
            Dust::Irritant => "irritant",
            Dust::Sensitiser => "sensitiser",
            Dust::Toxic => "toxic",
        }
    }

    /// The class of that name.
    pub fn of_name(name: &str) -> Option<Dust> {
        Dust::ALL.into_iter().find(|dust| dust.name() == name)
    }
}
