//! Friction of wood on wood: what is known, from where, and how far apart the sources lie. What no source gives is left
//! to the user.

use crate::job::{PressAsked, State};

/// One figure and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// Friction over pressing force.
    pub value: f64,
    /// The text it is from.
    pub source: &'static str,
    /// Whether it is remembered of that text and was not read again.
    pub from_memory: bool,
}

/// What the threads may have between them.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition {
    /// In words: `waxed`.
    pub name: &'static str,
    /// Which of the listed states it is; `None` for the user's own.
    pub state: Option<State>,
    /// The least that a source gives, sliding.
    pub least: Figure,
    /// The most.
    pub most: Figure,
    /// What holds before it slides, where a source gives it; else it is at least the most of sliding.
    pub stick: Option<Figure>,
}

const fn seen(value: f64, source: &'static str) -> Figure {
    Figure { value, source, from_memory: false }
}

const fn memory(value: f64, source: &'static str) -> Figure {
    Figure { value, source, from_memory: true }
}

const WEB_TABLE: &str = "a public friction table, wood on wood";
const WOOD_HANDBOOK: &str = "Wood Handbook (FPL-GTR-190), paragraph on friction";
const MCKENZIE: &str = "McKenzie and Karpovich, Wood Sci. Technol. (1968), abstract, static";
const RANKINE: &str = "Rankine's tables, soaped wood";
const WAX: &str = "waxed wood on wood";

/// What is told to who asks for black lead.
pub const UNKNOWN: &str =
    "graphite or black lead: no figure was found; measure yours and give friction in [press]";

/// The states that sources tell of. Oak on oak, fibres parallel, has .42 dry and .16 soaped in Collins, Inventing for
/// Boys (1916): both within these.
const LISTED: [Condition; 4] = [
    Condition {
        name: "dry",
        state: Some(State::Dry),
        least: seen(0.25, WEB_TABLE),
        most: seen(0.50, WEB_TABLE),
        stick: Some(seen(0.65, MCKENZIE)),
    },
    Condition {
        name: "soaped",
        state: Some(State::Soaped),
        least: memory(0.04, RANKINE),
        most: memory(0.20, RANKINE),
        stick: None,
    },
    Condition {
        name: "waxed",
        state: Some(State::Waxed),
        least: memory(0.10, WAX),
        most: memory(0.20, WAX),
        stick: None,
    },
    Condition {
        name: "damp",
        state: Some(State::Damp),
        least: seen(0.20, WEB_TABLE),
        most: memory(0.90, WOOD_HANDBOOK),
        stick: None,
    },
];

/// The conditions of a press: the listed ones, and the user's own figure if there is one.
pub fn conditions(asked: &PressAsked) -> Vec<Condition> {
    let mut all = LISTED.to_vec();
    if let Some(value) = asked.friction {
        let own = seen(value, "your own figure");
        all.push(Condition { name: "your own", state: None, least: own, most: own, stick: None });
    }
    all
}

/// How surely a thread stays where it is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Holds {
    /// With friction to spare.
    Stays,
    /// With hardly any to spare.
    Just,
    /// By some figures, not by others.
    Maybe,
    /// By no figure.
    BacksOff,
}

/// Friction must be this much above what locks the thread before it is more than just enough (common practice, no
/// source): knocks and a change of weather take away that much.
const TO_SPARE: f64 = 1.25;

impl Holds {
    /// Of a friction from `least` to `most` on a thread that stays put from `lock` on.
    pub fn of(least: f64, most: f64, lock: f64) -> Holds {
        if least >= TO_SPARE * lock {
            Holds::Stays
        } else if least >= lock {
            Holds::Just
        } else if most >= lock {
            Holds::Maybe
        } else {
            Holds::BacksOff
        }
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Holds::Stays => "stays put",
            Holds::Just => "just stays put",
            Holds::Maybe => "may back off",
            Holds::BacksOff => "backs off",
        }
    }
}
