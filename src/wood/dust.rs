//! What is said about wood dust: words for each class, and the limits that some countries set. Local rules decide; these
//! lines only tell where to look.

use serde::Serialize;

use super::Origin;
use crate::setup::{Dust, Timber};

/// How much dust may be in the air somewhere.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ExposureLimit {
    /// Where it holds.
    pub place: &'static str,
    /// Milligrams in a cubic metre, on average over eight hours.
    pub mg_m3: f64,
    /// Of what.
    pub of: &'static str,
    /// The text it is from.
    pub source: &'static str,
    /// How it got here.
    pub origin: Origin,
}

/// The limits that were met in what was read.
pub const LIMITS: [ExposureLimit; 6] = [
    ExposureLimit {
        place: "European Union",
        mg_m3: 2.0,
        of: "hardwood dust, inhalable",
        source: "Directive (EU) 2017/2398, in a sawmill federation's note of 2017 (3 for the first five years)",
        origin: Origin::Seen,
    },
    ExposureLimit {
        place: "Netherlands, Austria, Sweden, Switzerland",
        mg_m3: 2.0,
        of: "wood dust",
        source: "a page of a Dutch council",
        origin: Origin::Seen,
    },
    ExposureLimit {
        place: "France, Norway",
        mg_m3: 1.0,
        of: "wood dust",
        source: "a page of a Dutch council",
        origin: Origin::Seen,
    },
    ExposureLimit {
        place: "United Kingdom",
        mg_m3: 3.0,
        of: "hardwood dust",
        source: "EH40; an older sheet that was seen has 5",
        origin: Origin::Memory,
    },
    ExposureLimit {
        place: "United Kingdom",
        mg_m3: 5.0,
        of: "softwood dust",
        source: "EH40, in an older sheet",
        origin: Origin::Seen,
    },
    ExposureLimit {
        place: "United States",
        mg_m3: 1.0,
        of: "wood dust, recommended by NIOSH",
        source: "NIOSH recommended limit",
        origin: Origin::Memory,
    },
];

/// What the dust of this class does, in a few plain words.
pub fn words(class: Dust) -> &'static str {
    match class {
        Dust::NoneDocumented => {
            "no special hazard found in what was read, which does not mean that there is none"
        }
        Dust::Irritant => "irritates skin, eyes, nose or throat",
        Dust::Sensitiser => "can make you allergic for good: skin or breath answer ever more strongly",
        Dust::Toxic => "poisonous: keep it off skin and eyes and do not breathe it",
    }
}

/// What to mind with a wood, for whoever is about to cut it: its own dust, and all dust.
pub fn caution(timber: &Timber) -> [String; 2] {
    // No brackets and no semicolon: a comment of a program takes neither.
    let memory = if timber.dust_from_memory { ", from memory" } else { "" };
    let known = timber.dust.map_or("nothing is known of it", words);
    [
        format!("dust of {}{memory}: {known}", timber.name),
        "all wood dust can cause cancer: extract it, wear a mask made for fine dust".to_owned(),
    ]
}
