//! The nut of a screw: sized from the screw as it will really be cut and from the movement of both woods, held against the
//! cutter that is to make it, with its block and with the sizes for making it by hand. Plans no moves and writes no text.

mod block;
mod by_hand;
mod hand_over;
mod helicoid;
mod judge;
mod room;
mod tooth;

pub use block::{Bits, BlockAdvice, bits};
pub use by_hand::{ByHand, StripHole, by_hand};
pub use hand_over::{BORE_THROUGH_MM, NutStep, nut_steps, safe_z_mm};
pub use helicoid::{NutGroove, centre_feed, tooth_angle_for_deg};
pub use judge::{BED_CLEAR_MM, NECK_CLEAR_MM};
pub use tooth::{CHAMFER_MARGIN_MM, Mating, OUT_MM};

use serde::Serialize;

use super::Screw;
use super::fit::{self, Clearance, Fit};
use crate::drawing::SectionPoint;
use crate::finding::{Finding, Severity};
use crate::job::{Job, NutAsked};

/// Points of a section between bore and major radius.
const SECTION_STEPS: u32 = 64;
/// What a chamfer reaches past the grooves on the radius, when the job does not say how wide it is (common practice, no
/// source).
const CHAMFER_PAST_MM: f64 = 0.5;

/// The tooth that would mate best with the screw.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BestTooth {
    /// Between its flanks, degrees, for a cutter that circles: steeper flanks come out than it has.
    pub included_angle_deg: f64,
    /// Between its flanks, degrees, for a tap or a bar whose tooth runs in a plane with the axis: it leaves its own angle.
    pub in_plane_deg: f64,
    /// Flat that the groove must have at the major diameter, mm.
    pub groove_flat_mm: f64,
}

/// The sizes of a nut. Only [`nut`] makes one.
#[derive(Clone, Debug, PartialEq)]
pub struct Nut {
    /// The fit through the year, if the job tells of a year.
    pub fit: Option<Fit>,
    /// The clearances as cut.
    pub clearance: Clearance,
    /// Half the diameter of the bore.
    pub bore_radius_mm: f64,
    /// Half the diameter over the grooves.
    pub major_radius_mm: f64,
    /// From bore to major radius.
    pub depth_mm: f64,
    /// Along the axis.
    pub length_mm: f64,
    /// The groove that the screw's thread and the flank clearance need, from bore to crest radius.
    pub needed: Vec<SectionPoint>,
    /// The tooth that would mate best.
    pub best: BestTooth,
    /// How far the chamfers reach outwards from the bore, on the radius; zero for none.
    pub chamfer_mm: f64,
    /// The cutter of the job against this thread, if it names one.
    pub mating: Option<Mating>,
    /// The block.
    pub block: BlockAdvice,
}

/// Diameters of a nut over its grooves and of its bore: the screw's, each wider by the same radial clearance, all mm. With a
/// clearance of ac these are D4 = d + 2 ac and D1 = d3 + 2 ac of ISO 2904 and DIN 405.
pub fn diameters_mm(crest_mm: f64, root_mm: f64, radial_clearance_mm: f64) -> [f64; 2] {
    [crest_mm + 2.0 * radial_clearance_mm, root_mm + 2.0 * radial_clearance_mm]
}

/// Works out the nut of a job.
///
/// Returns it unless the job has no nut or its clearances cannot be told, and everything that is to be said about it. Sizes
/// that come with a finding of weight `stop` are for showing, not for cutting.
pub fn nut(job: &Job, screw: &Screw) -> (Option<Nut>, Vec<Finding>) {
    let (fit, mut findings) = fit::fit(job, screw);
    let Some(asked) = &job.nut else {
        return (None, findings);
    };
    let clearance = match (&fit, asked.radial_clearance_mm, asked.flank_clearance_mm) {
        (Some(fit), _, _) => fit.clearance,
        // Both are given: the nut can be sized without a year, only its fit is not known.
        (None, Some(radial_mm), Some(flank_mm)) => {
            for finding in &mut findings {
                finding.severity = Severity::Care;
            }
            Clearance { radial_mm, flank_mm }
        }
        _ => return (None, findings),
    };
    let nut = size(job, screw, asked, fit, clearance);
    findings.extend(judge::of(job, screw, asked, &nut));
    (Some(nut), findings)
}

