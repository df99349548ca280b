//! The groove that a tapered cutter pointing at the axis really leaves in a turning blank. Not the outline of the
//! cutter, nor that outline divided by a cosine: near the crest of a coarse lead both differ from it by what shows in
//! wood. A closed form with one root search; nothing here carves.

use std::f64::consts::TAU;

use super::root::bisect;
use super::shape::Shape;

/// The groove of a cutter whose tip stands at a distance from the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Groove {
    shape: Shape,
    tip_radius_mm: f64,
    /// Advance per radian.
    advance_mm: f64,
    /// How far passes beside the middle widen it to either side.
    widened_mm: f64,
}

impl Groove {
    /// A groove from the cutter's outline, the distance of its tip from the axis and the lead, both mm and above
    /// zero. The hand does not matter: both flanks are alike.
    pub fn new(shape: Shape, tip_radius_mm: f64, lead_mm: f64) -> Self {
        Groove { shape, tip_radius_mm, advance_mm: lead_mm / TAU, widened_mm: 0.0 }
    }

    /// The groove that passes leave which run that far to either side of the middle as well: the same section moved along
    /// the axis, so it grows by as much at every radius.
    #[must_use]
    pub fn widened(self, to_each_side_mm: f64) -> Self {
        Groove { widened_mm: to_each_side_mm, ..self }
    }

    /// Distance of the tip from the axis, mm: the root radius.
    pub fn tip_radius_mm(&self) -> f64 {
        self.tip_radius_mm
    }

    /// Half the width of the groove at a distance `r_mm` from the axis, measured along the axis; zero below the tip.
    ///
    /// With the tip at r0, the cutter's outline R(z) and the advance p per radian, wood at angle phi off the cutter
    /// and at r is cut when z = r cos phi - r0 >= 0 and its offset along the axis is below
    /// w = sqrt(R(z)² - r² sin² phi). The cutter stands at -p phi then, so the half width is the greatest
    /// w(phi) + p phi over 0 <= phi <= acos(r0 / r). Derived from the geometry of the moving cutter.
    pub fn half_width_mm(&self, r_mm: f64) -> f64 {
        if r_mm < self.tip_radius_mm {
            return 0.0;
        }
        let phi = self.widest_rad(r_mm);
        let w = self.offset(r_mm, phi).unwrap_or(0.0);
        w + self.advance_mm * phi + self.widened_mm
    }

    /// How fast the half width grows with the radius at `r_mm`: the tangent of the flank angle in the axial section.
    ///
    /// At the widest angle the change of that angle does not count, so this is the partial slope
    /// (R R' cos phi - r sin² phi) / w.
    pub fn flank_slope(&self, r_mm: f64) -> f64 {
        let phi = self.widest_rad(r_mm);
        let height = r_mm * phi.cos() - self.tip_radius_mm;
        let w = self.offset(r_mm, phi).unwrap_or(0.0);
        (self.shape.radius_times_slope(height) * phi.cos() - r_mm * phi.sin().powi(2)) / w
    }

    /// Angle off the cutter, radians, at which the groove's edge at `r_mm` is cut.
    ///
    /// There r sin phi (R R' + r cos phi) = p w; the left side grows and the right side falls until the ray leaves
    /// the cutter. Just above the tip plane that plane ends the sweep before.
    fn widest_rad(&self, r_mm: f64) -> f64 {
        let last = (self.tip_radius_mm / r_mm).min(1.0).acos();
        let condition = |phi: f64| match self.offset(r_mm, phi) {
            Some(w) => {
                let height = r_mm * phi.cos() - self.tip_radius_mm;
                let pull = self.shape.radius_times_slope(height) + r_mm * phi.cos();
                r_mm * phi.sin() * pull - self.advance_mm * w
            }
            // Outside the cutter: past the widest place.
            None => 1.0,
        };
        let phi = bisect(0.0, last, condition);
        // The last halving may end a hair outside the cutter; the condition is flat there, so step back.
        if self.offset(r_mm, phi).is_some() { phi } else { phi - phi * f64::EPSILON * 4.0 }
    }

    /// Greatest offset along the axis at which the ray at (r, phi) is inside the cutter, mm; `None` outside it.
    fn offset(&self, r_mm: f64, phi: f64) -> Option<f64> {
        // The cosine of the last angle rounds to either side of the tip plane; it belongs to the cutter.
        let height = (r_mm * phi.cos() - self.tip_radius_mm).max(0.0);
        let squared = self.shape.radius_at(height).powi(2) - (r_mm * phi.sin()).powi(2);
        (squared >= 0.0).then(|| squared.sqrt())
    }
}

/// The tip radius that leaves a groove of half width `half_width_mm` at `r_mm`, for a lead; all mm. Zero when even a
/// groove down to the axis is narrower, `r_mm` when a tip that just touches is already wider.
pub fn tip_radius_for(shape: Shape, half_width_mm: f64, r_mm: f64, lead_mm: f64) -> f64 {
    // A deeper tip gives a wider groove, so width falls as the tip radius grows.
    bisect(0.0, r_mm, |tip| half_width_mm - Groove::new(shape, tip, lead_mm).half_width_mm(r_mm))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::Tip;

    /// The greatest w + p phi by brute scan, as an independent way to the same number.
    fn scan(groove: &Groove, r_mm: f64) -> f64 {
        let last = (groove.tip_radius_mm / r_mm).min(1.0).acos();
        let steps = 400_000_u32;
        (0..=steps)
            .filter_map(|i| {
                let phi = last * f64::from(i) / f64::from(steps);
                groove.offset(r_mm, phi).map(|w| w + groove.advance_mm * phi)
            })
            .fold(0.0, f64::max)
    }

    #[test]
    fn the_root_search_finds_the_widest_place_for_ball_and_flat() {
        for tip in
            [Tip::Flat { diameter_mm: 1.0 }, Tip::Flat { diameter_mm: 0.0 }, Tip::Ball { radius_mm: 2.0 }]
        {
            let groove = Groove::new(Shape::new(60.0, tip), 18.0, 20.0);
            for r_mm in [18.001, 18.1, 18.9, 19.0, 19.1, 22.0, 25.0] {
                let (got, want) = (groove.half_width_mm(r_mm), scan(&groove, r_mm));
                // The scan misses the top by at most the curvature over half a step: below 1e-7 here.
                assert!((got - want).abs() < 1e-7, "{tip:?} at {r_mm}: {got} against {want}");
            }
        }
    }

    #[test]
    fn the_slope_is_the_slope() {
        for tip in [Tip::Flat { diameter_mm: 1.0 }, Tip::Ball { radius_mm: 2.0 }] {
            let groove = Groove::new(Shape::new(60.0, tip), 18.0, 20.0);
            for r_mm in [18.6, 20.0, 25.0] {
                let h = 1e-4;
                let secant = (groove.half_width_mm(r_mm + h) - groove.half_width_mm(r_mm - h)) / (2.0 * h);
                assert!((groove.flank_slope(r_mm) - secant).abs() < 1e-6, "{tip:?} at {r_mm}: {secant}");
            }
        }
    }

    #[test]
    fn the_tip_radius_undoes_the_width() {
        let shape = Shape::new(90.0, Tip::Ball { radius_mm: 1.0 });
        let tip = tip_radius_for(shape, 5.0, 32.0, 25.0);
        assert!((Groove::new(shape, tip, 25.0).half_width_mm(32.0) - 5.0).abs() < 1e-9);
        assert_eq!(Groove::new(shape, tip, 25.0).half_width_mm(tip - 0.1), 0.0);
    }
}
