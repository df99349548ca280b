//! Moves that cut nothing: a step lifted into the air, and a slow trip along its extents.

use super::frame::Frame;
use super::{Move, Pace, Place, What, Work};
use crate::design::Screw;
use crate::finding::{Finding, design as code};
use crate::job::Job;

/// Share of an axis's top speed at which extents are shown: slow enough to stop by hand.
const SHOW_SHARE: f64 = 0.25;
/// How far the blank is turned to show which way A counts, degrees.
const SHOW_DEG: f64 = 90.0;
/// Agreement of heights, mm.
const SAME_MM: f64 = 1e-6;

/// The same moves, so much higher that the tip passes clear of the whole blank, corners and all. Heights that only
/// rapid moves reach stay below the top of Z.
///
/// # Errors
/// A finding when Z is too short for it.
pub fn in_air(job: &Job, screw: &Screw, work: &Work) -> Result<Work, Box<Finding>> {
    let frame = Frame::new(job, screw);
    let lowest = work.moves.iter().map(|step| step.to.r_mm).fold(f64::INFINITY, f64::min);
    let lift = (frame.safe_r_mm - lowest).max(0.0);
    let top = job.machine.z_range_above_axis_mm[1];
    let cuts = work.moves.iter().filter(|step| step.pace != Pace::Rapid);
    let highest = cuts.map(|step| step.to.r_mm + lift).fold(0.0, f64::max);
    if highest > top + SAME_MM {
        let unit = job.unit;
        return Err(Box::new(
            Finding::new(
                &code::REACH_SHORT,
                format!(
                    "lifted clear of the blank, the tip would rise to {}; it reaches {}",
                    unit.show(highest),
                    unit.show(top)
                ),
            )
            .at_some(job.marks.get("machine.z.top"))
            .help("try it without the blank, or with less stick-out: the moves themselves are proved as they are")
            .values(highest, top),
        ));
    }
    let lifted = |place: Place| Place { r_mm: (place.r_mm + lift).min(top), ..place };
    Ok(Work {
        from: lifted(work.from),
        moves: work.moves.iter().map(|step| Move { to: lifted(step.to), ..*step }).collect(),
        notes: work.notes.clone(),
        wound_back_turns: work.wound_back_turns.clone(),
    })
}

/// A slow trip above everything to the ends of what several programs reach along the blank, a quarter turn of A and
/// back, and down to the height of rapid moves.
pub fn extents(job: &Job, screw: &Screw, works: &[&Work]) -> Work {
    let frame = Frame::new(job, screw);
    let stations = works.iter().flat_map(|work| work.moves.iter().map(|step| step.to.s_mm));
    let [low, high] =
        stations.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], s| [low.min(s), high.max(s)]);
    let from = Place { s_mm: low, theta_deg: 0.0, r_mm: frame.high_r_mm };
    let mut work = Work { from, moves: Vec::new(), notes: Vec::new(), wound_back_turns: Vec::new() };
    let mut show = |note: &str, to: Place| {
        let machine = &job.machine;
        let at = work.moves.last().map_or(from, |step: &Move| step.to);
        let minutes = [
            (to.s_mm - at.s_mm).abs() / machine.x.top_mm_per_min,
            (to.r_mm - at.r_mm).abs() / machine.z.top_mm_per_min,
            (to.theta_deg - at.theta_deg).abs() / machine.a.top_deg_per_min,
        ];
        let minutes = minutes.into_iter().fold(0.0, f64::max) / SHOW_SHARE;
        if minutes > 0.0 {
            work.notes.push(note.to_owned());
            let pass = work.notes.len() - 1;
            work.moves.push(Move { pace: Pace::Feed { minutes }, what: What::Return, to, pass });
        }
    };
    // A counts up for the operator, whichever way that turns the blank in the frame of the screw.
    let quarter = SHOW_DEG * job.machine.headstock.sign() * -job.machine.a_plus.sign();
    let high_up = |s_mm: f64| Place { s_mm, ..from };
    show("to the head end of the work", high_up(high));
    show("back to its nose end", high_up(low));
    show("down to the height of rapid moves", Place { r_mm: frame.safe_r_mm, ..high_up(low) });
    show("and up again", high_up(low));
    show("A to +90: see which way the top moves", Place { theta_deg: quarter, ..high_up(low) });
    show("and back", high_up(low));
    work
}
