//! The wood as it stands after every motion of a program, or of several that follow each other: what each of them took off
//! which cell, and down to what radius. Meant for showing, on a grid much coarser than a proof's; every figure is cut by the same sweeps as there.
//! Lengths in mm, angles in radians.

use rayon::prelude::*;

use crate::setup::Blank;

use super::carve::{Former, single_sweeps};
use super::grid::{Cells, Grid};
use super::row::{cut, touched};
use super::sweep::Sweep;
use super::wood;

/// Neighbouring cells of one row that one motion cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Shaving {
    /// Which motion, counted on through all programs.
    pub motion: usize,
    /// Row of the grid.
    pub row: usize,
    /// First column.
    pub column: usize,
    /// Distance from the axis to the wood's surface afterwards, for each cell.
    pub radii_mm: Vec<f32>,
}

/// What was cut when.
#[derive(Clone, Debug)]
pub struct History {
    /// The grid.
    pub grid: Grid,
    /// Radius of the blank on each row, before anything is cut.
    pub blank_mm: Vec<f64>,
    /// Everything that was cut: in the order of the programs, then of the rows, then of the columns.
    pub shavings: Vec<Shaving>,
}

/// Rows of the usual grid: two degrees apart, and a whole number between the starts of any thread of up to six.
const ROWS: usize = 180;
/// Distance between stations of the usual grid, mm: forty to the pitch of a common screw.
const ALONG_MM: f64 = 0.25;
/// Most stations of the usual grid.
const MOST_STATIONS: usize = 1800;
/// Most cuts of a cell that are kept, all cells taken together: a program that cuts its wood in very many small bites is
/// shown more coarsely.
const MOST_CUTS: usize = 2_000_000;
/// Coarsest grid: doublings of the distance between stations.
const MOST_DOUBLINGS: u32 = 5;

impl History {
    /// Carves programs one after the other on the usual grid for showing. The blank is that of the last.
    pub fn of(programs: &[Former<'_>]) -> Option<History> {
        let blank = programs.last()?.setup.blank;
        let length = blank.chuck_face_s_mm - blank.from_s_mm;
        let along_mm = ALONG_MM.max(length / (MOST_STATIONS - 1) as f64);
        let grid = |doublings: u32| {
            let cells = Cells { along_mm: along_mm * f64::from(1 << doublings), round_mm: f64::INFINITY };
            Grid { rows: ROWS, ..Grid::over(&blank, cells) }
        };
        let mut history = History::on(programs, &blank, grid(0));
        for doublings in 1..=MOST_DOUBLINGS {
            if history.cuts() <= MOST_CUTS {
                break;
            }
            history = History::on(programs, &blank, grid(doublings));
        }
        Some(history)
    }

    /// Carves programs one after the other on a grid.
    pub fn on(programs: &[Former<'_>], blank: &Blank, grid: Grid) -> History {
        // Joints are not shared out as in a proof: after each motion the wood is to be what it left by itself.
        let ready =
            |one: &Former<'_>| (one.motions.len(), single_sweeps(one.motions, one.setup, &grid, blank));
        let mut first = 0;
        let mut sweeps: Vec<(usize, Sweep)> = Vec::new();
        for (motions, more) in programs.iter().map(ready) {
            sweeps.extend(more.into_iter().filter(|sweep| sweep.way.cuts()).map(|sweep| (first, sweep)));
            first += motions;
        }
        let blank_mm = (0..grid.rows).map(|row| wood::radius_at(blank, grid.angle_rad(row))).collect();
        let mut shavings: Vec<Shaving> = (0..grid.rows)
            .into_par_iter()
            .flat_map_iter(|row| carve_row(row, blank, &sweeps, grid))
            .collect();
        // The sort is stable: within a motion rows and columns keep their order.
        shavings.sort_by_key(|shaving| shaving.motion);
        History { grid, blank_mm, shavings }
    }

    /// How many times any cell was cut.
    fn cuts(&self) -> usize {
        self.shavings.iter().map(|shaving| shaving.radii_mm.len()).sum()
    }

    /// The wood after everything up to and including a motion: rows of stations.
    pub fn wood_after(&self, motion: usize) -> Vec<Vec<f32>> {
        let mut wood: Vec<Vec<f32>> =
            self.blank_mm.iter().map(|&radius| vec![radius as f32; self.grid.stations]).collect();
        for shaving in self.shavings.iter().take_while(|shaving| shaving.motion <= motion) {
            let columns = shaving.column..shaving.column + shaving.radii_mm.len();
            wood[shaving.row][columns].copy_from_slice(&shaving.radii_mm);
        }
        wood
    }
}

/// One row through all sweeps in the order of the programs; with each the motions before those of its program.
fn carve_row(row: usize, blank: &Blank, sweeps: &[(usize, Sweep)], grid: Grid) -> Vec<Shaving> {
    let angle = grid.angle_rad(row);
    let mut radii = vec![wood::radius_at(blank, angle) as f32; grid.stations];
    let mut before = radii.clone();
    let mut shavings = Vec::new();
    for (first, sweep) in sweeps {
        for theta in sweep.copies(angle) {
            let columns = touched(sweep, &grid, theta);
            if columns.is_empty() {
                continue;
            }
            before[columns.clone()].copy_from_slice(&radii[columns.clone()]);
            cut(&mut radii, sweep, &grid, theta);
            let motion = first + sweep.motion_at(theta);
            let mut open: Option<Shaving> = None;
            for column in columns {
                if radii[column] < before[column] {
                    let new = || Shaving { motion, row, column, radii_mm: Vec::new() };
                    open.get_or_insert_with(new).radii_mm.push(radii[column]);
                } else {
                    shavings.extend(open.take());
                }
            }
            shavings.extend(open);
        }
    }
    shavings
}
