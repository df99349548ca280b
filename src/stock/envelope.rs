//! What a cutter moving along a helix leaves on one row of the blank: for every station the least radius that any
//! moment of the move cuts down to. Found by searching over those moments with rays; no closed form of a groove is
//! used here, since that is what the proof is there to check. Lengths in mm, angles in radians.

use std::f64::consts::PI;

use super::cutter::{Meeting, Profile};

/// A move along a helix, as seen from a row: station and tip height change in step with the angle.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Helix {
    /// The cutter.
    pub(crate) profile: Profile,
    /// Station per radian.
    pub(crate) advance: f64,
    /// Tip height per radian.
    pub(crate) climb: f64,
    /// How far the cutter's axis stands beside the blank's.
    pub(crate) beside: f64,
    /// Angle from the upright to the middle of the cutter's tip, seen from the blank's axis: moments are counted from
    /// when that direction passes the row, so that a cutter beside the axis cuts about moment zero too.
    pub(crate) lean: f64,
}

impl Helix {
    /// The cutter as it meets a ray when the blank under it has turned `phi` short of the ray. `v` is the station of
    /// the ray less the station at which the cutter crosses the row, `tip` the tip height at that crossing.
    fn meeting(&self, v: f64, phi: f64, tip: f64) -> Meeting {
        let (sin, cos) = (phi + self.lean).sin_cos();
        Meeting { u: v + self.advance * phi, sin, cos, tip: tip - self.climb * phi, beside: self.beside }
    }

    /// Radius at which the ray enters the cutter at that moment.
    pub(crate) fn entry(&self, v: f64, phi: f64, tip: f64) -> f64 {
        self.profile.entry(self.meeting(v, phi, tip))
    }

    fn entry_bare_cone(&self, v: f64, phi: f64, tip: f64) -> f64 {
        self.profile.entry_bare_cone(self.meeting(v, phi, tip))
    }
}

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

/// Values along `v`, read between them by a cubic through the four nearest.
#[derive(Clone, Debug)]
struct Series {
    start: f64,
    length: f64,
    spread: Spread,
    radius: Vec<f64>,
    moment: Vec<f64>,
}

impl Series {
    fn weights(&self, v: f64) -> (usize, [f64; 4]) {
        let last = (self.radius.len() - 1) as f64;
        let share = self.spread.share((v - self.start) / self.length);
        // A little past the ends the cubic still holds; the samples reach one grid step over the middle.
        let at = (share * last).clamp(-1.0, last);
        let first = (at as usize).saturating_sub(1).min(self.radius.len() - 4);
        let t = at - first as f64;
        let (t1, t2, t3) = (t - 1.0, t - 2.0, t - 3.0);
        (first, [-t1 * t2 * t3 / 6.0, t * t2 * t3 / 2.0, -t * t1 * t3 / 2.0, t * t1 * t2 / 6.0])
    }

    fn radius(&self, v: f64) -> f64 {
        let (first, w) = self.weights(v);
        let r = &self.radius[first..first + 4];
        w[0] * r[0] + w[1] * r[1] + w[2] * r[2] + w[3] * r[3]
    }

    fn moment(&self, v: f64) -> f64 {
        let (first, w) = self.weights(v);
        let m = &self.moment[first..first + 4];
        w[0] * m[0] + w[1] * m[1] + w[2] * m[2] + w[3] * m[3]
    }

    fn mix(&self, other: &Series, share: f64) -> Series {
        let mix = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a + (b - a) * share).collect();
        Series {
            start: self.start,
            length: self.length,
            spread: self.spread,
            radius: mix(&self.radius, &other.radius),
            moment: mix(&self.moment, &other.moment),
        }
    }
}

