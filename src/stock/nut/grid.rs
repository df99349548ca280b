//! The grid a nut is carved on: heights along its axis, rows round it. Lengths in mm, angles in radians.

use std::f64::consts::TAU;
use std::ops::Range;

use crate::setup::{Block, NutTool};
use crate::stock::Cells;

/// Usual distance between heights, mm.
const USUAL_ALONG_MM: f64 = 0.1;
/// Usual distance between rows at the wall, mm: a groove crosses a row slanting by its lead angle only.
const USUAL_ROUND_MM: f64 = 0.4;
/// No cell need be finer, mm.
const FINEST_MM: f64 = 0.02;
/// A turn has at least so many rows.
const LEAST_ROWS: f64 = 16.0;
/// And no more than so many, so that a slip of the pen does not fill the memory.
const MOST_ROWS: f64 = 100_000.0;
/// Nor has an axis more heights.
const MOST_HEIGHTS: f64 = 1_000_000.0;

/// A grid of heights and rows over the whole block, from its bottom face to its top face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NutGrid {
    /// Height of the first column: the bottom face.
    pub from_z_mm: f64,
    /// Distance between heights.
    pub step_mm: f64,
    /// Number of heights.
    pub heights: usize,
    /// Number of rows in one turn.
    pub rows: usize,
}

impl NutGrid {
    /// A grid of cells at most so wide, at this distance from the axis. The first and last height lie on the faces.
    pub fn over(block: &Block, radius_mm: f64, cells: Cells) -> NutGrid {
        let along = (block.thickness_mm / cells.along_mm).ceil().clamp(1.0, MOST_HEIGHTS);
        let round = (TAU * radius_mm / cells.round_mm).ceil().clamp(LEAST_ROWS, MOST_ROWS);
        NutGrid {
            from_z_mm: -block.thickness_mm,
            step_mm: block.thickness_mm / along,
            heights: along as usize + 1,
            rows: round as usize,
        }
    }

    /// Cells fine enough that sizes come out to about a hundredth of a millimetre, and that some height meets the flat
    /// of each tooth.
    pub fn usual(tool: &NutTool) -> Cells {
        let flat = match tool {
            NutTool::Thread(mill) => {
                mill.teeth.iter().map(|tooth| tooth.tip_flat_mm).fold(f64::INFINITY, f64::min)
            }
            NutTool::Boring(_) => f64::INFINITY,
        };
        let along = if flat > 0.0 { (flat / 2.0).clamp(FINEST_MM, USUAL_ALONG_MM) } else { USUAL_ALONG_MM };
        Cells { along_mm: along, round_mm: USUAL_ROUND_MM }
    }

    /// Height of a column.
    pub fn z_mm(&self, column: usize) -> f64 {
        self.from_z_mm + self.step_mm * column as f64
    }

    /// Angle of a row, from X+ towards Y+.
    pub fn angle_rad(&self, row: usize) -> f64 {
        TAU * row as f64 / self.rows as f64
    }

    /// Columns whose heights lie between two.
    pub fn columns(&self, from_z_mm: f64, to_z_mm: f64) -> Range<usize> {
        let first = ((from_z_mm - self.from_z_mm) / self.step_mm - SAME_STEP).ceil().max(0.0);
        let past = ((to_z_mm - self.from_z_mm) / self.step_mm + SAME_STEP).floor() + 1.0;
        let past = past.clamp(0.0, self.heights as f64) as usize;
        (first as usize).min(past)..past
    }
}

/// A height within this share of a step of a column lies on it: binary rounding.
const SAME_STEP: f64 = 1e-9;
