//! What the spindle and its cutter do while wood is cut.

use crate::finding::{Finding, Severity, proof as code};
use crate::rs274::{Kind, Motion, Run, Turning};
use crate::setup::SpindleControl;

use super::Case;
use super::motions::{TOUCH_MM, at_motion};

/// Share by which a spindle speed may differ from the job's.
const SPEED_SLACK: f64 = 0.1;

/// Checks that it turns, the right way, at a speed it has, and with one cutter throughout. The first motion that cuts
/// amiss speaks for all.
pub(super) fn check(case: &Case<'_>, run: &Run) -> Vec<Finding> {
    let cutting: Vec<&Motion> = case
        .motions
        .iter()
        .zip(&case.carved.cuts)
        .filter(|(motion, cut)| motion.kind == Kind::Feed && cut.deepest_mm > TOUCH_MM)
        .map(|(motion, _)| motion)
        .collect();
    let by_hand = case.setup.machine.spindle.control == SpindleControl::Hand;
    let mut findings = Vec::new();
    if let Some(motion) = cutting.iter().find(|motion| motion.turning == Turning::Stopped) {
        let help = if by_hand {
            "this machine's spindle is switched by hand and does not hear M3: stop the program with M0 before the \
             first cut, so that it can be switched on"
        } else {
            "start the spindle (M3 with S) before the first cut"
        };
        let words = "the cutter enters the wood with the spindle stopped".to_owned();
        findings.push(at_motion(case, &code::SPINDLE_OFF, motion, words).help(help));
    }
    if let Some(motion) = cutting.iter().find(|motion| motion.turning == Turning::CounterClockwise) {
        let words = "the cutter enters the wood turning backwards (M4)".to_owned();
        findings.push(
            at_motion(case, &code::SPINDLE_BACKWARDS, motion, words)
                .help("write M3; M4 is for cutters made to turn to the left"),
        );
    }
    if !by_hand {
        findings.extend(speed(case, &cutting));
    }
    findings.extend(cutter(case, run, &cutting));
    findings
}

fn speed(case: &Case<'_>, cutting: &[&Motion]) -> Option<Finding> {
    let spindle = case.setup.machine.spindle;
    let wanted = case.setup.rpm;
    let turning = || cutting.iter().filter(|motion| motion.turning != Turning::Stopped);
    if let Some(motion) = turning().find(|m| !(spindle.least_rpm..=spindle.top_rpm).contains(&m.rpm)) {
        let words = format!(
            "the cutter turns at {:.0} rev/min, the spindle has {:.0} to {:.0}",
            motion.rpm, spindle.least_rpm, spindle.top_rpm
        );
        let help = format!("write S{wanted:.0}, as the job asks");
        return Some(
            at_motion(case, &code::SPINDLE_SPEED, motion, words).values(motion.rpm, wanted).help(help),
        );
    }
    let motion = turning().find(|m| (m.rpm / wanted - 1.0).abs() > SPEED_SLACK)?;
    let words = format!("the cutter turns at {:.0} rev/min, the job asks {wanted:.0}", motion.rpm);
    Some(
        at_motion(case, &code::SPINDLE_SPEED, motion, words)
            .weighs(Severity::Care)
            .values(motion.rpm, wanted)
            .help("write the same speed in job and program, so that chip and heat are as planned"),
    )
}

/// A change of cutter between two cuts makes the proof worthless; before the first cut it may mean the cutter of the
/// job.
fn cutter(case: &Case<'_>, run: &Run, cutting: &[&Motion]) -> Option<Finding> {
    let line = *run.tool_changes.last()?;
    let between = cutting.first().is_some_and(|motion| motion.line < line);
    let motion = case.motions.iter().find(|motion| motion.line >= line)?;
    let words = "the cutter is changed here; the proof carves with the job's cutter throughout".to_owned();
    let weight = if between { Severity::Stop } else { Severity::Care };
    Some(
        at_motion(case, &code::CUTTER_CHANGED, motion, words)
            .weighs(weight)
            .help("one program for each cutter; see that the one in the collet is the one in the job"),
    )
}
