//! A program that is to run in the air: it must touch no wood and leave the spindle off.

use crate::finding::{Finding, proof as code};
use crate::rs274::Turning;

use super::Case;
use super::motions::{TOUCH_MM, at_motion};

/// The first motion that touches wood, and the first with the spindle running.
pub(super) fn check(case: &Case<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let touching = case.motions.iter().zip(&case.carved.cuts).find(|(_, cut)| cut.deepest_mm > TOUCH_MM);
    if let Some((motion, cut)) = touching {
        let depth = case.drawing.unit.show(cut.deepest_mm);
        let words = format!("this program is to run in the air, and here the cutter goes {depth} into wood");
        findings.push(
            at_motion(case, &code::AIR_TOUCHES, motion, words)
                .values(cut.deepest_mm, 0.0)
                .help("lift it clear of the blank, corners and all"),
        );
    }
    if let Some(motion) = case.motions.iter().find(|motion| motion.turning != Turning::Stopped) {
        let words = "this program is to run in the air, and here the spindle turns".to_owned();
        findings.push(
            at_motion(case, &code::AIR_TOUCHES, motion, words).help("leave M3 out of a program for the air"),
        );
    }
    findings
}
