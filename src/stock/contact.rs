//! How near the cutter, its shank and its collet come to wood, chuck and tail centre: distances, not yes or no.
//! Lengths in mm, angles in radians.

use std::f64::consts::TAU;

use crate::setup::{Cutter, Setup, Tip};

use super::frame::{Stand, Stroke};

/// A least distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// Which motion.
    pub motion: usize,
    /// The distance, mm; zero where they touch.
    pub gap_mm: f64,
    /// Station of the place.
    pub s_mm: f64,
    /// Angle on the blank, radians.
    pub theta_rad: f64,
}

/// Something the cutter must not meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Obstacle {
    /// The chuck.
    Chuck,
    /// The tail centre.
    Centre,
}

/// The cutter with shank and collet: convex outlines in a plane through its own axis, as corners (distance from the
/// axis, height above the tip), each mirrored on the axis.
#[derive(Clone, Debug)]
pub(crate) struct Outline {
    parts: Vec<Vec<[f64; 2]>>,
}

/// Height of collet and spindle above the collet's face that is reckoned with, mm.
const SPINDLE_MM: f64 = 150.0;
/// Corners that stand for the round of a ball tip.
const BALL_CORNERS: usize = 24;

impl Outline {
    pub(crate) fn of(cutter: &Cutter) -> Outline {
        let half_angle = (cutter.included_angle_deg / 2.0).to_radians();
        let widest = cutter.cutting_diameter_mm / 2.0;
        let mut edge = match cutter.tip {
            Tip::Flat { diameter_mm } => vec![[0.0, 0.0], [diameter_mm / 2.0, 0.0]],
            Tip::Ball { radius_mm } => (0..=BALL_CORNERS)
                .map(|i| {
                    let turn = (std::f64::consts::FRAC_PI_2 - half_angle) * i as f64 / BALL_CORNERS as f64;
                    [radius_mm * turn.sin(), radius_mm * (1.0 - turn.cos())]
                })
                .collect(),
        };
        let [foot_radius, foot_height] = edge[edge.len() - 1];
        let cone_height = foot_height + (widest - foot_radius) / half_angle.tan();
        edge.push([widest, cone_height.min(cutter.cutting_length_mm)]);
        edge.push([widest, cutter.cutting_length_mm]);
        edge.push([0.0, cutter.cutting_length_mm]);
        let block =
            |radius: f64, low: f64, high: f64| vec![[0.0, low], [radius, low], [radius, high], [0.0, high]];
        let shank = cutter.shank_diameter_mm / 2.0;
        let collet = cutter.collet_diameter_mm / 2.0;
        Outline {
            parts: vec![
                edge,
                block(shank, cutter.cutting_length_mm, cutter.stick_out_mm.max(cutter.cutting_length_mm)),
                block(collet, cutter.stick_out_mm, cutter.stick_out_mm + SPINDLE_MM),
            ],
        }
    }

    /// Distance from a point (distance from the cutter's axis, height above the tip) to the solid.
    fn gap(&self, rho: f64, height: f64) -> f64 {
        self.parts.iter().map(|part| gap_to_convex(part, [rho, height])).fold(f64::INFINITY, f64::min)
    }

    /// Greatest distance of the solid from its axis.
    fn radius(&self) -> f64 {
        self.parts.iter().flatten().fold(0.0, |most, corner| most.max(corner[0]))
    }
}

/// Distance from a point to a convex outline whose corners run counter-clockwise; zero inside.
fn gap_to_convex(corners: &[[f64; 2]], p: [f64; 2]) -> f64 {
    let mut inside = true;
    let mut least = f64::INFINITY;
    for (i, a) in corners.iter().enumerate() {
        let b = corners[(i + 1) % corners.len()];
        let along = [b[0] - a[0], b[1] - a[1]];
        let to = [p[0] - a[0], p[1] - a[1]];
        if along[0] * to[1] - along[1] * to[0] < 0.0 {
            inside = false;
        }
        let length2 = along[0] * along[0] + along[1] * along[1];
        let share = if length2 > 0.0 {
            ((along[0] * to[0] + along[1] * to[1]) / length2).clamp(0.0, 1.0)
        } else {
            0.0
        };
        least = least.min((to[0] - share * along[0]).hypot(to[1] - share * along[1]));
    }
    if inside { 0.0 } else { least }
}

/// Moments looked at in a rapid that moves several axes at once.
const LOOKS: usize = 24;

