//! Which moment of a circular helix about the nut's axis cuts a ray deepest. It depends on one number alone, the height of
//! the ray above the cutter's end as the cutter passes the ray; so it is worked out once for all rays and turns.
//! Lengths in mm, angles in radians.

use super::climb::{Look, highest};
use super::tool::Solid;

/// Steps of the table, mm. Near the best moment the reach is flat, so a moment that is read between two steps costs the
/// square of what it is off: less than the climb itself leaves.
const STEP_MM: f64 = 0.005;
/// A cutter inside a hole reaches no ray farther aside than this: where it is that far off, it cuts more elsewhere.
const ASIDE_RAD: f64 = 1.3;
/// Climbs less than this in a radian, mm, are level circles: over the width of any tooth it makes a millionth.
const LEVEL_MM: f64 = 1e-7;
/// What is kept beside the heights that cut: more than legs that share a table differ by, mm.
const NEAR_HOLE_MM: f64 = 0.05;
/// Most entries of a table: a slip of the pen must not fill the memory.
const MOST_ENTRIES: f64 = 1e6;

/// The best moments of one solid on a helix.
#[derive(Clone, Debug)]
pub(crate) struct Helix {
    /// Lowest and highest of the heights that the table covers, above the cutter's end as it passes the ray.
    pub(crate) low: f64,
    pub(crate) high: f64,
    /// How far the ray lies ahead of the cutter at the best moment; empty for level circles, where it is none.
    ahead: Vec<f64>,
    step: f64,
}

impl Helix {
    /// Of a cutter whose axis runs at distance `radius` and climbs by `climb` for each radian anticlockwise, in a hole that
    /// is nowhere narrower than `hole`: heights at which it reaches no farther are left out.
    pub(crate) fn of(solid: &Solid, radius: f64, climb: f64, hole: f64) -> Helix {
        if climb.abs() <= LEVEL_MM {
            return Helix { low: solid.low_mm, high: solid.high_mm, ahead: Vec::new(), step: 1.0 };
        }
        let spread = climb.abs() * ASIDE_RAD;
        let (low, high) = (solid.low_mm - spread, solid.high_mm + spread);
        let entries = ((high - low) / STEP_MM).ceil().clamp(1.0, MOST_ENTRIES);
        let step = (high - low) / entries;
        let best: Vec<(f64, f64)> =
            (0..=entries as usize).map(|i| best(solid, radius, climb, low + step * i as f64)).collect();
        let cuts = |&(reach, _): &(f64, f64)| reach > hole - NEAR_HOLE_MM;
        let first = best.iter().position(cuts).unwrap_or(0);
        let last = best.iter().rposition(cuts).unwrap_or(0);
        let ahead = best[first..=last].iter().map(|(_, at)| *at).collect();
        Helix { low: low + step * first as f64, high: low + step * last as f64, ahead, step }
    }

    /// How far the ray lies ahead of the cutter when it is cut deepest.
    #[inline]
    pub(crate) fn ahead(&self, height: f64) -> f64 {
        let at = ((height - self.low) / self.step).max(0.0);
        let index = at as usize;
        match (self.ahead.get(index), self.ahead.get(index + 1)) {
            (Some(a), Some(b)) => a + (b - a) * (at - index as f64),
            (Some(a), None) => *a,
            _ => 0.0,
        }
    }
}

/// For a ray at `height` above the cutter's end as it passes: how far it is cut at the best moment, and how far ahead of the
/// cutter it lies then.
fn best(solid: &Solid, radius: f64, climb: f64, height: f64) -> (f64, f64) {
    // The ray stands higher above the cutter's end the farther it is ahead, if the cutter climbs.
    let ends = [(solid.low_mm - height) / climb, (solid.high_mm - height) / climb];
    let from = ends[0].min(ends[1]).max(-ASIDE_RAD);
    let to = ends[0].max(ends[1]).min(ASIDE_RAD);
    if from >= to {
        // Out of reach for any moment that counts.
        return (0.0, from.clamp(-ASIDE_RAD, ASIDE_RAD));
    }
    let look = |ahead: f64| {
        let (wide, grows) = solid.at((height + climb * ahead).clamp(solid.low_mm, solid.high_mm));
        let (sin, cos) = ahead.sin_cos();
        let beside = radius * sin;
        let square = wide * wide - beside * beside;
        if square <= 0.0 {
            // Straight before the cutter every ray is met.
            return Look { reach: 0.0, slope: -ahead.signum(), meets: false };
        }
        let root = square.sqrt();
        let slope = -beside + (wide * grows * climb - radius * radius * sin * cos) / root;
        Look { reach: radius * cos + root, slope, meets: true }
    };
    highest(from, to, look).unwrap_or((0.0, 0.0))
}