/// The section that a helix leaves on a row, for one tip height at the crossing: radius and, for each station, the
/// moment (as an angle) at which the cutter got there.
#[derive(Clone, Debug)]
pub(crate) struct Section {
    left: Series,
    right: Series,
    floor: Option<Series>,
    reach: f64,
    tip: f64,
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
/// Precision of the moment, radians. The radius is at its least there, so it is off by the square of this.
const MOMENT_PRECISION: f64 = 1e-6;

impl Section {
    /// Searches the section of a helix at one depth for stations up to `reach` either side of the crossing: floor
    /// and flanks apart, each smooth.
    pub(crate) fn level(helix: &Helix, tip: f64, reach: f64) -> Section {
        if helix.profile.has_ball() {
            return Section::search(helix, tip, reach);
        }
        let flat = helix.profile.flat();
        let inner = (flat / 2.0).max(reach * NEAR_POINT);
        let side = |sign: f64| {
            let cut = |v: f64, phi: f64| helix.entry_bare_cone(v, phi, tip);
            series([sign * inner, sign * reach], CONE_STEPS, Spread::Even, cut)
        };
        let floor = Series {
            start: -flat,
            length: 2.0 * flat,
            spread: Spread::Even,
            radius: vec![tip; 4],
            moment: vec![0.0; 4],
        };
        Section { left: side(-1.0), right: side(1.0), floor: Some(floor), reach, tip }
    }

    /// Searches the section of any helix. Where a flat tip passes into the cone the samples stand close together.
    pub(crate) fn search(helix: &Helix, tip: f64, reach: f64) -> Section {
        let ball = helix.profile.has_ball();
        let rim = helix.profile.flat() * RIM_SHARE;
        let cut = |v: f64, phi: f64| helix.entry(v, phi, tip);
        let side = |sign: f64| {
            let (steps, spread) =
                if ball { (BALL_STEPS, Spread::Even) } else { (RIM_STEPS, Spread::Squared) };
            series([sign * rim, sign * reach], steps, spread, cut)
        };
        let floor = (rim > 0.0).then(|| series([-rim, rim], FLOOR_STEPS, Spread::Sine, cut));
        Section { left: side(-1.0), right: side(1.0), floor, reach, tip }
    }

    /// The section between two that differ in tip height only.
    pub(crate) fn mix(&self, other: &Section, share: f64) -> Section {
        Section {
            left: self.left.mix(&other.left, share),
            right: self.right.mix(&other.right, share),
            floor: match (&self.floor, &other.floor) {
                (Some(a), Some(b)) => Some(a.mix(b, share)),
                _ => None,
            },
            reach: self.reach,
            tip: self.tip + (other.tip - self.tip) * share,
        }
    }

    /// Half the width of the section.
    pub(crate) fn reach(&self) -> f64 {
        self.reach
    }

    /// Tip height at the crossing.
    pub(crate) fn tip(&self) -> f64 {
        self.tip
    }

    /// Least radius cut at `v`.
    pub(crate) fn radius(&self, v: f64) -> f64 {
        let cut = match &self.floor {
            Some(floor) if v.abs() <= floor.start.abs() => floor.radius(v),
            Some(floor) => self.flank(v, v < 0.0).max(floor.radius(v)),
            None => self.flank(v, v < 0.0),
        };
        cut.max(0.0)
    }

    /// The flank on one side, carried on a little past the middle, with no floor under it.
    pub(crate) fn flank(&self, v: f64, left: bool) -> f64 {
        if left {
            self.left.radius(v.min(self.left.start))
        } else {
            self.right.radius(v.max(self.right.start))
        }
    }

    /// The level floor that a flat tip leaves; nothing limits a ball.
    pub(crate) fn level_floor(&self) -> f64 {
        if self.floor.is_some() { self.tip } else { 0.0 }
    }

    /// The moment at which it is cut.
    pub(crate) fn moment(&self, v: f64) -> f64 {
        match &self.floor {
            Some(floor) if v.abs() <= floor.start.abs() => floor.moment(v),
            _ if v < 0.0 => self.left.moment(v),
            _ => self.right.moment(v),
        }
    }