fn size(job: &Job, screw: &Screw, asked: &NutAsked, fit: Option<Fit>, clearance: Clearance) -> Nut {
    let [major, bore] =
        diameters_mm(2.0 * screw.crest_radius_mm, 2.0 * screw.root_radius_mm, clearance.radial_mm);
    let (major_radius_mm, bore_radius_mm) = (major / 2.0, bore / 2.0);
    let needed = needed(job, screw, clearance.flank_mm, bore_radius_mm);
    let best = best(job, screw, &needed, major_radius_mm);
    let mating = asked.milled.as_ref().and_then(|milled| {
        Mating::of(job, screw, &milled.cutter, [bore_radius_mm, major_radius_mm], &needed)
    });
    Nut {
        fit,
        clearance,
        bore_radius_mm,
        major_radius_mm,
        depth_mm: major_radius_mm - bore_radius_mm,
        length_mm: asked.length_mm,
        best,
        chamfer_mm: asked.chamfer_mm.unwrap_or(major_radius_mm - bore_radius_mm + CHAMFER_PAST_MM),
        mating,
        block: block::advice(job, asked, major),
        needed,
    }
}

/// Half the width of the groove that the screw's thread needs at each radius: what its own groove leaves of the pitch, and
/// the clearance of one flank.
fn needed(job: &Job, screw: &Screw, flank_mm: f64, bore_radius_mm: f64) -> Vec<SectionPoint> {
    let (from, to) = (bore_radius_mm.min(screw.crest_radius_mm), screw.crest_radius_mm);
    (0..=SECTION_STEPS)
        .map(|step| {
            let r_mm = from + (to - from) * f64::from(step) / f64::from(SECTION_STEPS);
            let half_width_mm = job.screw.pitch_mm / 2.0 - screw.groove().half_width_mm(r_mm) + flank_mm;
            SectionPoint { r_mm, half_width_mm }
        })
        .collect()
}

/// The tooth whose flank lies along the screw's at the pitch line.
fn best(job: &Job, screw: &Screw, needed: &[SectionPoint], major_radius_mm: f64) -> BestTooth {
    let crest = needed.last().map_or(0.0, |point| point.half_width_mm);
    let slope = screw.flank_axial_deg.to_radians().tan();
    let past_crest_mm = major_radius_mm - screw.crest_radius_mm;
    BestTooth {
        included_angle_deg: tooth_angle_for_deg(
            screw.flank_axial_deg,
            job.screw.lead_mm,
            screw.pitch_line_diameter_mm / 2.0,
        ),
        in_plane_deg: 2.0 * screw.flank_axial_deg,
        groove_flat_mm: 2.0 * (crest - past_crest_mm * slope).max(0.0),
    }
}

impl Nut {
    /// Radius at the face of a chamfer, mm; the bore's without one.
    pub fn mouth_radius_mm(&self) -> f64 {
        self.bore_radius_mm + self.chamfer_mm
    }

    /// Distance of the cutter's axis from the nut's in the last round of a chamfer, mm, for a cutter of this diameter.
    pub fn chamfer_circle_mm(&self, cutter_mm: f64) -> f64 {
        self.mouth_radius_mm() + CHAMFER_MARGIN_MM - cutter_mm / 2.0
    }

    /// Whether both faces get their chamfer from the job's cutter: with several rows of teeth the rows above the lowest
    /// would meet the bore while it works from below.
    pub fn chamfers_below(&self) -> bool {
        self.chamfer_mm > 0.0 && self.mating.as_ref().is_some_and(|mating| mating.rows == 1)
    }

    /// The groove as the job's cutter leaves it, from bore to major radius; empty without a cutter. The points lie closer
    /// towards the major radius, where the root is rounded.
    pub fn section(&self) -> Vec<SectionPoint> {
        let Some(mating) = &self.mating else { return Vec::new() };
        (0..=SECTION_STEPS)
            .map(|step| {
                let share = 1.0 - f64::from(step) / f64::from(SECTION_STEPS);
                let r_mm = self.major_radius_mm - self.depth_mm * share * share;
                SectionPoint { r_mm, half_width_mm: mating.groove.half_width_mm(r_mm) }
            })
            .collect()
    }
}
