//! A straight move over a blank that stands still, several axes at once. Seen along one ray the cutter then keeps its
//! angle and only shifts, so what it reaches over the whole move is a convex body, and the moment at which a ray meets
//! that body first has a closed form. Lengths in mm, angles in radians.

use super::cutter::{Meeting, Profile};
use super::frame::Stroke;

/// A stroke as one row sees it.
pub(super) struct Ramp<'a> {
    stroke: &'a Stroke,
    profile: &'a Profile,
    sin: f64,
    cos: f64,
    /// The end where it is flat, as wide as its edges and over the axis.
    end: Option<Disc>,
    /// What station, tip height and the way beside the axis change over the whole stroke.
    shift: [f64; 3],
}

impl<'a> Ramp<'a> {
    /// For the row at `theta`, counted on; the tip stays above the axis.
    pub(super) fn of(stroke: &'a Stroke, profile: &'a Profile, theta: f64) -> Ramp<'a> {
        let (from, to) = (stroke.from, stroke.to);
        let (sin, cos) = (theta - from.theta_rad).sin_cos();
        let shift = [to.s_mm - from.s_mm, to.tip_mm - from.tip_mm, to.beside_mm - from.beside_mm];
        let (rim, _) = profile.rim();
        let flat = rim <= 0.0 && !profile.has_ball() && from.beside_mm == 0.0 && to.beside_mm == 0.0;
        let ramp = Ramp { stroke, profile, sin, cos, end: None, shift };
        Ramp { end: flat.then(|| ramp.disc(0.0, profile.flat())), ..ramp }
    }

    /// The disc of a radius at a height above the tip.
    fn disc(&self, height: f64, radius: f64) -> Disc {
        let [s, tip, beside] = self.shift;
        let from = &self.stroke.from;
        let lean = self.sin / self.cos;
        let shift = [-s, tip * lean - beside];
        let way2 = shift[0] * shift[0] + shift[1] * shift[1];
        let across = (from.tip_mm + height) * lean - from.beside_mm;
        Disc { shift, per_way2: 1.0 / way2, across, room: way2 * radius * radius }
    }

    /// Least radius that the cutter reaches on the ray at a station; infinity if it misses.
    ///
    /// Along the stroke the radius of entry is a convex function of the share that is done, one piece for each surface of
    /// the cutter. It is least where one piece is stationary, where two pieces meet, or at an end; all of these are
    /// tried on the cutter itself, so that no answer lies deeper than the cutter ever was.
    pub(super) fn least(&self, s: f64) -> f64 {
        if self.cos <= 0.0 {
            return f64::INFINITY;
        }
        let u = s - self.stroke.from.s_mm;
        if let Some(end) = &self.end {
            return self.least_of_flat(end, u);
        }
        let mut least = self.entry(u, 0.0).min(self.entry(u, 1.0));
        let mut try_at = |share: f64| least = least.min(self.entry(u, share.clamp(0.0, 1.0)));
        if let Some((ball, joint)) = self.profile.ball() {
            self.on_ball(u, ball).into_iter().flatten().for_each(&mut try_at);
            let joint = self.disc(joint, self.profile.radius_at(joint));
            joint.over(u).into_iter().flatten().for_each(&mut try_at);
        } else {
            self.disc(0.0, self.profile.flat()).over(u).into_iter().flatten().for_each(&mut try_at);
        }
        let (rim, widest) = self.profile.rim();
        self.on_cone(u).into_iter().flatten().for_each(&mut try_at);
        self.disc(rim, widest).over(u).into_iter().flatten().for_each(&mut try_at);
        least
    }

    /// What [`Ramp::least`] finds at many stations, the first and their distance, of rays that a flat end surely passes
    /// over; not a number for others. `false` if the cutter has no such end.
    pub(super) fn least_of_end(&self, [first_s, step]: [f64; 2], radii: &mut [f64]) -> bool {
        let Some(end) = self.end.filter(|_| self.cos > 0.0) else { return false };
        let (from, [_, tip, _]) = (&self.stroke.from, self.shift);
        let (first_u, falls, per_cos) = (first_s - from.s_mm, tip < 0.0, 1.0 / self.cos);
        for (nth, radius) in radii.iter_mut().enumerate() {
            let [first, last] = end.shares(first_u + step * nth as f64);
            let share = if falls { last.min(1.0) } else { first.max(0.0) };
            let over = first <= 1.0 && 0.0 <= last;
            *radius = if over { (from.tip_mm + tip * share) * per_cos } else { f64::NAN };
        }
        true
    }

    /// The same for a flat end as wide as its edges, over the axis. A ray that begins on the axis stands under the end or
    /// beside it from the start, so it enters through the end: where that is lowest while over the ray.
    fn least_of_flat(&self, end: &Disc, u: f64) -> f64 {
        // The ends are tried as they are: a station may lie exactly under the rim there, and beyond it is missed.
        let (_, widest) = self.profile.rim();
        let at_end = |share: f64| {
            let beside = (u - self.shift[0] * share).abs();
            if beside <= widest { self.entry(u, share) } else { f64::INFINITY }
        };
        let least = at_end(0.0).min(at_end(1.0));
        let Some([first, last]) = end.over(u) else {
            return least;
        };
        let [_, tip, _] = self.shift;
        let (first, last) = (first.max(0.0), last.min(1.0));
        let share = if tip < 0.0 { last } else { first };
        let lowest = (self.stroke.from.tip_mm + tip * share) / self.cos;
        if first <= last { least.min(lowest) } else { least }
    }

    /// No radius is cut at a station below this one, by a cutter that meets wood no farther than `wide` off its axis: the
    /// plane of the tip at its lowest over the station.
    pub(super) fn bound(&self, s: f64, wide: f64) -> f64 {
        if self.cos <= 0.0 {
            return f64::INFINITY;
        }
        let [way, tip, _] = self.shift;
        let u = s - self.stroke.from.s_mm;
        let mut share: f64 = if tip < 0.0 { 1.0 } else { 0.0 };
        if way != 0.0 {
            let (a, b) = ((u - wide) / way, (u + wide) / way);
            let [first, last] = [a.min(b), a.max(b)];
            share = share.max(first).min(last).clamp(0.0, 1.0);
        }
        (self.stroke.from.tip_mm + tip * share) / self.cos
    }

    fn entry(&self, u: f64, share: f64) -> f64 {
        let [s, tip, beside] = self.shift;
        let from = &self.stroke.from;
        self.profile.entry(Meeting {
            u: u - s * share,
            sin: self.sin,
            cos: self.cos,
            tip: from.tip_mm + tip * share,
            beside: from.beside_mm + beside * share,
        })
    }

    /// Shares at which the moving ball touches the ray's foremost point.
    fn on_ball(&self, u: f64, ball: f64) -> Option<[f64; 2]> {
        let [s, tip, beside] = self.shift;
        let from = &self.stroke.from;
        let (sin, cos) = (self.sin, self.cos);
        let centre = from.tip_mm + ball;
        tangent(
            s * s + beside * beside + tip * tip,
            [-u * s + from.beside_mm * beside + centre * tip, -sin * beside - cos * tip],
            [
                u * u + from.beside_mm * from.beside_mm + centre * centre - ball * ball,
                -from.beside_mm * sin - centre * cos,
                1.0,
            ],
        )
    }

    /// The same for the cone, carried on without end.
    fn on_cone(&self, u: f64) -> Option<[f64; 2]> {
        let [s, tip, beside] = self.shift;
        let from = &self.stroke.from;
        let (sin, cos) = (self.sin, self.cos);
        let (slope, foot) = self.profile.cone();
        let low = foot - from.tip_mm * slope;
        tangent(
            s * s + beside * beside - (slope * tip).powi(2),
            [-u * s + from.beside_mm * beside + slope * tip * low, slope * slope * tip * cos - sin * beside],
            [
                u * u + from.beside_mm * from.beside_mm - low * low,
                -from.beside_mm * sin - low * slope * cos,
                sin * sin - (slope * cos).powi(2),
            ],
        )
    }
}

