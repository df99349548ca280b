//! One row of the nut, all heights at one angle, cut by one leg. Lengths in mm, angles in radians.

use std::f64::consts::{PI, TAU};
use std::sync::Arc;

use super::climb::{Look, highest};
use super::grid::NutGrid;
use super::helix::Helix;
use super::legs::Leg;
use super::tool::Solid;

/// A ray of the row that is worked on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Ray {
    /// Its angle.
    pub(crate) angle: f64,
    /// Its direction: cosine and sine of the angle.
    pub(crate) cos: f64,
    pub(crate) sin: f64,
    /// How far it runs until it leaves the block.
    pub(crate) limit: f64,
}

impl Ray {
    pub(crate) fn at(angle: f64, half_block: [f64; 2]) -> Ray {
        let (sin, cos) = angle.sin_cos();
        let side = |half: f64, part: f64| if part == 0.0 { f64::INFINITY } else { half / part.abs() };
        Ray { angle, cos, sin, limit: side(half_block[0], cos).min(side(half_block[1], sin)) }
    }

    /// What a solid on a leg does to the ray at a height and moment.
    #[inline]
    fn look(&self, leg: &Leg, solid: &Solid, z: f64, share: f64) -> Look {
        let place = leg.place(share);
        let along = |v: [f64; 3]| v[0] * self.cos + v[1] * self.sin;
        let aside = |v: [f64; 3]| v[0] * self.sin - v[1] * self.cos;
        let (wide, grows) = solid.at((z - place.at[2]).clamp(solid.low_mm, solid.high_mm));
        let widens = -grows * place.going[2];
        let (beside, drifts) = (aside(place.at), aside(place.going));
        let square = wide * wide - beside * beside;
        if square < 0.0 {
            return Look { reach: 0.0, slope: widens - drifts * beside.signum(), meets: false };
        }
        let root = square.sqrt();
        let turned = wide * widens - beside * drifts;
        let slope = along(place.going) + if root > 0.0 { turned / root } else { turned.signum() * f64::MAX };
        Look { reach: along(place.at) + root, slope, meets: true }
    }

    /// How near the axis the cutter's section on the ray begins at a moment.
    fn begins(&self, leg: &Leg, solid: &Solid, z: f64, share: f64) -> f64 {
        let at = leg.place(share).at;
        let look = self.look(leg, solid, z, share);
        if look.meets { 2.0 * (at[0] * self.cos + at[1] * self.sin) - look.reach } else { f64::INFINITY }
    }

    /// The farthest that a solid reaches on the ray at a height while a part of a leg runs, and when. Straight parts and
    /// short arcs only.
    pub(crate) fn reach(&self, leg: &Leg, solid: &Solid, z: f64, part: [f64; 2]) -> Option<(f64, f64)> {
        let [from, to] = within(leg, solid, z, part)?;
        highest(from, to, |share| self.look(leg, solid, z, share))
    }

    /// How far out, and how near to the ray, the cutter's axis comes on a part of a leg, or a little more of both.
    fn near(&self, leg: &Leg, part: [f64; 2]) -> Near {
        let (a, b) = (leg.place(part[0]).at, leg.place(part[1]).at);
        let along = |v: [f64; 3]| v[0] * self.cos + v[1] * self.sin;
        let aside = |v: [f64; 3]| v[0] * self.sin - v[1] * self.cos;
        // An arc leaves its chord by this much.
        let bulge = leg.turn.map_or(0.0, |turn| {
            turn.radii[0].max(turn.radii[1]) * (1.0 - (turn.sweep * (part[1] - part[0]) / 2.0).cos())
        });
        let (x, y) = (aside(a), aside(b));
        let beside = if x * y <= 0.0 { 0.0 } else { (x.abs().min(y.abs()) - bulge).max(0.0) };
        Near { out: along(a).max(along(b)) + bulge, beside, heights: [a[2].min(b[2]), a[2].max(b[2])] }
    }
}

/// Bounds on a part of a leg, as a ray sees it.
#[derive(Clone, Copy, Debug)]
struct Near {
    out: f64,
    beside: f64,
    heights: [f64; 2],
}

