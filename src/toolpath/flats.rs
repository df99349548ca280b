//! Moves of flats: the blank stands at one flat after the other and the cutter planes it, going down on a slope along
//! the blank.

use super::lathe::{Lathe, levels};
use crate::design::{Feature, Operation};

/// Steepest way down into standing wood, depth over length: a router cutter's end cuts on a slope, not straight down.
const SLOPE: f64 = 0.15;
/// Height above the wood at which the way down becomes slow, mm.
const ABOVE_MM: f64 = 1.0;

/// So far from the wall at the far end the cutter comes down, mm: a rapid does not rub along wood. The next trip, on a
/// slope to that wall, takes what this leaves.
const ASIDE_MM: f64 = 0.5;

/// Planes every flat, one after the other.
pub(super) fn flats(lathe: &mut Lathe<'_>, feature: &Feature) {
    let Feature::Flats { count, from_axis_mm, from_s_mm, to_s_mm, from_r_mm } = feature else { return };
    let radius = lathe.cutter_radius_mm();
    let (near, far) = (from_s_mm + radius, to_s_mm - radius);
    let tooling = &lathe.step.tooling;
    // A slope along the flat may go down only so far in one trip.
    let step = tooling.step_mm.min(SLOPE * (far - near));
    let heights = levels(*from_r_mm, *from_axis_mm, step, tooling.finish_mm.min(step));
    // The nearest turn, so that flats need no unwinding.
    let turned = (lathe.at().theta_deg / 360.0).round() * 360.0;
    for flat in 0..*count {
        lathe.note(Operation::Tenon, &format!("flat {} of {count}", flat + 1));
        lathe.over(far - ASIDE_MM.min((far - near) / 2.0));
        lathe.index(turned + 360.0 * f64::from(flat) / f64::from(*count));
        lathe.down_fast(from_r_mm + ABOVE_MM);
        lathe.down(*from_r_mm);
        let (mut here, mut there) = (far, near);
        for &height in &heights {
            lathe.along(there, height);
            std::mem::swap(&mut here, &mut there);
        }
        // Once more along what the last slope left, and back if it ended at the far end.
        lathe.along(there, *from_axis_mm);
        lathe.up();
    }
}
