//! From a nut to moves of the cutter's axis: X and Y round the axis of the nut, Z of the cutter's end above the top face.
//! Angles count from X+ towards Y+. Knows nothing of words; [`crate::post`] turns the moves into text.
//!
//! The cutter is only ever let down, lifted or moved rapidly on the axis of the nut, in the open hole. It goes to the wall and
//! back on half circles that touch the circle it then runs on; with the thread these climb as the thread does, so that even
//! where wood stands there the tooth keeps to its own groove.

mod bore;
mod thread;
mod track;

use crate::design::nut::{Nut, NutStep};
use crate::drawing::{Hand, NutStage};
use crate::job::Job;
use crate::setup::Milling;

/// What the cutter's end keeps from the top face where rapid moves along the axis end, mm (common practice, no source).
pub(super) const ABOVE_MM: f64 = 2.0;

/// A place of the cutter's end, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NutPlace {
    /// From the axis of the nut, along X.
    pub x_mm: f64,
    /// From the axis of the nut, along Y.
    pub y_mm: f64,
    /// Above the top face.
    pub z_mm: f64,
}

/// The line on which a move runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Line {
    /// Straight.
    Straight,
    /// On an arc of at most half a turn, seen from above, Z growing evenly along it.
    Arc {
        /// Its centre.
        centre_mm: [f64; 2],
        /// Anticlockwise seen from above.
        anticlockwise: bool,
    },
}

/// One move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NutMove {
    /// Where to.
    pub to: NutPlace,
    /// On which line.
    pub line: Line,
    /// Speed of the cutter's axis, mm/min; `None` for as fast as the machine can.
    pub feed_mm_per_min: Option<f64>,
    /// What it belongs to: a place in [`NutPath::notes`].
    pub note: usize,
}

/// The plan of one program.
#[derive(Clone, Debug, PartialEq)]
pub struct NutPath {
    /// Height at which it begins and ends, on the axis of the nut.
    pub safe_z_mm: f64,
    /// The moves in order.
    pub moves: Vec<NutMove>,
    /// What each group of moves does, in words.
    pub notes: Vec<String>,
}

impl NutPath {
    /// Least and greatest X, Y and Z.
    pub fn extents_mm(&self) -> [[f64; 2]; 3] {
        // Arcs reach no farther from the axis than their ends and the circle they touch, all of which pass through ends
        // half a turn apart; what counts is the distance from the axis.
        let far = self.moves.iter().fold(0.0_f64, |far, step| far.max(step.to.x_mm.hypot(step.to.y_mm)));
        let z = self.moves.iter().map(|step| step.to.z_mm);
        let low = z.clone().fold(self.safe_z_mm, f64::min);
        let high = z.fold(self.safe_z_mm, f64::max);
        [[-far, far], [-far, far], [low, high]]
    }
}

/// Which way the cutter goes round, and whether it climbs while it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Sense {
    pub(super) anticlockwise: bool,
    pub(super) rising: bool,
}

impl Sense {
    /// A spindle that turns clockwise seen from above climbs when it goes round a hole anticlockwise. A right-hand thread
    /// rises anticlockwise.
    pub(super) fn of(milling: Milling, hand: Hand) -> Self {
        let anticlockwise = milling == Milling::Climb;
        Sense { anticlockwise, rising: anticlockwise == (hand == Hand::Right) }
    }

    /// +1 anticlockwise, -1 clockwise.
    pub(super) fn turn(self) -> f64 {
        if self.anticlockwise { 1.0 } else { -1.0 }
    }
}

/// Plans one program of a nut; `None` when the job names no cutter for it. What stands against it was found with the nut.
pub fn nut_work(job: &Job, nut: &Nut, step: &NutStep) -> Option<NutPath> {
    match step.stage {
        NutStage::Bored => bore::bore(job, nut),
        NutStage::Threaded => thread::thread(job, nut),
    }
}
