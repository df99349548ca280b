//! The moves of one step: its operations one after another, clear of the wood in between. A step that cuts the thread
//! alone makes the same moves as [`super::plan`].

use super::lathe::Lathe;
use super::{Move, Path, Place, faults, flats, frame::Frame, thread, turning};
use crate::design::{Feature, Screw, Step};
use crate::finding::{Finding, Severity};
use crate::job::Job;

/// The plan of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Where it begins: clear of everything. The way there is radius first, then station, then angle.
    pub from: Place,
    /// The moves in order; each names its note.
    pub moves: Vec<Move>,
    /// What is being done, in words for the program.
    pub notes: Vec<String>,
    /// Turns of each move of A that winds back with the spindle running.
    pub wound_back_turns: Vec<f64>,
}

impl Work {
    /// A thread's path as work.
    pub fn of_thread(job: &Job, path: &Path) -> Work {
        Work {
            from: path.from,
            moves: path.moves.clone(),
            notes: path.passes.iter().map(|pass| thread::words(job, pass)).collect(),
            wound_back_turns: thread::wound_back_turns(job, path),
        }
    }
}

/// Plans a step. Returns the moves, unless there is no way to make them, and everything that stands against them.
pub fn work(job: &Job, screw: &Screw, step: &Step, choice: &thread::Choice) -> (Option<Work>, Vec<Finding>) {
    let frame = Frame::new(job, screw);
    let mut findings = faults::of_step(job, step);
    if findings.iter().any(|finding| finding.severity == Severity::Stop) {
        return (None, findings);
    }
    let mut lathe = Lathe::new(job, step, &frame);
    for (operation, features) in &step.operations {
        for feature in features {
            match feature {
                Feature::Turn { .. } => turning::turn(&mut lathe, *operation, feature),
                Feature::Profile { points } => turning::profile(&mut lathe, *operation, points),
                Feature::Ring { s_mm, from_r_mm, to_r_mm } => {
                    turning::ring(&mut lathe, *operation, *s_mm, [*from_r_mm, *to_r_mm]);
                }
                Feature::Flats { .. } => flats::flats(&mut lathe, feature),
                Feature::Thread => {
                    let (path, more) = thread::plan_choice(job, screw, choice);
                    findings.extend(more);
                    let Some(path) = path else { return (None, findings) };
                    lathe.take_over(Work::of_thread(job, &path));
                }
            }
        }
    }
    (lathe.finish(), findings)
}
