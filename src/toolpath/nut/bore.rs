//! The bore of a nut: a straight cutter ramps down in turns, ring by ring, from the middle outwards, then goes once round at
//! the bottom of the last ring. It never goes straight down into wood.

use super::track::Track;
use super::{ABOVE_MM, NutPath, Sense};
use crate::design::nut::{BORE_THROUGH_MM, Nut, centre_feed, safe_z_mm};
use crate::drawing::Hand;
use crate::job::Job;

/// Share of the cutter's radius by which a ring lies outside the one before it: neighbouring rings must overlap, and the
/// first must leave no pillar in the middle (common practice, no source).
const RING: f64 = 0.9;

/// The program that bores the hole; `None` without a cutter for it.
pub(super) fn bore(job: &Job, nut: &Nut) -> Option<NutPath> {
    let milled = job.nut.as_ref()?.milled.as_ref()?;
    let borer = milled.boring.as_ref()?;
    // A cutter that climbs goes anticlockwise; a ramp must go down, whichever way round that is.
    let sense = Sense::of(milled.milling, Hand::Right);
    let last = nut.bore_radius_mm - borer.cutting_diameter_mm / 2.0;
    let step = RING * borer.cutting_diameter_mm / 2.0;
    let rings = (last / step).ceil().max(1.0) as u32;
    let axis_feed = milled.feed_mm_per_min.min(job.machine.z.top_mm_per_min);
    let mut track = Track::new(safe_z_mm(job, milled), sense);
    let bottom = -nut.length_mm - BORE_THROUGH_MM;
    let turns = ((ABOVE_MM - bottom) / milled.step_mm).ceil();
    for ring in 1..=rings {
        let circle = last * f64::from(ring) / f64::from(rings);
        let feed = |circle: f64| {
            centre_feed(
                milled.feed_mm_per_min,
                2.0 * circle + borer.cutting_diameter_mm,
                borer.cutting_diameter_mm,
                0.0,
            )
        };
        let wall = 2.0 * circle + borer.cutting_diameter_mm;
        track.note(format!("bore, ring {ring} of {rings}, to {}", job.unit.show(wall)));
        if track.is_above() {
            track.along_axis(ABOVE_MM, None);
        } else {
            track.along_axis(ABOVE_MM, Some(axis_feed));
        }
        track.out_to(circle, 0.0, ABOVE_MM, feed(circle / 2.0));
        track.round(circle, 0.0, turns, bottom, feed(circle));
        track.round(circle, 0.0, 1.0, bottom, feed(circle));
        track.back_to_axis(bottom, feed(circle / 2.0));
    }
    Some(track.finish(axis_feed))
}
