//! How sure each measured size is: what the grid, single precision and the way of reading a groove leave open. Lengths
//! in mm.

use crate::drawing::Drawing;
use crate::setup::{Cutter, Tip};
use crate::stock::Grid;

use super::depth_mm;
use super::rows::{Bottom, FLANK_SHARES};

/// A radius in single precision at these sizes, mm.
pub(super) const SINGLE_PRECISION_MM: f64 = 1e-5;
/// Curvature of a flank, per mm: no groove these cutters leave bends more.
const FLANK_BEND_PER_MM: f64 = 0.05;
/// A flank carried on straight to the crest from a stretch below it, over a depth of some millimetres.
const CARRIED_ON_MM: f64 = 2e-3;
/// Reading the drawn section between its points; it counts most in the corner between floor and flank.
const DRAWN_SECTION_MM: f64 = 2e-3;

/// The uncertainty of sizes read on one grid with one cutter.
pub(super) struct Sure<'a> {
    pub(super) grid: Grid,
    pub(super) cutter: &'a Cutter,
    /// Half the width of the drawn root: the tip's, or more where flank passes widen it.
    floor_half_mm: f64,
}

impl<'a> Sure<'a> {
    pub(super) fn of(grid: Grid, cutter: &'a Cutter, drawing: &Drawing) -> Self {
        let floor_half_mm = drawing.section.first().map_or(0.0, |point| point.half_width_mm);
        Sure { grid, cutter, floor_half_mm }
    }
}

impl Sure<'_> {
    /// How the bottom of a groove is found: some station lies on any floor as wide as the steps between them.
    pub(super) fn bottom(&self) -> Bottom {
        match self.cutter.tip {
            Tip::Flat { .. } if 2.0 * self.floor_half_mm >= self.grid.step_mm => Bottom::Met,
            Tip::Flat { .. } => Bottom::Between { half_width: self.floor_half_mm },
            Tip::Ball { .. } => Bottom::Round,
        }
    }

    /// Place of a flank: a level read straight between two stations, off by an eighth of bend times step squared.
    pub(super) fn place(&self) -> f64 {
        FLANK_BEND_PER_MM * self.grid.step_mm.powi(2) / 8.0 + SINGLE_PRECISION_MM
    }

    /// Radius of a root.
    pub(super) fn root(&self) -> f64 {
        match (self.bottom(), self.cutter.tip) {
            // A parabola through three points of a circle, one step apart.
            (Bottom::Round, Tip::Ball { radius_mm }) => {
                self.grid.step_mm.powi(4) / (8.0 * radius_mm.powi(3)) + SINGLE_PRECISION_MM
            }
            (Bottom::Between { .. }, _) => (2.0 * self.place() + CARRIED_ON_MM) / self.slope(),
            _ => SINGLE_PRECISION_MM,
        }
    }

    /// Flat on a crest: an edge on either side, each carried on from its flank. On a coarse grid the step that holds
    /// the upper of the two levels may hold the edge itself.
    pub(super) fn crest_flat(&self, drawing: &Drawing) -> f64 {
        let to_edge = FLANK_SHARES[0] * depth_mm(drawing) * self.slope();
        4.0 * self.place() + CARRIED_ON_MM + 2.0 * (self.grid.step_mm - to_edge).max(0.0)
    }

    /// Tangent of half the cutter's included angle.
    fn slope(&self) -> f64 {
        (self.cutter.included_angle_deg / 2.0).to_radians().tan()
    }

    /// Angle of a flank, degrees, read between two levels.
    pub(super) fn flank_deg(&self, drawing: &Drawing) -> f64 {
        let over = (FLANK_SHARES[2] - FLANK_SHARES[0]) * depth_mm(drawing);
        (2.0 * self.place() / over).to_degrees()
    }

    /// Deviation from the drawn section.
    pub(super) fn form(&self) -> f64 {
        2.0 * self.place() + DRAWN_SECTION_MM
    }
}
