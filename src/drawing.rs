//! The finished screw as plain data: the sizes a proof measures against, with the difference it lets pass. The
//! generating half fills it, the proving half compares with it, neither computes here. Lengths in mm, angles in
//! degrees, stations from the nose face towards the head.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::LengthUnit;

mod nut;

pub use nut::{Cone, NutDrawing, NutStage, NutTolerances};

/// Which way a thread winds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hand {
    /// Turns clockwise to go away from you.
    Right,
    /// Turns anticlockwise to go away from you.
    Left,
}

impl Hand {
    /// +1 for right, -1 for left: the sign of station per angle.
    pub fn sign(self) -> f64 {
        match self {
            Hand::Right => 1.0,
            Hand::Left => -1.0,
        }
    }

    /// `right` or `left`.
    pub fn name(self) -> &'static str {
        match self {
            Hand::Right => "right",
            Hand::Left => "left",
        }
    }
}

/// The screw as it should come out.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// The unit its maker thinks in; sizes are shown in it.
    pub unit: LengthUnit,
    /// Threads side by side.
    pub starts: u32,
    /// Which way they wind.
    pub hand: Hand,
    /// Advance per turn.
    pub lead_mm: f64,
    /// Diameter over the crests.
    pub crest_diameter_mm: f64,
    /// Diameter in the roots.
    pub root_diameter_mm: f64,
    /// Flat left on the crest, measured along the axis.
    pub crest_flat_mm: f64,
    /// Station from which the thread must stand at full depth.
    pub full_from_s_mm: f64,
    /// Station up to which the groove is at full depth; the run-out begins there.
    pub full_to_s_mm: f64,
    /// Station at which the groove has left the wood.
    pub run_out_to_s_mm: f64,
    /// Station of the head end of the screw, waste not counted.
    pub head_s_mm: f64,
    /// The groove in the axial section, from root to crest radius: half its width at each radius.
    pub section: Vec<SectionPoint>,
    /// Differences that pass.
    pub passes: Tolerances,
    /// Whether the thread stands after the program that is judged.
    pub thread: Threading,
    /// The part of the piece in which grooves of the thread can be read, from and to: not where the nose is shaped, nor
    /// in the relief groove.
    pub read_s_mm: [f64; 2],
    /// Whether the thread ends in a relief groove and not in a run-out.
    pub ends_in_relief: bool,
    /// What is turned or milled beside the thread, as it should stand after the program that is judged.
    pub stretches: Vec<Stretch>,
    /// Where the piece may be thinner than the core of the thread.
    pub thin: Vec<Thin>,
}

/// The thread at the time a program is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Threading {
    /// It is cut by a later program.
    Later,
    /// This program cuts it.
    Here,
    /// An earlier program cut it.
    Before,
    /// Nothing is to be cut at all: the program runs in the air.
    Air,
}

/// A stretch of the piece between two stations, with its outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// What the shop calls it: `tenon`, `garter groove`.
    pub name: &'static str,
    /// Stations in growing order with the distance of the surface from the axis; straight in between.
    pub points: Vec<OutlinePoint>,
    /// Flats that go all round instead of a round section.
    pub flats: Option<FlatsDrawn>,
    /// Whether the thread crosses it: then only what stands highest round the piece is compared.
    pub threaded: bool,
    /// How far wood may stand proud of it, measured on the radius.
    pub over_mm: f64,
    /// How far it may be cut below it, measured on the radius.
    pub under_mm: f64,
}

/// One point of an outline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutlinePoint {
    /// Station.
    pub s_mm: f64,
    /// Distance from the axis.
    pub r_mm: f64,
}

/// Flats round a stretch; the first faces the cutter at angle zero.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlatsDrawn {
    /// How many.
    pub count: u32,
    /// From the axis to a flat.
    pub from_axis_mm: f64,
}

/// Where, and how far, a piece may be thinner than its thread's core.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thin {
    /// Station at which it begins.
    pub from_s_mm: f64,
    /// Station at which it ends.
    pub to_s_mm: f64,
    /// Least distance of the surface from the axis.
    pub r_mm: f64,
}

/// One point of the groove's section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectionPoint {
    /// Distance from the axis of the screw.
    pub r_mm: f64,
    /// Half the width of the groove there, measured along the axis.
    pub half_width_mm: f64,
}

/// Differences that pass. They bound what a program may get wrong, not what wood and machine add, so they are
/// small beside a wooden screw's clearance (some tenths of a millimetre) and large beside the rounding of a
/// program with two decimals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerances {
    /// Of the lead, and of any groove's place along the screw.
    pub lead_mm: f64,
    /// Of a start's place round the screw.
    pub index_deg: f64,
    /// Of root and crest radius.
    pub radius_mm: f64,
    /// Of the crest flat.
    pub crest_flat_mm: f64,
    /// Of the groove's shape, square to its flank.
    pub form_mm: f64,
    /// Of the station where the full thread ends.
    pub length_mm: f64,
}

impl Default for Tolerances {
    fn default() -> Self {
        Tolerances {
            lead_mm: 0.05,
            index_deg: 0.25,
            radius_mm: 0.05,
            crest_flat_mm: 0.15,
            form_mm: 0.08,
            length_mm: 0.5,
        }
    }
}
