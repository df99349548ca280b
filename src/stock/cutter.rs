//! The cutter as the carve sees it: a solid of revolution about its own axis, and where a ray from the axis of the
//! blank enters it. Knows nothing of threads. Lengths in mm, angles in radians.

use crate::setup::{Cutter, Tip};

/// A tip (flat or ball) under a cone that widens up to a greatest radius.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Profile {
    /// Radius of the flat tip; zero under a ball.
    flat: f64,
    /// Radius of the ball tip, and the height above the tip at which it passes into the cone.
    ball: Option<(f64, f64)>,
    /// Tangent of half the included angle; zero for a cylinder.
    slope: f64,
    /// Radius of the cone carried down to the height of the tip.
    foot: f64,
    /// Greatest radius.
    widest: f64,
}

/// A part of the outline.
#[derive(Clone, Copy, Debug)]
enum Piece {
    /// The tip, of this radius.
    Ball(f64),
    /// The cone.
    Cone,
    /// The wall above it.
    Wall,
}

/// Where one ray meets one stand of the cutter.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Meeting {
    /// Station of the ray less station of the cutter's axis.
    pub(crate) u: f64,
    /// Angle of the ray less angle of the blank under the cutter; sine and cosine.
    pub(crate) sin: f64,
    /// Its cosine.
    pub(crate) cos: f64,
    /// Height of the tip above the axis of the blank.
    pub(crate) tip: f64,
    /// How far the cutter's axis stands beside the axis of the blank, counted along the sine.
    pub(crate) beside: f64,
}

/// The tip that a cutter has. A straight one is as wide at its end as above it, whatever its tip is said to measure.
pub(crate) fn tip_of(cutter: &Cutter) -> Tip {
    let straight = cutter.included_angle_deg <= 0.0;
    match cutter.tip {
        Tip::Flat { .. } if straight => Tip::Flat { diameter_mm: cutter.cutting_diameter_mm },
        Tip::Ball { .. } if straight => Tip::Ball { radius_mm: cutter.cutting_diameter_mm / 2.0 },
        tip => tip,
    }
}

impl Profile {
    /// The cutting part of a cutter.
    pub(crate) fn of(cutter: &Cutter) -> Self {
        let half_angle = (cutter.included_angle_deg / 2.0).max(0.0).to_radians();
        let widest = cutter.cutting_diameter_mm / 2.0;
        match tip_of(cutter) {
            // A straight cutter's side meets a ray under it at one moment alone, which a search may miss and a move straight
            // down hits: neither is to.
            Tip::Flat { diameter_mm } if half_angle == 0.0 => Profile::cylinder(diameter_mm / 2.0 - RIM_MM),
            Tip::Flat { diameter_mm } => Profile::flat_tip(diameter_mm / 2.0, half_angle, widest),
            Tip::Ball { radius_mm } => Profile::ball_tip(radius_mm, half_angle, widest),
        }
    }

    /// A cone of half angle `half_angle` on a flat of radius `flat`; a cylinder where the angle is zero.
    pub(crate) fn flat_tip(flat: f64, half_angle: f64, widest: f64) -> Self {
        Profile { flat, ball: None, slope: half_angle.tan(), foot: flat, widest: widest.max(flat) }
    }

    /// A cone on a ball that touches it without a corner.
    pub(crate) fn ball_tip(ball: f64, half_angle: f64, widest: f64) -> Self {
        let joint = ball * (1.0 - half_angle.sin());
        let slope = half_angle.tan();
        let foot = ball * half_angle.cos() - joint * slope;
        Profile { flat: 0.0, ball: Some((ball, joint)), slope, foot, widest }
    }

    /// A cylinder: shank or collet, whose lower face stands at the tip height it is given.
    pub(crate) fn cylinder(radius: f64) -> Self {
        Profile::flat_tip(radius, 0.0, radius)
    }

