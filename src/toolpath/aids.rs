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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{self, sample};

    fn reaching(ends_mm: [f64; 2]) -> Work {
        let place = |s_mm: f64| Place { s_mm, theta_deg: 0.0, r_mm: 20.0 };
        let cut =
            |s_mm: f64| Move { pace: Pace::Feed { minutes: 1.0 }, what: What::Cut, to: place(s_mm), pass: 0 };
        let notes = vec!["a cut".to_owned()];
        Work {
            from: place(ends_mm[0]),
            moves: ends_mm.map(cut).to_vec(),
            notes,
            wound_back_turns: Vec::new(),
        }
    }

    #[test]
    fn the_trip_goes_to_both_ends_down_and_a_quarter_round_slowly() {
        let job = sample::job();
        let screw = design::screw(&job).0.expect("it can be made");
        // Two programs, the ends of the work in one each.
        let trip = extents(&job, &screw, &[&reaching([-6.0, 200.0]), &reaching([40.0, 312.0])]);
        let [low, high] = [-6.0, 312.0];
        let up_mm = trip.from.r_mm;
        let down_mm = trip.moves[2].to.r_mm;
        // Clear of the round blank of the job by its clearance, and higher on the way.
        let clear_mm = design::blank_radius_mm(&job.blank) + job.cutting.clearance_mm;
        assert!((down_mm - clear_mm).abs() < 1e-9 && up_mm > down_mm, "{down_mm} under {up_mm}");
        // Seen from the operator A counts up: in the frame of the screw against the sign of the headstock's side and of A.
        let turned = trip.moves[4].to.theta_deg;
        assert_eq!(turned, -90.0 * job.machine.headstock.sign() * job.machine.a_plus.sign());
        let want = [
            (high, 0.0, up_mm),
            (low, 0.0, up_mm),
            (low, 0.0, down_mm),
            (low, 0.0, up_mm),
            (low, turned, up_mm),
            (low, 0.0, up_mm),
        ];
        let got: Vec<_> =
            trip.moves.iter().map(|step| (step.to.s_mm, step.to.theta_deg, step.to.r_mm)).collect();
        assert_eq!(got, want);
        // At a quarter of the top speed of the axis that moves, each.
        let machine = &job.machine;
        let ways = [
            (high - low) / machine.x.top_mm_per_min,
            (high - low) / machine.x.top_mm_per_min,
            (up_mm - down_mm) / machine.z.top_mm_per_min,
            (up_mm - down_mm) / machine.z.top_mm_per_min,
            90.0 / machine.a.top_deg_per_min,
            90.0 / machine.a.top_deg_per_min,
        ];
        for (step, at_top) in trip.moves.iter().zip(ways) {
            let Pace::Feed { minutes } = step.pace else { panic!("nothing is rapid here") };
            assert!((minutes - 4.0 * at_top).abs() < 1e-12, "{minutes} for {at_top}");
        }
    }
}
