//! The grid a blank is carved on: stations along the axis, rows round it. Lengths in mm, angles in radians.

use std::f64::consts::TAU;

use crate::setup::{Blank, Cutter, Tip};

use super::cutter::tip_of;
use super::wood;

/// How wide the cells of a grid may be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cells {
    /// Along the axis.
    pub along_mm: f64,
    /// Round the surface of the blank.
    pub round_mm: f64,
}

impl Cells {
    /// As wide round the blank as along it.
    pub fn square(width_mm: f64) -> Cells {
        Cells { along_mm: width_mm, round_mm: width_mm }
    }

    /// Fine enough that sizes come out well within a hundredth of a millimetre. A groove crosses a row slanting by its lead
    /// angle only, so rows may stand wider apart than stations; and of a narrow flat tip at least one station meets
    /// the floor.
    pub fn usual(cutter: &Cutter) -> Cells {
        let floor = match tip_of(cutter) {
            Tip::Flat { diameter_mm } if diameter_mm > 0.0 => diameter_mm / 2.0,
            _ => USUAL_ALONG_MM,
        };
        Cells { along_mm: floor.clamp(FINEST_MM, USUAL_ALONG_MM), round_mm: USUAL_ROUND_MM }
    }
}

/// Usual distance between stations, mm.
const USUAL_ALONG_MM: f64 = 0.15;
/// Usual distance between rows at the surface, mm.
const USUAL_ROUND_MM: f64 = 0.5;
/// No cell need be finer, mm.
const FINEST_MM: f64 = 0.02;

/// A grid of stations and rows over the whole blank, from the tail end to the chuck's face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Station of the first column.
    pub from_s_mm: f64,
    /// Distance between stations.
    pub step_mm: f64,
    /// Number of stations.
    pub stations: usize,
    /// Number of rows in one turn.
    pub rows: usize,
}

impl Grid {
    /// A grid of cells at most so wide. The first and last station lie on the ends of the free wood.
    pub fn over(blank: &Blank, cells: Cells) -> Grid {
        let length = blank.chuck_face_s_mm - blank.from_s_mm;
        let along = (length / cells.along_mm).ceil().max(1.0);
        let round = (TAU * wood::greatest_radius(blank) / cells.round_mm).ceil().max(8.0);
        Grid {
            from_s_mm: blank.from_s_mm,
            step_mm: length / along,
            stations: along as usize + 1,
            rows: round as usize,
        }
    }

    /// Station of a column.
    pub fn station_mm(&self, column: usize) -> f64 {
        self.from_s_mm + self.step_mm * column as f64
    }

    /// Angle of a row.
    pub fn angle_rad(&self, row: usize) -> f64 {
        TAU * row as f64 / self.rows as f64
    }

    /// Columns whose stations lie in `[from, to]`, as a range of indices.
    pub fn columns(&self, from_s_mm: f64, to_s_mm: f64) -> std::ops::Range<usize> {
        // Places beyond the blank, even infinitely far, stand for its ends.
        let first = ((from_s_mm - self.from_s_mm) / self.step_mm).ceil().max(0.0);
        let past = ((to_s_mm - self.from_s_mm) / self.step_mm).floor() + 1.0;
        let past = past.clamp(0.0, self.stations as f64) as usize;
        (first as usize).min(past)..past
    }
}
