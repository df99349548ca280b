//! Where numbers count from: origins, shifts and the machine's own zero. What the program sets itself is followed; what
//! the machine keeps is not known, so positions are given up there.

use super::call::Call;
use super::codes::GGroup;
use super::execute::Follower;
use super::motion::{Kind, Path};
use super::place::{AXES, FIRST_SHIFT_PARAMETER};
use crate::finding::program as code;

/// The parameter before the origins of the first coordinate system, and how many each system has (NISTIR 6556 table
/// 2): X of system n stands at 5201 + 20 n.
const ORIGIN_PARAMETERS: (usize, usize) = (5201, 20);

impl Follower<'_> {
    /// G54 to G59.3: only the first origin is the one that the set-up sheet asks for.
    pub(super) fn coordinates(&mut self, call: &Call) {
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
    pub(super) fn special(&mut self, call: &Call) {
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
}
