//! From the screw's frame to the machine's words: X = X of the nose + d · s, A = -d · k · theta, Z = Z of the axis + r,
//! with d = +1 when the headstock stands at the X+ end and k = +1 when A counting up turns the top of the blank to
//! the front. A right-hand thread is then X = X0 - k · lead · A / 360 on either end.

use super::feed::{feed_word, inverse};
use super::number::{count, plain, significant, value, written};
use crate::setup::{AUnit, FeedConvention, InverseUnit, Setup};
use crate::toolpath::Place;
use crate::units::LengthUnit;

/// Where the axes stand, in last digits of the program's words: what is equal here is equal in the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Pose {
    pub(super) x: i64,
    pub(super) z: i64,
    pub(super) a: i64,
}

/// Signs, zero, unit and decimals of one program.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    x_nose_mm: f64,
    x_per_s: f64,
    a_per_theta: f64,
    z_axis_mm: f64,
    unit: LengthUnit,
    decimals: usize,
    convention: FeedConvention,
    inverse: InverseUnit,
    a_unit: AUnit,
    whole_feed: bool,
}

impl Frame {
    pub(super) fn new(setup: &Setup) -> Self {
        let machine = &setup.machine;
        Frame {
            x_nose_mm: setup.x_nose_mm,
            x_per_s: machine.headstock.sign(),
            a_per_theta: -machine.headstock.sign() * machine.a_plus.sign(),
            z_axis_mm: setup.z_axis_mm,
            unit: machine.style.unit,
            decimals: machine.style.decimals,
            convention: machine.feed,
            inverse: machine.habits.inverse,
            a_unit: machine.habits.a_unit,
            whole_feed: machine.habits.whole_feed,
        }
    }

    /// Where the axes stand when the tip is at a place.
    pub(super) fn pose(&self, place: Place) -> Pose {
        let length = |mm: f64| count(mm / self.unit.mm(), self.decimals);
        Pose {
            x: length(self.x_nose_mm + self.x_per_s * place.s_mm),
            z: length(self.z_axis_mm + place.r_mm),
            a: count(self.a_per_theta * place.theta_deg / self.a_unit.degrees(), self.decimals),
        }
    }

    /// A number of a word, written out.
    pub(super) fn number(&self, digits: i64) -> String {
        written(digits, self.decimals)
    }

    pub(super) fn x_word(&self, digits: i64) -> String {
        format!("X{}", self.number(digits))
    }

    pub(super) fn z_word(&self, digits: i64) -> String {
        format!("Z{}", self.number(digits))
    }

    pub(super) fn a_word(&self, digits: i64) -> String {
        format!("A{}", self.number(digits))
    }

    /// The F number as it is written.
    pub(super) fn feed_number(&self, from: Pose, to: Pose, minutes: f64) -> String {
        let feed = self.feed(from, to, minutes);
        if self.whole_feed { plain(feed, 0) } else { significant(feed) }
    }

    /// The F number that makes a move last so many minutes. It is reckoned from the words as written, so their
    /// rounding does not change the time.
    fn feed(&self, from: Pose, to: Pose, minutes: f64) -> f64 {
        let length = |digits: i64| value(digits, self.decimals) * self.unit.mm();
        let (x, z) = (length(to.x - from.x), length(to.z - from.z));
        let a = value(to.a - from.a, self.decimals);
        let feed = feed_word(self.convention, self.unit, [x, z], a, minutes);
        let feed =
            if self.convention == FeedConvention::InverseTime { inverse(self.inverse, feed) } else { feed };
        // Whole numbers are rounded down, so that no axis runs faster than planned.
        if self.whole_feed { feed.floor().max(1.0) } else { feed }
    }
}
