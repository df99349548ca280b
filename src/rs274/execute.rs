//! Runs the blocks of a program, one after the other, in the order that the standard lays down for each (NISTIR 6556
//! table 8). Goes on after every fault; once a move cannot be known, positions are given up and everything else is
//! still checked.

use std::sync::Arc;

use super::arc_words;
use super::call::Call;
use super::codes::{GGroup, MGroup, Number};
use super::cycles;
use super::feed::{Feed, Way};
use super::findings::Findings;
use super::modes::{Compensation, Modes};
use super::motion::{FeedMode, Kind, Motion, Path, Pose};
use super::parameters::Parameters;
use super::place::{AXES, FIRST_SHIFT_PARAMETER, Place};
use super::program::{Block, Program, Wrapper};
use super::read::read;
use super::rules;
use super::{Control, Run, Said};
use crate::finding::{Severity, program as code};
use crate::setup::DwellUnit;
use crate::source::Source;
use crate::units::LengthUnit;

const SECONDS_PER_MINUTE: f64 = 60.0;
const MILLISECONDS_PER_SECOND: f64 = 1000.0;

/// A feed up to this is none: a move of one unit would last two years.
const LEAST_FEED: f64 = 1e-6;

/// The parameter before the origins of the first coordinate system, and how many each system has (NISTIR 6556 table
/// 2): X of system n stands at 5201 + 20 n.
const ORIGIN_PARAMETERS: (usize, usize) = (5201, 20);

/// Reads a program and follows it.
pub fn run(source: &Arc<Source>, control: &Control) -> Run {
    execute(&read(source, control.dialect), control)
}

/// Follows a program that was read.
///
/// The result holds the motions in order, in mm and degrees in the coordinates that held at the start, and the
/// findings of reader and interpreter in the order of the text. Positions are given up, and no more motions listed,
/// from the first line on whose effect cannot be known (`lost_at_line`); modes and words are checked to the end.
///
/// The start is trusted: `control.start`, no shift of origins, no tool length, G80, G90, G94, G17, no feed, spindle
/// stopped. Under `control.hand_spindle` the first M0 starts the spindle, which then runs until M5 or the end; M3 and
/// M4 do nothing.
pub fn execute(program: &Program, control: &Control) -> Run {
    let mut follower = Follower {
        control,
        findings: Findings::new(&program.source),
        parameters: Parameters::default(),
        modes: Modes { hand_spindle: control.hand_spindle, ..Modes::default() },
        place: Place::new(&control.start, control.unit, control.habits.a_unit.degrees()),
        kept_shift: None,
        fed: false,
        run: Run {
            said: Said {
                units: control.habits.one_unit,
                feed_mode: control.habits.one_feed_mode,
                ..Said::default()
            },
            ..Run::default()
        },
    };
    let mut end = None;
    let mut messages = program.messages.iter().peekable();
    for (index, block) in program.blocks.iter().enumerate() {
        let message = messages.next_if(|message| message.block == index);
        if block.slash && control.block_delete {
            continue;
        }
        if block.slash {
            follower.run.optional_line.get_or_insert(block.line);
        }
        if let Some(message) = message {
            let text = program.source.text().get(message.text.clone()).unwrap_or("");
            follower.run.messages.push((block.line, text.trim().to_owned()));
        }
        follower.follow(program, block);
        if follower.run.ended {
            end = Some((block.span.end, program.blocks.get(index + 1)));
            break;
        }
    }
    follower.finish(program, end)
}

struct Follower<'a> {
    control: &'a Control,
    findings: Findings,
    parameters: Parameters,
    modes: Modes,
    place: Place,
    /// The shift that G92.3 would bring back, if this program set one.
    kept_shift: Option<[f64; 4]>,
    /// A feed move has been made.
    fed: bool,
    run: Run,
}

