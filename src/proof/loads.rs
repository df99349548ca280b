//! What the cutter takes off on each line: wood, area, chip and rate. Kept for each motion that cuts, so that whoever
//! judges forces or draws the cut can say at which line. Judges nothing itself.

use std::f64::consts::TAU;

use serde::Serialize;

use crate::rs274::{Kind, Motion};
use crate::stock::Stand;

use super::Case;
use super::motions::TOUCH_MM;

/// The load of one motion that cuts.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Load {
    /// Line of the program.
    pub line: usize,
    /// Wood removed.
    pub removed_mm3: f64,
    /// Mean area that the cutter is engaged with, square to its way along the wood.
    pub area_mm2: f64,
    /// Deepest bite along a ray.
    pub deepest_mm: f64,
    /// Speed of the cutter along the wood, at the radius of its tip.
    pub speed_mm_per_min: Option<f64>,
    /// Rate at which wood is removed.
    pub rate_mm3_per_min: Option<f64>,
    /// Feed per cutting edge: speed over edges and spindle speed.
    pub feed_per_edge_mm: Option<f64>,
}

/// Loads of all feed motions that cut, in the order of the program.
pub(super) fn of(case: &Case<'_>) -> Vec<Load> {
    case.motions
        .iter()
        .zip(&case.carved.cuts)
        .filter(|(motion, cut)| motion.kind == Kind::Feed && cut.deepest_mm > TOUCH_MM)
        .map(|(motion, cut)| {
            let way = way_mm(case, motion);
            let minutes = motion.minutes.filter(|&minutes| minutes > 0.0);
            let speed = minutes.map(|minutes| way / minutes);
            let edges = f64::from(case.setup.cutter.flutes) * motion.rpm;
            Load {
                line: motion.line,
                removed_mm3: cut.removed_mm3,
                // A motion that begins or ends in the air cuts on part of its way only: the part over the wood counts.
                area_mm2: cut.removed_mm3 / (way * over_wood(case, motion)).max(f64::MIN_POSITIVE),
                deepest_mm: cut.deepest_mm,
                speed_mm_per_min: speed,
                rate_mm3_per_min: minutes
                    .map(|minutes| cut.removed_mm3 / (minutes * over_wood(case, motion))),
                feed_per_edge_mm: speed.filter(|_| edges > 0.0).map(|speed| speed / edges),
            }
        })
        .collect()
}

/// Length of a motion along the wood at the mean radius of its tip.
fn way_mm(case: &Case<'_>, motion: &Motion) -> f64 {
    let (from, to) = (motion.from, motion.to);
    let radius = (f64::midpoint(from.z_mm, to.z_mm) - case.setup.z_axis_mm).max(0.0);
    let round = TAU * radius * (to.a_deg - from.a_deg) / 360.0;
    round.hypot(to.x_mm - from.x_mm).hypot(to.z_mm - from.z_mm)
}

/// Share of a motion during which the cutter stands over the blank.
fn over_wood(case: &Case<'_>, motion: &Motion) -> f64 {
    let station = |pose| Stand::of(pose, case.setup).s_mm;
    let (a, b) = (station(motion.from), station(motion.to));
    let (low, high) = (a.min(b), a.max(b));
    let blank = &case.setup.blank;
    if high <= low {
        return 1.0;
    }
    let over = (high.min(blank.chuck_face_s_mm) - low.max(blank.from_s_mm)) / (high - low);
    // Wood was cut, so some part of the motion was over it.
    over.clamp(LEAST_SHARE, 1.0)
}

/// Least share of a motion that can have cut what the carve saw it cut.
const LEAST_SHARE: f64 = 0.01;
