//! From moves on the screw to program text for a machine: signs, units, feed words, number format, comments. Decides
//! nothing about the cut, knows no clock and no file; the same path gives the same bytes.
//!
//! Only the plainest part of RS-274 is written (NISTIR 6556): straight moves, one to a line with its G word, every mode
//! it depends on set at the top, no arcs, cycles, offsets or parameters.

mod digest;
mod feed;
mod frame;
mod header;
mod number;
mod nut;
mod text;

pub use digest::{of as digest, of_nut as nut_digest, read as read_digest};
pub use feed::feed_word;
pub use nut::{NutLead, nut_minutes, nut_program};

use crate::design::{self, Screw};
use crate::job::Job;
use crate::setup::{
    CommentStyle, Corners, DwellUnit, EndWord, FeedConvention, Machine, Setup, SpindleControl, TextStyle,
    UnitsWord,
};
use crate::toolpath::{Move, Pace, Path, Place, Work};
use crate::units::LengthUnit;
use frame::{Frame, Pose};
use text::Text;

/// Words before the digest of a job in the head of a program.
pub const DIGEST_WORDS: &str = "job digest ";

/// What a program says of itself in its first lines, besides what follows from job and moves.
#[derive(Clone, Debug, Default)]
pub struct Lead {
    /// What it does, behind the title of the job; nothing for a program that cuts the whole thread.
    pub title: Option<String>,
    /// Lines of its own.
    pub lines: Vec<String>,
    /// Whether it cuts a thread, whose sizes are then told.
    pub thread: bool,
    /// Digest of the job it was written for.
    pub digest: String,
    /// Whether the spindle stays off.
    pub spindle_off: bool,
}

/// The program that makes a machine run a thread's path.
pub fn program(job: &Job, screw: &Screw, path: &Path) -> String {
    let lead = Lead { thread: true, digest: digest::of(job), ..Lead::default() };
    step_program(job, screw, &design::setup(job, screw), &Work::of_thread(job, path), &lead)
}

/// The program that makes a machine run a step with the cutter of its set-up.
pub fn step_program(job: &Job, screw: &Screw, setup: &Setup, work: &Work, lead: &Lead) -> String {
    step_program_lines(job, screw, setup, work, lead).0
}

/// The same, with the line of the text at which the moves of each note begin, from 1.
pub fn step_program_lines(
    job: &Job,
    screw: &Screw,
    setup: &Setup,
    work: &Work,
    lead: &Lead,
) -> (String, Vec<usize>) {
    let frame = Frame::new(setup);
    let mut text = Text::with_habits(setup.machine.style, &setup.machine.habits);
    text.wrapper();
    text.name();
    header::write(&mut text, &header::Facts::new(job, screw, setup, work, &frame, lead));
    modes(&mut text, &setup.machine, feed_mode(setup.machine.feed));
    let mut at = frame.pose(work.from);
    for word in [frame.z_word(at.z), frame.x_word(at.x), frame.a_word(at.a)] {
        text.code(&format!("G0 {word}"));
    }
    if !lead.spindle_off {
        spindle_on(&mut text, &setup.machine, setup.rpm);
    }
    let mut told = None;
    let mut lines = vec![usize::MAX; work.notes.len()];
    for step in &work.moves {
        if told != Some(step.pass) {
            told = Some(step.pass);
            if let Some(line) = lines.get_mut(step.pass) {
                *line = text.line_count() + 1;
            }
            if let Some(note) = work.notes.get(step.pass) {
                text.comment(note);
            }
        }
        at = motion(&mut text, &frame, at, step);
    }
    if !lead.spindle_off {
        spindle_off(&mut text, &setup.machine);
    }
    if setup.machine.feed == FeedConvention::InverseTime {
        // What most programs expect.
        text.code("G94");
    }
    end(&mut text, &setup.machine);
    text.wrapper();
    (text.finish(), lines)
}

/// The same program with lines at its head that say it failed its proof. `None` for a machine that takes no comments:
/// such a program cannot carry the warning itself.
pub fn mark_unproved(program: &str, style: TextStyle) -> Option<String> {
    let lines = [
        "NOT PROVED: this program failed its proof and was written on demand",
        "do not cut with it before every stop of the proof is understood",
    ];
    marked(program, style, &lines)
}

