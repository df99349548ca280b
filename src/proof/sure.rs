//! How sure each measured size is: what the grid, single precision and the way of reading a groove leave open. Lengths
//! in mm.

use crate::drawing::Drawing;
use crate::setup::{Cutter, Tip};
use crate::stock::Grid;

/// A radius in single precision at these sizes, mm.
pub(super) const SINGLE_PRECISION_MM: f64 = 1e-5;
/// Curvature of a flank, per mm: no groove these cutters leave bends more.
const FLANK_BEND_PER_MM: f64 = 0.05;
/// A flank carried on straight to the crest from a stretch below it, over a depth of some millimetres.
const CARRIED_ON_MM: f64 = 2e-3;
/// Reading the drawn section between its points.
const DRAWN_SECTION_MM: f64 = 1e-4;
/// Share of a step by which a point narrower than the grid may be misread from its flanks.
const POINT_SHARE: f64 = 0.02;

/// The uncertainty of sizes read on one grid with one cutter.
pub(super) struct Sure<'a> {
    pub(super) grid: Grid,
    pub(super) cutter: &'a Cutter,
}

impl Sure<'_> {
    /// Whether the tip leaves a floor that some station must lie on.
    pub(super) fn wide_floor(&self) -> bool {
        matches!(self.cutter.tip, Tip::Flat { diameter_mm } if diameter_mm >= 2.0 * self.grid.step_mm)
    }

    /// Place of a flank: a level read straight between two stations, off by an eighth of bend times step squared.
    pub(super) fn place(&self) -> f64 {
        FLANK_BEND_PER_MM * self.grid.step_mm.powi(2) / 8.0 + SINGLE_PRECISION_MM
    }

    /// Radius of a root.
    pub(super) fn root(&self) -> f64 {
        let step = self.grid.step_mm;
        match self.cutter.tip {
            _ if self.wide_floor() => SINGLE_PRECISION_MM,
            Tip::Flat { .. } => {
                let slope = (self.cutter.included_angle_deg / 2.0).to_radians().tan();
                self.place() / slope + POINT_SHARE * step
            }
            // A parabola through three points of a circle, one step apart.
            Tip::Ball { radius_mm } => step.powi(4) / (8.0 * radius_mm.powi(3)) + SINGLE_PRECISION_MM,
        }
    }

    /// Flat on a crest: an edge on either side, each carried on from its flank.
    pub(super) fn crest_flat(&self) -> f64 {
        4.0 * self.place() + CARRIED_ON_MM
    }

    /// Angle of a flank, degrees, read over seven tenths of the depth.
    pub(super) fn flank_deg(&self, drawing: &Drawing) -> f64 {
        let depth = (drawing.crest_diameter_mm - drawing.root_diameter_mm) / 2.0;
        (2.0 * self.place() / (0.7 * depth)).to_degrees()
    }

    /// Deviation from the drawn section.
    pub(super) fn form(&self) -> f64 {
        2.0 * self.place() + DRAWN_SECTION_MM
    }
}
