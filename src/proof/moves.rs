//! What the checks of spindle and time look at: the motions of a program on a machine, whatever it is that they cut.

use std::sync::Arc;

use crate::finding::{Code, Finding};
use crate::rs274::Motion;
use crate::setup::Machine;
use crate::source::{Mark, Source};

use super::Case;
use super::motions::at_pose;

/// The motions of a program.
pub(super) struct Moves<'a> {
    pub(super) program: &'a Arc<Source>,
    pub(super) machine: &'a Machine,
    /// Spindle speed that the job asks for.
    pub(super) rpm: f64,
    pub(super) motions: &'a [Motion],
    /// Deepest bite of each motion.
    pub(super) deepest_mm: Vec<f64>,
}

impl<'a> Moves<'a> {
    /// Of a screw.
    pub(super) fn of(case: &Case<'a>) -> Moves<'a> {
        Moves {
            program: case.program,
            machine: &case.setup.machine,
            rpm: case.setup.rpm,
            motions: case.motions,
            deepest_mm: case.carved.cuts.iter().map(|cut| cut.deepest_mm).collect(),
        }
    }

    /// A finding at a motion.
    pub(super) fn finding(&self, code: &'static Code, motion: &Motion, message: String) -> Finding {
        Finding::new(code, message).at(Mark::new(self.program, motion.span.clone())).spot(at_pose(motion.to))
    }
}
