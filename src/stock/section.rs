//! The section that a cutter moving along a helix leaves on a row, kept as samples: floor and flanks apart, each smooth,
//! and between the samples read by a cubic. Lengths in mm, angles in radians.

use std::f64::consts::PI;
use std::ops::Range;

use super::envelope::{Helix, search_least};
use super::grid::Grid;

pub(crate) use seats::Seats;

mod seats;

/// How the samples of a series are spread.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Spread {
    /// At equal steps.
    Even,
    /// At the squares of equal steps: close together near the start, where a flat tip runs into the cone.
    Squared,
    /// At the sines of equal steps: close together at both ends, as the rim of a round tip wants it.
    Sine,
}

impl Spread {
    /// From a share of the way in equal steps to the share of the length.
    fn place(self, share: f64) -> f64 {
        match self {
            Spread::Even => share,
            Spread::Squared => share * share,
            Spread::Sine => 0.5 - 0.5 * (PI * share).cos(),
        }
    }

    /// The way back. Even spreads go on past the start.
    fn share(self, place: f64) -> f64 {
        match self {
            Spread::Even => place,
            Spread::Squared => place.max(0.0).sqrt(),
            Spread::Sine => {
                let place = place.clamp(0.0, 1.0);
                let nearer = place.min(1.0 - place);
                let share = arc_cosine(1.0 - 2.0 * nearer) / PI;
                if place <= 0.5 { share } else { 1.0 - share }
            }
        }
    }
}

/// Arc cosine of a number from 0 to 1, radians, to 2e-8 (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964,
/// formula 4.4.46): the library's is exact and four times as slow, and a hundred-millionth of the way between two samples
/// moves no wood.
fn arc_cosine(x: f64) -> f64 {
    const COEFFICIENTS: [f64; 8] = [
        1.570_796_305_0,
        -0.214_598_801_6,
        0.088_978_987_4,
        -0.050_174_304_6,
        0.030_891_881_0,
        -0.017_088_125_6,
        0.006_670_090_1,
        -0.001_262_491_1,
    ];
    (1.0 - x).sqrt() * COEFFICIENTS.iter().rev().fold(0.0, |sum, coefficient| sum * x + coefficient)
}

/// Values along `v`.
#[derive(Clone, Debug)]
struct Series {
    start: f64,
    length: f64,
    spread: Spread,
    radius: Vec<f64>,
    moment: Vec<f64>,
}

impl Series {
    /// Samples along `v` what `least` finds there, moment and radius, from the moment that the two samples before lead on
    /// to.
    fn search(
        [from, to]: [f64; 2],
        steps: usize,
        spread: Spread,
        least: impl Fn(f64, f64) -> (f64, f64),
    ) -> Series {
        let mut radius = Vec::with_capacity(steps + 1);
        let mut moment = Vec::with_capacity(steps + 1);
        for i in 0..=steps {
            let onward = match moment[..] {
                [.., before, last] => 2.0 * last - before,
                [last] => last,
                [] => 0.0,
            };
            let v = from + (to - from) * spread.place(i as f64 / steps as f64);
            let (phi, cut) = least(v, onward);
            radius.push(cut);
            moment.push(phi);
        }
        Series { start: from, length: to - from, spread, radius, moment }
    }

    /// The last place with less than a radius, or the end next to it.
    fn used(&self, wood_radius: f64) -> f64 {
        let last = self.radius.len() - 1;
        let outermost = self.radius.iter().rposition(|&radius| radius < wood_radius);
        let share = outermost.map_or(1, |at| at + 1).min(last) as f64 / last as f64;
        self.start + self.length * self.spread.place(share)
    }
}

/// One section for one tip height at the crossing: radius and, for each station, the moment (as an angle) at which the
/// cutter got there.
#[derive(Clone, Debug)]
pub(crate) struct Section {
    left: Series,
    right: Series,
    floor: Option<Series>,
    /// Stations beyond which it cuts nothing.
    used: [f64; 2],
    tip: f64,
}

/// How far to either side of the crossing a section is searched.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Extent {
    /// To where its flanks leave the wood; `None` for a cutter that is narrower than its groove would be there, and so
    /// leaves upright walls.
    pub(crate) reach: Option<f64>,
    /// How far the wood reaches from the axis.
    pub(crate) wood_radius: f64,
}

