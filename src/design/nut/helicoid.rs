//! The groove that a V tooth really leaves in a hole when its axis circles parallel to the axis of the hole and climbs as it
//! goes. Not the outline of the tooth: its flank becomes an involute helicoid, steeper than the tooth and wider by an
//! over-cut. A closed form; nothing here carves.

use std::f64::consts::TAU;

use crate::setup::Tooth;

/// Circles and radii at which earlier passes are looked at: what they cut too much grows smoothly over both.
const CIRCLES: u32 = 40;
const RADII: u32 = 20;

/// The groove of a tooth that circles at a distance from the axis of the nut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NutGroove {
    tan_half: f64,
    tip_half_mm: f64,
    cutter_radius_mm: f64,
    /// Radius of the circle on which the cutter's axis goes.
    circle_mm: f64,
    /// Advance per radian.
    advance_mm: f64,
    /// How far passes beside the middle widen it to either side.
    widened_mm: f64,
}

impl NutGroove {
    /// The groove of a tooth that reaches `major_radius_mm`, for a lead; both mm and above zero, the tooth's diameter below
    /// twice the radius. The hand does not matter: both flanks are alike.
    pub fn new(tooth: &Tooth, major_radius_mm: f64, lead_mm: f64) -> Self {
        let cutter_radius_mm = tooth.diameter_mm / 2.0;
        NutGroove {
            tan_half: (tooth.included_angle_deg / 2.0).to_radians().tan(),
            tip_half_mm: tooth.tip_flat_mm / 2.0,
            cutter_radius_mm,
            circle_mm: major_radius_mm - cutter_radius_mm,
            advance_mm: lead_mm / TAU,
            widened_mm: 0.0,
        }
    }

    /// The groove of the same tooth while its axis goes round nearer to the nut's: in an earlier pass, or on its way to the
    /// wall.
    #[must_use]
    pub fn nearer(self, circle_mm: f64) -> Self {
        NutGroove { circle_mm, ..self }
    }

    /// How far earlier passes and the way to the wall cut past this groove at its worst, to one side, mm, from the bore
    /// outwards; zero as a rule. A wide cutter on a small circle in a steep lead sweeps farther than it does at full depth.
    pub fn cut_before_mm(&self, bore_mm: f64) -> f64 {
        let mut most = 0.0_f64;
        for circle in 1..CIRCLES {
            let before = self.nearer(self.circle_mm * f64::from(circle) / f64::from(CIRCLES));
            let reach_mm = before.circle_mm + before.cutter_radius_mm - bore_mm;
            for step in 0..RADII {
                let r_mm = bore_mm + reach_mm * f64::from(step) / f64::from(RADII);
                if reach_mm > 0.0 {
                    most = most.max(before.half_width_mm(r_mm) - self.half_width_mm(r_mm));
                }
            }
        }
        most
    }

    /// The groove that passes leave which run that far above and below the middle as well.
    #[must_use]
    pub fn widened(self, to_each_side_mm: f64) -> Self {
        NutGroove { widened_mm: to_each_side_mm, ..self }
    }

    /// Distance of the cutter's axis from the nut's, mm.
    pub fn circle_mm(&self) -> f64 {
        self.circle_mm
    }

    /// Radius of the base cylinder of the helicoid, mm: advance per radian over the tangent of the tooth's half angle.
    pub fn base_radius_mm(&self) -> f64 {
        self.advance_mm / self.tan_half
    }

    /// Whether the flank is a helicoid: the cutter's axis must run outside its base cylinder. Where it does not, the lead
    /// is so steep that the tooth's back cuts what its front has left.
    pub fn is_helicoid(&self) -> bool {
        self.circle_mm > self.base_radius_mm()
    }