    /// Radius of the flat tip; zero under a ball.
    pub(crate) fn flat(&self) -> f64 {
        self.flat
    }

    /// Height above the tip at which the cutter has its greatest radius, and that radius.
    pub(crate) fn rim(&self) -> (f64, f64) {
        let joint = self.ball.map_or(0.0, |(_, joint)| joint);
        let height = if self.slope > 0.0 { (self.widest - self.foot) / self.slope } else { joint };
        (height.max(joint), self.widest)
    }

    /// Radius of a ball tip, and the height above the tip at which it passes into the cone.
    pub(crate) fn ball(&self) -> Option<(f64, f64)> {
        self.ball
    }

    /// Tangent of half the cone's included angle, and its radius carried down to the height of the tip.
    pub(crate) fn cone(&self) -> (f64, f64) {
        (self.slope, self.foot)
    }

    /// The same tip under a cone that goes on widening. As long as the wood ends below the true cone's rim the two cut the
    /// same: whatever the longer cone meets beyond that rim lies above the wood.
    pub(crate) fn without_rim(&self) -> Profile {
        Profile { widest: f64::INFINITY, ..*self }
    }

    /// Whether it is a cylinder with a flat end.
    pub(crate) fn is_straight(&self) -> bool {
        self.slope == 0.0 && self.ball.is_none()
    }

    /// Whether the tip is a ball.
    pub(crate) fn has_ball(&self) -> bool {
        self.ball.is_some()
    }

    /// Greatest radius at or below a height above the tip.
    pub(crate) fn radius_at(&self, height: f64) -> f64 {
        if height < 0.0 {
            return 0.0;
        }
        match self.ball {
            Some((ball, joint)) if height < joint => (height * (2.0 * ball - height)).max(0.0).sqrt(),
            _ => (self.foot + height * self.slope).min(self.widest),
        }
    }

    /// Area of the surface that lies against wood cut on the way, between two heights, for every millimetre across the way:
    /// the mean over a cell `width` wide whose middle lies `aside` of the axis; the front half only.
    ///
    /// On a ring of radius R a millimetre across lies on R / sqrt(R² - y²) of arc, and the outline adds its slant; the
    /// sum over heights is closed on ball, cone and cylinder. On a cylinder that arc grows past all bounds at its side,
    /// so there the sum over the cell is closed too.
    pub(crate) fn contact(&self, aside: f64, width: f64, low: f64, high: f64) -> f64 {
        let beyond = |radius: f64| (radius * radius - aside * aside).max(0.0).sqrt();
        self.pieces(low, high, |piece, low, high| match piece {
            Piece::Ball(ball) => {
                let wide = (ball * ball - aside * aside).max(0.0).sqrt();
                let place = |height: f64| ((height - ball) / wide).clamp(-1.0, 1.0).asin();
                if wide > 0.0 { ball * (place(high) - place(low)) } else { 0.0 }
            }
            Piece::Cone => {
                let slant = 1.0_f64.hypot(self.slope) / self.slope;
                slant * (beyond(self.radius_at(high)) - beyond(self.radius_at(low)))
            }
            Piece::Wall => {
                let place = |aside: f64| (aside / self.widest).clamp(-1.0, 1.0).asin();
                let arc = self.widest * (place(aside + width / 2.0) - place(aside - width / 2.0));
                (high - low) * arc / width
            }
        })
    }

    /// Sum over heights, between two, of one over the radius there; below where the outline reaches `aside` nothing is cut.
    pub(crate) fn over_radius(&self, aside: f64, low: f64, high: f64) -> f64 {
        self.pieces(low, high, |piece, low, high| match piece {
            Piece::Ball(ball) => {
                let place = |height: f64| ((height - ball) / ball).clamp(-1.0, 1.0).asin();
                place(high) - place(low)
            }
            Piece::Cone => {
                let at = |height: f64| self.radius_at(height).max(aside.abs()).max(ROUNDING_MM);
                (at(high) / at(low)).ln() / self.slope
            }
            Piece::Wall => (high - low) / self.widest,
        })
    }

