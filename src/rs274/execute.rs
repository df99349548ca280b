//! Runs the blocks of a program, one after the other, in the order that the standard lays down for each (NISTIR 6556
//! table 8). Goes on after every fault; once a move cannot be known, positions are given up and everything else is
//! still checked.

use std::ops::Range;
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
use super::place::Place;
use super::program::{Block, Program, Wrapper};
use super::read::Reader;
use super::rules;
use super::{Control, Event, Run, Said};
use crate::finding::{Severity, program as code};
use crate::source::Source;
use crate::units::LengthUnit;

/// A feed up to this is none: a move of one unit would last two years.
const LEAST_FEED: f64 = 1e-6;

/// Reads a program and follows it line by line, so that nothing but its motions is kept. The same as [`execute`] of
/// what [`read()`](super::read()) returns.
///
/// ```
/// use threadwright::rs274::{Control, Meaning, Pose, run};
/// use threadwright::setup::{Dialect, DwellUnit, FeedConvention};
/// use threadwright::{source::Source, units::LengthUnit};
///
/// let control = Control {
///     dialect: Dialect::default(),
///     feed: FeedConvention::InverseTime,
///     unit: LengthUnit::Mm,
///     dwell: DwellUnit::Seconds,
///     hand_spindle: false,
///     habits: Meaning::default(),
///     block_delete: false,
///     start: Pose { z_mm: 50.0, ..Pose::default() },
/// };
/// let run = run(&Source::new("turn.nc", "G21 G90 G93\nG1 X-20 A-360 F2\nM2\n"), &control);
/// assert!(run.findings.is_empty());
/// // F2 under G93: the move takes half a minute.
/// assert_eq!((run.motions[0].to.a_deg, run.motions[0].minutes), (-360.0, Some(0.5)));
///
/// let slip = threadwright::rs274::run(&Source::new("slip.nc", "G0 Z5O\nM2\n"), &control);
/// assert_eq!((slip.findings[0].code.name, slip.findings[0].message.as_str()),
///     ("number-bad", "the number in Z5O has the letter O for a zero"));
/// ```
pub fn run(source: &Arc<Source>, control: &Control) -> Run {
    let mut reader = Reader::new(source, control.dialect);
    let mut follower = Follower::new(source, control);
    while reader.next_line() {
        if let [block] = &reader.program().blocks[..] {
            follower.take(reader.program(), block);
            reader.forget_blocks();
        }
    }
    follower.finish(&reader.finish())
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
    let mut follower = Follower::new(&program.source, control);
    for block in &program.blocks {
        follower.take(program, block);
    }
    follower.finish(program)
}

/// A program being followed. What it does about origins stands in `origins.rs`.
pub(super) struct Follower<'a> {
    pub(super) control: &'a Control,
    pub(super) findings: Findings,
    pub(super) parameters: Parameters,
    modes: Modes,
    pub(super) place: Place,
    /// The shift that G92.3 would bring back, if this program set one.
    pub(super) kept_shift: Option<[f64; 4]>,
    /// Where radius compensation was switched on.
    compensated_at: Range<usize>,
    /// A feed move has been made.
    fed: bool,
    /// The line of the end word, once it was reached.
    end: Option<End>,
    pub(super) run: Run,
}

/// Where a program ends by its end word.
struct End {
    /// Where its line ends.
    at: usize,
    /// The block after it, which is never run.
    after: Option<Range<usize>>,
}

impl<'a> Follower<'a> {
    fn new(source: &Arc<Source>, control: &'a Control) -> Self {
        Follower {
            control,
            findings: Findings::new(source),
            parameters: Parameters::default(),
            modes: Modes { hand_spindle: control.hand_spindle, ..Modes::default() },
            place: Place::new(&control.start, control.unit, control.habits.a_unit.degrees()),
            kept_shift: None,
            compensated_at: 0..0,
            fed: false,
            end: None,
            run: Run {
                said: Said {
                    units: control.habits.one_unit,
                    feed_mode: control.habits.one_feed_mode,
                    ..Said::default()
                },
                ..Run::default()
            },
        }
    }

