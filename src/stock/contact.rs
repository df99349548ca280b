//! How near the cutter, its shank and its collet come to wood, chuck and tail centre: distances, not yes or no.
//! Lengths in mm, angles in radians.

use std::f64::consts::TAU;

use crate::rs274::Motion;
use crate::setup::{Cutter, Setup, Tip};

use super::cutter::tip_of;
use super::frame::{Stand, Stroke, strokes};

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
    parts: Vec<Part>,
}

/// One convex part, with what gives a quick answer.
#[derive(Clone, Debug)]
struct Part {
    corners: Vec<[f64; 2]>,
    /// Distance from the axis of the slanting edge at the height of the tip, its slope, and the cosine that turns a
    /// way across into a distance from it. The edge of a block is upright.
    edge: [f64; 3],
    lowest: f64,
    radius: f64,
}

/// Height of collet and spindle above the collet's face that is reckoned with, mm.
const SPINDLE_MM: f64 = 150.0;
/// Corners that stand for the round of a ball tip.
const BALL_CORNERS: usize = 24;

impl Outline {
    pub(crate) fn of(cutter: &Cutter) -> Outline {
        let half_angle = (cutter.included_angle_deg / 2.0).max(0.0).to_radians();
        let widest = cutter.cutting_diameter_mm / 2.0;
        let mut edge = match tip_of(cutter) {
            Tip::Flat { diameter_mm } => vec![[0.0, 0.0], [diameter_mm / 2.0, 0.0]],
            Tip::Ball { radius_mm } => (0..=BALL_CORNERS)
                .map(|i| {
                    let turn = (std::f64::consts::FRAC_PI_2 - half_angle) * i as f64 / BALL_CORNERS as f64;
                    [radius_mm * turn.sin(), radius_mm * (1.0 - turn.cos())]
                })
                .collect(),
        };
        let [foot_radius, foot_height] = edge[edge.len() - 1];
        let slope = half_angle.tan();
        let (edges_end, collet) = (cutter.cutting_length_mm, cutter.stick_out_mm);
        // A cutter without a cone, flat or round at its end, is a cylinder from there on.
        let cone_height = if slope > 0.0 { (widest - foot_radius) / slope } else { 0.0 };
        let cone_end = (foot_height + cone_height).min(edges_end);
        let top_radius = foot_radius + (cone_end - foot_height) * slope;
        edge.extend([[top_radius, cone_end], [top_radius, edges_end], [0.0, edges_end]]);
        let cone = Part {
            corners: edge,
            edge: [foot_radius - foot_height * slope, slope, half_angle.cos()],
            lowest: 0.0,
            radius: top_radius,
        };
        let block = |diameter: f64, low: f64, high: f64| {
            let radius = diameter / 2.0;
            let corners = vec![[0.0, low], [radius, low], [radius, high], [0.0, high]];
            Part { corners, edge: [radius, 0.0, 1.0], lowest: low, radius }
        };
        let parts = vec![
            cone,
            block(cutter.shank_diameter_mm, edges_end, collet.max(edges_end)),
            block(cutter.collet_diameter_mm, collet, collet + SPINDLE_MM),
        ];
        Outline { parts }
    }

    /// Distance from a point (square of its distance from the cutter's axis, height above the tip) to the solid, or
    /// `limit` if it is no less.
    pub(super) fn gap(&self, rho2: f64, height: f64, limit: f64) -> f64 {
        let mut least = limit;
        for part in &self.parts {
            if part.may_come_nearer(rho2, height, least) {
                least = least.min(gap_to_convex(&part.corners, [rho2.sqrt(), height]));
            }
        }
        least
    }
}

impl Part {
    /// Distance from the cutter's axis beyond which a point at a height above the tip, or lower, cannot lie nearer than
    /// `limit`: it lies that far beyond the part's radius, off its slanting edge, or below it (then zero).
    fn reach(&self, height: f64, limit: f64) -> f64 {
        if self.lowest - height >= limit {
            return 0.0;
        }
        let [foot, slope, cos] = self.edge;
        (foot + height.max(0.0) * slope + limit / cos).min(self.radius + limit)
    }

    /// Whether a point may lie nearer than `limit`, answered without a root.
    fn may_come_nearer(&self, rho2: f64, height: f64, limit: f64) -> bool {
        let reach = self.reach(height, limit);
        rho2 < reach * reach
    }
}