    /// Adds up a sum over heights piece by piece of the outline.
    fn pieces(&self, low: f64, high: f64, sum: impl Fn(Piece, f64, f64) -> f64) -> f64 {
        let joint = self.ball.map_or(0.0, |(_, joint)| joint);
        let cone_to =
            if self.slope > 0.0 { ((self.widest - self.foot) / self.slope).max(joint) } else { joint };
        let ball = self.ball.map_or(Piece::Cone, |(ball, _)| Piece::Ball(ball));
        [(ball, 0.0, joint), (Piece::Cone, joint, cone_to), (Piece::Wall, cone_to, f64::INFINITY)]
            .into_iter()
            .map(|(piece, from, to)| (piece, low.max(from), high.min(to)))
            .filter(|(_, low, high)| high > low)
            .map(|(piece, low, high)| sum(piece, low, high))
            .sum()
    }

    /// Distance from the axis of the blank at which the ray enters the cutter, or infinity if it misses.
    ///
    /// A point at distance `r` on the ray stands `z = r cos - tip` above the tip and `rho = |(u, r sin - beside)|`
    /// off the cutter's axis; it is inside where `z >= 0` and `rho` is at most the radius at `z`. Both conditions
    /// are quadratics in `r`, so the answer is closed.
    pub(crate) fn entry(&self, at: Meeting) -> f64 {
        // Below the axis the cutter may hold the axis itself, and with it the start of every ray.
        if at.tip <= 0.0 && at.u.hypot(at.beside) <= self.radius_at(-at.tip) {
            return 0.0;
        }
        if at.cos <= 0.0 {
            return f64::INFINITY;
        }
        if let Some((ball, joint)) = self.ball {
            let entry = entry_ball(ball, at);
            return if entry * at.cos - at.tip <= joint { entry } else { self.entry_cone(at) };
        }
        let plane = at.tip / at.cos;
        let across = plane * at.sin - at.beside;
        if at.u * at.u + across * across <= self.flat * self.flat {
            plane.max(0.0)
        } else {
            self.entry_cone(at)
        }
    }

    /// Entry into the cone above the tip, up to its greatest radius; infinity beyond that.
    fn entry_cone(&self, at: Meeting) -> f64 {
        let entry = self.entry_bare_cone(at);
        let height = entry * at.cos - at.tip;
        // Rounding puts an entry exactly at the rim of a flat tip a hair below it.
        let inside = entry >= 0.0 && height >= -ROUNDING_MM && self.foot + height * self.slope <= self.widest;
        if inside { entry } else { f64::INFINITY }
    }

    /// Entry into the bare cone, with no tip plane below it and no greatest radius: smooth in every argument.
    pub(crate) fn entry_bare_cone(&self, at: Meeting) -> f64 {
        let foot = self.foot - at.tip * self.slope;
        let widening = at.cos * self.slope;
        let a = widening * widening - at.sin * at.sin;
        let b = foot * widening + at.sin * at.beside;
        let c = foot * foot - at.u * at.u - at.beside * at.beside;
        let under_root = b * b - a * c;
        // The form with the root below the line does not lose digits when `a` is near zero.
        if under_root < 0.0 { f64::INFINITY } else { -c / (b + under_root.sqrt()) }
    }
}

/// By so much a straight cutter is carved too narrow: a ten-millionth of a millimetre, so that rays exactly under its side,
/// where stations in round numbers like to stand, are beside it for every kind of move.
const RIM_MM: f64 = 1e-7;

/// Slack for heights that should be zero: a billion times finer than any cut, a million times coarser than the
/// rounding of a double at these sizes.
const ROUNDING_MM: f64 = 1e-9;

