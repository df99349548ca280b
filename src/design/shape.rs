//! The outline of a V cutter: how wide it is at each height above its tip, and what area it cuts at each depth.
//! Knows one cutter standing still; the groove it leaves when the blank turns is [`super::groove`]'s business.

use crate::setup::{Cutter, Tip};

/// The cutting outline: a cone with a flat tip, or with a ball that runs into the cone without a corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    tan_half: f64,
    tip: Tip,
    /// Height above the tip at which the cone begins.
    cone_from_mm: f64,
    /// Radius of the cutter there.
    cone_radius_mm: f64,
}

impl Shape {
    /// The outline of a cutter; its lengths are not looked at.
    pub fn of(cutter: &Cutter) -> Self {
        Shape::new(cutter.included_angle_deg, cutter.tip)
    }

    /// An outline from the included angle (degrees, between 0 and 180) and the tip.
    pub fn new(included_angle_deg: f64, tip: Tip) -> Self {
        let half = (included_angle_deg / 2.0).to_radians();
        // A circle tangent to both flanks touches them where its radius stands square on them.
        let (cone_from_mm, cone_radius_mm) = match tip {
            Tip::Flat { diameter_mm } => (0.0, diameter_mm / 2.0),
            Tip::Ball { radius_mm } => (radius_mm * (1.0 - half.sin()), radius_mm * half.cos()),
        };
        Shape { tan_half: half.tan(), tip, cone_from_mm, cone_radius_mm }
    }

    /// Tangent of half the included angle.
    pub fn tan_half(&self) -> f64 {
        self.tan_half
    }

    /// Radius of the cutter at a height above its tip, both mm; zero below the tip.
    pub fn radius_at(&self, height_mm: f64) -> f64 {
        match self.tip {
            _ if height_mm < 0.0 => 0.0,
            Tip::Ball { radius_mm } if height_mm < self.cone_from_mm => {
                (height_mm * (2.0 * radius_mm - height_mm)).sqrt()
            }
            _ => self.cone_radius_mm + (height_mm - self.cone_from_mm) * self.tan_half,
        }
    }

    /// Radius times its growth per height, mm: half the slope of the squared radius, which stays finite on a ball.
    pub fn radius_times_slope(&self, height_mm: f64) -> f64 {
        match self.tip {
            Tip::Ball { radius_mm } if height_mm < self.cone_from_mm => radius_mm - height_mm,
            _ => self.radius_at(height_mm) * self.tan_half,
        }
    }

    /// Area of the outline up to a depth, mm²: what a pass of that depth takes out of the axial section, the small
    /// widening by the lead left out. `2 t d + d² tan a` for a flat tip of radius t and half angle a.
    pub fn area_mm2(&self, depth_mm: f64) -> f64 {
        let depth_mm = depth_mm.max(0.0);
        let on_ball = depth_mm.min(self.cone_from_mm);
        let on_cone = depth_mm - on_ball;
        let ball = match self.tip {
            // A segment of a circle.
            Tip::Ball { radius_mm } => {
                let up = radius_mm - on_ball;
                radius_mm * radius_mm * (up / radius_mm).clamp(-1.0, 1.0).acos()
                    - up * self.radius_at(on_ball)
            }
            Tip::Flat { .. } => 0.0,
        };
        ball + on_cone * (2.0 * self.cone_radius_mm + on_cone * self.tan_half)
    }

    /// The depth at which the outline holds an area: the inverse of [`Shape::area_mm2`], mm.
    pub fn depth_for_area(&self, area_mm2: f64) -> f64 {
        let on_ball = self.area_mm2(self.cone_from_mm);
        if area_mm2 <= 0.0 {
            return 0.0;
        }
        if area_mm2 < on_ball {
            return super::root::bisect(0.0, self.cone_from_mm, |depth| self.area_mm2(depth) - area_mm2);
        }
        let t = self.cone_radius_mm;
        let rest = area_mm2 - on_ball;
        self.cone_from_mm + ((t * t + self.tan_half * rest).sqrt() - t) / self.tan_half
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROUNDING: f64 = 1e-9; // sums of a few products in f64

    #[test]
    fn a_ball_runs_into_the_cone_without_a_step_or_a_corner() {
        let shape = Shape::new(60.0, Tip::Ball { radius_mm: 2.0 });
        let joint = shape.cone_from_mm;
        assert!((joint - 1.0).abs() < ROUNDING, "2 (1 - sin 30) is 1, got {joint}");
        let (below, above) = (joint - 1e-10, joint + 1e-10);
        assert!((shape.radius_at(below) - shape.radius_at(above)).abs() < ROUNDING);
        assert!((shape.radius_times_slope(below) - shape.radius_times_slope(above)).abs() < ROUNDING);
    }

    #[test]
    fn area_is_the_sum_of_the_widths() {
        for tip in
            [Tip::Flat { diameter_mm: 0.0 }, Tip::Flat { diameter_mm: 1.0 }, Tip::Ball { radius_mm: 1.5 }]
        {
            let shape = Shape::new(60.0, tip);
            let steps = 200_000;
            let step = 5.0 / f64::from(steps);
            let sum: f64 =
                (0..steps).map(|i| 2.0 * shape.radius_at((f64::from(i) + 0.5) * step) * step).sum();
            // The midpoint rule is off by about step^1.5 where the ball starts with an upright wall.
            assert!(
                (sum - shape.area_mm2(5.0)).abs() < 1e-6,
                "{tip:?}: {sum} against {}",
                shape.area_mm2(5.0)
            );
        }
    }

    #[test]
    fn depth_undoes_area() {
        for tip in [Tip::Flat { diameter_mm: 0.8 }, Tip::Ball { radius_mm: 1.5 }] {
            let shape = Shape::new(90.0, tip);
            for depth in [0.01, 0.2, 0.6, 3.0, 9.0] {
                let back = shape.depth_for_area(shape.area_mm2(depth));
                assert!((back - depth).abs() < ROUNDING, "{tip:?} at {depth}: {back}");
            }
        }
    }
}