impl Follower<'_> {
    /// One block, in the order of NISTIR 6556 table 8.
    fn follow(&mut self, program: &Program, block: &Block) {
        let mut call =
            Call::gather(program, block, self.control.habits.g70, &mut self.parameters, &mut self.findings);
        let before = self.modes;
        self.modes.take(&call);
        self.dwell(&call);
        self.units(&call);
        self.compensation(&call);
        self.tool_length(&call);
        match call.g(GGroup::Distance) {
            Some(900) => self.place.incremental = false,
            Some(910) => self.place.incremental = true,
            _ => {}
        }
        let motion = rules::check(&mut call, &before, self.place.incremental, &mut self.findings);
        self.modes.take_motion(&call);
        if call.unsure {
            self.lose(call.line);
            self.modes.excuse();
        } else {
            self.coordinates(&call);
            self.special(&call);
        }
        self.note_said(&call);
        if let Some(motion) = motion {
            self.motion(&call, motion);
        }
        if call.m(MGroup::ToolChange).is_some() {
            self.run.tool_changes.push(call.line);
        }
        self.modes.stop(&call);
        self.run.ended = matches!(call.m(MGroup::Stop), Some(2 | 30));
    }

    /// Notes what the program says for itself, until it first feeds.
    fn note_said(&mut self, call: &Call) {
        if self.run.motions.last().is_some_and(|motion| motion.kind == Kind::Feed) || self.fed {
            self.fed = true;
            return;
        }
        let said = &mut self.run.said;
        said.units |= call.g(GGroup::Units).is_some();
        said.distance |= call.g(GGroup::Distance).is_some();
        said.feed_mode |= call.g(GGroup::FeedMode).is_some();
        // G92 and G10 take axis words without going anywhere.
        if call.g(GGroup::NonModal).is_none() {
            for (said, letter) in said.axes.iter_mut().zip(*b"XZA") {
                *said |= call.word(letter).is_some();
            }
        }
    }

    fn lose(&mut self, line: usize) {
        self.run.lost_at_line.get_or_insert(line);
    }

    fn dwell(&mut self, call: &Call) {
        if call.g(GGroup::NonModal) != Some(40) {
            return;
        }
        if let Some(pause) = call.word(b'P').filter(|pause| *pause >= 0.0) {
            let seconds = match self.control.dwell {
                DwellUnit::Seconds => pause,
                DwellUnit::Milliseconds => pause / MILLISECONDS_PER_SECOND,
                DwellUnit::None => 0.0,
            };
            self.run.dwell_minutes += seconds / SECONDS_PER_MINUTE;
        }
    }

    fn units(&mut self, call: &Call) {
        let unit = match call.g(GGroup::Units) {
            Some(200) => LengthUnit::Inch,
            Some(210) => LengthUnit::Mm,
            _ => return,
        };
        self.place.unit = unit;
        if self.run.motions.is_empty() && self.run.lost_at_line.is_none() {
            self.run.unit_set = Some(unit);
        }
    }

    fn compensation(&mut self, call: &Call) {
        match call.g(GGroup::Radius) {
            Some(400) => self.modes.compensation = Compensation::Off,
            Some(410 | 420) if call.word(b'D') == Some(0.0) => self.modes.compensation = Compensation::Zero,
            Some(410 | 420) => self.modes.compensation = Compensation::Unknown,
            _ => {}
        }
    }

    fn tool_length(&mut self, call: &Call) {
        let Some(given) = call.given(b'H').filter(|given| given.value != 0.0) else { return };
        if call.g(GGroup::Length) == Some(430) {
            self.lose(call.line);
            self.findings.say_once(&code::TOOL_LENGTH_UNKNOWN, given.span.clone(), || {
                (
                    "this tool length is kept in the machine, so Z is not known from here on".to_owned(),
                    "set Z with the cutter itself and leave G43 out, or use H0".to_owned(),
                )
            });
        }
    }

    fn coordinates(&mut self, call: &Call) {
        if call.g(GGroup::Coordinates).is_some_and(|system| system != 540) {
            self.origin_unknown(call, GGroup::Coordinates, "this origin is kept in the machine");
        }
    }

    fn origin_unknown(&mut self, call: &Call, group: GGroup, why: &str) {
        self.lose(call.line);
        self.findings.say_once(&code::ORIGIN_UNKNOWN, call.g_span(group), || {
            (
                format!("{why}, so nobody can tell from the text where the cutter goes from here on"),
                "set the zero that the set-up sheet asks for in G54 and use that alone".to_owned(),
            )
        });
    }

    /// G10, G28, G30, G53 and the G92 family.
    fn special(&mut self, call: &Call) {
        match call.g(GGroup::NonModal).unwrap_or_default() {
            100 => self.set_origin(call),
            280 | 300 => self.home(call),
            530 if call.has_axes() => {
                self.origin_unknown(call, GGroup::NonModal, "G53 counts from the machine's own zero");
            }
            920 if call.has_axes() => {
                self.place.shift_to(call);
                self.keep_shift(self.place.shift());
            }
            921 => {
                self.place.set_shift([0.0; 4]);
                self.keep_shift([0.0; 4]);
            }
            922 => self.place.set_shift([0.0; 4]),
            923 => match self.kept_shift {
                Some(shift) => self.place.set_shift(shift),
                None => self.origin_unknown(call, GGroup::NonModal, "this shift was left by another program"),
            },
            _ => {}
        }
    }

    fn keep_shift(&mut self, shift: [f64; 4]) {
        self.kept_shift = Some(shift);
        for (axis, value) in shift.into_iter().enumerate() {
            self.parameters.set(FIRST_SHIFT_PARAMETER + axis, value);
        }
    }

    /// G10: harmless unless it moves the origin in force, whose old place nobody knows.
    fn set_origin(&mut self, call: &Call) {
        let Some(system) = call.word(b'P') else { return };
        let (first, step) = ORIGIN_PARAMETERS;
        for (axis, letter) in AXES.iter().enumerate() {
            if let Some(value) = call.word(*letter) {
                self.parameters.set(first + step * system.round() as usize + axis, value);
            }
        }
        if system.round() == 1.0 && call.has_axes() {
            self.origin_unknown(call, GGroup::NonModal, "G10 moves the origin by machine coordinates");
        }
    }

    fn home(&mut self, call: &Call) {
        if call.has_axes() {
            self.push(call, Kind::Rapid, Path::Straight, &self.place.target(call));
        }
        self.lose(call.line);
        self.findings.say_once(&code::HOME_UNKNOWN, call.g_span(GGroup::NonModal), || {
            (
                "this move goes to a place kept in the machine, and A goes along".to_owned(),
                "write out where to go with G0, Z first (NISTIR 6556 section 3.5.8)".to_owned(),
            )
        });
    }

    fn motion(&mut self, call: &Call, motion: Number) {
        let (from, to) = (self.place.pose(), self.place.target(call));
        match motion {
            0 => self.push(call, Kind::Rapid, Path::Straight, &to),
            10 => self.push(call, Kind::Feed, Path::Straight, &to),
            20 | 30 => self.arc(call, &from, &to, motion == 20),
            382 => {
                cycles::probe(call, &self.modes, &from, &to, &mut self.findings);
                self.lose(call.line);
            }
            cycle => {
                cycles::cycle(call, cycle, &self.modes, (&from, &to), self.place.unit, &mut self.findings);
                self.lose(call.line);
            }
        }
    }

    fn arc(&mut self, call: &Call, from: &Pose, to: &Pose, clockwise: bool) {
        let (plane, unit) = (self.modes.plane, self.place.unit);
        let form = arc_words::form(call, plane, unit, &mut self.findings);
        // Where the arc starts is not known after the program was lost, so its shape cannot be judged.
        let shape = form.filter(|_| self.run.lost_at_line.is_none()).and_then(|form| {
            arc_words::shape(call, plane, (from, to), form, clockwise, unit, &mut self.findings)
        });
        match shape {
            Some(arc) => self.push(call, Kind::Feed, Path::Arc(arc), to),
            None => self.lose(call.line),
        }
    }

    /// Lists a motion, if it is known where it goes.
    fn push(&mut self, call: &Call, kind: Kind, path: Path, to: &Pose) {
        let feed = match kind {
            Kind::Rapid => None,
            Kind::Feed => self.feed(call),
        };
        if self.modes.compensation == Compensation::Unknown && self.run.lost_at_line.is_none() {
            self.lose(call.line);
            self.findings.say_once(&code::COMPENSATION_UNKNOWN, call.span.clone(), || {
                (
                    "radius compensation moves the cutter off this path by a radius kept in the machine"
                        .to_owned(),
                    "leave G41 and G42 out, or use D0 (NISTIR 6556 section 3.5.10)".to_owned(),
                )
            });
        }
        if self.run.lost_at_line.is_some() {
            return;
        }
        let from = self.place.pose();
        let way = Way::of(&path, &from, to);
        if !way.is_finite() {
            self.lose(call.line);
            self.findings.say(&code::VALUE_IMPOSSIBLE, call.span.clone(), || {
                ("this move goes beyond all numbers".to_owned(), "correct the axis words".to_owned())
            });
            return;
        }
        let (mode, convention, unit) = (self.modes.feed_mode, self.control.feed, self.place.unit);
        let scale = if way.counts_lengths(mode, convention) { unit.mm() } else { 1.0 };
        self.run.motions.push(Motion {
            line: call.line,
            span: call.span.clone(),
            kind,
            path,
            from,
            to: *to,
            feed: feed.map_or(0.0, |feed| feed * scale),
            feed_mode: mode,
            minutes: feed.map(|feed| way.minutes(feed, mode, convention, unit, &self.control.habits)),
            turning: self.modes.turning,
            rpm: self.control.habits.one_speed_rpm.unwrap_or(self.modes.rpm),
        });
        self.place.move_to(to);
    }

    /// The F number that holds for a cutting move; where there is none, that is told once.
    fn feed(&mut self, call: &Call) -> Option<f64> {
        let (message, help) = match self.modes.feed_mode {
            FeedMode::InverseTime => match call.word(b'F') {
                Some(feed) if LEAST_FEED < feed => return Some(feed),
                _ if call.feed_wrong => return None,
                Some(_) => (
                    "with this F the move never ends",
                    "give F one over the minutes it shall last, F2 for half a minute",
                ),
                None => (
                    "this cutting move has no F word, and under G93 every one needs its own",
                    "give F one over the minutes it shall last, F2 for half a minute (NISTIR 6556 section 3.5.19)",
                ),
            },
            FeedMode::PerMinute => match self.modes.feed {
                Feed::Set(feed) if LEAST_FEED < feed => return Some(feed),
                Feed::Told => return None,
                Feed::Set(_) => ("the feed is zero, so this cutting move never ends", "give F above zero"),
                Feed::None => (
                    "this cutting move has no feed: no F word holds here",
                    "give F on this line or before it, and again after each return from G93 to G94",
                ),
            },
        };
        if self.modes.feed_mode == FeedMode::PerMinute {
            self.modes.feed = Feed::Told;
        }
        let span = call.given(b'F').map_or(call.span.clone(), |given| given.span.clone());
        self.findings.say(&code::FEED_MISSING, span, || (message.to_owned(), help.to_owned()));
        None
    }

    /// Closes the run: what was found, what was read in vain, and whether there is an end at all.
    ///
    /// `end` is where the end word's line ends and the block after it.
    fn finish(mut self, program: &Program, end: Option<(usize, Option<&Block>)>) -> Run {
        let last = program.source.line_span(program.source.line_count());
        match (&program.wrapper, end) {
            (_, Some((_, Some(after)))) => {
                self.findings.say(&code::TEXT_AFTER_END, after.span.clone(), || {
                    (
                        "lines after the end word are never read".to_owned(),
                        "take them out, or move the end word to the last line".to_owned(),
                    )
                });
            }
            (Wrapper::Open(span), end) => {
                let finding = self.findings.say(&code::PERCENT_OPEN, span.clone(), || {
                    (
                        "a percent line opens the program and none closes it".to_owned(),
                        "put % alone on the last line too, or take this one out (NISTIR 6556 section 3.1)"
                            .to_owned(),
                    )
                });
                // After an end word no control reads far enough to miss it.
                if let (Some(finding), Some(_)) = (finding, end) {
                    finding.severity = Severity::Care;
                }
            }
            (Wrapper::None, None) => {
                self.findings.say(&code::NO_END, last, || {
                    (
                        "the program has no end word".to_owned(),
                        "end it with M2 or M30 on a line of its own (NISTIR 6556 section 3.1)".to_owned(),
                    )
                });
            }
            _ => {}
        }
        self.run.ended |= program.wrapper == Wrapper::Closed;
        let read_to = end.map_or(usize::MAX, |(at, _)| at);
        let mut findings = program.findings.clone();
        findings.retain(|finding| finding.mark.as_ref().is_none_or(|mark| mark.span.start <= read_to));
        findings.extend(self.findings.into_list());
        findings.sort_by_key(|finding| finding.mark.as_ref().map_or(usize::MAX, |mark| mark.span.start));
        self.run.findings = findings;
        self.run
    }
}