/// Entry into the ball whose lowest point is the tip.
fn entry_ball(ball: f64, at: Meeting) -> f64 {
    let centre = at.tip + ball;
    let along = at.sin * at.beside + at.cos * centre;
    let under_root = along * along - (at.u * at.u + at.beside * at.beside + centre * centre - ball * ball);
    if under_root < 0.0 { f64::INFINITY } else { (along - under_root.sqrt()).max(0.0) }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;

    /// Sums a whole slot: every millimetre across, over all heights at which the outline reaches so far.
    fn slot(profile: &Profile, depth: f64) -> [f64; 2] {
        let steps = 40_000;
        let wide = profile.radius_at(depth);
        let width = 2.0 * wide / f64::from(steps);
        let mut sums = [0.0; 2];
        for step in 0..steps {
            let aside = -wide + (f64::from(step) + 0.5) * width;
            let low = bottom(profile, aside, depth);
            sums[0] += width * profile.contact(aside, width, low, depth);
            sums[1] += width * profile.over_radius(aside, low, depth);
        }
        sums
    }

    /// Height at which the outline reaches a distance beside the axis.
    fn bottom(profile: &Profile, aside: f64, depth: f64) -> f64 {
        let (mut low, mut high) = (0.0, depth);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if profile.radius_at(middle) < aside.abs() { low = middle } else { high = middle }
        }
        high
    }

    /// Half the surface of cone, cap and cylinder, elementary geometry; over the radius a slot counts twice its depth.
    #[test]
    fn the_contact_of_a_slot_is_half_the_surface() {
        let half: f64 = 30_f64.to_radians();
        let (flat, ball, wall) = (
            Profile::flat_tip(0.5, half, 40.0),
            Profile::ball_tip(4.0, half, 40.0),
            Profile::flat_tip(3.0, 0.0, 3.0),
        );
        let cone = |from: f64, to: f64| PI * (to * to - from * from) / half.sin() / 2.0;
        for (profile, depth, want) in [
            (flat, 6.0, cone(0.5, 0.5 + 6.0 * half.tan())),
            (ball, 1.5, PI * 4.0 * 1.5),
            (wall, 5.0, PI * 3.0 * 5.0),
        ] {
            let [contact, over] = slot(&profile, depth);
            // The midpoint rule across the way is off where the arc stands square to it.
            assert!((contact / want - 1.0).abs() < 5e-3, "{profile:?}: {contact} for {want}");
            assert!((over / (2.0 * depth) - 1.0).abs() < 5e-3, "{profile:?}: {over}");
        }
    }

    /// A straight cutter's half cylinder comes out whole on any grid, also where a station lies a hair inside its side.
    #[test]
    fn the_contact_of_a_wall_does_not_hang_on_the_grid() {
        let profile = Profile::flat_tip(4.0, 0.0, 4.0);
        for shift in [0.0, 1e-9, 0.02, 0.05, 0.099] {
            let asides = (-41..=41).map(|i| f64::from(i) * 0.1 + shift);
            let sum: f64 = asides.map(|aside| 0.1 * profile.contact(aside, 0.1, 0.0, 2.0)).sum();
            assert!((sum - PI * 4.0 * 2.0).abs() < 1e-9, "{shift}: {sum}");
        }
    }

    #[test]
    fn pieces_of_the_outline_join() {
        let profile = Profile::ball_tip(2.0, 30_f64.to_radians(), 4.0);
        for aside in [0.0, 0.7, 1.6] {
            let from = bottom(&profile, aside, 9.0);
            let parts: f64 = (0..9)
                .map(|i| from + (9.0 - from) * f64::from(i) / 9.0)
                .map(|low| profile.contact(aside, 0.1, low, low + (9.0 - from) / 9.0))
                .sum();
            let whole = profile.contact(aside, 0.1, from, 9.0);
            assert!((parts / whole - 1.0).abs() < 1e-9, "{aside}: {parts} and {whole}");
        }
    }
}
