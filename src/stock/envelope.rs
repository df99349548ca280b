//! What a cutter moving along a helix leaves on one row of the blank: for every station the least radius that any
//! moment of the move cuts down to. Found by searching over those moments with rays; no closed form of a groove is
//! used here, since that is what the proof is there to check. Lengths in mm, angles in radians.

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
    pub(crate) fn meeting(&self, v: f64, phi: f64, tip: f64) -> Meeting {
        let (sin, cos) = (phi + self.lean).sin_cos();
        Meeting { u: v + self.advance * phi, sin, cos, tip: tip - self.climb * phi, beside: self.beside }
    }

    /// Radius at which the ray enters the cutter at that moment.
    pub(crate) fn entry(&self, v: f64, phi: f64, tip: f64) -> f64 {
        self.profile.entry(self.meeting(v, phi, tip))
    }

    /// The same for the bare cone.
    pub(crate) fn entry_bare_cone(&self, v: f64, phi: f64, tip: f64) -> f64 {
        self.profile.entry_bare_cone(self.meeting(v, phi, tip))
    }

    /// Where the plane of a flat end stands lowest on the row: that moment, and the radius. No ray is cut deeper.
    pub(crate) fn lowest(&self, tip: f64) -> (f64, f64) {
        search_least(|phi| (tip - self.climb * phi) / (phi + self.lean).cos(), 0.0)
    }

    /// How far beyond the rim of a flat end the ray passes through its plane; less than zero where it enters the end.
    pub(crate) fn off_end(&self, v: f64, phi: f64, tip: f64) -> f64 {
        let at = self.meeting(v, phi, tip);
        let across = at.tip * at.sin / at.cos - at.beside;
        (at.u * at.u + across * across).sqrt() - self.profile.flat()
    }

    /// The moment at which the rim of a flat end passes over the ray, between one at which the end is over it and one at
    /// which it has left it; `guess` is looked at first.
    pub(crate) fn rim_moment(&self, v: f64, [over, left]: [f64; 2], guess: f64, tip: f64) -> f64 {
        let (mut inside, mut outside) = (over, left);
        let (mut short, mut far) = (self.off_end(v, inside, tip), self.off_end(v, outside, tip));
        let mut next = Some(guess).filter(|guess| (guess - over) * (guess - left) < 0.0);
        // Secants between the two; the value at an end that stays twice is halved (the Illinois rule, M. Dowell and
        // P. Jarratt, BIT 11, 1971; from memory).
        let mut was_inside = None;
        for _ in 0..MOST_SECANTS {
            let moment = next.take().unwrap_or(inside + (outside - inside) * short / (short - far));
            let off = self.off_end(v, moment, tip);
            let is_inside = off <= 0.0;
            let stayed = was_inside == Some(is_inside);
            if is_inside {
                (inside, short) = (moment, off);
                far = if stayed { far / 2.0 } else { far };
            } else {
                (outside, far) = (moment, off);
                short = if stayed { short / 2.0 } else { short };
            }
            was_inside = Some(is_inside);
            if (is_inside && -RIM_PRECISION < off) || (outside - inside).abs() <= RIM_PRECISION {
                break;
            }
        }
        inside
    }

    /// A moment near that at which a plane of the cutter has its middle nearest to the ray: near moment zero the ray passes
    /// through the plane along a straight line.
    pub(crate) fn nearest(&self, v: f64, height: f64) -> f64 {
        -self.advance * v / (self.advance * self.advance + height * height)
    }

    /// The moment at which the cutter's widest part comes closest to the ray, and how much farther than its radius
    /// that is; less than zero where the ray enters the cutter.
    pub(crate) fn closest(&self, v: f64, tip: f64) -> (f64, f64) {
        let (height, widest) = self.profile.rim();
        let off = |phi: f64| {
            let at = self.meeting(v, phi, tip);
            let across = (at.tip + height) * at.sin / at.cos - at.beside;
            (at.u * at.u + across * across).sqrt() - widest
        };
        search_least(off, self.nearest(v, tip + height))
    }

    /// Station, less that of the crossing, of the wall that a narrow cutter leaves on one side.
    pub(crate) fn wall(&self, sign: f64, tip: f64) -> f64 {
        let (_, widest) = self.profile.rim();
        let meets = |v: f64| self.closest(sign * v, tip).1 <= 0.0;
        let (mut inside, mut outside) = (0.0, 2.0 * widest);
        while meets(outside) && outside < WIDEST_WALLS * widest {
            (inside, outside) = (outside, 2.0 * outside);
        }
        while outside - inside > WALL_PRECISION_MM {
            let middle = f64::midpoint(inside, outside);
            *(if meets(middle) { &mut inside } else { &mut outside }) = middle;
        }
        // A hair inside, so that the ray along the wall still meets the cutter.
        inside - WALL_PRECISION_MM
    }
}

/// Most secants that are laid for one moment.
const MOST_SECANTS: usize = 60;
/// How finely such a moment is placed, radians and mm.
const RIM_PRECISION: f64 = 1e-10;
/// How finely walls are placed, mm: far finer than any grid.
const WALL_PRECISION_MM: f64 = 1e-6;
/// No helix that the tables serve makes a groove so many times as wide as its cutter.
const WIDEST_WALLS: f64 = 64.0;

/// Precision of the moment, radians. The radius is at its least there, so it is off by the square of this.
const MOMENT_PRECISION: f64 = 1e-6;
/// First width of the search for a moment, radians.
const FIRST_WIDTH: f64 = 0.02;
/// Widest the search goes: beyond this the cutter points past the blank.
const WIDEST: f64 = 1.5;

/// Half the width of the parabola that is tried first, radians.
const PARABOLA_WIDTH: f64 = 1e-3;
/// The bottom of that parabola holds if the function is there what the parabola says, mm: a hundredth of what single
/// precision keeps of a radius.
const PARABOLA_MM: f64 = 1e-7;

/// Least value of a function that falls to one valley, searched from `guess`: by one parabola if that is what the
/// valley looks like; else widens until the valley lies inside, and narrows by Brent's method.
pub(crate) fn search_least(f: impl Fn(f64) -> f64, guess: f64) -> (f64, f64) {
    let middle = f(guess);
    let [left, right] = [guess - PARABOLA_WIDTH, guess + PARABOLA_WIDTH].map(&f);
    let bend = left - 2.0 * middle + right;
    let shift = 0.5 * (left - right) / bend;
    if bend > 0.0 && shift.abs() <= 1.0 {
        let x = guess + shift * PARABOLA_WIDTH;
        let y = f(x);
        if (y - (middle - 0.25 * (left - right) * shift)).abs() <= PARABOLA_MM {
            return (x, y);
        }
    }
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
