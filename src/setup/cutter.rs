//! The cutter in its collet, as plain data.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A cutter in its collet: a V, or a straight one.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutter {
    /// What the shop calls it.
    pub title: String,
    /// Included angle of the V; zero for a straight cutter. A straight cutter is as wide at its end as above it, so its
    /// tip is a flat of the cutting diameter or a ball of half of it.
    pub included_angle_deg: f64,
    /// Shape of the tip.
    pub tip: Tip,
    /// Cutting edges.
    pub flutes: u32,
    /// Greatest diameter that cuts.
    pub cutting_diameter_mm: f64,
    /// Length of the edges along the cutter's axis, from the tip.
    pub cutting_length_mm: f64,
    /// Diameter above the edges.
    pub shank_diameter_mm: f64,
    /// Diameter of collet and nut.
    pub collet_diameter_mm: f64,
    /// From the tip to the face of the collet nut.
    pub stick_out_mm: f64,
    /// State of its edges.
    pub edge: Edge,
}

/// State of a cutting edge, as a thumbnail feels it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Edge {
    /// Fresh from the maker or the stone.
    #[default]
    Sharp,
    /// Some blanks old.
    Used,
    /// Due for the stone.
    Dull,
}

impl Edge {
    /// `sharp`, `used` or `dull`.
    pub fn name(self) -> &'static str {
        match self {
            Edge::Sharp => "sharp",
            Edge::Used => "used",
            Edge::Dull => "dull",
        }
    }
}

impl Cutter {
    /// The included angle that stands for a straight cutter: a cylinder whose flat tip is as wide as itself.
    pub const STRAIGHT_DEG: f64 = 0.0;

    /// Whether it is a cylinder with a flat end.
    pub fn is_straight(&self) -> bool {
        self.included_angle_deg == Cutter::STRAIGHT_DEG
    }
}

/// The end of a cutter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tip {
    /// A flat of this diameter; zero for a sharp point.
    Flat {
        /// Diameter of the flat.
        diameter_mm: f64,
    },
    /// A ball of this radius that runs into the cone without a corner.
    Ball {
        /// Radius of the ball.
        radius_mm: f64,
    },
}
