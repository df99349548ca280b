//! Reads RS-274 text and works out what it moves. Standard: NIST RS274/NGC version 3 (NISTIR 6556).
//!
//! [`read()`] turns text into blocks, [`execute()`] turns blocks into [`Motion`]s. Neither stops at the first fault:
//! each returns what it could read and every finding. Nothing here knows of wood, threads, or how programs are made.
//!
//! # Where the standard is silent
//!
//! What was chosen, each told again where it is done:
//! - A program starts under G80 G90 G94 G17, without feed, spindle stopped, no shift of origins; unit and place come from
//!   the machine (partly from memory).
//! - `ROUND` takes a half away from zero, `MOD` is never negative (from memory).
//! - What F holds after G93 is not known: it has to be given again. A feed up to 1e-6 is none.
//! - A parameter that the program did not set is not known, nor what G28, G30, G53, G55 to G59.3, G43 H and G41 D keep in
//!   the machine: positions are given up from there on, and everything else is still checked.
//! - T, H and D go up to 999 (common practice, no source).
//! - An arc whose end lies within 1e-12 of a turn of its start is a full circle (from memory).
//! - B and C words are refused: the report lets a control without these axes refuse or pass over them.
//! - Letters beyond ASCII may stand in comments: they can be printed. Control characters may not.
//! - A missing closing percent line after an end word needs thought and stops nothing: no control reads so far.
//! - M1 is passed over: whether its switch is on makes no difference to what is cut.
//! - A habit outside the standard that the machine file allows is noted once, at its first line.

mod number;
mod squeeze;
mod slip;
mod formula;
mod grammar;
mod extent;
mod findings;
mod allowances;
mod program;
mod read;
mod parameters;
mod codes;
mod call;
mod motion;
mod place;
mod feed;
mod modes;
mod arc;
mod arc_words;
mod cycles;
mod rules;
mod execute;
mod dwell;
mod origins;

#[cfg(test)]
mod tests;

pub use execute::{execute, run};
pub use program::Program;
pub use read::read;

pub use motion::{Arc, FeedMode, Kind, Motion, Path, Plane, Pose, Turning};

use crate::finding::Finding;
use crate::setup::{AUnit, Dialect, DwellUnit, FeedConvention, InverseUnit};
use crate::units::LengthUnit;

/// What the interpreter has to know of the machine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Control {
    /// What its reader accepts beyond the standard.
    pub dialect: Dialect,
    /// What F means when A moves.
    pub feed: FeedConvention,
    /// Unit in force until the program says G20 or G21.
    pub unit: LengthUnit,
    /// Unit of the P word of G4.
    pub dwell: DwellUnit,
    /// The spindle is switched by hand: M0 counts as the moment when the operator starts it.
    pub hand_spindle: bool,
    /// Habits of the control that change what words mean.
    pub habits: Meaning,
    /// Switch for lines that begin with `/`.
    pub block_delete: bool,
    /// Where the axes stand when the program starts; the interpreter trusts it, the proof decides what it may assume.
    pub start: Pose,
}

/// Habits of a control that change what words mean. The default is the standard.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Meaning {
    /// What F counts under G93.
    pub inverse: InverseUnit,
    /// What A words count.
    pub a_unit: AUnit,
    /// The control takes G70 and G71 for inches and millimetres.
    pub g70: bool,
    /// The control has one unit of length, so a program need not say it.
    pub one_unit: bool,
    /// The control has one meaning of F, so a program need not say it.
    pub one_feed_mode: bool,
    /// The spindle's only speed, where S is not heard.
    pub one_speed_rpm: Option<f64>,
}

/// What a program has said before its first feed move; what it has not said is as the last program or the operator
/// left it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Said {
    /// G20 or G21.
    pub units: bool,
    /// G90 or G91.
    pub distance: bool,
    /// G93 or G94.
    pub feed_mode: bool,
    /// Where X, Z, A and Y stand, each by a move of its own.
    pub axes: [bool; 4],
    /// Which of them G92 gave a new reading before they stood anywhere known.
    pub shifted: [bool; 4],
}

/// What happens between two motions.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Event {
    /// The spindle is told to turn otherwise, rev/min; less than zero counter-clockwise, zero when it is stopped.
    Spindle {
        /// How fast.
        rpm: f64,
    },
    /// G4.
    Dwell {
        /// How long.
        minutes: f64,
    },
    /// M0: the operator lets the program go on.
    Stop,
    /// M1: the same where the operator's switch is on.
    OptionalStop,
}

/// What a program does, as far as it could be followed.
#[derive(Clone, Debug, Default)]
pub struct Run {
    /// Its motions in order.
    pub motions: Vec<Motion>,
    /// What the reader and the interpreter found.
    pub findings: Vec<Finding>,
    /// What the program shows the operator (`MSG,` comments), with the line of each.
    pub messages: Vec<(usize, String)>,
    /// The unit of length the program set itself (G20 or G21), if it set one before its first motion.
    pub unit_set: Option<LengthUnit>,
    /// What the program itself has said before its first feed move.
    pub said: Said,
    /// First line that begins with a slash and was executed.
    pub optional_line: Option<usize>,
    /// Lines at which the cutter is changed (M6).
    pub tool_changes: Vec<usize>,
    /// Minutes spent in dwells.
    pub dwell_minutes: f64,
    /// What happens between motions, each with the index of the motion that comes next.
    pub events: Vec<(usize, Event)>,
    /// An end word or the closing percent line was reached.
    pub ended: bool,
    /// Line at which positions stopped being trusted, if they did: motions after it are not listed.
    pub lost_at_line: Option<usize>,
}
