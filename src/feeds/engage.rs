//! What a V cutter meets on its way down a groove: section, contact, height. Works from the outline of the cutter; the
//! little that the helix widens a groove is left out.

use crate::design::shape::Shape;
use crate::pressure::Engagement;

/// Heights at which the outline is looked at. A hundred leave the sums a thousandth off, far inside the band of a force.
const SLICES: u32 = 100;

/// What a pass meets, and how its chips differ between root and crest.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Met {
    /// All of it.
    pub whole: Engagement,
    /// Mean chip over feed per edge where the cutter is lowest.
    pub root_share: f64,
    /// And where it is highest.
    pub crest_share: f64,
    /// Radius of the cutter there.
    pub crest_radius_mm: f64,
}

/// A pass down the middle of its own groove, from one depth to a deeper one: below the former tip a slot, above it a
/// sliver of either flank.
pub fn deepening(shape: Shape, from_mm: f64, to_mm: f64) -> Met {
    let step = to_mm - from_mm;
    // The groove stood open, at the height of a slice, as wide as the cutter is one step lower.
    sum(shape, to_mm, |height, _| [shape.radius_at(height - step), shape.radius_at(height - step)])
}

/// A pass at full depth beside the middle of a groove of that depth: one flank only.
pub fn flank(shape: Shape, depth_mm: f64, aside_mm: f64) -> Met {
    sum(shape, depth_mm, |_, radius| [radius - aside_mm.abs(), radius])
}

/// Sums over heights. `open` says how far the groove is open already to either side of the cutter's axis, for a height
/// and the cutter's radius there.
fn sum(shape: Shape, depth_mm: f64, open: impl Fn(f64, f64) -> [f64; 2]) -> Met {
    let thick = depth_mm / f64::from(SLICES);
    let mut met = Met::default();
    let all = &mut met.whole;
    let mut moment = 0.0;
    for slice in 0..SLICES {
        let height = (f64::from(slice) + 0.5) * thick;
        let radius = shape.radius_at(height);
        if radius <= 0.0 {
            continue;
        }
        // A ring of the outline has the slant sqrt(1 + slope²); times the radius this stays finite on a ball.
        let slope = shape.radius_times_slope(height);
        let slant = (radius * radius + slope * slope).sqrt();
        let open = open(height, radius).map(|open| open.clamp(-radius, radius));
        let width: f64 = open.iter().map(|open| radius - open).sum();
        let contact: f64 = open.iter().map(|open| (open / radius).acos() * slant).sum();
        if width <= 0.0 {
            continue;
        }
        all.area_mm2 += width * thick;
        all.contact_mm2 += contact * thick;
        all.over_radius_mm += width / radius * thick;
        met.crest_radius_mm = radius;
        moment += width * thick * height;
        met.crest_share = width / contact;
        if met.root_share == 0.0 {
            met.root_share = met.crest_share;
        }
    }
    all.height_mm = if all.area_mm2 > 0.0 { moment / all.area_mm2 } else { 0.0 };
    met
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pressure::chip_share;
    use crate::setup::Tip;

    const FLAT: Tip = Tip::Flat { diameter_mm: 1.0 };

    #[test]
    fn the_sections_of_the_passes_make_the_groove() {
        for tip in [FLAT, Tip::Ball { radius_mm: 2.0 }, Tip::Flat { diameter_mm: 0.0 }] {
            let shape = Shape::new(60.0, tip);
            let mut before = 0.0;
            for depth in [1.0, 2.5, 4.0, 6.0] {
                let area = deepening(shape, before, depth).whole.area_mm2;
                let want = shape.area_mm2(depth) - shape.area_mm2(before);
                // A ball begins with an upright wall, on which the midpoints of slices are off by their width to 3/2.
                assert!((area / want - 1.0).abs() < 1e-2, "{tip:?} to {depth}: {area} for {want}");
                before = depth;
            }
        }
    }

    #[test]
    fn a_first_pass_is_a_slot() {
        for angle in [60.0_f64, 90.0] {
            let shape = Shape::new(angle, FLAT);
            let cos = (angle / 2.0).to_radians().cos();
            let met = deepening(shape, 0.0, 6.0);
            for share in [met.whole.chip_share(), met.root_share, met.crest_share] {
                assert!((share - 2.0 / std::f64::consts::PI * cos).abs() < 1e-9, "{angle}: {share}");
            }
        }
    }

    #[test]
    fn a_flank_pass_takes_its_sliver_from_every_height() {
        let shape = Shape::new(60.0, FLAT);
        let met = flank(shape, 6.0, 0.3);
        assert!((met.whole.area_mm2 - 6.0 * 0.3).abs() < 1e-9);
        let cos = 30_f64.to_radians().cos();
        let at = |height: f64| cos * chip_share(0.3 / (2.0 * shape.radius_at(height)));
        // The lowest and the highest slice lie half a slice inside.
        assert!((met.root_share / at(0.03) - 1.0).abs() < 1e-9, "{met:?}");
        assert!((met.crest_share / at(5.97) - 1.0).abs() < 1e-9, "{met:?}");
        let mean = met.whole.chip_share();
        assert!(met.crest_share < mean && mean < met.root_share, "{met:?}");
    }

    #[test]
    fn a_ball_has_the_contact_of_a_sphere() {
        // A first pass as deep as half the ball's joint meets half a cap: pi R h.
        let shape = Shape::new(60.0, Tip::Ball { radius_mm: 4.0 });
        let contact = deepening(shape, 0.0, 1.5).whole.contact_mm2;
        assert!((contact / (std::f64::consts::PI * 4.0 * 1.5) - 1.0).abs() < 1e-9, "{contact}");
    }
}
