//! Which finding explains which: one slip in a program shows in many places, and the person at the machine wants to
//! read about the slip. What follows from another stop stays in the list as a note that names its cause; the program
//! is not proved either way.

use std::cmp::Reverse;

use crate::finding::{Code, Finding, Severity, program, proof as code};

/// Causes in the order in which they are asked, and what each explains. A cause never explains one that stands before
/// it, so that two findings cannot excuse each other.
static CAUSES: &[(&Code, &[&Code])] = &[
    (
        &code::AIR_TOUCHES,
        &[&code::SPINDLE_OFF, &code::RAPID_IN_WOOD, &code::PLUNGE_IN_WOOD, &code::COLLET_RUBS],
    ),
    (
        &code::ORDER_WRONG,
        &[
            &code::RAPID_IN_WOOD,
            &code::RAPID_GRAZES,
            &code::PLUNGE_IN_WOOD,
            &code::COLLET_RUBS,
            &code::NOTHING_CUT,
            &code::FEED_OFF,
            &code::SPINDLE_SPEED,
        ],
    ),
    (
        &code::START_OPEN,
        &[
            &code::RAPID_IN_WOOD,
            &code::RAPID_GRAZES,
            &code::PLUNGE_IN_WOOD,
            &code::COLLET_RUBS,
            &code::NOTHING_CUT,
            &code::PAST_TRAVEL,
            &code::FEED_OFF,
        ],
    ),
    (
        &code::RAPID_IN_WOOD,
        &[&code::PLUNGE_IN_WOOD, &code::COLLET_RUBS, &code::LEVELS_FEW, &code::PASSES_FEW],
    ),
    (&code::HITS_CHUCK, &[&code::COLLET_RUBS, &code::LEVELS_FEW, &code::PASSES_FEW]),
    (&code::HITS_CENTER, &[&code::COLLET_RUBS, &code::LEVELS_FEW, &code::PASSES_FEW]),
    (&code::HITS_BED, &[&code::COLLET_RUBS]),
    (&code::HITS_CLAMP, &[&code::COLLET_RUBS]),
    (&code::BLOCK_BROKEN, &[&code::CUT_BURIED, &code::COLLET_RUBS, &code::PLUNGE_IN_WOOD]),
    (&code::CUT_BURIED, &[&code::COLLET_RUBS, &code::PLUNGE_IN_WOOD]),
    (&code::PLUNGE_IN_WOOD, &[&code::LEVELS_FEW, &code::PASSES_FEW]),
    (&code::BESIDE_AXIS, &[&code::NOTHING_CUT]),
    (
        &code::HAND_WRONG,
        &[
            &code::AXIS_TOO_FAST,
            &code::FEED_OFF,
            &code::LEAD_OFF,
            &code::INDEX_OFF,
            &code::DEPTH_OFF,
            &code::PASSES_FEW,
        ],
    ),
    (&code::LEAD_OFF, &[&code::AXIS_TOO_FAST, &code::FEED_OFF, &code::INDEX_OFF, &code::PASSES_FEW]),
    (&code::INDEX_OFF, &[&code::PASSES_FEW]),
    (&code::DEPTH_OFF, &[&code::BLANK_PARTED, &code::COLLET_RUBS, &code::PASSES_FEW, &code::FEED_OFF]),
    (&code::BLANK_PARTED, &[&code::COLLET_RUBS]),
    (&code::PAST_TRAVEL, &[&code::AXIS_TOO_FAST, &code::FEED_OFF]),
    (&code::AXIS_TOO_FAST, &[&code::FEED_OFF]),
    (&code::STARTS_WRONG, &[]),
    (
        &code::BLANK_UNTURNED,
        &[
            &code::PASSES_FEW,
            &code::FEED_OFF,
            &code::CHIP_THICK,
            &code::CUTTER_BENDS,
            &code::BLANK_BENDS,
            &code::POWER_HIGH,
            &code::TORQUE_HIGH,
        ],
    ),
    (&code::LEVELS_FEW, HEAVY),
    (&code::PASSES_FEW, HEAVY),
    (&code::FEED_OFF, &[&code::CHIP_THIN, &code::CHIP_THICK]),
    (&code::RUN_OUT_OFF, &[]),
    (&code::LENGTH_OFF, &[]),
    (&code::BORE_OFF, &[]),
    (&code::NUT_THREAD_SHORT, &[]),
    (&code::WOOD_LEFT, &[]),
    (&code::CREST_THIN, &[]),
];

/// What a bite that is too heavy, or a line missing before it, makes of feed and loads.
const HEAVY: &[&Code] = &[
    &code::FEED_OFF,
    &code::CHIP_THICK,
    &code::POWER_HIGH,
    &code::TORQUE_HIGH,
    &code::BLANK_BENDS,
    &code::CUTTER_BENDS,
];