/// Steps a side of a cone's flank is sampled at. The flank of a cone is almost straight: the cubic between steps is
/// good to a millionth of a millimetre.
const CONE_STEPS: usize = 32;
/// The same for a ball, whose curvature jumps where it meets the cone.
const BALL_STEPS: usize = 240;
/// The same for a cone with a flat tip that climbs, where floor and flank run into each other.
const RIM_STEPS: usize = 96;
/// Share of the flat that counts as floor: a hair inside the rim, where the search cannot slip onto the cone.
const RIM_SHARE: f64 = 0.999;
/// Share of the reach at which the flanks of a sharp point begin: at the point itself both are undefined.
const NEAR_POINT: f64 = 1e-4;
/// Steps along the floor that a flat tip leaves, which is nearly a straight line.
const FLOOR_STEPS: usize = 48;
/// A floor as wide as a straight cutter bends more where it runs into its rim: twice as many steps for every such
/// width, mm.
const FLOOR_WIDTH_MM: f64 = 3.0;

impl Section {
    /// Searches the section of a helix at one depth.
    pub(crate) fn level(helix: &Helix, tip: f64, extent: Extent) -> Section {
        let Some(reach) = extent.reach.filter(|_| !helix.profile.has_ball()) else {
            let floor = (helix.profile.flat() > 0.0).then(|| level_floor(helix, tip));
            return Section::search_sides(helix, tip, extent, |_| floor);
        };
        let inner = (helix.profile.flat() / 2.0).max(reach * NEAR_POINT);
        let side = |sign: f64| {
            let least = |v: f64, onward: f64| search_least(|phi| helix.entry_bare_cone(v, phi, tip), onward);
            Series::search([sign * inner, sign * reach], CONE_STEPS, Spread::Even, least)
        };
        Section::of(side(-1.0), side(1.0), Some(level_floor(helix, tip)), tip, extent)
    }

    /// Searches the section of any helix. Where a flat tip passes into the cone, and where a narrow cutter leaves a
    /// wall, the samples stand close together.
    pub(crate) fn search(helix: &Helix, tip: f64, extent: Extent) -> Section {
        Section::search_sides(helix, tip, extent, |least| {
            let rim = helix.profile.flat() * RIM_SHARE;
            let steps = FLOOR_STEPS * (1 + (2.0 * rim / FLOOR_WIDTH_MM) as usize);
            (rim > 0.0).then(|| Series::search([-rim, rim], steps, Spread::Sine, least))
        })
    }

    /// Searches the sides; `floor` makes what lies between them, of what finds moment and radius at a place.
    fn search_sides(
        helix: &Helix,
        tip: f64,
        extent: Extent,
        floor: impl FnOnce(&dyn Fn(f64, f64) -> (f64, f64)) -> Option<Series>,
    ) -> Section {
        let ball = helix.profile.has_ball();
        let rim = helix.profile.flat() * RIM_SHARE;
        // A ray that misses the cutter would leave samples that no cubic can be laid through.
        let widening = extent.reach.map(|_| Helix { profile: helix.profile.without_rim(), ..*helix });
        let cutting = widening.as_ref().unwrap_or(helix);
        let cut = |v: f64, phi: f64| cutting.entry(v, phi, tip);
        // Off a narrow cutter a ray may find nothing; then the search begins where the cutter stands closest.
        let guess = |v: f64, onward: f64| {
            let met = extent.reach.is_some() || cut(v, onward).is_finite();
            if met { onward } else { helix.closest(v, tip).0 }
        };
        let lowest = (helix.profile.flat() > 0.0).then(|| helix.lowest(tip));
        let least = |v: f64, onward: f64| {
            let lowest = lowest.filter(|_| !ball);
            if let Some(found) = lowest.and_then(|lowest| least_of_end(cutting, v, onward, lowest, tip)) {
                return found;
            }
            search_least(|phi| cut(v, phi), guess(v, onward))
        };
        let side = |sign: f64| {
            let end = extent.reach.unwrap_or_else(|| helix.wall(sign, tip));
            let (steps, spread) = match (ball, extent.reach) {
                (true, Some(_)) => (BALL_STEPS, Spread::Even),
                (true, None) => (BALL_STEPS, Spread::Sine),
                (false, Some(_)) => (RIM_STEPS, Spread::Squared),
                (false, None) => (RIM_STEPS, Spread::Sine),
            };
            Series::search([sign * rim, sign * end], steps, spread, least)
        };
        Section::of(side(-1.0), side(1.0), floor(&least), tip, extent)
    }