impl Near {
    /// A cutter of this radius reaches no farther; `None` if it misses the ray.
    #[inline]
    fn bound(&self, radius: f64) -> Option<f64> {
        let square = radius * radius - self.beside * self.beside;
        (square >= 0.0).then(|| self.out + square.sqrt())
    }
}

/// The part of a leg's part during which a height lies between a solid's ends.
fn within(leg: &Leg, solid: &Solid, z: f64, [from, to]: [f64; 2]) -> Option<[f64; 2]> {
    let way = leg.to[2] - leg.from[2];
    let (first, last) = (z - leg.from[2] - solid.high_mm, z - leg.from[2] - solid.low_mm);
    if way == 0.0 {
        // A height on the very end of a solid is cut by it, as binary rounding may not hide.
        return (first <= SAME_HEIGHT_MM && -SAME_HEIGHT_MM <= last).then_some([from, to]);
    }
    let (a, b) = (first / way, last / way);
    let (low, high) = (a.min(b).max(from), a.max(b).min(to));
    (low <= high).then_some([low, high])
}

/// Heights this near are one: binary rounding.
const SAME_HEIGHT_MM: f64 = 1e-9;
/// A helix whose centre lies this near to the axis is one about the axis: the best moment is then off by so little that
/// the reach, being flat there, shows nothing of it.
const ABOUT_AXIS_MM: f64 = 0.01;
/// Arcs that are searched are searched in parts of this angle, so that the reach rises and falls once in each.
const PART_RAD: f64 = PI / 12.0;
/// How far beyond the wood's surface a cut must begin to leave wood between, mm: above what the grid rounds.
const BURIED_MM: f64 = 0.01;
/// Steps by which a leg is looked along for the moment at which a buried cut broke through.
const BURIED_STEPS: usize = 64;

/// How a solid is carried through a leg.
#[derive(Clone, Debug)]
pub(crate) enum Way {
    /// A helix about the axis: its best moments are tabulated. Climb for a radian.
    Helix(Arc<Helix>, f64),
    /// Ray by ray, in parts.
    Search(usize),
}

/// Whether a leg is a helix about the axis of the nut: its radius and climb for a radian.
pub(crate) fn helical(leg: &Leg) -> Option<[f64; 2]> {
    let turn = leg.turn?;
    let about = turn.centre[0].hypot(turn.centre[1]) <= ABOUT_AXIS_MM
        && (turn.radii[1] - turn.radii[0]).abs() <= ABOUT_AXIS_MM;
    about.then(|| [f64::midpoint(turn.radii[0], turn.radii[1]), (leg.to[2] - leg.from[2]) / turn.sweep])
}

/// Parts in which a leg is searched.
pub(crate) fn parts(leg: &Leg) -> usize {
    leg.turn.map_or(1, |turn| (turn.sweep.abs() / PART_RAD).ceil().max(1.0) as usize)
}

/// What one leg did to one row.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Bite {
    /// Sum over the columns of the radius squared after less before, mm².
    pub(crate) squares: f64,
    /// Deepest bite, mm.
    pub(crate) deepest: f64,
    /// Its column.
    pub(crate) column: usize,
    /// Most wood left between the hole and the cut, mm, and its column.
    pub(crate) buried: Option<(f64, usize)>,
    /// Column at which the side of the block was broken through.
    pub(crate) through: Option<usize>,
}

/// Cuts a row with one solid on one leg.
pub(crate) fn cut(
    row: &mut [f64],
    (leg, solid, way): (&Leg, &Solid, &Way),
    grid: &NutGrid,
    ray: &Ray,
    bite: &mut Bite,
) {
    match way {
        Way::Helix(helix, climb) => cut_helix(row, (leg, solid, helix, *climb), grid, ray, bite),
        Way::Search(parts) => {
            for part in 0..*parts {
                let part = [part as f64 / *parts as f64, (part + 1) as f64 / *parts as f64];
                cut_part(row, (leg, solid), part, grid, ray, bite);
            }
        }
    }
}

