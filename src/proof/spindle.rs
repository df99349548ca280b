//! What the spindle and its cutter do while wood is cut.

use crate::finding::{Finding, Severity, proof as code};
use crate::rs274::{Kind, Motion, Run, Turning};
use crate::setup::SpindleControl;

use super::motions::TOUCH_MM;
use super::moves::Moves;

/// Share by which a spindle speed may differ from the job's.
const SPEED_SLACK: f64 = 0.1;

/// Checks that it turns, the right way, at a speed it has, and with one cutter throughout. The first motion that cuts
/// amiss speaks for all.
pub(super) fn check(moves: &Moves<'_>, run: &Run) -> Vec<Finding> {
    let cutting: Vec<&Motion> = moves
        .motions
        .iter()
        .zip(&moves.deepest_mm)
        .filter(|(motion, deepest)| motion.kind == Kind::Feed && **deepest > TOUCH_MM)
        .map(|(motion, _)| motion)
        .collect();
    let by_hand = moves.machine.spindle.control == SpindleControl::Hand;
    let mut findings = Vec::new();
    if let Some(motion) = cutting.iter().find(|motion| motion.turning == Turning::Stopped) {
        let help = if by_hand {
            "this machine's spindle is switched by hand and does not hear M3: stop the program with M0 before the \
             first cut, so that it can be switched on"
        } else {
            "start the spindle (M3 with S) before the first cut"
        };
        let words = "the cutter enters the wood with the spindle stopped".to_owned();
        findings.push(moves.finding(&code::SPINDLE_OFF, motion, words).help(help));
    }
    if let Some(motion) = cutting.iter().find(|motion| motion.turning == Turning::CounterClockwise) {
        let words = "the cutter enters the wood turning backwards (M4)".to_owned();
        findings.push(
            moves
                .finding(&code::SPINDLE_BACKWARDS, motion, words)
                .help("write M3; M4 is for cutters made to turn to the left"),
        );
    }
    if !by_hand {
        findings.extend(speed(moves, &cutting));
    }
    findings.extend(cutter(moves, run, &cutting));
    findings
}

fn speed(moves: &Moves<'_>, cutting: &[&Motion]) -> Option<Finding> {
    let spindle = moves.machine.spindle;
    let wanted = moves.rpm;
    let turning = || cutting.iter().filter(|motion| motion.turning != Turning::Stopped);
    if let Some(motion) = turning().find(|m| !(spindle.least_rpm..=spindle.top_rpm).contains(&m.rpm)) {
        let words = format!(
            "the cutter turns at {:.0} rev/min, the spindle has {:.0} to {:.0}",
            motion.rpm, spindle.least_rpm, spindle.top_rpm
        );
        let help = format!("write S{wanted:.0}, as the job asks");
        return Some(
            moves.finding(&code::SPINDLE_SPEED, motion, words).values(motion.rpm, wanted).help(help),
        );
    }
    let motion = turning().find(|m| (m.rpm / wanted - 1.0).abs() > SPEED_SLACK)?;
    let words = format!("the cutter turns at {:.0} rev/min, the job asks {wanted:.0}", motion.rpm);
    Some(
        moves
            .finding(&code::SPINDLE_SPEED, motion, words)
            .weighs(Severity::Care)
            .values(motion.rpm, wanted)
            .help("write the same speed in job and program, so that chip and heat are as planned"),
    )
}

/// A change of cutter between two cuts makes the proof worthless; before the first cut it may mean the cutter of the
/// job.
fn cutter(moves: &Moves<'_>, run: &Run, cutting: &[&Motion]) -> Option<Finding> {
    let line = *run.tool_changes.last()?;
    let between = cutting.first().is_some_and(|motion| motion.line < line);
    let motion = moves.motions.iter().find(|motion| motion.line >= line)?;
    let words = "the cutter is changed here; the proof carves with the job's cutter throughout".to_owned();
    let weight = if between { Severity::Stop } else { Severity::Care };
    Some(
        moves
            .finding(&code::CUTTER_CHANGED, motion, words)
            .weighs(weight)
            .help("one program for each cutter; see that the one in the collet is the one in the job"),
    )
}