/// Distance from a point to a convex outline whose corners run counter-clockwise; zero inside.
fn gap_to_convex(corners: &[[f64; 2]], p: [f64; 2]) -> f64 {
    let mut inside = true;
    let mut least2 = f64::INFINITY;
    let mut a = corners[corners.len() - 1];
    for &b in corners {
        let along = [b[0] - a[0], b[1] - a[1]];
        let to = [p[0] - a[0], p[1] - a[1]];
        inside &= along[0] * to[1] - along[1] * to[0] >= 0.0;
        let length2 = along[0] * along[0] + along[1] * along[1];
        let onto = along[0] * to[0] + along[1] * to[1];
        let share = if length2 > 0.0 { (onto / length2).clamp(0.0, 1.0) } else { 0.0 };
        let off = [to[0] - share * along[0], to[1] - share * along[1]];
        least2 = least2.min(off[0] * off[0] + off[1] * off[1]);
        a = b;
    }
    if inside { 0.0 } else { least2.sqrt() }
}

/// Moments looked at in a rapid that moves several axes at once.
const LOOKS: usize = 24;

/// The cutter during one stroke as seen from one row: what of the distance to its points is the same for all of them.
pub(crate) struct RowView<'a> {
    outline: &'a Outline,
    /// One entry where one axis moves at a time, since the cutter is then nearest at its lowest, beside the point, or
    /// turned closest to it; otherwise one for each moment looked at.
    moments: Moments,
}

/// One moment or many: nearly all strokes move one axis, and theirs need no room of their own.
enum Moments {
    One([Moment; 1]),
    Many(Vec<Moment>),
}

impl std::ops::Deref for Moments {
    type Target = [Moment];

    fn deref(&self) -> &[Moment] {
        match self {
            Moments::One(one) => one,
            Moments::Many(many) => many,
        }
    }
}

/// Stations that the cutter's axis passes, smaller first, sine and cosine of the angle between row and cutter, height
/// of the tip, and how far the cutter's axis stands beside the blank's.
struct Moment {
    stations: [f64; 2],
    sin: f64,
    cos: f64,
    tip: f64,
    beside: f64,
}