fn cut_part(
    row: &mut [f64],
    (leg, solid): (&Leg, &Solid),
    part: [f64; 2],
    grid: &NutGrid,
    ray: &Ray,
    bite: &mut Bite,
) {
    let near = ray.near(leg, part);
    let [low, high] = near.heights;
    let Some(bound) = near.bound(solid.radius_mm) else { return };
    for column in grid.columns(low + solid.low_mm, high + solid.high_mm) {
        if bound <= row[column] {
            continue;
        }
        let z = grid.z_mm(column);
        // As wide as the cutter is at this height while the part runs, it may not reach that far.
        if near.bound(solid.widest(z - high, z - low)).is_none_or(|bound| bound <= row[column]) {
            continue;
        }
        if let Some((reach, share)) = ray.reach(leg, solid, z, part) {
            take(row, column, (reach, share), (leg, solid), z, ray, bite);
        }
    }
}

fn cut_helix(
    row: &mut [f64],
    (leg, solid, helix, climb): (&Leg, &Solid, &Helix, f64),
    grid: &NutGrid,
    ray: &Ray,
    bite: &mut Bite,
) {
    let Some(turn) = leg.turn else { return };
    let radius = turn.radii[0].max(turn.radii[1]);
    let [first, last] = [turn.begin.min(turn.begin + turn.sweep), turn.begin.max(turn.begin + turn.sweep)];
    // Copies of the ray's angle that the cutter passes, or comes near enough to touch beside its ends.
    let copy = ((first - PI - ray.angle) / TAU).ceil() as i64;
    let past = ((last + PI - ray.angle) / TAU).floor() as i64;
    for copy in copy..=past {
        let angle = ray.angle + TAU * copy as f64;
        // Where the cutter's end is, or would be, as it passes the ray.
        let passing = leg.from[2] + climb * (angle - turn.begin);
        let clamped = angle.clamp(first, last);
        let off = angle - clamped;
        let square = solid.radius_mm.powi(2) - (radius * off.sin()).powi(2);
        if off.abs() > PI / 2.0 || square < 0.0 {
            continue;
        }
        let bound = radius * off.cos() + square.sqrt() + ABOUT_AXIS_MM;
        for column in grid.columns(passing + helix.low, passing + helix.high) {
            if bound <= row[column] {
                continue;
            }
            let z = grid.z_mm(column);
            let moment = angle - helix.ahead(z - passing);
            let share = (moment.clamp(first, last) - turn.begin) / turn.sweep;
            let end = leg.from[2] + (leg.to[2] - leg.from[2]) * share;
            let height = z - end;
            if height < solid.low_mm - SAME_HEIGHT_MM || solid.high_mm + SAME_HEIGHT_MM < height {
                continue;
            }
            let look = ray.look(leg, solid, z, share);
            if look.meets {
                take(row, column, (look.reach, share), (leg, solid), z, ray, bite);
            }
        }
    }
}

/// Takes a cut into the row.
#[inline]
fn take(
    row: &mut [f64],
    column: usize,
    (reach, share): (f64, f64),
    (leg, solid): (&Leg, &Solid),
    z: f64,
    ray: &Ray,
    bite: &mut Bite,
) {
    let before = row[column];
    let after = if reach >= ray.limit { ray.limit } else { reach };
    if after <= before {
        return;
    }
    if reach >= ray.limit {
        bite.through = Some(column);
    }
    let begins = ray.begins(leg, solid, z, share);
    if begins > before + BURIED_MM {
        // Some other moment of the leg may have opened the way: the cutter moves in one piece.
        let opened = (0..=BURIED_STEPS)
            .map(|step| step as f64 / BURIED_STEPS as f64)
            .filter_map(|at| {
                let height = z - leg.place(at).at[2];
                (solid.low_mm..=solid.high_mm).contains(&height).then(|| ray.begins(leg, solid, z, at))
            })
            .fold(begins, f64::min);
        let left = opened - before;
        if left > BURIED_MM && bite.buried.is_none_or(|(most, _)| left > most) {
            bite.buried = Some((left, column));
        }
    }
    let depth = after - before;
    bite.squares += depth * (after + before);
    if depth > bite.deepest {
        bite.deepest = depth;
        bite.column = column;
    }
    row[column] = after;
}
