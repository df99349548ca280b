//! Words of a nut's moves: places in last digits of the program's unit, arcs by centre or as short lines.

use std::f64::consts::TAU;

use super::super::number::{count, plain, significant, value, written};
use crate::setup::{Arcs, NutSetup};
use crate::toolpath::{Line, NutMove, NutPath, NutPlace};
use crate::units::LengthUnit;

/// Farthest that a short line may leave the arc that it stands for, mm: a tenth of what the proof lets pass in a radius.
const CHORD_MM: f64 = 0.005;
/// Start and end of an arc may differ by this in their distance from the centre: NISTIR 6556 section 3.5.3.2.
const ARC_MM: f64 = 0.002;
/// The same in a program in inches.
const ARC_INCH: f64 = 0.0002;
/// Last digits by which rounding can set start, end and centre apart: half a digit of two words each, twice, and the root of
/// two.
const ARC_DIGITS: f64 = 1.5;
/// Two places closer than this share of a radius are one: what a half circle comes short of closing by rounding.
const SAME_RAD: f64 = 1e-9;

/// Unit, decimals and manner of one program.
pub(super) struct Words {
    unit: LengthUnit,
    decimals: usize,
    whole_feed: bool,
    arcs: bool,
}

/// A place in last digits.
type Digits = [i64; 3];

impl Words {
    pub(super) fn new(setup: &NutSetup, path: &NutPath) -> Self {
        let style = &setup.machine.style;
        let mut words = Words {
            unit: style.unit,
            decimals: style.decimals,
            whole_feed: setup.machine.habits.whole_feed,
            arcs: setup.mill.arcs == Arcs::Centre,
        };
        words.arcs = words.arcs && words.arcs_close() && words.longest_arc(path) <= style.line_length;
        words
    }

    /// Whether arcs are written as such.
    pub(super) fn writes_arcs(&self) -> bool {
        self.arcs
    }

    /// How far short lines leave their arcs at most, mm.
    pub(super) fn chord_mm() -> f64 {
        CHORD_MM
    }

    /// Whether rounding leaves an arc's ends equally far from its centre.
    fn arcs_close(&self) -> bool {
        let digit = value(1, self.decimals);
        let allowed = match self.unit {
            LengthUnit::Mm => ARC_MM,
            LengthUnit::Inch => ARC_INCH,
        };
        ARC_DIGITS * digit <= allowed
    }

    /// Length of the longest line that an arc can take, blanks left out.
    fn longest_arc(&self, path: &NutPath) -> usize {
        let [x, _, z] = path.extents_mm();
        let far = x[1].max(z[0].abs()).max(z[1].abs());
        let number = written(-count(far / self.unit.mm(), self.decimals), self.decimals).len();
        // G3, five words, and an F of six digits with point and letter.
        2 + 5 * (1 + number.max(self.decimals + 3)) + 9
    }

    fn digits(&self, place: NutPlace) -> Digits {
        [place.x_mm, place.y_mm, place.z_mm].map(|mm| self.digit(mm))
    }

    fn digit(&self, mm: f64) -> i64 {
        count(mm / self.unit.mm(), self.decimals)
    }

    fn mm(&self, digit: i64) -> f64 {
        value(digit, self.decimals) * self.unit.mm()
    }

    /// A length as a word shows it.
    pub(super) fn number(&self, mm: f64) -> String {
        written(self.digit(mm), self.decimals)
    }

    fn word(&self, letter: char, digit: i64) -> String {
        format!(" {letter}{}", written(digit, self.decimals))
    }

    /// To where a program begins: up first, then over the axis of the nut, one axis at a time.
    pub(super) fn start(&self, at: NutPlace) -> [String; 3] {
        let [x, y, z] = self.digits(at);
        [('Z', z), ('X', x), ('Y', y)].map(|(letter, digit)| format!("G0{}", self.word(letter, digit)))
    }

    /// The F word, if it differs from the one in force.
    fn feed(&self, mm_per_min: f64, told: &mut Option<String>) -> String {
        let feed = mm_per_min / self.unit.mm();
        // Whole numbers are rounded down, so that no axis runs faster than planned.
        let number = if self.whole_feed { plain(feed.floor().max(1.0), 0) } else { significant(feed) };
        if told.as_ref() == Some(&number) {
            return String::new();
        }
        let word = format!(" F{number}");
        *told = Some(number);
        word
    }

