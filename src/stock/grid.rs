//! The grid a blank is carved on: stations along the axis, rows round it. Lengths in mm, angles in radians.

use std::f64::consts::TAU;

use crate::setup::Blank;

use super::wood;

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
    /// A grid whose cells are at most `fineness_mm` wide along the axis and round the surface of the blank.
    /// The first and last station lie on the ends of the free wood.
    pub fn over(blank: &Blank, fineness_mm: f64) -> Grid {
        let length = blank.chuck_face_s_mm - blank.from_s_mm;
        let cells = (length / fineness_mm).ceil().max(1.0);
        let rows = (TAU * wood::greatest_radius(blank) / fineness_mm).ceil().max(8.0);
        Grid {
            from_s_mm: blank.from_s_mm,
            step_mm: length / cells,
            stations: cells as usize + 1,
            rows: rows as usize,
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
        let first = ((from_s_mm - self.from_s_mm) / self.step_mm).ceil().max(0.0);
        let past = ((to_s_mm - self.from_s_mm) / self.step_mm).floor() + 1.0;
        let past = past.clamp(0.0, self.stations as f64) as usize;
        (first as usize).min(past)..past
    }
}
