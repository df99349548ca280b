//! Where the axes stand and what the numbers of axis words mean: unit, absolute or incremental, and the shift of G92.
//! Positions are kept in the coordinates that held when the program started.

use super::call::Call;
use super::motion::Pose;
use crate::units::LengthUnit;

/// The letters of the axes that are followed, in the order of the arrays here.
pub(super) const AXES: [u8; 4] = *b"XYZA";

/// The first of the parameters that keep the shift of G92, for X (NISTIR 6556 table 2).
pub(super) const FIRST_SHIFT_PARAMETER: usize = 5211;

/// Where the axes stand, and how axis words are read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    /// mm and degrees.
    at: [f64; 4],
    /// The shift of G92 in program units. A change of unit does not convert it (NISTIR 6556 section 4.3.3.3).
    shift: [f64; 4],
    /// Unit of lengths.
    pub(super) unit: LengthUnit,
    /// G91.
    pub(super) incremental: bool,
    /// Degrees in one of what A words count.
    a_scale: f64,
}

impl Place {
    /// The axes at `start`, no shift, absolute.
    pub(super) fn new(start: &Pose, unit: LengthUnit, a_scale: f64) -> Self {
        let at = [start.x_mm, start.y_mm, start.z_mm, start.a_deg];
        Place { at, shift: [0.0; 4], unit, incremental: false, a_scale }
    }

    /// Where the axes stand.
    pub(super) fn pose(&self) -> Pose {
        pose(self.at)
    }

    /// Where the axis words of a line lead.
    pub(super) fn target(&self, call: &Call) -> Pose {
        let mut to = self.at;
        for (axis, letter) in AXES.iter().enumerate() {
            if let Some(value) = call.word(*letter) {
                let scale = self.scale(axis);
                to[axis] = if self.incremental {
                    to[axis] + value * scale
                } else {
                    (value + self.shift[axis]) * scale
                };
            }
        }
        pose(to)
    }

    /// Puts the axes somewhere.
    pub(super) fn move_to(&mut self, to: &Pose) {
        self.at = [to.x_mm, to.y_mm, to.z_mm, to.a_deg];
    }

    /// G92: shifts the origin so that the axes read what the line gives, without moving (NISTIR 6556 section 3.5.18).
    pub(super) fn shift_to(&mut self, call: &Call) {
        for (axis, letter) in AXES.iter().enumerate() {
            if let Some(value) = call.word(*letter) {
                self.shift[axis] = self.at[axis] / self.scale(axis) - value;
            }
        }
    }

    /// The shift, in program units.
    pub(super) fn shift(&self) -> [f64; 4] {
        self.shift
    }

    /// Sets the shift, in program units.
    pub(super) fn set_shift(&mut self, shift: [f64; 4]) {
        self.shift = shift;
    }

    fn scale(&self, axis: usize) -> f64 {
        if AXES[axis] == b'A' { self.a_scale } else { self.unit.mm() }
    }
}

fn pose([x_mm, y_mm, z_mm, a_deg]: [f64; 4]) -> Pose {
    Pose { x_mm, y_mm, z_mm, a_deg }
}
