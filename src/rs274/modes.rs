//! What holds from line to line: the codes in force, feed and spindle.

use super::call::Call;
use super::codes::{GGroup, MGroup, Number};
use super::feed::Feed;
use super::motion::{FeedMode, Plane, Turning};

/// Cutter radius compensation.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Compensation {
    /// G40.
    #[default]
    Off,
    /// On with slot zero, whose radius is zero: the path is as written.
    Zero,
    /// On with a radius that the machine keeps.
    Unknown,
}

/// The modes of the control; the default is the state at the start of a program.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Modes {
    /// The motion in force, in tenths; `None` under G80, as at the start (from memory: the report leaves it open).
    pub(super) motion: Option<Number>,
    /// The motion in force is missing or not known, which was told.
    pub(super) motion_told: bool,
    pub(super) plane: Plane,
    pub(super) feed_mode: FeedMode,
    /// F under G94. What F does under G93 holds for its own line only.
    pub(super) feed: Feed,
    pub(super) turning: Turning,
    pub(super) rpm: f64,
    pub(super) compensation: Compensation,
    /// The operator switches the spindle.
    pub(super) hand_spindle: bool,
}

impl Modes {
    /// Takes what a line sets before anything moves, in the order of NISTIR 6556 table 8: feed mode, F, S, tool
    /// change, spindle, plane. Units and distance mode belong to the place, compensation has rules of its own.
    pub(super) fn take(&mut self, call: &Call) {
        match call.g(GGroup::FeedMode) {
            Some(930) => self.feed_mode = FeedMode::InverseTime,
            // What F holds after G93 is left open, so it has to be given again.
            Some(940) if self.feed_mode == FeedMode::InverseTime => {
                self.feed_mode = FeedMode::PerMinute;
                self.feed = Feed::None;
            }
            _ => {}
        }
        if self.feed_mode == FeedMode::PerMinute {
            if call.feed_wrong {
                self.feed = Feed::Told;
            } else if let Some(feed) = call.word(b'F') {
                self.feed = Feed::Set(feed);
            }
        }
        if let Some(rpm) = call.word(b'S') {
            self.rpm = rpm;
        }
        if call.m(MGroup::ToolChange).is_some() {
            self.turning = Turning::Stopped;
        }
        match call.m(MGroup::Spindle) {
            // A router with a switch of its own does not hear the program.
            Some(3) if !self.hand_spindle => self.turning = Turning::Clockwise,
            Some(4) if !self.hand_spindle => self.turning = Turning::CounterClockwise,
            Some(5) => self.turning = Turning::Stopped,
            _ => {}
        }
        match call.g(GGroup::Plane) {
            Some(170) => self.plane = Plane::Xy,
            Some(180) => self.plane = Plane::Zx,
            Some(190) => self.plane = Plane::Yz,
            _ => {}
        }
    }

    /// How fast the spindle is told to turn; less than zero counter-clockwise.
    pub(super) fn spindle_rpm(&self) -> f64 {
        match self.turning {
            Turning::Stopped => 0.0,
            Turning::Clockwise => self.rpm,
            Turning::CounterClockwise => -self.rpm,
        }
    }

    /// Takes the motion that a line names, which holds from its own line on.
    pub(super) fn take_motion(&mut self, call: &Call) {
        match call.g(GGroup::Motion) {
            Some(800) => (self.motion, self.motion_told) = (None, false),
            Some(named) => (self.motion, self.motion_told) = (Some(named), false),
            None => {}
        }
    }

    /// After a line that could not be read in full: what it may have set is no fault of later lines.
    pub(super) fn excuse(&mut self) {
        self.motion_told = true;
        if self.feed == Feed::None {
            self.feed = Feed::Told;
        }
    }

    /// What a stop at the end of a line does: at M0 the operator of a hand-switched spindle starts it, and it runs on
    /// through later stops until M5. Whether he switches it off in a pause and on again makes no difference to what
    /// is cut.
    pub(super) fn stop(&mut self, call: &Call) {
        if self.hand_spindle && call.m(MGroup::Stop) == Some(0) {
            self.turning = Turning::Clockwise;
        }
    }
}
