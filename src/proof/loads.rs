//! What the cutter takes off on each line, and what that asks for: wood, area, chip, rate, force, power. Kept for each motion
//! that cuts, so that whoever judges forces or draws the cut can say at which line. Judges nothing itself.

use std::f64::consts::TAU;

use serde::Serialize;

use crate::pressure::{self, Engagement, Running, Strain, most_feed_per_edge_mm};
use crate::rs274::{Kind, Motion};
use crate::setup::SpindleControl;
use crate::stiffness::{self, BEND_OVER_SHEAR};
use crate::stock::{Stand, courses};

use super::Case;
use super::motions::TOUCH_MM;

/// The load of one motion that cuts. Forces and what follows from them are the middle of a band of a factor of two either
/// way, from memory ([`pressure`]); they are there for motions that go round the blank, where its wood is known.
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
    /// Mean thickness of the chips.
    pub chip_mm: Option<f64>,
    /// Greatest feed per edge that does not tear, for the width of the groove at the crest; from memory.
    pub most_feed_per_edge_mm: Option<f64>,
    /// Force that may push blank or cutter aside.
    pub side_force_n: Option<f64>,
    /// Power at the cutter.
    pub power_w: Option<f64>,
    /// Torque on A, if the whole force turns the blank.
    pub torque_nm: Option<f64>,
    /// How far the blank bends, cut down to its root, where the motion is weakest placed.
    pub bend_mm: Option<f64>,
    /// How far it twists between the chuck and the far end of the motion.
    pub twist_deg: Option<f64>,
    /// How far the cutter bends.
    pub cutter_bend_mm: Option<f64>,
    /// The index of the motion.
    #[serde(skip)]
    pub(super) motion: usize,
    /// Whether it meets about as much wood as the cut it is part of ever does; else it begins or ends that cut.
    #[serde(skip)]
    pub(super) full: bool,
}

/// Loads of all feed motions that cut, in the order of the program.
pub(super) fn of(case: &Case<'_>) -> Vec<Load> {
    let engaged = engaged(case);
    case.motions
        .iter()
        .zip(&case.carved.cuts)
        .enumerate()
        .filter(|(_, (motion, cut))| motion.kind == Kind::Feed && cut.deepest_mm > TOUCH_MM)
        .map(|(index, (motion, cut))| {
            let way = way_mm(case, motion, 0.0);
            let minutes = motion.minutes.filter(|&minutes| minutes > 0.0);
            let speed = minutes.map(|minutes| way / minutes);
            let edges = f64::from(case.setup.cutter.flutes) * turns(case, motion);
            let load = Load {
                line: motion.line,
                removed_mm3: cut.removed_mm3,
                // A motion that begins or ends in the air cuts on part of its way only: the part over the wood counts.
                area_mm2: cut.removed_mm3 / (way * over_wood(case, motion)).max(f64::MIN_POSITIVE),
                deepest_mm: cut.deepest_mm,
                speed_mm_per_min: speed,
                rate_mm3_per_min: minutes
                    .map(|minutes| cut.removed_mm3 / (minutes * over_wood(case, motion))),
                feed_per_edge_mm: speed.filter(|_| edges > 0.0).map(|speed| speed / edges),
                chip_mm: None,
                most_feed_per_edge_mm: None,
                side_force_n: None,
                power_w: None,
                torque_nm: None,
                bend_mm: None,
                twist_deg: None,
                cutter_bend_mm: None,
                motion: index,
                full: false,
            };
            match (engaged[index], minutes) {
                (Some((met, full)), Some(minutes)) if edges > 0.0 => {
                    Load { full, ..strained(case, motion, &met, minutes, load) }
                }
                _ => load,
            }
        })
        .collect()
}

/// Share of the most wood a course meets from which a motion of it is more than its beginning or end.
const FULL_SHARE: f64 = 0.5;

/// What each motion meets, and whether that is about the most that the course meets which it is part of. Motions too short
/// to pass a watched row meet that most.
fn engaged(case: &Case<'_>) -> Vec<Option<(Engagement, bool)>> {
    let cuts = &case.carved.cuts;
    let mut all = vec![None; cuts.len()];
    for course in courses(case.motions, case.setup) {
        let met = course.motions().filter_map(|motion| cuts[motion].engaged);
        let Some(largest) = met.max_by(|a, b| a.area_mm2.total_cmp(&b.area_mm2)) else { continue };
        for motion in course.motions() {
            let met = cuts[motion].engaged.unwrap_or(largest);
            all[motion] = Some((met, met.area_mm2 >= FULL_SHARE * largest.area_mm2));
        }
    }
    all
}

/// Fills in what a motion's engagement asks for.
fn strained(case: &Case<'_>, motion: &Motion, met: &Engagement, minutes: f64, load: Load) -> Load {
    let setup = case.setup;
    let running = Running {
        rpm: turns(case, motion),
        edges: setup.cutter.flutes,
        speed_mm_per_min: way_mm(case, motion, met.height_mm) / minutes,
        edge: setup.cutter.edge,
        density_kg_m3: setup.timber.density_kg_m3,
    };
    let Strain { chip_mm, push, .. } = pressure::strain(met, &running);
    let (from, to) = (Stand::of(motion.from, setup), Stand::of(motion.to, setup));
    let arm_mm = from.tip_mm.min(to.tip_mm) + met.height_mm;
    let torque_nmm = push.map(|push| push.side_n * arm_mm);
    let root_diameter_mm = case.drawing.root_diameter_mm;
    let chuck = setup.blank.chuck_face_s_mm;
    let at = |s_mm: f64| chuck - s_mm.clamp(setup.blank.from_s_mm, chuck);
    let blank = stiffness::blank(setup, root_diameter_mm);
    let (from_mm, to_mm) = (at(from.s_mm), at(to.s_mm));
    let cutter = stiffness::cutter(setup);
    Load {
        chip_mm: Some(chip_mm),
        most_feed_per_edge_mm: case
            .drawing
            .section
            .last()
            .map(|crest| most_feed_per_edge_mm(2.0 * crest.half_width_mm)),
        side_force_n: push.map(|push| push.side_n),
        power_w: push.map(|push| push.power_w),
        torque_nm: torque_nmm.map(|torque| torque / 1000.0),
        bend_mm: push.zip(blank).map(|(push, bar)| bar.bend_mm(push.side_n, bar.weakest_mm(from_mm, to_mm))),
        twist_deg: torque_nmm.zip(blank).map(|(torque, bar)| {
            bar.twist_deg(torque, bar.farthest_mm(from_mm, to_mm), bar.modulus_n_mm2 / BEND_OVER_SHEAR)
        }),
        cutter_bend_mm: push.map(|push| cutter.bend_mm(push.side_n, cutter.length_mm)),
        ..load
    }
}

/// Turns of the spindle a minute: where it is switched by hand the program does not tell, so the job's hold.
fn turns(case: &Case<'_>, motion: &Motion) -> f64 {
    match case.setup.machine.spindle.control {
        SpindleControl::Hand => case.setup.rpm,
        SpindleControl::Program => motion.rpm,
    }
}

/// Length of a motion along the wood, so far above the mean radius of its tip.
fn way_mm(case: &Case<'_>, motion: &Motion, above_mm: f64) -> f64 {
    let (from, to) = (motion.from, motion.to);
    let radius = (f64::midpoint(from.z_mm, to.z_mm) - case.setup.z_axis_mm + above_mm).max(0.0);
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
