//! Whether the spindle has had time to reach its speed when the cutter meets wood.

use crate::finding::{Finding, Severity, proof as code};
use crate::rs274::{Event, Kind, Run};
use crate::setup::{DwellUnit, SpindleControl};

use super::motions::{TOUCH_MM, least_minutes};
use super::moves::Moves;

/// Share of its speed that the spindle may lack: what the rounding of a dwell to tenths of a second does.
const RUN_UP_SLACK: f64 = 0.05;
/// Below this share of its speed each edge takes more than twice the chip that was meant for it: it grabs, and in dense
/// wood it stalls or breaks, so that is a stop. Nearer its speed the beginning of the groove burns at worst, and the
/// time in the machine file may have been given with room to spare: then care is enough.
const HALF_SPEED: f64 = 0.5;
const SECONDS_PER_MINUTE: f64 = 60.0;

/// The spindle as it gathers speed: from rest to any speed in the machine file's time, evenly, and between two speeds
/// in its share of that.
struct RunUp {
    start_s: f64,
    rpm: f64,
    target_rpm: f64,
    /// Seconds since it was told to turn so.
    waited_s: f64,
    /// Seconds that it then needed.
    needed_s: f64,
}

impl RunUp {
    fn told(&mut self, to_rpm: f64) {
        self.target_rpm = to_rpm;
        self.waited_s = 0.0;
        // How long it coasts nobody knows; at rest is the worst for the next start.
        if to_rpm == 0.0 || self.start_s <= 0.0 {
            self.rpm = to_rpm;
        }
        self.needed_s = self.start_s * self.lacks();
    }

    /// Share of the speed that it still lacks.
    fn lacks(&self) -> f64 {
        if self.target_rpm == 0.0 {
            0.0
        } else {
            ((self.target_rpm - self.rpm) / self.target_rpm).abs().min(1.0)
        }
    }

    fn wait(&mut self, seconds: f64) {
        self.waited_s += seconds;
        let left = self.target_rpm - self.rpm;
        if left != 0.0 {
            let step = self.target_rpm.abs() * seconds / self.start_s;
            self.rpm = if left.abs() <= step { self.target_rpm } else { self.rpm + step.copysign(left) };
        }
    }

    fn has_speed(&mut self) {
        self.rpm = self.target_rpm;
    }
}

/// Follows the program's time from each change of the spindle to the first wood. Moves count with the least time they
/// can take, and the move that meets wood not at all: how much of it runs in air depends on the blank in the chuck. A
/// spindle that is switched by hand has the operator's M0 for it.
pub(super) fn check(moves: &Moves<'_>, run: &Run) -> Option<Finding> {
    let machine = moves.machine;
    if machine.spindle.control == SpindleControl::Hand {
        return None;
    }
    let mut spindle =
        RunUp { start_s: machine.spindle.start_s, rpm: 0.0, target_rpm: 0.0, waited_s: 0.0, needed_s: 0.0 };
    let mut events = run.events.iter().peekable();
    for (index, (motion, deepest)) in moves.motions.iter().zip(&moves.deepest_mm).enumerate() {
        while let Some((_, event)) = events.next_if(|(next, _)| *next <= index) {
            match *event {
                Event::Spindle { rpm } => spindle.told(rpm),
                Event::Dwell { minutes } => spindle.wait(minutes * SECONDS_PER_MINUTE),
                Event::Stop => spindle.has_speed(),
                // Where the switch is off nobody waits.
                Event::OptionalStop => {}
            }
        }
        let cuts = motion.kind == Kind::Feed && *deepest > TOUCH_MM;
        let lacks = spindle.lacks();
        if cuts && lacks > RUN_UP_SLACK {
            let words = format!(
                "the cutter meets wood {:.1} s after the spindle was told its speed, {:.1} s are needed: it then \
                 turns at about {:.0} of {:.0} rev/min",
                spindle.waited_s,
                spindle.needed_s,
                (1.0 - lacks) * spindle.target_rpm.abs(),
                spindle.target_rpm.abs()
            );
            let dwell = match machine.style.dwell {
                DwellUnit::Seconds => format!("G4 P{}", spindle.needed_s),
                DwellUnit::Milliseconds => format!("G4 P{}", spindle.needed_s * 1000.0),
                DwellUnit::None => "M0".to_owned(),
            };
            let weight = if lacks > HALF_SPEED { Severity::Stop } else { Severity::Care };
            return Some(
                moves
                    .finding(&code::RUN_UP_SHORT, motion, words)
                    .weighs(weight)
                    .values(spindle.waited_s, spindle.needed_s)
                    .help(format!("wait in the air after M3, with {dwell} on a line of its own")),
            );
        }
        spindle.wait(least_minutes(motion, machine) * SECONDS_PER_MINUTE);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spindle(start_s: f64) -> RunUp {
        RunUp { start_s, rpm: 0.0, target_rpm: 0.0, waited_s: 0.0, needed_s: 0.0 }
    }

    #[test]
    fn a_spindle_gathers_speed_evenly_over_its_time() {
        let mut spindle = spindle(6.0);
        assert_eq!(spindle.lacks(), 0.0, "one that is to stand still lacks nothing");
        spindle.told(16_000.0);
        assert_eq!((spindle.lacks(), spindle.needed_s), (1.0, 6.0));
        spindle.wait(1.5);
        assert_eq!((spindle.lacks(), spindle.waited_s), (0.75, 1.5));
        spindle.wait(60.0);
        assert_eq!(spindle.lacks(), 0.0);
        // Between two speeds it needs its share of the time, and the way down as well.
        spindle.told(8_000.0);
        assert_eq!((spindle.lacks(), spindle.needed_s), (1.0, 6.0));
        spindle.wait(3.0);
        assert_eq!(spindle.lacks(), 0.5);
        spindle.told(0.0);
        spindle.told(8_000.0);
        assert_eq!(spindle.lacks(), 1.0, "what was stopped starts from rest");
        spindle.has_speed();
        assert_eq!(spindle.lacks(), 0.0);
    }

    #[test]
    fn a_spindle_that_needs_no_time_has_its_speed_at_once() {
        let mut spindle = spindle(0.0);
        spindle.told(16_000.0);
        assert_eq!(spindle.lacks(), 0.0);
    }
}
