//! What a cutter meets while it goes round the blank, read off a row: the wood it took there, seen along its way. The row is
//! compared with itself before and after; what the wood's curve and the cutter's own width do beside the row is left out.
//! Lengths in mm, angles in radians.

use std::ops::Range;

use super::cutter::Profile;
use super::grid::Grid;
use super::row::touched;
use super::sweep::{Sweep, Way};
use crate::pressure::Engagement;

/// Rows on one turn that are compared, about: a pass goes through all of them many times.
pub(super) const ROWS_WATCHED: usize = 8;

/// A stretch of a row before a sweep cuts it.
pub(super) struct Watch {
    columns: Range<usize>,
    before: Vec<f32>,
}

impl Watch {
    /// Keeps what a sweep may cut of a row; nothing for a sweep that does not go round the blank.
    pub(super) fn over(row: &[f32], sweep: &Sweep, grid: &Grid, theta: f64) -> Option<Watch> {
        if !matches!(sweep.way, Way::Level(_) | Way::Slope(_)) {
            return None;
        }
        let columns = touched(sweep, grid, theta);
        let before = row[columns.clone()].to_vec();
        Some(Watch { columns, before })
    }

    /// What the sweep met, if it is more than the section of `so_far`: `None` if it cut less here, or nothing.
    pub(super) fn met(
        &self,
        row: &[f32],
        sweep: &Sweep,
        profile: &Profile,
        grid: &Grid,
        theta: f64,
        so_far: Option<Engagement>,
    ) -> Option<Engagement> {
        let (from, to) = (sweep.stroke().from, sweep.stroke().to);
        let turn = to.theta_rad - from.theta_rad;
        let stand = from.towards(to, ((theta - from.theta_rad) / turn).clamp(0.0, 1.0));
        let advance = (to.s_mm - from.s_mm) / turn;
        // Column, share of the axis that the cutter sees, foreshortened along its way, and the heights between which it cuts.
        let cuts = self.columns.clone().zip(&self.before).filter_map(|(column, &before)| {
            let (old, new) = (f64::from(before), f64::from(row[column]));
            let seen = new / (new * new + advance * advance).sqrt();
            let (low, high) = ((new - stand.tip_mm).max(0.0), old - stand.tip_mm);
            (new < old && low < high).then_some((column, seen, low, high))
        });
        let width = |seen: f64| grid.step_mm * seen;
        let area_mm2 = cuts.clone().map(|(_, seen, low, high)| width(seen) * (high - low)).sum();
        // The arcs of the cutter take longer, and only the largest section is kept.
        if area_mm2 <= so_far.map_or(0.0, |met| met.area_mm2) {
            return None;
        }
        let mut met = Engagement { area_mm2, ..Engagement::default() };
        let mut moment = 0.0;
        for (column, seen, low, high) in cuts {
            let aside = (grid.station_mm(column) - stand.s_mm) * seen;
            let width = width(seen);
            met.contact_mm2 += width * profile.contact(aside, width, low, high);
            met.over_radius_mm += width * profile.over_radius(aside, low, high);
            moment += width * (high - low) * f64::midpoint(low, high);
        }
        met.height_mm = moment / met.area_mm2;
        Some(met)
    }
}
