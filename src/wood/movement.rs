//! How wood moves when its moisture changes. Movement is a share of the size per point of moisture; across the grain it
//! depends on where the rings lie, along it is next to nothing.

use std::ops::RangeInclusive;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Origin, Property, Species};

/// Movement along the grain, share per point of moisture: 0.1 to 0.2 % over some 28 points (a wood council citing the
/// Wood Handbook), here rounded. Young or leaning wood moves up to ten times as much (from memory).
pub const ALONG_PER_POINT: f64 = 0.00005;
/// How much the movement of a single board differs from its species' average, as a share: from memory.
pub const SCATTER: f64 = 0.2;
/// Moistures for which movement is in proportion, percent (USDA FPL-GTR-190 Table 13-5).
pub const PROPORTIONAL_PERCENT: RangeInclusive<f64> = 6.0..=14.0;

/// How a board lies in the log: where its rings run, seen from its face.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Board {
    /// Rings along the face: the width moves tangentially, the thickness radially.
    #[serde(alias = "plain-sawn")]
    FlatSawn,
    /// Rings at 45 degrees to the face.
    RiftSawn,
    /// Rings upright on the face: the width moves radially, the thickness tangentially.
    QuarterSawn,
}

impl Board {
    /// Every kind.
    pub const ALL: [Board; 3] = [Board::FlatSawn, Board::RiftSawn, Board::QuarterSawn];

    /// Its name: `flat-sawn`.
    pub fn name(self) -> &'static str {
        match self {
            Board::FlatSawn => "flat-sawn",
            Board::RiftSawn => "rift-sawn",
            Board::QuarterSawn => "quarter-sawn",
        }
    }

    /// Angle between the width of the face and the radial direction, degrees.
    fn width_to_radial_deg(self) -> f64 {
        match self {
            Board::FlatSawn => 90.0,
            Board::RiftSawn => 45.0,
            Board::QuarterSawn => 0.0,
        }
    }
}

/// The movement of one wood, share of the size per point of moisture.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Movement {
    /// Square to the rings.
    pub radial: f64,
    /// Along the rings.
    pub tangential: f64,
    /// Along the grain.
    pub along: f64,
    /// Where the two across the grain come from: the weaker of both origins.
    pub origin: Origin,
}

impl Movement {
    /// The movement of a wood.
    ///
    /// # Errors
    /// The properties that are missing.
    pub fn of(species: &Species) -> Result<Movement, Vec<Property>> {
        let wanted = [Property::MoveRadial, Property::MoveTangential];
        let known = wanted.map(|property| species.get(property));
        if let [Some(radial), Some(tangential)] = known {
            let weaker = if radial.origin.from_memory() { radial.origin } else { tangential.origin };
            return Ok(Movement {
                radial: radial.value,
                tangential: tangential.value,
                along: ALONG_PER_POINT,
                origin: weaker,
            });
        }
        Err(wanted.into_iter().zip(known).filter(|(_, known)| known.is_none()).map(|(p, _)| p).collect())
    }

    /// The movement in a direction square to the grain at an angle to the radial one: `C_R cos² + C_T sin²`.
    pub fn at_ring_angle(&self, to_radial_deg: f64) -> f64 {
        let (sin, cos) = to_radial_deg.to_radians().sin_cos();
        self.radial * cos * cos + self.tangential * sin * sin
    }

    /// The movement across the grain in the face of a board.
    pub fn across(&self, board: Board) -> f64 {
        self.at_ring_angle(board.width_to_radial_deg())
    }

    /// The movement through the thickness of a board.
    pub fn through(&self, board: Board) -> f64 {
        self.at_ring_angle(90.0 - board.width_to_radial_deg())
    }

    /// The movement of a livelier or lazier board: every direction times `factor`.
    #[must_use]
    pub fn times(&self, factor: f64) -> Movement {
        Movement {
            radial: self.radial * factor,
            tangential: self.tangential * factor,
            along: self.along * factor,
            origin: self.origin,
        }
    }
}

/// What a size grows by when moisture rises by some points: eq. 13-2 of USDA FPL-GTR-190 (form from memory). In the unit
/// of the size.
pub fn change(size: f64, per_point: f64, points: f64) -> f64 {
    size * per_point * points
}
