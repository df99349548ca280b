//! The section that a cutter moving along a helix leaves on a row, kept as samples: floor and flanks apart, each smooth,
//! and between the samples read by a cubic. Lengths in mm, angles in radians.

use std::f64::consts::PI;
use std::ops::Range;

use super::envelope::{Helix, search_least};
use super::grid::Grid;

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
            Spread::Sine => (1.0 - 2.0 * place).clamp(-1.0, 1.0).acos() / PI,
        }
    }
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
    /// Minimises `cut` over the moment along `v`, each search starting from the moment that `guess` makes of `v` and the
    /// moment before.
    fn search(
        [from, to]: [f64; 2],
        steps: usize,
        spread: Spread,
        cut: impl Fn(f64, f64) -> f64,
        guess: impl Fn(f64, f64) -> f64,
    ) -> Series {
        let mut radius = Vec::with_capacity(steps + 1);
        let mut moment = Vec::with_capacity(steps + 1);
        let mut before = 0.0;
        for i in 0..=steps {
            let v = from + (to - from) * spread.place(i as f64 / steps as f64);
            let (phi, least) = search_least(|phi| cut(v, phi), guess(v, before));
            before = phi;
            radius.push(least);
            moment.push(phi);
        }
        Series { start: from, length: to - from, spread, radius, moment }
    }

    /// The last place with less than a radius, or the end next to it.
    fn used(&self, wood_radius: f64) -> f64 {
        let last = self.radius.len() - 1;
        let outermost = self.radius.iter().rposition(|&radius| radius < wood_radius);
        let share = outermost.map_or(0.0, |at| (at + 1).min(last) as f64 / last as f64);
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
            let mut section = Section::search(helix, tip, extent);
            section.floor = section.floor.map(|_| level_floor(helix, tip));
            return section;
        };
        let inner = (helix.profile.flat() / 2.0).max(reach * NEAR_POINT);
        let side = |sign: f64| {
            let cut = |v: f64, phi: f64| helix.entry_bare_cone(v, phi, tip);
            Series::search([sign * inner, sign * reach], CONE_STEPS, Spread::Even, cut, |_, before| before)
        };
        Section::of(side(-1.0), side(1.0), Some(level_floor(helix, tip)), tip, extent)
    }

    /// Searches the section of any helix. Where a flat tip passes into the cone, and where a narrow cutter leaves a
    /// wall, the samples stand close together.
    pub(crate) fn search(helix: &Helix, tip: f64, extent: Extent) -> Section {
        let ball = helix.profile.has_ball();
        let rim = helix.profile.flat() * RIM_SHARE;
        let cut = |v: f64, phi: f64| helix.entry(v, phi, tip);
        // Off a narrow cutter a ray finds nothing, so the search begins where the cutter stands closest.
        let guess = |v: f64, before: f64| match extent.reach {
            Some(_) => before,
            None => helix.closest(v, tip).0,
        };
        let side = |sign: f64| {
            let end = extent.reach.unwrap_or_else(|| helix.wall(sign, tip));
            let (steps, spread) = match (ball, extent.reach) {
                (true, Some(_)) => (BALL_STEPS, Spread::Even),
                (true, None) => (BALL_STEPS, Spread::Sine),
                (false, Some(_)) => (RIM_STEPS, Spread::Squared),
                (false, None) => (RIM_STEPS, Spread::Sine),
            };
            Series::search([sign * rim, sign * end], steps, spread, cut, guess)
        };
        let floor_steps = FLOOR_STEPS * (1 + (2.0 * rim / FLOOR_WIDTH_MM) as usize);
        let floor = (rim > 0.0).then(|| Series::search([-rim, rim], floor_steps, Spread::Sine, cut, guess));
        Section::of(side(-1.0), side(1.0), floor, tip, extent)
    }

    fn of(left: Series, right: Series, floor: Option<Series>, tip: f64, extent: Extent) -> Section {
        let used = [left.used(extent.wood_radius), right.used(extent.wood_radius)];
        Section { left, right, floor, used, tip }
    }

    /// Stations of its two ends, less that of the crossing.
    pub(crate) fn ends(&self) -> [f64; 2] {
        [self.left.start + self.left.length, self.right.start + self.right.length]
    }

    /// Tip height at the crossing.
    pub(crate) fn tip(&self) -> f64 {
        self.tip
    }

    /// The flank on one side, carried on a little past the middle, with no floor under it.
    pub(crate) fn flank(&self, v: f64, left: bool) -> f64 {
        let mixed = Mixed::only(self);
        if left {
            mixed.left.radius(v.min(self.left.start))
        } else {
            mixed.right.radius(v.max(self.right.start))
        }
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

/// The floor of a flat tip at one depth.
fn level_floor(helix: &Helix, tip: f64) -> Series {
    let flat = helix.profile.flat();
    let (radius, moment) = (vec![tip; 4], vec![0.0; 4]);
    Series { start: -flat, length: 2.0 * flat, spread: Spread::Even, radius, moment }
}

/// The section for any tip height, mixed of two; outside them mixing goes on in a straight line.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mixed<'a> {
    left: Piece<'a>,
    right: Piece<'a>,
    floor: Option<Piece<'a>>,
    /// Stations beyond which it cuts nothing.
    used: [f64; 2],
}