/// What the wood shows when a pass ran where it should not, whatever the reason.
static ON_THE_WOOD: &[&Code] = &[
    &code::HAND_WRONG,
    &code::STARTS_WRONG,
    &code::LEAD_OFF,
    &code::INDEX_OFF,
    &code::DEPTH_OFF,
    &code::BLANK_UNTURNED,
    &code::RUN_OUT_OFF,
    &code::LENGTH_OFF,
    &code::NUT_THREAD_SHORT,
    &code::BORE_OFF,
    &code::CHAMFER_OFF,
    &code::WOOD_LEFT,
    &code::CREST_THIN,
    &code::FORM_OFF,
    &code::WOOD_GONE,
    &code::BLANK_PARTED,
];

/// Place of a code among the causes; those that explain nothing come last.
fn rank(code: &Code) -> usize {
    CAUSES.iter().position(|(cause, _)| *cause == code).unwrap_or(CAUSES.len())
}

/// Whether one stop explains another. What a line of the program did explains what the wood shows; among what the wood
/// shows, the earlier in [`CAUSES`] explains the later.
fn explains(cause: &Finding, effect: &Finding) -> bool {
    let on_the_wood = |finding: &Finding| finding.mark.is_none() && ON_THE_WOOD.contains(&finding.code);
    if names(cause, effect) {
        return true;
    }
    if rank(cause.code) == CAUSES.len() {
        return false;
    }
    match cause.code.name {
        // They bear on where the machine goes, how fast and how heavily it cuts, not on shape.
        "past-travel" | "axis-too-fast" | "feed-off" | "passes-few" | "levels-few" => false,
        _ => on_the_wood(effect) && (cause.mark.is_some() || rank(cause.code) < rank(effect.code)),
    }
}

/// Whether the table names an effect beside a cause.
fn names(cause: &Finding, effect: &Finding) -> bool {
    CAUSES.iter().any(|(code, listed)| *code == cause.code && listed.contains(&effect.code))
}

/// Turns findings that follow from another into notes that say so, and sorts: stops first, then care, then notes,
/// each in the order of the program.
///
/// When the interpreter lost its way at a line, what comes after was not carved, so whatever the wood lacks follows from
/// the first stop in the text.
pub(super) fn settle(findings: &mut [Finding], lost_at_line: Option<usize>) {
    findings.sort_by_key(|finding| (finding.mark.is_none(), rank(finding.code)));
    let in_text = |finding: &Finding| program::ALL.contains(&finding.code);
    let lost = lost_at_line
        .and_then(|_| findings.iter().find(|f| f.severity == Severity::Stop && in_text(f)))
        .map(|finding| finding.code);
    for i in 0..findings.len() {
        let (before, rest) = findings.split_at_mut(i);
        let finding = &mut rest[0];
        let at_least_care = |cause: &&Finding| cause.severity >= Severity::Care;
        let earlier = before.iter().filter(|cause| cause.severity == Severity::Stop);
        let cause = match finding.severity {
            Severity::Stop => lost
                .filter(|_| !in_text(finding))
                .or_else(|| earlier.clone().find(|cause| explains(cause, finding)).map(|cause| cause.code)),
            // What is only to be minded is explained by what names it, not by the wood that it spoils.
            Severity::Care => before
                .iter()
                .filter(at_least_care)
                .find(|cause| names(cause, finding))
                .map(|cause| cause.code),
            Severity::Note => None,
        };
        if let Some(cause) = cause {
            finding.severity = Severity::Note;
            finding.follows = Some(cause);
        }
    }
    findings.sort_by_key(|finding| {
        let place = finding.mark.as_ref().map_or(usize::MAX, |mark| mark.span.start);
        (Reverse(finding.severity), place)
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cause_explains_one_that_stands_before_it() {
        for (at, (cause, effects)) in CAUSES.iter().enumerate() {
            for effect in *effects {
                assert!(at < rank(effect), "{} would explain {}", cause.name, effect.name);
            }
        }
    }

    #[test]
    fn a_stop_remains_whatever_explains_what() {
        let mut findings: Vec<Finding> =
            ON_THE_WOOD.iter().map(|code| Finding::new(code, "seen on the wood")).collect();
        settle(&mut findings, None);
        let stops: Vec<_> = findings.iter().filter(|f| f.severity == Severity::Stop).collect();
        assert_eq!(stops.len(), 1, "{stops:?}");
        assert_eq!(stops[0].code, &code::HAND_WRONG);
    }
}