impl<'a> RowView<'a> {
    /// Looks at a stroke from the row at `angle`.
    pub(crate) fn of(stroke: &Stroke, outline: &'a Outline, angle: f64) -> RowView<'a> {
        let (from, to) = (stroke.from, stroke.to);
        let moment = |stand: Stand, stations: [f64; 2], turned: f64| {
            let (sin, cos) = turned.sin_cos();
            Moment { stations, sin, cos, tip: stand.tip_mm, beside: stand.beside_mm }
        };
        let moved = [
            to.s_mm != from.s_mm,
            to.tip_mm != from.tip_mm,
            to.theta_rad != from.theta_rad,
            to.beside_mm != from.beside_mm,
        ];
        let moments = if moved.iter().filter(|&&moved| moved).count() <= 1 && !moved[3] {
            let lowest = if from.tip_mm <= to.tip_mm { from } else { to };
            let stations = [from.s_mm.min(to.s_mm), from.s_mm.max(to.s_mm)];
            Moments::One([moment(lowest, stations, closest_turn(angle, from.theta_rad, to.theta_rad))])
        } else {
            let looks = (0..=LOOKS).map(|i| {
                let stand = from.towards(to, i as f64 / LOOKS as f64);
                let turned = closest_turn(angle, stand.theta_rad, stand.theta_rad);
                moment(stand, [stand.s_mm; 2], turned)
            });
            Moments::Many(looks.collect())
        };
        RowView { outline, moments }
    }

    /// A distance than which no wood on the row that reaches `wood_radius` from the axis comes nearer: how far the tip
    /// stands above it.
    pub(crate) fn above(&self, wood_radius: f64) -> f64 {
        let above = |moment: &Moment| moment.tip - wood_radius * moment.cos.max(0.0);
        self.moments.iter().map(above).fold(f64::INFINITY, f64::min)
    }

    /// Stations outside which no wood that reaches `wood_radius` from the axis can come nearer than `limit`.
    pub(crate) fn window(&self, limit: f64, wood_radius: f64) -> [f64; 2] {
        let lowest = self.moments.iter().map(|moment| moment.tip).fold(f64::INFINITY, f64::min);
        let highest_wood = wood_radius - lowest;
        let reach = self.outline.parts.iter().map(|part| part.reach(highest_wood, limit)).fold(0.0, f64::max);
        let low = self.moments.iter().map(|moment| moment.stations[0]).fold(f64::INFINITY, f64::min);
        let high = self.moments.iter().map(|moment| moment.stations[1]).fold(f64::NEG_INFINITY, f64::max);
        [low - reach, high + reach]
    }

    /// Distance between the cutter and a point of the wood's surface on this row, if it is no more than `limit`.
    pub(crate) fn gap(&self, s: f64, radius: f64, limit: f64) -> Option<f64> {
        let mut least = limit.next_up();
        for moment in self.moments.iter() {
            let u = s - s.clamp(moment.stations[0], moment.stations[1]);
            let across = radius * moment.sin - moment.beside;
            let rho2 = u * u + across * across;
            let height = radius * moment.cos - moment.tip;
            least = self.outline.gap(rho2, height, least);
        }
        (least <= limit).then_some(least)
    }
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

/// Least distance over all motions between the cutter with shank and collet and the chuck or tail centre, and the motion
/// that comes so near first.
///
/// Both are cylinders round the blank's axis that begin at a face, so the nearest points lie in the upright plane
/// through that axis as long as the cutter stands over it; a cutter standing beside it is reckoned as over it, which
/// can only make the answer smaller. How deep the point of the tail centre sits in the wood is not known, so the
/// centre counts with its full diameter right up to the end of the blank.
pub fn gaps_to_obstacles(motions: &[Motion], setup: &Setup) -> Vec<(Obstacle, f64, usize)> {
    let outline = Outline::of(&setup.cutter);
    let chuck = Cylinder {
        radius: setup.machine.chuck.diameter_mm / 2.0,
        face: setup.blank.chuck_face_s_mm,
        way: 1.0,
    };
    let centre = setup.machine.centre.map(|centre| Cylinder {
        radius: centre.diameter_mm / 2.0,
        face: setup.blank.from_s_mm,
        way: -1.0,
    });
    let bodies = [(Obstacle::Chuck, Some(chuck)), (Obstacle::Centre, centre)];
    let nearest = |(obstacle, body): (Obstacle, Option<Cylinder>)| {
        let body = body?;
        let mut least: Option<(f64, usize)> = None;
        for stroke in strokes(motions, setup) {
            let so_far = least.map_or(f64::INFINITY, |(gap, _)| gap);
            let gap = gap_along(&stroke, &outline, body, so_far);
            least = if gap < so_far { Some((gap, stroke.motion)) } else { least };
        }
        least.map(|(gap, motion)| (obstacle, gap, motion))
    };
    bodies.into_iter().filter_map(nearest).collect()
}

/// A cylinder about the blank's axis that fills all stations beyond `face` in the direction `way`.
#[derive(Clone, Copy)]
struct Cylinder {
    radius: f64,
    face: f64,
    way: f64,
}

/// Least distance during a stroke to a cylinder, or `limit` if it is no less.
fn gap_along(stroke: &Stroke, outline: &Outline, body: Cylinder, limit: f64) -> f64 {
    let mut least = limit;
    // Moving one convex body past another, the distance falls to one least value; with three bodies to one solid
    // there may be more, so each part is searched on its own.
    for part in &outline.parts {
        // Along the blank alone, or in height alone, it comes no nearer than at one of the stroke's ends.
        let ends = [stroke.from, stroke.to];
        let short = ends.map(|stand| body.way * (body.face - stand.s_mm) - part.radius);
        let above = ends.map(|stand| stand.tip_mm + part.lowest - body.radius);
        if least <= short[0].min(short[1]).max(above[0].min(above[1])).max(0.0) {
            continue;
        }
        let gap = |share: f64| gap_to_cylinder(part, stroke.from.towards(stroke.to, share), body);
        least = least.min(gap(0.0)).min(gap(1.0)).min(super::envelope::narrow(&gap, 0.0, 1.0, 0.5).1);
    }
    least
}

/// Distance between one part of the solid at a stand and a cylinder.
fn gap_to_cylinder(part: &Part, stand: Stand, body: Cylinder) -> f64 {
    let Cylinder { radius, face, way } = body;
    // In the upright plane the cylinder is the strip |height| <= radius beyond its face, and each part of the solid is
    // its corners mirrored on its axis. Two convex shapes are nearest at a corner of one of them, unless they overlap:
    // then a corner lies inside the other, or the part passes through the strip from below to above.
    let mut least = f64::INFINITY;
    let (mut below, mut above) = (false, false);
    for corner in &part.corners {
        let beyond = way * (stand.s_mm - face) + corner[0];
        let height = stand.tip_mm + corner[1];
        below |= height < -radius;
        above |= height > radius;
        least = least.min((-beyond).max(0.0).hypot((height.abs() - radius).max(0.0)));
    }
    if below && above && way * (stand.s_mm - face) + part.radius > 0.0 {
        return 0.0;
    }
    let edge_out = way * (face - stand.s_mm);
    for edge_height in [radius - stand.tip_mm, -radius - stand.tip_mm] {
        least = least.min(gap_to_mirrored(&part.corners, [edge_out, edge_height]));
    }
    least
}

/// Distance from a point on either side of the axis to an outline mirrored on it.
fn gap_to_mirrored(corners: &[[f64; 2]], point: [f64; 2]) -> f64 {
    gap_to_convex(corners, [point[0].abs(), point[1]])
}
