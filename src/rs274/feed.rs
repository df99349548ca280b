//! How long a cutting move lasts by its F word. The same F means different speeds on different machines when A moves;
//! the machine file says which.

use super::Meaning;
use super::motion::{Arc, FeedMode, Path, Plane, Pose};
use crate::setup::{FeedConvention, InverseUnit};
use crate::units::LengthUnit;

/// Seconds in a minute.
const SECONDS_PER_MINUTE: f64 = 60.0;

/// How F was last set under G94.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Feed {
    /// Never, or not since G93.
    #[default]
    None,
    /// To this number.
    Set(f64),
    /// It is missing or wrong, which was told.
    Told,
}

/// How far a move goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Way {
    /// Along X, Y and Z together, mm; along the helix for an arc.
    pub(super) linear_mm: f64,
    /// Of A, degrees.
    pub(super) rotary_deg: f64,
}

impl Way {
    /// The way of a path.
    pub(super) fn of(path: &Path, from: &Pose, to: &Pose) -> Self {
        let step = [to.x_mm - from.x_mm, to.y_mm - from.y_mm, to.z_mm - from.z_mm];
        let linear_mm = match path {
            Path::Straight => step[0].hypot(step[1]).hypot(step[2]),
            Path::Arc(Arc { plane, radius_mm, sweep_deg, .. }) => {
                let across = match plane {
                    Plane::Xy => step[2],
                    Plane::Zx => step[1],
                    Plane::Yz => step[0],
                };
                (radius_mm * sweep_deg.to_radians()).hypot(across)
            }
        };
        Way { linear_mm, rotary_deg: (to.a_deg - from.a_deg).abs() }
    }

    /// Minutes that an F number makes the move last.
    ///
    /// Under G93 it is 1/F whatever moves. Under G94 F counts program units a minute along X Y Z, and degrees a minute
    /// when A moves alone (NISTIR 6556 section 2.1.2.5); a machine of the combined kind turns F into mm a minute and
    /// takes the root of the squares of mm and degrees.
    pub(super) fn minutes(
        &self,
        feed: f64,
        mode: FeedMode,
        convention: FeedConvention,
        unit: LengthUnit,
        habits: &Meaning,
    ) -> f64 {
        let linear = self.linear_mm / unit.mm();
        let rotary = self.rotary_deg / habits.a_unit.degrees();
        match (mode, convention) {
            (FeedMode::InverseTime, _) => match habits.inverse {
                InverseUnit::PerMinute => 1.0 / feed,
                InverseUnit::PerSecond => 1.0 / feed / SECONDS_PER_MINUTE,
                InverseUnit::Seconds => feed / SECONDS_PER_MINUTE,
            },
            // F is a length a minute; once it is millimetres, degrees count beside them.
            (FeedMode::PerMinute, FeedConvention::Combined) => {
                self.linear_mm.hypot(rotary) / (feed * unit.mm())
            }
            // What a machine that wants G93 makes of G94 is what the standard says.
            (FeedMode::PerMinute, FeedConvention::Linear | FeedConvention::InverseTime) => {
                (if linear > 0.0 { linear } else { rotary }) / feed
            }
        }
    }

    /// Whether the way can be run at all.
    pub(super) fn is_finite(&self) -> bool {
        self.linear_mm.is_finite() && self.rotary_deg.is_finite()
    }

    /// Whether F counts lengths in this move.
    pub(super) fn counts_lengths(&self, mode: FeedMode, convention: FeedConvention) -> bool {
        mode == FeedMode::PerMinute && convention != FeedConvention::Combined && self.linear_mm > 0.0
    }
}
