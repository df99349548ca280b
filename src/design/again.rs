//! Jobs made from a job: the same thread on a piece of scrap, and the same thread once more, deeper, where it already
//! stands.

use super::Screw;
use super::groove::Groove;
use crate::job::{DepthAsked, Job, Operations, Passes};
use crate::setup::BlankShape;

/// Depth of one pass when a thread is cut again, mm (common practice, no source).
const AGAIN_STEP_MM: f64 = 0.5;

/// A trial piece: the same depth, lead, starts and passes over a few turns, on a round of scrap.
pub fn trial(job: &Job, screw: &Screw, turns: f64, diameter_mm: Option<f64>) -> Job {
    let mut trial = job.clone();
    let diameter_mm = diameter_mm.unwrap_or(2.0 * screw.crest_radius_mm);
    trial.title = format!("trial piece of {}", job.title);
    trial.operations = Operations::default();
    trial.screw.crest_diameter_mm = diameter_mm;
    trial.screw.depth = DepthAsked::Depth { depth_mm: screw.depth_mm };
    trial.screw.thread_length_mm = turns * job.screw.lead_mm;
    trial.screw.plain_nose_mm = 0.0;
    // Behind the run-out only what the cutter needs before the waste.
    trial.screw.plain_head_mm = 2.0 * screw.crest_width_mm;
    trial.blank.shape = BlankShape::Round;
    trial.blank.size_mm = diameter_mm;
    trial
}

/// Where the cutter's tip stands when it touches a thread that is already cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touched {
    /// Station.
    pub s_mm: f64,
    /// Angle of the blank.
    pub theta_deg: f64,
    /// Distance of the tip from the axis; `None` when it sits in the groove and touches both flanks.
    pub r_mm: Option<f64>,
    /// The flank towards the head is touched and not the one towards the nose.
    pub head_flank: bool,
}

/// How far round the blank the thread stands from where the job puts it, degrees: start 1 against the angle at which it
/// should pass the nose face, by at most half the way to the next start.
///
/// Touching one flank, the cutter stands off the middle of the groove by what the groove is wider than a groove whose
/// root lies at the tip; `stands_mm` is how deep the thread is.
pub fn phase_deg(job: &Job, screw: &Screw, touched: Touched, stands_mm: f64) -> f64 {
    let (asked, crest) = (&job.screw, screw.crest_radius_mm);
    let play = touched.r_mm.map_or(0.0, |tip| {
        let width = |root: f64| Groove::new(screw.shape(), root, asked.lead_mm).half_width_mm(crest);
        (width(crest - stands_mm) - width(tip)).max(0.0)
    });
    let middle = touched.s_mm + if touched.head_flank { -play } else { play };
    let phase = touched.theta_deg - asked.hand.sign() * 360.0 * middle / asked.lead_mm;
    let step = 360.0 / f64::from(asked.starts);
    phase - step * (phase / step).round()
}

/// The same thread deeper by `deeper_mm` than it stands. With nothing deeper, one pass cleans it.
pub fn deeper(job: &Job, stands_mm: f64, deeper_mm: f64) -> Job {
    let mut again = job.clone();
    let depth_mm = stands_mm + deeper_mm;
    let count = (deeper_mm / AGAIN_STEP_MM).ceil().max(1.0);
    let depths = (1..=count as usize).map(|i| stands_mm + deeper_mm * i as f64 / count);
    again.screw.depth = DepthAsked::Depth { depth_mm };
    again.cutting.passes = Passes::Depths(depths.collect());
    again.cutting.spring_pass = false;
    again
}

#[cfg(test)]
mod tests {
    use super::super::{sample, screw};
    use super::*;

    /// A cutter seated in the groove says the phase itself; on a flank it stands off by the play, which both flanks
    /// agree on.
    #[test]
    fn the_phase_of_a_thread_is_found_from_its_groove_and_from_either_flank() {
        let job = sample::job();
        let sizes = screw(&job).0.expect("the sample has sizes");
        let lead = job.screw.lead_mm;
        for phase in [-80.0, 0.0, 12.5, 89.0] {
            let (s_mm, tip) = (63.0, sizes.root_radius_mm + 2.0);
            let theta_deg = phase + 360.0 * s_mm / lead + 3.0 * 360.0;
            let seated = Touched { s_mm, theta_deg, r_mm: None, head_flank: false };
            assert!((phase_deg(&job, &sizes, seated, sizes.depth_mm) - phase).abs() < 1e-9);
            // Two millimetres above the root a 60 degree cutter has about 2 tan 30 of play to either side.
            let play = 2.0 * 30.0_f64.to_radians().tan();
            let nose = Touched { s_mm: s_mm - play, r_mm: Some(tip), ..seated };
            let head = Touched { s_mm: s_mm + play, r_mm: Some(tip), head_flank: true, ..seated };
            for touched in [nose, head] {
                let got = phase_deg(&job, &sizes, touched, sizes.depth_mm);
                // The groove of a moving cutter widens a little less per depth: 0.02 mm are 0.36 degrees of this lead.
                assert!((got - phase).abs() < 0.36, "{got} against {phase}");
            }
        }
    }

    /// As thick as the screw and as long as its turns, unless another round of scrap is named.
    #[test]
    fn a_trial_piece_has_the_threads_own_sizes() {
        let job = sample::job();
        let sizes = screw(&job).0.expect("the sample has sizes");
        let own = trial(&job, &sizes, 3.0, None);
        assert!((own.screw.crest_diameter_mm - job.screw.crest_diameter_mm).abs() < 1e-9);
        assert!((own.screw.thread_length_mm - 3.0 * job.screw.lead_mm).abs() < 1e-9);
        assert_eq!(own.blank.size_mm, own.screw.crest_diameter_mm);
        let thin = trial(&job, &sizes, 3.0, Some(40.0));
        assert_eq!([thin.screw.crest_diameter_mm, thin.blank.size_mm], [40.0; 2]);
    }

    /// Half a millimetre a pass at most, evenly, down to what stands and what is to go.
    #[test]
    fn a_deeper_thread_goes_on_from_where_it_stands() {
        let job = deeper(&sample::job(), 5.0, 0.75);
        assert_eq!(job.screw.depth, DepthAsked::Depth { depth_mm: 5.75 });
        assert_eq!(job.cutting.passes, Passes::Depths(vec![5.375, 5.75]));
        assert_eq!(deeper(&sample::job(), 5.0, 0.0).cutting.passes, Passes::Depths(vec![5.0]));
    }
}
