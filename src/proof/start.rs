//! What a program leaves to chance when it starts: where the axes stand and which modes hold.

use crate::finding::{Finding, proof as code};
use crate::rs274::{Motion, Run};

use super::Case;
use super::motions::at_motion;

/// Names what the program relies on without saying it before its first feed move.
pub(super) fn check(case: &Case<'_>, run: &Run) -> Vec<Finding> {
    let mut findings = Vec::new();
    let Some(first) = case.motions.first() else {
        return findings;
    };
    let said = run.said;
    let modes = [(said.units, "G20 or G21"), (said.distance, "G90 or G91"), (said.feed_mode, "G93 or G94")];
    let open: Vec<&str> = modes.iter().filter(|(said, _)| !said).map(|(_, name)| *name).collect();
    if !open.is_empty() {
        let words = format!("the program feeds without having said {}", open.join(", nor "));
        findings.push(at_motion(case, &code::MODE_OPEN, first, words).help(
            "set every mode at the head of the program: what the last program left may mean another move",
        ));
    }
    let axes: Vec<&str> =
        ["X", "Z", "A"].into_iter().zip(said.axes).filter(|(_, said)| !said).map(|(name, _)| name).collect();
    if !axes.is_empty() {
        let words = format!(
            "the program feeds without having placed {}: the proof takes X over the nose, Z at the top, A at 0",
            axes.join(" and ")
        );
        findings.push(
            at_motion(case, &code::START_OPEN, first, words)
                .help("bring every axis to its place with G0, Z first"),
        );
    } else if moves_low(first) {
        let words =
            "the first move runs along X or A while nobody knows how low the cutter stands".to_owned();
        findings.push(
            at_motion(case, &code::START_OPEN, first, words)
                .help("let the first move be G0 with Z alone, upwards"),
        );
    }
    findings
}

/// Whether a first move goes along the blank or turns it.
fn moves_low(first: &Motion) -> bool {
    first.from.x_mm != first.to.x_mm || first.from.a_deg != first.to.a_deg
}
