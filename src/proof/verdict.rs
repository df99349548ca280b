//! Which finding explains which: one slip in a program shows in many places, and the person at the machine wants to
//! read about the slip. What follows from another stop stays in the list as a note that names its cause; the program
//! is not proved either way.

use crate::finding::{Code, Finding, Severity, proof as code};

/// What a stop of each kind explains.
fn explains(cause: &Code, effect: &Code) -> bool {
    let list: &[&Code] = match cause.name {
        "units-odd" => return effect.name != "units-odd",
        "hand-wrong" => &[
            &code::LEAD_OFF,
            &code::STARTS_WRONG,
            &code::INDEX_OFF,
            &code::DEPTH_OFF,
            &code::FORM_OFF,
            &code::CREST_THIN,
            &code::WOOD_LEFT,
            &code::WOOD_GONE,
            &code::LENGTH_OFF,
        ],
        "lead-off" => &[
            &code::STARTS_WRONG,
            &code::INDEX_OFF,
            &code::FORM_OFF,
            &code::CREST_THIN,
            &code::WOOD_LEFT,
            &code::WOOD_GONE,
            &code::LENGTH_OFF,
        ],
        "index-off" => {
            &[&code::STARTS_WRONG, &code::LEAD_OFF, &code::FORM_OFF, &code::CREST_THIN, &code::WOOD_LEFT]
        }
        "depth-off" => &[&code::FORM_OFF, &code::CREST_THIN, &code::LENGTH_OFF],
        "starts-wrong" => {
            &[&code::WOOD_LEFT, &code::LEAD_OFF, &code::INDEX_OFF, &code::FORM_OFF, &code::LENGTH_OFF]
        }
        "wood-left" => &[&code::FORM_OFF, &code::LENGTH_OFF],
        "rapid-in-wood" | "plunge-in-wood" => &[
            &code::PLUNGE_IN_WOOD,
            &code::FORM_OFF,
            &code::CREST_THIN,
            &code::DEPTH_OFF,
            &code::WOOD_GONE,
            &code::WOOD_LEFT,
            &code::COLLET_RUBS,
            &code::LEAD_OFF,
            &code::LENGTH_OFF,
        ],
        "hits-chuck" | "hits-center" => &[&code::WOOD_GONE, &code::LENGTH_OFF, &code::COLLET_RUBS],
        "crest-thin" => &[&code::FORM_OFF],
        _ => &[],
    };
    list.contains(&effect)
}

/// Turns findings that follow from another stop into notes that say so, drops what the same code already says with a
/// line, and sorts: stops first, then care, then notes, each in the order of the program.
///
/// When the interpreter lost its way at a line, what comes after was not carved, so whatever the wood lacks follows
/// from the first stop in the text.
pub(super) fn settle(findings: &mut Vec<Finding>, lost_at_line: Option<usize>) {
    let stops: Vec<(&'static Code, bool)> = findings
        .iter()
        .filter(|finding| finding.severity == Severity::Stop)
        .map(|finding| (finding.code, finding.mark.is_some()))
        .collect();
    let in_text = lost_at_line.and_then(|_| {
        findings
            .iter()
            .find(|f| f.severity == Severity::Stop && crate::finding::program::ALL.contains(&f.code))
            .map(|f| f.code)
    });
    for finding in findings.iter_mut().filter(|finding| finding.severity == Severity::Stop) {
        // A stop found on the wood is told better by the line that made it.
        let told_by_line = finding.mark.is_none() && stops.contains(&(finding.code, true));
        let cause = stops
            .iter()
            .map(|&(code, _)| code)
            .find(|cause| explains(cause, finding.code))
            .or(told_by_line.then_some(finding.code))
            .or(in_text.filter(|_| crate::finding::proof::ALL.contains(&finding.code)));
        if let Some(cause) = cause {
            finding.severity = Severity::Note;
            finding.follows = Some(cause);
        }
    }
    findings.sort_by_key(|finding| {
        let place = finding.mark.as_ref().map_or(usize::MAX, |mark| mark.span.start);
        (std::cmp::Reverse(finding.severity), place)
    });
}
