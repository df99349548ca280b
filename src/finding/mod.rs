//! What threadwright has to say about a job or a program: one [`Finding`] each, with a stable [`Code`], a place in
//! the text, a place on the blank, the value met and the value wanted, and a way out.
//!
//! Findings are plain data. Every room makes them; only `report` shows them and only `cli` decides what follows.

pub mod job;
pub mod design;
mod examples;
pub mod fit;
pub mod gears;
pub mod nut;
pub mod press;
pub mod program;
pub mod proof;

pub use examples::example;

use serde::Serialize;

use crate::source::Mark;

/// How much a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// Worth knowing; nothing to do.
    Note,
    /// Think before cutting.
    Care,
    /// Not proved: do not cut.
    Stop,
}

/// A kind of finding. One static per kind, listed in [`registry`]; two codes are the same when their names are.
#[derive(Debug)]
pub struct Code {
    /// Stable name in kebab-case, made of shop words.
    pub name: &'static str,
    /// Weight a finding of this kind normally has.
    pub severity: Severity,
    /// What it means, in one sentence for the person at the machine.
    pub meaning: &'static str,
}

impl PartialEq for Code {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for Code {}

/// The codes by what they speak of.
pub fn rooms() -> [(&'static str, &'static [&'static Code]); 8] {
    [
        ("job, machine and cutter files", job::ALL),
        ("sizes, plan and operations", design::ALL),
        ("screw and nut through the year", fit::ALL),
        ("the nut", nut::ALL),
        ("change gears", gears::ALL),
        ("what the screw will hold", press::ALL),
        ("program text", program::ALL),
        ("proof", proof::ALL),
    ]
}

/// Every code there is, by room: job and its files, sizes and plan, gears, program text, proof.
pub fn registry() -> impl Iterator<Item = &'static Code> {
    job::ALL
        .iter()
        .chain(design::ALL)
        .chain(fit::ALL)
        .chain(nut::ALL)
        .chain(gears::ALL)
        .chain(press::ALL)
        .chain(program::ALL)
        .chain(proof::ALL)
        .copied()
}

/// A place on the machine and on the blank; what is not known stays `None`. Lengths in mm, angles in degrees.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spot {
    /// X word in the program's coordinates.
    pub x_mm: Option<f64>,
    /// Z word in the program's coordinates.
    pub z_mm: Option<f64>,
    /// A word.
    pub a_deg: Option<f64>,
    /// Station from the nose towards the head.
    pub s_mm: Option<f64>,
    /// Angle on the blank.
    pub theta_deg: Option<f64>,
    /// Angle about the axis of a nut, from X+ towards Y+.
    pub angle_deg: Option<f64>,
    /// Distance from the axis of the blank, or of the nut.
    pub r_mm: Option<f64>,
}

/// One thing to say. Build it with [`Finding::new`] and the `with` methods.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Its kind.
    pub code: &'static Code,
    /// Its weight; the code's own unless it was changed.
    pub severity: Severity,
    /// What is wrong, with the values and their units; lower case, no full stop.
    pub message: String,
    /// One way out.
    pub help: Option<String>,
    /// Where in which file.
    pub mark: Option<Mark>,
    /// Other places that matter, each with a few words (the other half of a contradiction, say).
    pub also: Vec<(Mark, String)>,
    /// Where on the machine and blank.
    pub spot: Spot,
    /// The value met (mm, degrees, mm/min or rev/min, as the message says).
    pub value: Option<f64>,
    /// The value wanted, in the same unit.
    pub wanted: Option<f64>,
    /// The code of the finding that explains this one: mend that first.
    pub follows: Option<&'static Code>,
}

impl Finding {
    /// A finding of a kind, with its sentence.
    pub fn new(code: &'static Code, message: impl Into<String>) -> Self {
        Finding {
            code,
            severity: code.severity,
            message: message.into(),
            help: None,
            mark: None,
            also: Vec::new(),
            spot: Spot::default(),
            value: None,
            wanted: None,
            follows: None,
        }
    }

    /// Says where.
    #[must_use]
    pub fn at(mut self, mark: Mark) -> Self {
        self.mark = Some(mark);
        self
    }

    /// Says where, if it is known.
    #[must_use]
    pub fn at_some(mut self, mark: Option<&Mark>) -> Self {
        self.mark = mark.cloned();
        self
    }

    /// Points at another place that matters, if it is known.
    #[must_use]
    pub fn also_at(mut self, mark: Option<&Mark>, words: impl Into<String>) -> Self {
        if let Some(mark) = mark {
            self.also.push((mark.clone(), words.into()));
        }
        self
    }

    /// Gives a way out.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Gives the value met and the value wanted.
    #[must_use]
    pub fn values(mut self, value: f64, wanted: f64) -> Self {
        self.value = Some(value);
        self.wanted = Some(wanted);
        self
    }

    /// Says where on the machine and blank.
    #[must_use]
    pub fn spot(mut self, spot: Spot) -> Self {
        self.spot = spot;
        self
    }

    /// Gives it another weight than its code's.
    #[must_use]
    pub fn weighs(mut self, severity: Severity) -> Self {
        self.severity = severity;
        self
    }
}

/// Declares the codes of one room: a static each and the list `ALL`.
macro_rules! codes {
    ($($(#[$doc:meta])* $ident:ident = $name:literal, $severity:ident, $meaning:literal;)*) => {
        $(
            #[doc = $meaning]
            pub static $ident: $crate::finding::Code = $crate::finding::Code {
                name: $name,
                severity: $crate::finding::Severity::$severity,
                meaning: $meaning,
            };
        )*
        /// Every code of this room, in the order of the file.
        pub static ALL: &[&$crate::finding::Code] = &[$(&$ident),*];
    };
}
pub(crate) use codes;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn code_names_are_unique_kebab_case() {
        let mut seen = std::collections::BTreeSet::new();
        for code in registry() {
            assert!(seen.insert(code.name), "{} is listed twice", code.name);
            assert!(
                code.name.bytes().all(|b| b.is_ascii_lowercase() || b == b'-'),
                "{} is not kebab-case",
                code.name
            );
            assert!(code.meaning.ends_with('.'), "{}: a meaning is a sentence", code.name);
        }
    }
}
