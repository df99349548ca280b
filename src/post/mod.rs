//! From moves on the screw to program text for a machine: signs, units, feed words, number format, comments. Decides
//! nothing about the cut, knows no clock and no file; the same path gives the same bytes.
//!
//! Only the plainest part of RS-274 is written (NISTIR 6556): straight moves, one to a line with its G word, every mode
//! it depends on set at the top, no arcs, cycles, offsets or parameters.

mod feed;
mod frame;
mod header;
mod number;
mod text;

pub use feed::feed_word;

use crate::design::{self, Screw};
use crate::feeds::Kind;
use crate::job::Job;
use crate::setup::{CommentStyle, DwellUnit, EndWord, FeedConvention, Setup, SpindleControl, TextStyle};
use crate::toolpath::{Move, Pace, Pass, Path, Place, Towards};
use crate::units::LengthUnit;
use frame::{Frame, Pose};
use text::Text;

/// The program that makes a machine run a path.
pub fn program(job: &Job, screw: &Screw, path: &Path) -> String {
    let setup = design::setup(job, screw);
    let frame = Frame::new(&setup);
    let mut text = Text::new(setup.machine.style);
    text.wrapper();
    header::write(&mut text, &header::Facts::new(job, screw, &setup, path, &frame));
    modes(&mut text, &setup);
    let mut at = frame.pose(path.from);
    for word in [frame.z_word(at.z), frame.x_word(at.x), frame.a_word(at.a)] {
        text.code(&format!("G0 {word}"));
    }
    spindle_on(&mut text, &setup);
    let mut pass = None;
    for step in &path.moves {
        if pass != Some(step.pass) {
            pass = Some(step.pass);
            if let Some(pass) = path.passes.get(step.pass) {
                text.comment(&pass_words(job, pass));
            }
        }
        at = motion(&mut text, &frame, at, step);
    }
    spindle_off(&mut text, &setup);
    text.wrapper();
    text.finish()
}

/// The same program with lines at its head that say it failed its proof. `None` for a machine that takes no comments:
/// such a program cannot carry the warning itself.
pub fn mark_unproved(program: &str, style: TextStyle) -> Option<String> {
    if style.comments == CommentStyle::None {
        return None;
    }
    let mut mark = Text::new(style);
    mark.comment("NOT PROVED: this program failed its proof and was written on demand");
    mark.comment("do not cut with it before every stop of the proof is understood");
    let head = if style.percent { program.find('\n').map_or(0, |end| end + 1) } else { 0 };
    let (before, after) = program.split_at(head);
    Some(format!("{before}{}{after}", mark.finish()))
}

/// Minutes that a program takes: feed moves as planned, rapid moves at the axes' top speeds, the spindle's start. The
/// way to where the path begins counts from the nose, Z at the top of its travel and A0. The time lost in speeding up
/// and slowing down is not in it.
pub fn minutes(setup: &Setup, path: &Path) -> f64 {
    let machine = &setup.machine;
    let rapid = |from: Place, to: Place| {
        let x = (to.s_mm - from.s_mm).abs() / machine.x.top_mm_per_min;
        let z = (to.r_mm - from.r_mm).abs() / machine.z.top_mm_per_min;
        let a = (to.theta_deg - from.theta_deg).abs() / machine.a.top_deg_per_min;
        (x, z, a)
    };
    let parked = Place { s_mm: 0.0, theta_deg: 0.0, r_mm: setup.z_limits_mm[1] - setup.z_axis_mm };
    let (x, z, a) = rapid(parked, path.from);
    let mut at = path.from;
    let mut sum = x + z + a + machine.spindle.start_s / 60.0;
    for step in &path.moves {
        sum += match step.pace {
            Pace::Rapid => {
                let (x, z, a) = rapid(at, step.to);
                x.max(z).max(a)
            }
            Pace::Feed { minutes } => minutes,
        };
        at = step.to;
    }
    sum
}

/// Sets every mode that the program depends on. One word a line: the simplest readers take no more. Units come
/// before any feed, since a change of units does not convert a feed already given (NISTIR 6556 section 4.3.3.3).
fn modes(text: &mut Text, setup: &Setup) {
    let units = match setup.machine.style.unit {
        LengthUnit::Mm => "G21",
        LengthUnit::Inch => "G20",
    };
    for word in [units, "G17", "G40", "G49", "G54", "G80", "G90", feed_mode(setup.machine.feed)] {
        text.code(word);
    }
}

fn feed_mode(convention: FeedConvention) -> &'static str {
    match convention {
        FeedConvention::InverseTime => "G93",
        FeedConvention::Linear | FeedConvention::Combined => "G94",
    }
}

fn spindle_on(text: &mut Text, setup: &Setup) {
    let rpm = number::plain(setup.rpm.round(), 0);
    match setup.machine.spindle.control {
        SpindleControl::Program => {
            text.code(&format!("M3 S{rpm}"));
            let seconds = setup.machine.spindle.start_s;
            if seconds > 0.0 {
                text.code(&match setup.machine.style.dwell {
                    DwellUnit::Seconds => format!("G4 P{}", number::plain(seconds, 3)),
                    DwellUnit::Milliseconds => {
                        format!("G4 P{}", number::plain((1000.0 * seconds).round(), 0))
                    }
                });
            }
        }
        SpindleControl::Hand => {
            text.comment(&format!(
                "switch the spindle on at {rpm} rev/min and wait until it has its speed, then let the program go on"
            ));
            text.code("M0");
        }
    }
}

/// After the last retract. Leaves the feed mode that most programs expect.
fn spindle_off(text: &mut Text, setup: &Setup) {
    match setup.machine.spindle.control {
        SpindleControl::Program => text.code("M5"),
        SpindleControl::Hand => {
            text.comment("switch the spindle off, then let the program go on to its end");
            text.code("M0");
        }
    }
    if setup.machine.feed == FeedConvention::InverseTime {
        text.code("G94");
    }
    text.code(match setup.machine.style.end {
        EndWord::M2 => "M2",
        EndWord::M30 => "M30",
    });
}

fn pass_words(job: &Job, pass: &Pass) -> String {
    let mut words = format!(
        "start {} of {}, pass {} of {}, depth {}",
        pass.start + 1,
        job.screw.starts,
        pass.number,
        pass.of,
        job.unit.show(pass.depth_mm)
    );
    match pass.kind {
        Kind::Depth => {}
        Kind::Spring => words.push_str(", spring pass"),
        Kind::Flank if pass.aside_mm > 0.0 => words.push_str(", flank towards the head"),
        Kind::Flank => words.push_str(", flank towards the nose"),
    }
    if pass.towards == Towards::Nose {
        words.push_str(", from head to nose");
    }
    words
}

/// Writes a move, unless it is shorter than the last digit of every word. Returns where the axes stand after it.
fn motion(text: &mut Text, frame: &Frame, at: Pose, step: &Move) -> Pose {
    let to = frame.pose(step.to);
    let mut words = String::from(if step.pace == Pace::Rapid { "G0" } else { "G1" });
    let axes = [
        (to.x != at.x, frame.x_word(to.x)),
        (to.z != at.z, frame.z_word(to.z)),
        (to.a != at.a, frame.a_word(to.a)),
    ];
    for (_, word) in axes.iter().filter(|(moves, _)| *moves) {
        words.push(' ');
        words.push_str(word);
    }
    if to == at {
        return at;
    }
    if let Pace::Feed { minutes } = step.pace {
        words.push_str(" F");
        words.push_str(&number::significant(frame.feed(at, to, minutes)));
    }
    text.code(&words);
    to
}

#[cfg(test)]
mod tests;
