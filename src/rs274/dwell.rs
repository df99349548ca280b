//! G4: how long it waits, and whether its P was meant to count something else.

use super::Event;
use super::call::Call;
use super::codes::GGroup;
use super::execute::Follower;
use crate::finding::program as code;
use crate::setup::DwellUnit;

const SECONDS_PER_MINUTE: f64 = 60.0;
/// No spindle and no operator needs a longer dwell (common practice, no source).
const LONG_WAIT_MINUTES: f64 = 1.0;
const MILLISECONDS_PER_SECOND: f64 = 1000.0;

impl Follower<'_> {
    /// Takes a dwell's P, if the line has one.
    pub(super) fn dwell(&mut self, call: &Call) {
        if call.g(GGroup::NonModal) != Some(40) {
            return;
        }
        if let Some(pause) = call.word(b'P').filter(|pause| *pause >= 0.0) {
            let seconds = match self.control.dwell {
                DwellUnit::Seconds => pause,
                DwellUnit::Milliseconds => pause / MILLISECONDS_PER_SECOND,
                DwellUnit::None => 0.0,
            };
            let minutes = seconds / SECONDS_PER_MINUTE;
            if minutes > LONG_WAIT_MINUTES {
                self.wait_long(call, pause, minutes);
            }
            self.run.dwell_minutes += minutes;
            self.note(Event::Dwell { minutes });
        }
    }

    fn wait_long(&mut self, call: &Call, pause: f64, minutes: f64) {
        let counts = if self.control.dwell == DwellUnit::Seconds { "seconds" } else { "milliseconds" };
        self.findings.say_once(&code::DWELL_LONG, call.g_span(GGroup::NonModal), || {
            let meant = match self.control.dwell {
                DwellUnit::Seconds if pause >= MILLISECONDS_PER_SECOND => {
                    format!("if milliseconds were meant, write P{}", pause / MILLISECONDS_PER_SECOND)
                }
                _ => "write a shorter wait, or M0 where the operator has something to do".to_owned(),
            };
            let help = format!("{meant}; what P counts stands in the machine file, program.dwell");
            (
                format!("P counts {counts} on this machine: the program waits here for {minutes:.1} minutes"),
                help,
            )
        });
    }
}