    fn of(left: Series, right: Series, floor: Option<Series>, tip: f64, extent: Extent) -> Section {
        let used = [left.used(extent.wood_radius), right.used(extent.wood_radius)];
        Section { left, right, floor, used, tip }
    }

    /// Stations of its two ends, less that of the crossing.
    pub(crate) fn ends(&self) -> [f64; 2] {
        [self.left.start + self.left.length, self.right.start + self.right.length]
    }

    /// The flank on one side, carried on a little past the middle, with no floor under it. A sharp point's begins a hair
    /// beside the middle and is carried on to it.
    pub(crate) fn flank(&self, v: f64, left: bool) -> f64 {
        let mixed = Mixed::only(self);
        let pointed = self.floor.as_ref().is_none_or(|floor| floor.length == 0.0);
        let inner = |start: f64| if pointed { 0.0 } else { start };
        if left {
            mixed.left.radius(v.min(inner(self.left.start)))
        } else {
            mixed.right.radius(v.max(inner(self.right.start)))
        }
    }

    /// Stations of the ends of its floor, less that of the crossing.
    pub(crate) fn floor_ends(&self) -> Option<[f64; 2]> {
        self.floor.as_ref().map(|floor| [floor.start, floor.start + floor.length])
    }

    /// The level floor that a flat tip leaves; nothing limits a ball.
    pub(crate) fn level_floor(&self) -> f64 {
        if self.floor.is_some() { self.tip } else { 0.0 }
    }

    /// Greatest moment either way over the whole section.
    pub(crate) fn moment_spread(&self) -> f64 {
        let all = [Some(&self.left), Some(&self.right), self.floor.as_ref()];
        all.into_iter().flatten().flat_map(|series| &series.moment).fold(0.0, |most, m| most.max(m.abs()))
    }
}

/// Moment and radius where the end of a flat cutter cuts a ray, as far as that tells: `lowest` is when its plane stands
/// lowest on the row. If the end is over the ray then, it cuts as deep as that. If a straight cutter's is not, it cuts with
/// its rim, at the nearest moment at which it is: the plane falls steadily up to its lowest. `guess` is near that moment.
fn least_of_end(helix: &Helix, v: f64, guess: f64, lowest: (f64, f64), tip: f64) -> Option<(f64, f64)> {
    if helix.off_end(v, lowest.0, tip) <= 0.0 {
        return Some(lowest);
    }
    if !helix.profile.is_straight() {
        return None;
    }
    let nearest = helix.nearest(v, tip);
    let over = if helix.off_end(v, nearest, tip) <= 0.0 {
        nearest
    } else {
        Some(helix.closest(v, tip)).filter(|&(_, off)| off <= 0.0)?.0
    };
    let phi = helix.rim_moment(v, [over, lowest.0], guess, tip);
    let radius = helix.entry(v, phi, tip);
    radius.is_finite().then_some((phi, radius))
}

/// The floor of a flat tip at one depth.
fn level_floor(helix: &Helix, tip: f64) -> Series {
    let flat = helix.profile.flat();
    let (radius, moment) = (vec![tip; 4], vec![0.0; 4]);
    Series { start: -flat, length: 2.0 * flat, spread: Spread::Even, radius, moment }
}

/// The section for any tip height, mixed of four neighbours by a cubic.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mixed<'a> {
    left: Piece<'a>,
    right: Piece<'a>,
    floor: Option<Piece<'a>>,
    /// Stations beyond which it cuts nothing.
    used: [f64; 2],
    /// The first of the sections it is mixed of, and how much each counts.
    first: usize,
    weights: [f64; MIXED],
}

/// Sections that are mixed, and how much each counts.
#[derive(Clone, Copy, Debug)]
struct Four<'a> {
    sections: [&'a Section; MIXED],
    weights: [f64; MIXED],
}

