//! What a cutter meets while it goes round the blank, read off a row: the wood it took there, seen along its way. The row is
//! compared with itself before and after; what the wood's curve and the cutter's own width do beside the row is left out.
//! Lengths in mm, angles in radians.

use std::ops::Range;

use super::cutter::Profile;
use super::grid::Grid;
use super::sweep::{Sweep, Way, stations_at};
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
        let [from, to] = stations_at(sweep, theta);
        let columns = grid.columns(from, to);
        let before = row[columns.clone()].to_vec();
        Some(Watch { columns, before })
    }

    /// What the sweep met: `None` if it cut nothing here.
    pub(super) fn met(
        &self,
        row: &[f32],
        sweep: &Sweep,
        profile: &Profile,
        grid: &Grid,
        theta: f64,
    ) -> Option<Engagement> {
        let (from, to) = (sweep.stroke.from, sweep.stroke.to);
        let turn = to.theta_rad - from.theta_rad;
        let stand = from.towards(to, ((theta - from.theta_rad) / turn).clamp(0.0, 1.0));
        let advance = (to.s_mm - from.s_mm) / turn;
        let mut met = Engagement::default();
        let mut moment = 0.0;
        for (column, &before) in self.columns.clone().zip(&self.before) {
            let (old, new) = (f64::from(before), f64::from(row[column]));
            if new >= old {
                continue;
            }
            // Along its way the cutter sees the axis foreshortened.
            let seen = new / new.hypot(advance);
            let aside = (grid.station_mm(column) - stand.s_mm) * seen;
            let width = grid.step_mm * seen;
            let (low, high) = ((new - stand.tip_mm).max(0.0), old - stand.tip_mm);
            if high <= low {
                continue;
            }
            met.area_mm2 += width * (high - low);
            met.contact_mm2 += width * profile.contact(aside, width, low, high);
            met.over_radius_mm += width * profile.over_radius(aside, low, high);
            moment += width * (high - low) * f64::midpoint(low, high);
        }
        (met.area_mm2 > 0.0).then(|| Engagement { height_mm: moment / met.area_mm2, ..met })
    }
}
