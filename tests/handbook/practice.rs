//! Leads of two-start screws as wooden vises and presses have them: common practice, no source.

use threadwright::design;
use threadwright::job::DepthAsked;
use threadwright::toolpath::{self, What};

use crate::Known::Practice;
use crate::{Sheet, sample};

#[test]
fn a_planned_two_start_screw_advances_two_pitches_a_turn() {
    let mut sheet = Sheet::of("lead and place of two starts", "leads of wooden vises and presses", Practice);
    for (pitch, lead) in [(12.5, 25.0), (10.0, 20.0), (7.5, 15.0)] {
        let mut job = sample::job();
        (job.screw.pitch_mm, job.screw.starts, job.screw.lead_mm) = (pitch, 2, pitch * 2.0);
        job.screw.depth = DepthAsked::CrestFlat { flat_mm: 1.0, depth_too_mm: None };
        let (screw, findings) = design::screw(&job);
        assert!(findings.is_empty(), "{findings:?}");
        let (path, findings) = toolpath::plan(&job, &screw.expect("no findings, so a screw"));
        assert!(findings.is_empty(), "{findings:?}");
        let path = path.expect("no findings, so a path");
        // Ends of the cuts, by start; the move before a cut ends where the cut begins.
        let cuts: Vec<_> = path.moves.windows(2).filter(|pair| pair[1].what == What::Cut).collect();
        for cut in &cuts {
            let (from, to) = (cut[0].to, cut[1].to);
            let advance = 360.0 * (to.s_mm - from.s_mm) / (to.theta_deg - from.theta_deg);
            sheet.row(&format!("pitch {pitch}: advance per turn"), advance, lead, 1e-9);
        }
        let at_angle_zero = |start: u32| {
            let cut =
                cuts.iter().find(|cut| path.passes[cut[1].pass].start == start).expect("every start is cut");
            cut[1].to.s_mm - lead * cut[1].to.theta_deg / 360.0
        };
        let apart = (at_angle_zero(0) - at_angle_zero(1)).rem_euclid(lead);
        sheet.row(&format!("pitch {pitch}: one start beside the other"), apart, pitch, 1e-9);
    }
    sheet.done();
}