    /// The lines of a move; none when it is shorter than the last digit of every word.
    pub(super) fn motion(&self, at: NutPlace, step: &NutMove, told: &mut Option<String>) -> Vec<String> {
        match (step.line, step.feed_mm_per_min) {
            (Line::Arc { centre_mm, anticlockwise }, Some(feed)) if self.arcs => self
                .arc(at, step.to, centre_mm, anticlockwise)
                .map_or(Vec::new(), |words| vec![words + &self.feed(feed, told)]),
            (Line::Arc { centre_mm, anticlockwise }, Some(feed)) => {
                let places = along(at, step.to, centre_mm, anticlockwise);
                let mut from = at;
                let mut lines = Vec::new();
                for to in places {
                    if let Some(words) = self.straight("G1", from, to) {
                        lines.push(words + &self.feed(feed, told));
                    }
                    from = to;
                }
                lines
            }
            (_, Some(feed)) => {
                let words = self.straight("G1", at, step.to);
                words.map_or(Vec::new(), |words| vec![words + &self.feed(feed, told)])
            }
            (_, None) => self.straight("G0", at, step.to).into_iter().collect(),
        }
    }

    fn straight(&self, code: &str, at: NutPlace, to: NutPlace) -> Option<String> {
        let (from, to) = (self.digits(at), self.digits(to));
        let mut words = code.to_owned();
        for (index, letter) in ['X', 'Y', 'Z'].into_iter().enumerate() {
            if from[index] != to[index] {
                words.push_str(&self.word(letter, to[index]));
            }
        }
        (from != to).then_some(words)
    }

    /// An arc by its centre, reckoned from the start as it is written.
    fn arc(&self, at: NutPlace, to: NutPlace, centre_mm: [f64; 2], anticlockwise: bool) -> Option<String> {
        let (from, end) = (self.digits(at), self.digits(to));
        if from[0] == end[0] && from[1] == end[1] {
            // What is left is less than a last digit round the circle; written as an arc it would be a whole turn.
            return self.straight("G1", at, to);
        }
        let mut words = String::from(if anticlockwise { "G3" } else { "G2" });
        words.push_str(&self.word('X', end[0]));
        words.push_str(&self.word('Y', end[1]));
        if from[2] != end[2] {
            words.push_str(&self.word('Z', end[2]));
        }
        let offset = |axis: usize| self.digit(centre_mm[axis] - self.mm(from[axis]));
        words.push_str(&self.word('I', offset(0)));
        words.push_str(&self.word('J', offset(1)));
        Some(words)
    }
}

/// Distance of a place from a centre, seen from above.
pub(super) fn radius_mm(at: NutPlace, centre_mm: [f64; 2]) -> f64 {
    (at.x_mm - centre_mm[0]).hypot(at.y_mm - centre_mm[1])
}

/// Angle of an arc, radians, above zero and at most a turn.
pub(super) fn arc_rad(at: NutPlace, to: NutPlace, centre_mm: [f64; 2], anticlockwise: bool) -> f64 {
    let angle = |place: NutPlace| (place.y_mm - centre_mm[1]).atan2(place.x_mm - centre_mm[0]);
    let turned = if anticlockwise { angle(to) - angle(at) } else { angle(at) - angle(to) };
    let turned = turned.rem_euclid(TAU);
    if turned < SAME_RAD { TAU } else { turned }
}

/// Places along an arc, its end included, so close that no line between two leaves it by more than [`CHORD_MM`]: a step of
/// h leaves r (1 - cos(h / 2)).
fn along(at: NutPlace, to: NutPlace, centre_mm: [f64; 2], anticlockwise: bool) -> Vec<NutPlace> {
    let radius = radius_mm(at, centre_mm);
    let arc = arc_rad(at, to, centre_mm, anticlockwise);
    let step = 2.0 * (1.0 - (CHORD_MM / radius).min(1.0)).acos();
    let steps = (arc / step).ceil().max(1.0) as u32;
    let from = (at.y_mm - centre_mm[1]).atan2(at.x_mm - centre_mm[0]);
    let turn = if anticlockwise { arc } else { -arc };
    (1..=steps)
        .map(|index| {
            if index == steps {
                return to;
            }
            let share = f64::from(index) / f64::from(steps);
            let angle = from + turn * share;
            NutPlace {
                x_mm: centre_mm[0] + radius * angle.cos(),
                y_mm: centre_mm[1] + radius * angle.sin(),
                z_mm: at.z_mm + (to.z_mm - at.z_mm) * share,
            }
        })
        .collect()
}