    /// Takes the next block, unless the program has ended or the operator has it skipped.
    fn take(&mut self, program: &Program, block: &Block) {
        if let Some(end) = &mut self.end {
            end.after.get_or_insert_with(|| block.span.clone());
            return;
        }
        if block.slash {
            if self.control.block_delete {
                return;
            }
            self.run.optional_line.get_or_insert(block.line);
        }
        if let Some(message) = block.message_span() {
            let text = program.source.text().get(message).unwrap_or("");
            self.run.messages.push((block.line, text.trim().to_owned()));
        }
        self.follow(program, block);
        if self.run.ended {
            self.end = Some(End { at: block.span.end, after: None });
        }
    }

    /// One block, in the order of NISTIR 6556 table 8.
    fn follow(&mut self, program: &Program, block: &Block) {
        let mut call =
            Call::gather(program, block, self.control.habits.g70, &mut self.parameters, &mut self.findings);
        let before = self.modes;
        self.modes.take(&call);
        if before.spindle_rpm() != self.modes.spindle_rpm() {
            self.note(Event::Spindle { rpm: self.modes.spindle_rpm() });
        }
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
        match call.m(MGroup::Stop) {
            Some(0) => self.note(Event::Stop),
            Some(1) => self.note(Event::OptionalStop),
            _ => {}
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
        if call.g(GGroup::NonModal) == Some(920) {
            for ((shifted, placed), letter) in said.shifted.iter_mut().zip(said.axes).zip(*b"XZAY") {
                *shifted |= !placed && call.word(letter).is_some();
            }
        }
        if call.g(GGroup::NonModal).is_none() {
            for (said, letter) in said.axes.iter_mut().zip(*b"XZAY") {
                *said |= call.word(letter).is_some();
            }
        }
    }

    /// Notes what happens before the next motion.
    pub(super) fn note(&mut self, event: Event) {
        self.run.events.push((self.run.motions.len(), event));
    }

    pub(super) fn lose(&mut self, line: usize) {
        self.run.lost_at_line.get_or_insert(line);
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
            Some(410 | 420) => {
                self.modes.compensation = Compensation::Unknown;
                self.compensated_at = call.g_span(GGroup::Radius);
            }
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
    pub(super) fn push(&mut self, call: &Call, kind: Kind, path: Path, to: &Pose) {
        let feed = match kind {
            Kind::Rapid => None,
            Kind::Feed => self.feed(call),
        };
        if self.modes.compensation == Compensation::Unknown && self.run.lost_at_line.is_none() {
            self.lose(call.line);
            self.tell_compensation(call);
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

    /// Radius compensation with a radius that nobody knows: told where it was switched on, for that is where a G40 is
    /// mistyped, with the first move it spoils.
    fn tell_compensation(&mut self, call: &Call) {
        let first = self.findings.mark(call.span.clone());
        let word = self.findings.text(self.compensated_at.clone()).to_owned();
        let finding = self.findings.say(&code::COMPENSATION_UNKNOWN, self.compensated_at.clone(), || {
            (
                format!("{word} moves the cutter off the written path by a radius kept in the machine"),
                "write G40, which switches radius compensation off; a thread needs none (NISTIR 6556 section 3.5.10)"
                    .to_owned(),
            )
        });
        if let Some(finding) = finding {
            finding.also.push((first, "the first move that it spoils".to_owned()));
        }
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
    fn finish(mut self, program: &Program) -> Run {
        let last = program.source.line_span(program.source.line_count());
        let spindle_left =
            self.end.is_none() && !self.control.hand_spindle && self.modes.spindle_rpm() != 0.0;
        if spindle_left {
            self.findings.say(&code::SPINDLE_LEFT, last.clone(), || {
                (
                    "nothing stops the spindle: the program has neither M5 after it was started, nor M2 or M30".to_owned(),
                    "end it with M5, and M2 on a line of its own (NISTIR 6556 section 3.6.1)".to_owned(),
                )
            });
        }
        match (&program.wrapper, &self.end) {
            (_, Some(End { after: Some(after), .. })) => {
                self.findings.say(&code::TEXT_AFTER_END, after.clone(), || {
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
        let read_to = self.end.as_ref().map_or(usize::MAX, |end| end.at);
        let mut findings = program.findings.clone();
        findings.retain(|finding| finding.mark.as_ref().is_none_or(|mark| mark.span.start <= read_to));
        findings.extend(self.findings.into_list());
        findings.sort_by_key(|finding| finding.mark.as_ref().map_or(usize::MAX, |mark| mark.span.start));
        self.run.findings = findings;
        self.run
    }
}