fn marked(program: &str, style: TextStyle, lines: &[&str]) -> Option<String> {
    if style.comments == CommentStyle::None {
        return None;
    }
    let mut mark = Text::new(style);
    for line in lines {
        mark.comment(line);
    }
    let head = if style.percent { program.find('\n').map_or(0, |end| end + 1) } else { 0 };
    let (before, after) = program.split_at(head);
    Some(format!("{before}{}{after}", mark.finish()))
}

/// Minutes that a program takes: feed moves as planned, rapid moves at the axes' top speeds, the spindle's start. The
/// way to where the path begins counts from the nose, Z at the top of its travel and A0. The time lost in speeding up
/// and slowing down is not in it.
pub fn minutes(setup: &Setup, from: Place, moves: &[Move]) -> f64 {
    let machine = &setup.machine;
    let rapid = |from: Place, to: Place| {
        let x = (to.s_mm - from.s_mm).abs() / machine.x.top_mm_per_min;
        let z = (to.r_mm - from.r_mm).abs() / machine.z.top_mm_per_min;
        let a = (to.theta_deg - from.theta_deg).abs() / machine.a.top_deg_per_min;
        (x, z, a)
    };
    let parked = Place { s_mm: 0.0, theta_deg: 0.0, r_mm: setup.z_limits_mm[1] - setup.z_axis_mm };
    let (x, z, a) = rapid(parked, from);
    let mut at = from;
    let mut sum = x + z + a + machine.spindle.start_s / 60.0;
    for step in moves {
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
fn modes(text: &mut Text, machine: &Machine, feed_mode: &'static str) {
    let habits = &machine.habits;
    let units = match (habits.units_word, machine.style.unit) {
        (UnitsWord::G20, LengthUnit::Mm) => Some("G21"),
        (UnitsWord::G20, LengthUnit::Inch) => Some("G20"),
        (UnitsWord::G70, LengthUnit::Mm) => Some("G71"),
        (UnitsWord::G70, LengthUnit::Inch) => Some("G70"),
        (UnitsWord::None, _) => None,
    };
    let corners = match habits.corners {
        Corners::Leave => None,
        Corners::ExactPath => Some("G61"),
        Corners::ExactStop => Some("G61.1"),
        Corners::Continuous => Some("G64"),
    };
    let plain = ["G17", "G40", "G49", "G54", "G80", "G90", feed_mode];
    let known = plain.into_iter().filter(|word| !habits.left_out.iter().any(|out| out.word() == *word));
    for word in units.into_iter().chain(known).chain(corners) {
        text.code(word);
    }
}

fn feed_mode(convention: FeedConvention) -> &'static str {
    match convention {
        FeedConvention::InverseTime => "G93",
        FeedConvention::Linear | FeedConvention::Combined => "G94",
    }
}

fn spindle_on(text: &mut Text, machine: &Machine, rpm: f64) {
    let rpm = number::plain(rpm.round(), 0);
    match machine.spindle.control {
        SpindleControl::Program => {
            if machine.habits.one_speed {
                text.code("M3");
            } else {
                text.code(&format!("M3 S{rpm}"));
            }
            let seconds = machine.spindle.start_s;
            if seconds > 0.0 {
                dwell(text, machine.style.dwell, seconds);
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

/// Waits until the spindle has its speed.
fn dwell(text: &mut Text, unit: DwellUnit, seconds: f64) {
    let words = match unit {
        DwellUnit::Seconds => format!("G4 P{}", number::plain(seconds, 3)),
        DwellUnit::Milliseconds => format!("G4 P{}", number::plain((1000.0 * seconds).round(), 0)),
        DwellUnit::None => {
            text.comment("wait until the spindle has its speed, then let the program go on");
            "M0".to_owned()
        }
    };
    text.code(&words);
}

/// After the last retract.
fn spindle_off(text: &mut Text, machine: &Machine) {
    match machine.spindle.control {
        SpindleControl::Program => text.code("M5"),
        SpindleControl::Hand => {
            text.comment("switch the spindle off, then let the program go on to its end");
            text.code("M0");
        }
    }
}

fn end(text: &mut Text, machine: &Machine) {
    match machine.style.end {
        EndWord::M2 => text.code("M2"),
        EndWord::M30 => text.code("M30"),
        EndWord::None => {}
    }
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
        words.push_str(&frame.feed_number(at, to, minutes));
    }
    text.code(&words);
    to
}

#[cfg(test)]
mod tests;
