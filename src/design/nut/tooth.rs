//! A cutter's tooth against the thread that it is to make: what groove it leaves, how far passes must run beside each other
//! so that the screw has its clearance everywhere, and what gaps come of it.

use super::helicoid::NutGroove;
use crate::design::Screw;
use crate::drawing::SectionPoint;
use crate::job::Job;
use crate::setup::{ThreadMill, Tooth};

/// What a tooth must be clear of the wood, mm, before it leaves or enters a groove sideways.
pub const OUT_MM: f64 = 1.0;
/// How far the tip of a tooth runs past the edge of a chamfer, mm, so that its flank cuts the whole cone.
pub const CHAMFER_MARGIN_MM: f64 = 0.5;
/// Widening below this is none: it is less than shows in wood, and spares two passes.
const LEAST_ASIDE_MM: f64 = 0.01;

/// A tooth in a thread.
#[derive(Clone, Debug, PartialEq)]
pub struct Mating {
    /// The groove at full depth, passes to either side counted.
    pub groove: NutGroove,
    /// The tooth.
    pub tooth: Tooth,
    /// Rows of teeth.
    pub rows: usize,
    /// How far passes at full depth run above and below the middle; zero when there are none.
    pub aside_mm: f64,
    /// How far the cutter's axis stands from the nut's at full depth.
    pub circle_mm: f64,
    /// Over-cut of one flank at the pitch line: what the groove is wider than the tooth standing still would leave.
    pub over_cut_mm: f64,
    /// Half angle of the nut's flank in the axial section, at the pitch line, degrees.
    pub flank_axial_deg: f64,
    /// Least gap at a flank as cut, over the whole flank: the clearance, or more.
    pub flank_least_mm: f64,
    /// Greatest gap at a flank as cut.
    pub flank_most_mm: f64,
    /// Thread that stays at the bore, along the axis.
    pub crest_flat_mm: f64,
    /// How far earlier passes cut past the flank, at its worst.
    pub cut_before_mm: f64,
    /// How far the middle of the tooth must stand beyond a face before it is out of the wood.
    pub beyond_mm: f64,
}

impl Mating {
    /// Holds a cutter against a thread; `None` when no groove comes of it, as [`super::judge`] then tells.
    pub(super) fn of(
        job: &Job,
        screw: &Screw,
        cutter: &ThreadMill,
        [bore_mm, major_mm]: [f64; 2],
        needed: &[SectionPoint],
    ) -> Option<Self> {
        let tooth = *cutter.teeth.first()?;
        if tooth.diameter_mm / 2.0 >= bore_mm {
            return None;
        }
        let lead_mm = job.screw.lead_mm;
        let plain = NutGroove::new(&tooth, major_mm, lead_mm);
        if !plain.is_helicoid() {
            return None;
        }
        let lacks = |point: &SectionPoint| point.half_width_mm - plain.half_width_mm(point.r_mm);
        let aside = needed.iter().map(lacks).fold(0.0, f64::max);
        let aside_mm = if aside < LEAST_ASIDE_MM { 0.0 } else { aside };
        let groove = plain.widened(aside_mm);
        // What is over the need is gap beside the clearance that the need holds already.
        let clearance_mm = |point: &SectionPoint| {
            let tooth_of_screw = job.screw.pitch_mm / 2.0 - screw.groove().half_width_mm(point.r_mm);
            groove.half_width_mm(point.r_mm) - tooth_of_screw
        };
        let gaps: Vec<f64> = needed.iter().map(clearance_mm).collect();
        let pitch_line = (screw.pitch_line_diameter_mm / 2.0).clamp(bore_mm, major_mm);
        let at_bore = groove.half_width_mm(bore_mm);
        Some(Mating {
            groove,
            tooth,
            rows: cutter.teeth.len(),
            aside_mm,
            circle_mm: groove.circle_mm(),
            over_cut_mm: groove.half_width_mm(pitch_line) - groove.plain_half_width_mm(pitch_line),
            flank_axial_deg: groove.flank_slope(pitch_line).atan().to_degrees(),
            flank_least_mm: gaps.iter().copied().fold(f64::INFINITY, f64::min),
            flank_most_mm: gaps.iter().copied().fold(0.0, f64::max),
            crest_flat_mm: job.screw.pitch_mm - 2.0 * at_bore,
            cut_before_mm: groove.cut_before_mm(bore_mm),
            beyond_mm: at_bore + OUT_MM,
        })
    }

    /// Least and greatest height of the lowest tooth's middle at which it circles at full radius, passes aside not counted:
    /// past both faces, whatever row is there.
    pub fn heights_mm(&self, job: &Job, length_mm: f64) -> [f64; 2] {
        let low = -length_mm - self.beyond_mm;
        let rows_span = (self.rows.saturating_sub(1)) as f64 * job.screw.pitch_mm;
        // The rows share the height; each turns at least once, so that the grooves of neighbouring rows meet.
        let high = (self.beyond_mm - rows_span).max(low + job.screw.lead_mm);
        [low, high]
    }

    /// Height of the cutter's end when it is lowest, entry and passes aside counted.
    pub fn lowest_end_mm(&self, job: &Job, length_mm: f64) -> f64 {
        self.heights_mm(job, length_mm)[0] - self.aside_mm - job.screw.lead_mm / 4.0 - self.tooth.middle_mm
    }
}