/// Some columns of a row, the piece of a section that cuts them, and the radius below which it does not.
pub(crate) struct Part<'a> {
    pub(crate) columns: Range<usize>,
    pub(crate) piece: Piece<'a>,
    pub(crate) sill: f64,
}

impl<'a> Mixed<'a> {
    /// One section as it is.
    pub(crate) fn only(section: &'a Section) -> Mixed<'a> {
        Mixed::of(section, section, 0.0)
    }

    /// A share of the way from a section to another.
    pub(crate) fn of(below: &'a Section, above: &'a Section, share: f64) -> Mixed<'a> {
        let (left, right) =
            (Piece::of(&below.left, &above.left, share), Piece::of(&below.right, &above.right, share));
        let floor = below.floor.as_ref().zip(above.floor.as_ref());
        let mut used = [left.end(), right.end()];
        // Between the two, no place is cut that neither of them cuts.
        if (0.0..=1.0).contains(&share) {
            used[0] = used[0].max(below.used[0].min(above.used[0]));
            used[1] = used[1].min(below.used[1].max(above.used[1]));
        }
        Mixed { left, right, floor: floor.map(|(below, above)| Piece::of(below, above, share)), used }
    }

    /// What it cuts of a row that it crosses at a station: left flank, floor, right flank.
    pub(crate) fn parts(&self, grid: &Grid, station: f64) -> [Part<'a>; 3] {
        let all = grid.columns(station + self.used[0], station + self.used[1]);
        let floor = match self.floor {
            Some(floor) => grid.columns(station + floor.start, station + floor.end()),
            None => {
                let middle = grid.columns(station, f64::INFINITY).start;
                middle..middle
            }
        };
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

/// A series mixed of two that were sampled alike, read between its samples by a cubic through the four nearest.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece<'a> {
    below: &'a Series,
    above: &'a Series,
    share: f64,
    start: f64,
    length: f64,
    per_length: f64,
}

impl<'a> Piece<'a> {
    fn of(below: &'a Series, above: &'a Series, share: f64) -> Piece<'a> {
        let start = below.start + (above.start - below.start) * share;
        let length = below.length + (above.length - below.length) * share;
        Piece { below, above, share, start, length, per_length: 1.0 / length }
    }

    fn end(&self) -> f64 {
        self.start + self.length
    }

    /// Radius at its start (0) or its end (1).
    fn at_end(&self, end: usize) -> f64 {
        let of = |series: &Series| series.radius[end * (series.radius.len() - 1)];
        of(self.below) + (of(self.above) - of(self.below)) * self.share
    }

    /// Least radius cut at `v`.
    pub(crate) fn radius(&self, v: f64) -> f64 {
        self.weighed(v, |series| &series.radius)
    }

    /// The moment at which it is cut.
    pub(crate) fn moment(&self, v: f64) -> f64 {
        self.weighed(v, |series| &series.moment)
    }

    fn weighed(&self, v: f64, of: impl Fn(&Series) -> &[f64]) -> f64 {
        let (below, above) = (of(self.below), of(self.above));
        let last = (below.len() - 1) as f64;
        let share = self.below.spread.share((v - self.start) * self.per_length);
        // A little past the ends the cubic still holds; the samples reach one grid step over the middle.
        let at = (share * last).clamp(-1.0, last);
        let first = (at as usize).saturating_sub(1).min(below.len() - 4);
        let t = at - first as f64;
        let (t1, t2, t3) = (t - 1.0, t - 2.0, t - 3.0);
        let (a, b) = (t * t3, t1 * t2);
        let weights = [-b * t3 / 6.0, a * t2 / 2.0, -a * t1 / 2.0, b * t / 6.0];
        let (below, above) = (&below[first..first + 4], &above[first..first + 4]);
        let mut sum = 0.0;
        for i in 0..4 {
            sum += weights[i] * (below[i] + (above[i] - below[i]) * self.share);
        }
        sum
    }
}