/// Share of a disc's half width at which its rim is tried: a hair inside, so that rounding does not miss it.
const INSIDE: f64 = 1.0 - 1e-12;

/// A disc of the cutter square to its axis, as it moves over the plane in which rays pass through it.
#[derive(Clone, Copy)]
struct Disc {
    /// How far the ray's place in the disc moves over the whole stroke, along the blank and across it.
    shift: [f64; 2],
    /// One over the square of that way.
    per_way2: f64,
    /// Its place across the disc at the start.
    across: f64,
    /// Square of the disc's radius times that of the way.
    room: f64,
}

impl Disc {
    /// Shares between which the ray passes through it, a hair inside; `u` is the ray's place along it at the start.
    fn over(&self, u: f64) -> Option<[f64; 2]> {
        let shares = self.shares(u);
        shares[0].is_finite().then_some(shares)
    }

    /// The same, not numbers where the ray passes beside it or does not move over it.
    fn shares(&self, u: f64) -> [f64; 2] {
        let [along, across] = self.shift;
        let beside = u * across - self.across * along;
        let middle = -(u * along + self.across * across) * self.per_way2;
        let half = (self.room - beside * beside).sqrt() * self.per_way2 * INSIDE;
        [middle - half, middle + half]
    }
}

/// A surface that moves is, along one ray, the set `a x² + 2 (b0 + b1 r) x + c0 + 2 c1 r + c2 r² = 0` of shares `x` and
/// radii `r`. Where its radius is least or greatest the two shares of a radius fall together; these shares.
fn tangent(a: f64, [b0, b1]: [f64; 2], [c0, c1, c2]: [f64; 3]) -> Option<[f64; 2]> {
    if a <= 0.0 {
        // It moves along itself: the ends tell.
        return None;
    }
    let (p, q, w) = (b1 * b1 - a * c2, b0 * b1 - a * c1, b0 * b0 - a * c0);
    let under_root = q * q - p * w;
    if under_root < 0.0 {
        return None;
    }
    // The form that loses no digits: one root by the larger of the two sums, the other by their product.
    let sum = -q - under_root.sqrt().copysign(q);
    let radii = [sum / p, w / sum];
    Some(radii.map(|r| if r.is_finite() { -(b0 + b1 * r) / a } else { 0.0 }))
}
