//! A nut made without a machine: sizes for a tap, a chaser or a bar that turns through the hole in a boring jig, and a strip
//! of three trial holes.

use serde::Serialize;

use super::{Nut, diameters_mm};
use crate::design::Screw;
use crate::design::fit::LEAST_FLANK_MM;
use crate::job::Job;
use crate::units::LengthUnit;

/// From one trial hole to the next, at each flank: what a hand feels (common practice, no source).
const STRIP_STEP_MM: f64 = 0.15;
/// The same in a job in inches.
const STRIP_STEP_INCH: f64 = 0.006;
/// Length of a trial hole, in pitches: enough to feel a thread, short enough to be quick (common practice, no source).
const STRIP_PITCHES: f64 = 2.0;

/// Sizes for the hand.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ByHand {
    /// Diameter of the hole before the thread.
    pub bore_mm: f64,
    /// Diameter over the teeth of a tap, or over the grooves of a chaser's work.
    pub tap_diameter_mm: f64,
    /// Between the flanks of a tooth, in a plane with the axis.
    pub tooth_deg: f64,
    /// Flat at the tip of a tooth, along the axis.
    pub tooth_flat_mm: f64,
    /// How far a tooth stands out of the bore.
    pub tooth_depth_mm: f64,
    /// Advance in a turn.
    pub lead_mm: f64,
    /// From tooth to tooth.
    pub pitch_mm: f64,
    /// Threads side by side.
    pub starts: u32,
    /// Three trial holes, the tightest first; the middle one is the nut.
    pub strip: [StripHole; 3],
    /// Thickness of the strip.
    pub strip_thickness_mm: f64,
}

/// A trial hole.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StripHole {
    /// Gap at each flank, along the axis.
    pub flank_clearance_mm: f64,
    /// Gap on the radius.
    pub radial_clearance_mm: f64,
    /// Diameter of the hole before the thread.
    pub bore_mm: f64,
    /// Diameter over the grooves, cut with the tooth of the nut: a tooth that goes deeper gives more at its flanks.
    pub major_mm: f64,
}

/// The sizes for making a nut by hand.
pub fn by_hand(job: &Job, screw: &Screw, nut: &Nut) -> ByHand {
    let step_mm = match job.unit {
        LengthUnit::Mm => STRIP_STEP_MM,
        LengthUnit::Inch => STRIP_STEP_INCH * job.unit.mm(),
    };
    let slope = screw.flank_axial_deg.to_radians().tan();
    let hole = |flank_mm: f64| {
        // The same tooth, let in deeper by what the flanks are to gain.
        let deeper = (flank_mm - nut.clearance.flank_mm) / slope;
        let radial_mm = (nut.clearance.radial_mm + deeper).max(0.0);
        let [major_mm, bore_mm] =
            diameters_mm(2.0 * screw.crest_radius_mm, 2.0 * screw.root_radius_mm, radial_mm);
        StripHole { flank_clearance_mm: flank_mm, radial_clearance_mm: radial_mm, bore_mm, major_mm }
    };
    let flank = nut.clearance.flank_mm;
    ByHand {
        bore_mm: 2.0 * nut.bore_radius_mm,
        tap_diameter_mm: 2.0 * nut.major_radius_mm,
        tooth_deg: nut.best.in_plane_deg,
        tooth_flat_mm: nut.best.groove_flat_mm,
        tooth_depth_mm: nut.depth_mm,
        lead_mm: job.screw.lead_mm,
        pitch_mm: job.screw.pitch_mm,
        starts: job.screw.starts,
        strip: [hole((flank - step_mm).max(LEAST_FLANK_MM.min(flank))), hole(flank), hole(flank + step_mm)],
        strip_thickness_mm: STRIP_PITCHES * job.screw.pitch_mm,
    }
}
