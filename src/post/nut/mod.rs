//! The program of a nut: X and Y round the axis of the nut, Z of the cutter's end, no rotary. Arcs as G2 and G3 with their
//! centre where the machine takes them, else as short lines. F is always a way a minute: nothing turns, so every control
//! means the same by it.

mod header;
mod words;

use super::text::Text;
use super::{end, modes, spindle_off, spindle_on};
use crate::design::nut::{Nut, NutStep};
use crate::job::Job;
use crate::setup::NutSetup;
use crate::toolpath::{Line, NutPath, NutPlace};
use words::Words;

/// What a program of a nut says of itself.
#[derive(Clone, Debug, Default)]
pub struct NutLead {
    /// Its place: first or second of so many.
    pub place: String,
    /// Digest of the job and its nut.
    pub digest: String,
}

/// The program that makes a machine run a path of a nut.
pub fn nut_program(job: &Job, nut: &Nut, step: &NutStep, path: &NutPath, lead: &NutLead) -> String {
    let machine = &step.setup.machine;
    let words = Words::new(&step.setup, path);
    let mut text = Text::with_habits(machine.style, &machine.habits);
    text.wrapper();
    text.name();
    for line in header::lines(&header::Facts { job, nut, step, path, lead, words: &words }) {
        text.comment(&line);
    }
    modes(&mut text, machine, "G94");
    let mut at = NutPlace { x_mm: 0.0, y_mm: 0.0, z_mm: path.safe_z_mm };
    for line in words.start(at) {
        text.code(&line);
    }
    spindle_on(&mut text, machine, step.setup.rpm);
    let (mut told, mut feed) = (None, None);
    for step in &path.moves {
        if told != Some(step.note) {
            told = Some(step.note);
            if let Some(note) = path.notes.get(step.note) {
                text.comment(note);
            }
        }
        for line in words.motion(at, step, &mut feed) {
            text.code(&line);
        }
        at = step.to;
    }
    spindle_off(&mut text, machine);
    end(&mut text, machine);
    text.wrapper();
    text.finish()
}

/// Minutes that a program of a nut takes: feed moves as planned, rapid moves at the top speed of Z, the spindle's start. The
/// time lost in speeding up and slowing down is not in it.
pub fn nut_minutes(setup: &NutSetup, path: &NutPath) -> f64 {
    let mut at = NutPlace { x_mm: 0.0, y_mm: 0.0, z_mm: path.safe_z_mm };
    let mut sum = setup.machine.spindle.start_s / 60.0;
    for step in &path.moves {
        let climb = step.to.z_mm - at.z_mm;
        let way = match step.line {
            Line::Straight => (step.to.x_mm - at.x_mm).hypot(step.to.y_mm - at.y_mm).hypot(climb),
            Line::Arc { centre_mm, anticlockwise } => (words::arc_rad(at, step.to, centre_mm, anticlockwise)
                * words::radius_mm(at, centre_mm))
            .hypot(climb),
        };
        sum += way / step.feed_mm_per_min.unwrap_or(setup.machine.z.top_mm_per_min);
        at = step.to;
    }
    sum
}