/// Weights of one section that is not mixed.
const ONE_ALONE: [f64; MIXED] = [1.0, 0.0, 0.0, 0.0];
/// Neighbours of which a section is mixed; a slope has at least so many.
pub(crate) const MIXED: usize = 4;

/// Some columns of a row, the piece of a section that cuts them, and the radius below which it does not.
#[derive(Clone)]
pub(crate) struct Part<'a> {
    pub(crate) columns: Range<usize>,
    pub(crate) piece: Piece<'a>,
    pub(crate) sill: f64,
}

impl<'a> Mixed<'a> {
    /// One section as it is.
    pub(crate) fn only(section: &'a Section) -> Mixed<'a> {
        Mixed::of(Four { sections: [section; MIXED], weights: ONE_ALONE }, 0, section.used)
    }

    /// The section for a tip height, of sections at equal steps of it, lowest first. A little past their ends the cubic
    /// still holds.
    pub(crate) fn at(all: &'a [Section], tip: f64) -> Mixed<'a> {
        if all.len() < MIXED {
            return Mixed::only(&all[0]);
        }
        let last = all.len() - 1;
        let at = (tip - all[0].tip) / (all[last].tip - all[0].tip) * last as f64;
        let first = (at.max(1.0) as usize - 1).min(last + 1 - MIXED);
        let sections = [&all[first], &all[first + 1], &all[first + 2], &all[first + 3]];
        // The higher the tip, the narrower the cut: the section below bounds it, and below the lowest nothing does.
        let used =
            if at < 0.0 { [f64::NEG_INFINITY, f64::INFINITY] } else { all[(at as usize).min(last)].used };
        Mixed::of(Four { sections, weights: cubic(at - first as f64) }, first, used)
    }

    fn of(four: Four<'a>, first: usize, used: [f64; 2]) -> Mixed<'a> {
        let (left, right) = (four.piece(|section| &section.left), four.piece(|section| &section.right));
        let floor = four.sections[0].floor.as_ref();
        let floor = floor.map(|none| four.piece(|section| section.floor.as_ref().unwrap_or(none)));
        let used = [used[0].max(left.end()), used[1].min(right.end())];
        Mixed { left, right, floor, used, first, weights: four.weights }
    }

    /// Stations of its two ends, less that of the crossing.
    pub(crate) fn ends(&self) -> [f64; 2] {
        self.used
    }

    /// Least radius that the flanks cut at `v`.
    pub(crate) fn radius(&self, v: f64) -> f64 {
        if v < 0.0 { self.left.radius(v) } else { self.right.radius(v) }
    }

    /// What it cuts of a row that it crosses at a station: left flank, floor, right flank.
    pub(crate) fn parts(&self, grid: &Grid, station: f64) -> [Part<'a>; 3] {
        let all = grid.columns(station + self.used[0], station + self.used[1]);
        let middle = grid.columns(station, f64::INFINITY).start;
        let floor = self
            .floor
            .map_or(middle..middle, |floor| grid.columns(station + floor.start, station + floor.end()));
        let floor = floor.start.clamp(all.start, all.end)..floor.end.clamp(all.start, all.end);
        let sill = |end: usize| self.floor.map_or(0.0, |floor| floor.at_end(end).max(0.0));
        let (first, last) = (all.start..floor.start, floor.end..all.end);
        [
            Part { columns: first, piece: self.left, sill: sill(0) },
            Part { columns: floor, piece: self.floor.unwrap_or(self.left), sill: 0.0 },
            Part { columns: last, piece: self.right, sill: sill(1) },
        ]
    }
}

impl<'a> Four<'a> {
    fn piece(&self, of: impl Fn(&'a Section) -> &'a Series) -> Piece<'a> {
        Piece::mixed_of(self.sections.map(of), self.weights)
    }
}

impl<'a> Piece<'a> {
    fn mixed_of(series: [&'a Series; MIXED], weights: [f64; MIXED]) -> Piece<'a> {
        let mix = |of: fn(&Series) -> f64| -> f64 {
            series.iter().zip(weights).map(|(series, weight)| weight * of(series)).sum()
        };
        let (start, length) = (mix(|series| series.start), mix(|series| series.length));
        // The floor of a sharp point has no length: a station exactly on it reads its start.
        let per_length = if length == 0.0 { 0.0 } else { 1.0 / length };
        Piece { series, weights, start, length, per_length }
    }
}

/// Series mixed that were sampled alike, read between their samples by a cubic through the four nearest.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece<'a> {
    series: [&'a Series; MIXED],
    weights: [f64; MIXED],
    start: f64,
    length: f64,
    per_length: f64,
}

impl Piece<'_> {
    fn end(&self) -> f64 {
        self.start + self.length
    }

    /// Radius at its start (0) or its end (1).
    fn at_end(&self, end: usize) -> f64 {
        let of = |series: &Series| series.radius[end * (series.radius.len() - 1)];
        self.series.iter().zip(self.weights).map(|(series, weight)| weight * of(series)).sum()
    }

    /// Least radius cut at `v`.
    pub(crate) fn radius(&self, v: f64) -> f64 {
        let (first, along) = self.along(v);
        let of = |series: &Series| {
            let four = &series.radius[first..first + 4];
            along[0] * four[0] + along[1] * four[1] + along[2] * four[2] + along[3] * four[3]
        };
        self.series.iter().zip(self.weights).map(|(series, weight)| weight * of(series)).sum()
    }

    /// All its radii, mixed once for who reads many of them.
    pub(crate) fn radii(&self) -> Vec<f64> {
        self.mixed(|series| &series.radius)
    }

    /// All its moments.
    pub(crate) fn moments(&self) -> Vec<f64> {
        self.mixed(|series| &series.moment)
    }

    fn mixed(&self, of: fn(&Series) -> &[f64]) -> Vec<f64> {
        let [a, b, c, d] = self.series.map(of);
        let w = self.weights;
        let mixed = a.iter().zip(b).zip(c).zip(d);
        mixed.map(|(((a, b), c), d)| w[0] * a + w[1] * b + w[2] * c + w[3] * d).collect()
    }

    /// What `radius` finds, read from the mixed radii.
    pub(crate) fn read(&self, radii: &[f64], v: f64) -> f64 {
        self.read_each([radii], v)[0]
    }

    /// The same of several lists of mixed values at once.
    pub(crate) fn read_each<const N: usize>(&self, lists: [&[f64]; N], v: f64) -> [f64; N] {
        let (first, along) = self.along(v);
        lists.map(|list| {
            let four = &list[first..first + 4];
            along[0] * four[0] + along[1] * four[1] + along[2] * four[2] + along[3] * four[3]
        })
    }

    /// The first of the four samples nearest to `v`, and their weights.
    fn along(&self, v: f64) -> (usize, [f64; 4]) {
        let count = self.series[0].radius.len();
        let last = (count - 1) as f64;
        let share = self.series[0].spread.share((v - self.start) * self.per_length);
        // A little past the ends the cubic still holds; the samples reach one grid step over the middle.
        let at = (share * last).clamp(-1.0, last);
        let first = (at as u32 as usize).saturating_sub(1).min(count - 4);
        (first, cubic(at - first as f64))
    }
}

/// A product where a division by six would have to be waited for.
const SIXTH: f64 = 1.0 / 6.0;

/// Weights of four values at 0, 1, 2, 3 in the cubic through them.
fn cubic(t: f64) -> [f64; 4] {
    let (t1, t2, t3) = (t - 1.0, t - 2.0, t - 3.0);
    let (a, b) = (t * t3, t1 * t2);
    [-b * t3 * SIXTH, a * t2 / 2.0, -a * t1 / 2.0, b * t * SIXTH]
}

#[cfg(test)]
mod tests {
    use super::{Spread, arc_cosine};

    /// The bound that formula 4.4.46 of Abramowitz and Stegun is published with, against the library's arc cosine.
    #[test]
    fn the_arc_cosine_keeps_its_bound() {
        for i in 0..=10_000 {
            let x = f64::from(i) / 10_000.0;
            assert!((arc_cosine(x) - x.acos()).abs() <= 2.2e-8, "at {x}");
        }
    }

    #[test]
    fn every_spread_has_a_way_back() {
        for spread in [Spread::Even, Spread::Squared, Spread::Sine] {
            for i in 0..=1000 {
                let share = f64::from(i) / 1000.0;
                assert!((spread.share(spread.place(share)) - share).abs() < 1e-8, "{spread:?} at {share}");
            }
        }
    }
}