/// Distance between the cutter during a stroke and a point of the wood's surface, if it is less than `so_far`.
pub(crate) fn gap_to_wood(
    stroke: &Stroke,
    outline: &Outline,
    s: f64,
    angle: f64,
    radius: f64,
    so_far: f64,
) -> Option<f64> {
    let (from, to) = (stroke.from, stroke.to);
    // No point of the solid is lower than its tip.
    if from.tip_mm.min(to.tip_mm) - radius >= so_far {
        return None;
    }
    let beyond = (from.s_mm.min(to.s_mm) - s).max(s - from.s_mm.max(to.s_mm));
    if beyond - outline.radius() >= so_far {
        return None;
    }
    let gap_at = |stand: Stand, turned: f64| {
        let (sin, cos) = turned.sin_cos();
        let across = radius * sin - stand.beside_mm;
        outline.gap((s - stand.s_mm).hypot(across), radius * cos - stand.tip_mm)
    };
    let moves = [to.s_mm != from.s_mm, to.tip_mm != from.tip_mm, to.theta_rad != from.theta_rad];
    let gap = if moves.iter().filter(|&&moved| moved).count() <= 1 {
        // One axis at a time: nearest at its lowest, beside the point, or turned closest to it.
        let mut stand = if from.tip_mm <= to.tip_mm { from } else { to };
        stand.s_mm = s.clamp(from.s_mm.min(to.s_mm), from.s_mm.max(to.s_mm));
        gap_at(stand, closest_turn(angle, from.theta_rad, to.theta_rad))
    } else {
        (0..=LOOKS)
            .map(|i| {
                let stand = from.towards(to, i as f64 / LOOKS as f64);
                gap_at(stand, closest_turn(angle, stand.theta_rad, stand.theta_rad))
            })
            .fold(f64::INFINITY, f64::min)
    };
    (gap < so_far).then_some(gap)
}

/// Smallest angle between a place on the blank and the cutter while the blank turns from one angle to another.
fn closest_turn(angle: f64, from: f64, to: f64) -> f64 {
    let (low, high) = (from.min(to), from.max(to));
    let first = angle + TAU * ((low - angle) / TAU).ceil();
    if first <= high {
        return 0.0;
    }
    let near = |turned: f64| (turned + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0;
    let (a, b) = (near(angle - low), near(angle - high));
    if a.abs() < b.abs() { a } else { b }
}

/// Least distance during a stroke between the cutter with shank and collet and the chuck or tail centre.
///
/// Both are cylinders round the blank's axis that begin at a face, so the nearest points lie in the upright plane
/// through that axis as long as the cutter stands over it; a cutter standing beside it is reckoned as over it, which
/// can only make the answer smaller. How deep the point of the tail centre sits in the wood is not known, so the
/// centre counts with its full diameter right up to the end of the blank.
pub fn gap_to_obstacles(stroke: &Stroke, setup: &Setup) -> Vec<(Obstacle, f64)> {
    let outline = Outline::of(&setup.cutter);
    let mut gaps = Vec::new();
    let chuck_radius = setup.machine.chuck.diameter_mm / 2.0;
    gaps.push((Obstacle::Chuck, gap_along(stroke, &outline, chuck_radius, setup.blank.chuck_face_s_mm, 1.0)));
    if let Some(centre) = setup.machine.centre {
        let radius = centre.diameter_mm / 2.0;
        gaps.push((Obstacle::Centre, gap_along(stroke, &outline, radius, setup.blank.from_s_mm, -1.0)));
    }
    gaps
}

/// Least distance during a stroke to a cylinder that fills all stations beyond `face` in the direction `way`.
fn gap_along(stroke: &Stroke, outline: &Outline, radius: f64, face: f64, way: f64) -> f64 {
    let gap = |share: f64| {
        let stand = stroke.from.towards(stroke.to, share);
        gap_to_cylinder(outline, stand, radius, face, way)
    };
    // Moving one convex body past another, the distance falls to one least value; with three bodies to one solid
    // there may be more, so each part is searched on its own.
    let mut least = gap(0.0).min(gap(1.0));
    let mut part = outline.clone();
    for corners in &outline.parts {
        part.parts = vec![corners.clone()];
        let gap =
            |share: f64| gap_to_cylinder(&part, stroke.from.towards(stroke.to, share), radius, face, way);
        least = least.min(super::envelope::narrow(&gap, 0.0, 1.0, 0.5).1);
    }
    least
}

/// Distance between the solid at a stand and a cylinder about the blank's axis.
fn gap_to_cylinder(outline: &Outline, stand: Stand, radius: f64, face: f64, way: f64) -> f64 {
    // In the upright plane the cylinder is the strip |height| <= radius beyond its face. For each edge of the solid,
    // the farthest towards the cylinder counts: corner against strip, and the strip's corner against the edges.
    let mut least = f64::INFINITY;
    for corners in &outline.parts {
        for corner in corners {
            let beyond = way * (stand.s_mm - face) + corner[0];
            let above = (stand.tip_mm + corner[1]).abs() - radius;
            least = least.min((-beyond).max(0.0).hypot(above.max(0.0)));
        }
        let edge_height = radius - stand.tip_mm;
        let edge_out = way * (face - stand.s_mm);
        least = least.min(gap_to_mirrored(corners, [edge_out, edge_height]));
        least = least.min(gap_to_mirrored(corners, [edge_out, -radius - stand.tip_mm]));
    }
    least
}

/// Distance from a point on either side of the axis to an outline mirrored on it.
fn gap_to_mirrored(corners: &[[f64; 2]], point: [f64; 2]) -> f64 {
    gap_to_convex(corners, [point[0].abs(), point[1]])
}