    /// Greatest moment either way over the whole section.
    pub(crate) fn moment_spread(&self) -> f64 {
        let all = [Some(&self.left), Some(&self.right), self.floor.as_ref()];
        all.into_iter().flatten().flat_map(|series| &series.moment).fold(0.0, |most, m| most.max(m.abs()))
    }
}

/// Minimises `cut` over the moment along `v`, each search starting from the one before.
fn series([from, to]: [f64; 2], steps: usize, spread: Spread, cut: impl Fn(f64, f64) -> f64) -> Series {
    let mut radius = Vec::with_capacity(steps + 1);
    let mut moment = Vec::with_capacity(steps + 1);
    let mut guess = 0.0;
    for i in 0..=steps {
        let share = i as f64 / steps as f64;
        let v = from + (to - from) * spread.place(share);
        let (phi, least) = search_least(|phi| cut(v, phi), guess);
        guess = phi;
        radius.push(least);
        moment.push(phi);
    }
    Series { start: from, length: to - from, spread, radius, moment }
}

/// First width of the search for a moment, radians.
const FIRST_WIDTH: f64 = 0.02;
/// Widest the search goes: beyond this the cutter points past the blank.
const WIDEST: f64 = 1.5;

/// Least value of a function that falls to one valley, searched from `guess`: widens until the valley lies inside,
/// then narrows by Brent's method.
fn search_least(f: impl Fn(f64) -> f64, guess: f64) -> (f64, f64) {
    let mut width = FIRST_WIDTH;
    loop {
        let (x, y) = narrow(&f, (guess - width).max(-WIDEST), (guess + width).min(WIDEST), guess);
        let at_edge = (x - guess).abs() > 0.95 * width;
        if !at_edge || width >= WIDEST {
            return (x, y);
        }
        width *= 4.0;
    }
}

/// Brent's search for a minimum: parabolas, with golden sections where they fail.
/// Source: R. P. Brent, Algorithms for Minimization without Derivatives (1973), chapter 5 (from memory).
pub(crate) fn narrow(f: &impl Fn(f64) -> f64, low: f64, high: f64, start: f64) -> (f64, f64) {
    const GOLDEN: f64 = 0.381_966_011_250_105;
    const MOST_STEPS: usize = 80;
    let (mut a, mut b) = (low, high);
    let (mut x, mut w, mut v) = (start, start, start);
    let mut fx = f(x);
    let (mut fw, mut fv) = (fx, fx);
    let (mut d, mut e) = (0.0_f64, 0.0_f64);
    for _ in 0..MOST_STEPS {
        let middle = 0.5 * (a + b);
        let tolerance = MOMENT_PRECISION;
        if (x - middle).abs() <= 2.0 * tolerance - 0.5 * (b - a) {
            break;
        }
        let mut golden = true;
        if e.abs() > tolerance && fw.is_finite() && fv.is_finite() && fx.is_finite() {
            let r = (x - w) * (fx - fv);
            let q = (x - v) * (fx - fw);
            let p = (x - v) * q - (x - w) * r;
            let q2 = 2.0 * (q - r);
            let p = if q2 > 0.0 { -p } else { p };
            let q = q2.abs();
            let before = e;
            e = d;
            if p.abs() < (0.5 * q * before).abs() && p > q * (a - x) && p < q * (b - x) {
                d = p / q;
                let u = x + d;
                if u - a < 2.0 * tolerance || b - u < 2.0 * tolerance {
                    d = tolerance.copysign(middle - x);
                }
                golden = false;
            }
        }
        if golden {
            e = if x < middle { b - x } else { a - x };
            d = GOLDEN * e;
        }
        let u = if d.abs() >= tolerance { x + d } else { x + tolerance.copysign(d) };
        let fu = f(u);
        if fu <= fx {
            *(if u < x { &mut b } else { &mut a }) = x;
            (v, fv, w, fw, x, fx) = (w, fw, x, fx, u, fu);
        } else {
            *(if u < x { &mut a } else { &mut b }) = u;
            if fu <= fw || w == x {
                (v, fv, w, fw) = (w, fw, u, fu);
            } else if fu <= fv || v == x || v == w {
                (v, fv) = (u, fu);
            }
        }
    }
    (x, fx)
}
