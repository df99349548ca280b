//! What a program leaves to chance: where the axes stand and which modes hold when it starts, lines that may be left
//! out, and Y, which the set-up knows nothing of.

use crate::finding::{Finding, Severity, proof as code};
use crate::rs274::{Kind, Motion, Run};

use super::Case;
use super::motions::at_motion;

/// Names all of it.
pub(super) fn check(case: &Case<'_>, run: &Run) -> Vec<Finding> {
    let mut findings = Vec::new();
    let Some(first) = case.motions.first() else {
        return findings;
    };
    if case.motions.iter().any(|motion| motion.kind == Kind::Feed) {
        findings.extend(left_open(case, run, first));
    }
    if let Some(line) = run.optional_line
        && let Some(motion) = case.motions.iter().find(|motion| motion.line >= line)
    {
        let words = format!("line {line} begins with / and is left out when the operator's switch is on");
        findings.push(
            at_motion(case, &code::LINE_OPTIONAL, motion, words)
                .help("take the slash or the line out: the proof takes the line as executed"),
        );
    }
    findings.extend(beside_axis(case));
    findings.extend(rapid_apart(case));
    findings
}

/// A rapid move of several axes on a machine that does not keep them in step.
fn rapid_apart(case: &Case<'_>) -> Option<Finding> {
    let several = |motion: &&Motion| {
        let (from, to) = (motion.from, motion.to);
        let ways = [to.x_mm - from.x_mm, to.y_mm - from.y_mm, to.z_mm - from.z_mm, to.a_deg - from.a_deg];
        motion.kind == Kind::Rapid && ways.iter().filter(|way| **way != 0.0).count() > 1
    };
    let motion = case.motions.iter().find(several).filter(|_| case.setup.machine.habits.rapids_apart)?;
    let words =
        "this rapid move drives several axes, and on this machine each runs at its own speed".to_owned();
    Some(
        at_motion(case, &code::RAPID_APART, motion, words)
            .help("move one axis to a line, Z first on the way up and last on the way down"),
    )
}

/// What the program relies on without saying it before its first feed move.
fn left_open(case: &Case<'_>, run: &Run, first: &Motion) -> Vec<Finding> {
    let mut findings = Vec::new();
    let said = run.said;
    let modes = [(said.units, "G20 or G21"), (said.distance, "G90 or G91"), (said.feed_mode, "G93 or G94")];
    let open: Vec<&str> = modes.iter().filter(|(said, _)| !said).map(|(_, name)| *name).collect();
    if !open.is_empty() {
        let words = format!("the program feeds without having said {}", open.join(", nor "));
        // What F means shows in the feed that is checked; unit and distance mode may be the proof's own guess.
        let weight = if said.units && said.distance { Severity::Care } else { Severity::Stop };
        findings.push(at_motion(case, &code::MODE_OPEN, first, words).weighs(weight).help(
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
    } else if let Some(finding) = shifted(case, run, first) {
        findings.push(finding);
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

/// G92 before an axis stands anywhere: from there on its words count from a place that nobody knows. A alone has no place of
/// its own on a blank that bears no thread yet.
fn shifted(case: &Case<'_>, run: &Run, first: &Motion) -> Option<Finding> {
    let names = ["X", "Z", "A"].into_iter().zip(run.said.shifted);
    let axes: Vec<&str> = names.filter(|(_, shifted)| *shifted).map(|(name, _)| name).collect();
    let weight = if axes == ["A"] { Severity::Care } else { Severity::Stop };
    let words =
        format!("G92 gives {} a reading before the program has brought it anywhere", axes.join(" and "));
    (!axes.is_empty()).then(|| {
        at_motion(case, &code::START_OPEN, first, words).weighs(weight).help(
            "take G92 out: the zeros are set at the machine as the set-up sheet says; else bring the axis to its place with \
             G0 before it",
        )
    })
}

/// So little beside the axis changes no groove, mm.
const BESIDE_MM: f64 = 0.01;

/// A move with Y away from the axis: in a cut it makes another groove, or none; elsewhere nobody knows what stands
/// there.
fn beside_axis(case: &Case<'_>) -> Option<Finding> {
    let beside = |motion: &Motion| motion.to.y_mm.abs() > BESIDE_MM || motion.from.y_mm.abs() > BESIDE_MM;
    let turns = |motion: &Motion| motion.kind == Kind::Feed && motion.to.a_deg != motion.from.a_deg;
    let cutting = case.motions.iter().find(|motion| beside(motion) && turns(motion));
    let motion = cutting.or_else(|| case.motions.iter().find(|motion| beside(motion)))?;
    let y = case.drawing.unit.show(motion.to.y_mm);
    let weight = if cutting.is_some() { Severity::Stop } else { Severity::Care };
    let words = format!("the cutter stands at Y {y}, beside the axis of the blank");
    Some(
        at_motion(case, &code::BESIDE_AXIS, motion, words)
            .weighs(weight)
            .values(motion.to.y_mm, 0.0)
            .help("take the Y words out: a thread is cut with the cutter straight above the axis"),
    )
}

/// Whether a first move goes along the blank or turns it.
fn moves_low(first: &Motion) -> bool {
    first.from.x_mm != first.to.x_mm || first.from.a_deg != first.to.a_deg
}
