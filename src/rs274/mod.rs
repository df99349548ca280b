//! Reads RS-274 text and works out what it moves. Standard: NIST RS274/NGC version 3 (NISTIR 6556).
//!
//! [`read()`] turns text into blocks, [`execute()`] turns blocks into [`Motion`]s. Neither stops at the first fault:
//! each returns what it could read and every finding. Nothing here knows of wood, threads, or how programs are made.

mod number;
mod squeeze;
mod slip;
mod formula;
mod grammar;
mod findings;
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

#[cfg(test)]
mod tests;

pub use execute::{execute, run};
pub use program::Program;
pub use read::read;

pub use motion::{Arc, FeedMode, Kind, Motion, Path, Plane, Pose, Turning};

use crate::finding::Finding;
use crate::setup::{Dialect, DwellUnit, FeedConvention};
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
    /// Switch for lines that begin with `/`.
    pub block_delete: bool,
    /// Where the axes stand when the program starts; the interpreter trusts it, the proof decides what it may assume.
    pub start: Pose,
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
    /// Minutes spent in dwells.
    pub dwell_minutes: f64,
    /// An end word or the closing percent line was reached.
    pub ended: bool,
    /// Line at which positions stopped being trusted, if they did: motions after it are not listed.
    pub lost_at_line: Option<usize>,
}

pub fn run(source: &std::sync::Arc<crate::source::Source>, control: &Control) -> Run {
    let mut run = Run::default();
    let (mut at, mut mode, mut inverse, mut feed, mut turning, mut rpm) =
        (control.start, 0, false, 0.0_f64, Turning::Stopped, 0.0);
    let mut unit = control.unit;
    for line in 1..=source.line_count() {
        let span = source.line_span(line);
        let text = &source.text()[span.clone()];
        let text = text.split(['(', ';']).next().unwrap_or("");
        let mut to = at;
        let mut moved = false;
        let mut g4 = false;
        for word in text.split_whitespace() {
            let Ok(v) = word[1..].parse::<f64>() else { continue };
            match (&word[..1], v) {
                ("G", 0.0) => mode = 0,
                ("G", 1.0) => mode = 1,
                ("G", 93.0) => inverse = true,
                ("G", 94.0) => inverse = false,
                ("G", 20.0) => {
                    unit = LengthUnit::Inch;
                    run.unit_set = Some(unit)
                }
                ("G", 21.0) => {
                    unit = LengthUnit::Mm;
                    run.unit_set = Some(unit)
                }
                ("G", 4.0) => g4 = true,
                ("X", _) => {
                    to.x_mm = v * unit.mm();
                    moved = true
                }
                ("Z", _) => {
                    to.z_mm = v * unit.mm();
                    moved = true
                }
                ("A", _) => {
                    to.a_deg = v;
                    moved = true
                }
                ("F", _) => feed = v,
                ("S", _) => rpm = v,
                ("M", 3.0) => turning = Turning::Clockwise,
                ("M", 5.0) => turning = Turning::Stopped,
                ("M", 0.0) if control.hand_spindle => turning = Turning::Clockwise,
                ("M", 2.0 | 30.0) => run.ended = true,
                _ => {}
            }
        }
        let _ = g4;
        if moved {
            let d = [to.x_mm - at.x_mm, to.z_mm - at.z_mm, to.a_deg - at.a_deg];
            let lin = d[0].hypot(d[1]) / unit.mm();
            let minutes = (mode == 1 && feed > 0.0).then(|| {
                if inverse {
                    1.0 / feed
                } else if control.feed == FeedConvention::Combined {
                    lin.hypot(d[2]) / feed
                } else if lin > 0.0 {
                    lin / feed
                } else {
                    d[2].abs() / feed
                }
            });
            run.motions.push(Motion {
                line,
                span,
                kind: if mode == 1 { Kind::Feed } else { Kind::Rapid },
                path: Path::Straight,
                from: at,
                to,
                feed,
                feed_mode: FeedMode::PerMinute,
                minutes,
                turning,
                rpm,
            });
            at = to;
        }
    }
    run
}
