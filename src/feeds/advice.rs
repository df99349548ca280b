//! The figures behind what a sheet advises when a cut burns, tears, chatters or slips: which pass it is, how far it is from
//! its limit, what would take it there. The words are the report's.

use serde::Serialize;

use super::bounds::{Bounds, Reason};
use super::sheet::Row;
use crate::pressure::least_chip_mm;
use crate::setup::Edge;

/// How much less stick-out is spoken of, mm.
const LESS_STICK_OUT_MM: f64 = 5.0;

/// Figures of one job. Passes are told by their place in the rows.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Advice {
    /// The pass with the thinnest chips beside what does not burn.
    pub thinnest: usize,
    /// Its chips.
    pub chip_mm: f64,
    /// Least chip for this edge.
    pub least_chip_mm: f64,
    /// The feed at which its chips are that thick.
    pub least_feed_mm_per_min: f64,
    /// The greatest feed within its limits, and what ends it.
    pub most_feed_mm_per_min: f64,
    /// What ends it.
    pub most_reason: Reason,
    /// The slowest speed of the spindle.
    pub slowest_rpm: f64,
    /// Its chips there, at the same feed.
    pub chip_at_slowest_mm: f64,
    /// Least chips for a used and a dull edge.
    pub least_chip_worn_mm: [f64; 2],
    /// The pass with the greatest feed per edge beside what does not tear.
    pub coarsest: usize,
    /// That feed per edge.
    pub feed_per_edge_mm: f64,
    /// The most.
    pub most_feed_per_edge_mm: f64,
    /// The pass that pushes hardest, where forces are known.
    pub hardest: Option<usize>,
    /// Free length of the blank over the diameter of its root.
    pub slenderness: f64,
    /// How much stiffer the cutter is when it sticks out 5 mm less.
    pub stiffer_cutter: f64,
}

/// Gathers the figures; `None` without a pass that cuts.
pub fn advice(bounds: &Bounds, rows: &[Row], rpm: f64) -> Option<Advice> {
    let cuts = || rows.iter().enumerate().filter_map(|(index, row)| Some((index, row, row.loads?)));
    let thin = |(_, _, loads): &(usize, &Row, super::Loads)| loads.strain.chip_mm / loads.least_chip_mm;
    let coarse = |(_, _, loads): &(usize, &Row, super::Loads)| {
        loads.strain.feed_per_edge_mm / loads.most_feed_per_edge_mm
    };
    let (thinnest, row, loads) = cuts().min_by(|a, b| thin(a).total_cmp(&thin(b)))?;
    let (coarsest, _, coarsest_loads) = cuts().max_by(|a, b| coarse(a).total_cmp(&coarse(b)))?;
    let pushes = cuts().filter_map(|(index, _, loads)| Some((index, loads.strain.push?.side_n)));
    let setup = &bounds.setup;
    let slowest_rpm = setup.machine.spindle.least_rpm.min(rpm);
    let density = setup.timber.density_kg_m3;
    let out = setup.cutter.stick_out_mm;
    Some(Advice {
        thinnest,
        chip_mm: loads.strain.chip_mm,
        least_chip_mm: loads.least_chip_mm,
        least_feed_mm_per_min: row.least_mm_per_min,
        most_feed_mm_per_min: row.most_mm_per_min,
        most_reason: row.reason,
        slowest_rpm,
        chip_at_slowest_mm: if slowest_rpm > 0.0 {
            loads.strain.chip_mm * rpm / slowest_rpm
        } else {
            f64::INFINITY
        },
        least_chip_worn_mm: [Edge::Used, Edge::Dull].map(|edge| least_chip_mm(density, edge)),
        coarsest,
        feed_per_edge_mm: coarsest_loads.strain.feed_per_edge_mm,
        most_feed_per_edge_mm: coarsest_loads.most_feed_per_edge_mm,
        hardest: pushes.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(index, _)| index),
        slenderness: bounds.slenderness(),
        stiffer_cutter: (out / (out - LESS_STICK_OUT_MM).max(LESS_STICK_OUT_MM)).powi(3),
    })
}