    /// Half the width of the groove at `r_mm` from the axis of the nut, measured along the axis; zero past the tip.
    ///
    /// At angle psi off the cutter a ray at r meets it at distance q, q² = r² + e² - 2 r e cos psi, and is cut as far as
    /// f + (Rc - q) tan a + p psi to either side, as long as q <= Rc. The greatest of these over psi is, with the base
    /// radius h = p / tan a,
    /// f + (Rc - sqrt(r² - h²) + sqrt(e² - h²)) tan a + p (acos(h / r) - acos(h / e)); near the major diameter, where that
    /// would ask for q > Rc, it is f + p psi at q = Rc. Derived from the geometry of the moving cutter.
    pub fn half_width_mm(&self, r_mm: f64) -> f64 {
        let (e, p, h) = (self.circle_mm, self.advance_mm, self.base_radius_mm());
        if r_mm >= e + self.cutter_radius_mm {
            // A hair past the tip: only the tip itself, if it reaches there at all.
            let reached = r_mm - (e + self.cutter_radius_mm) <= r_mm * f64::EPSILON * 4.0;
            return if reached { self.tip_half_mm + self.widened_mm } else { 0.0 };
        }
        if r_mm <= self.rounded_from_mm() {
            let root = |radius: f64| (radius * radius - h * h).max(0.0).sqrt();
            let swept = (h / r_mm).min(1.0).acos() - (h / e).min(1.0).acos();
            let in_from_tip = self.cutter_radius_mm - root(r_mm) + root(e);
            return self.tip_half_mm + in_from_tip * self.tan_half + p * swept + self.widened_mm;
        }
        let cos = (r_mm * r_mm + e * e - self.cutter_radius_mm.powi(2)) / (2.0 * r_mm * e);
        self.tip_half_mm + p * cos.clamp(-1.0, 1.0).acos() + self.widened_mm
    }

    /// Distance from the axis, mm, from which outwards the tooth's rim cuts and not its flank: there the root is rounded.
    pub fn rounded_from_mm(&self) -> f64 {
        let h = self.base_radius_mm();
        let e = self.circle_mm;
        if e <= h {
            // p - tan a r e sin psi / q stays above zero then, since r sin psi / q is the sine of an angle: the rim cuts all.
            return 0.0;
        }
        h.hypot(self.cutter_radius_mm + (e * e - h * h).max(0.0).sqrt())
    }

    /// Tangent of the flank's angle in the axial section at `r_mm`: sqrt(tan² a - (p / r)²), whatever the cutter's size.
    pub fn flank_slope(&self, r_mm: f64) -> f64 {
        (self.tan_half.powi(2) - (self.advance_mm / r_mm).powi(2)).max(0.0).sqrt()
    }

    /// Half the width that the tooth standing still would leave at `r_mm`.
    pub fn plain_half_width_mm(&self, r_mm: f64) -> f64 {
        self.tip_half_mm + (self.circle_mm + self.cutter_radius_mm - r_mm) * self.tan_half + self.widened_mm
    }
}

/// Included angle, degrees, of the tooth whose groove has a flank of `axial_half_deg` in the axial section at `r_mm`:
/// tan a = sqrt(tan² A + (p / r)²).
pub fn tooth_angle_for_deg(axial_half_deg: f64, lead_mm: f64, r_mm: f64) -> f64 {
    let lead = lead_mm / TAU / r_mm;
    2.0 * axial_half_deg.to_radians().tan().hypot(lead).atan().to_degrees()
}

/// Speed of the cutter's axis, in the unit of `edge`, at which its edge runs along a wall at `edge`: `wall_mm` is the
/// diameter of the wall, `cutter_mm` that of the cutter, which runs inside it; both climb by `lead_mm` in a turn.
/// Without a lead this is edge (D - d) / D.
pub fn centre_feed(edge: f64, wall_mm: f64, cutter_mm: f64, lead_mm: f64) -> f64 {
    let advance = lead_mm / TAU;
    edge * ((wall_mm - cutter_mm) / 2.0).hypot(advance) / (wall_mm / 2.0).hypot(advance)
}
