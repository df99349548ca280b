//! A pass that would be right if one word had its sign the other way: a minus that was lost, or one too many. The line
//! that has the word is the one to mend, and it may stand before the pass that it spoils.

use std::ops::Range;

use crate::finding::{Code, Finding, Severity, proof as code};
use crate::rs274::Motion;
use crate::source::Mark;
use crate::units::LengthUnit;

use super::Case;

/// How far a lead may be off to count as right, as a share of the drawn one: far more than rounding, far less than what
/// another sign makes of it.
const LEAD_SHARE: f64 = 0.002;

/// Least way, degrees, from which a lead can be told.
const LEAST_WAY_DEG: f64 = 1.0;

/// How far a word and its place may differ, as a share: binary rounding.
const SAME_SHARE: f64 = 1e-9;

/// Moves such findings to the word with the wrong sign and says how to write it.
pub(super) fn hint(case: &Case<'_>, findings: &mut [Finding]) {
    for finding in findings {
        if ![&code::LEAD_OFF, &code::HAND_WRONG].contains(&finding.code) {
            continue;
        }
        let Some(mark) = finding.mark.clone() else { continue };
        let Some(at) = case.motions.iter().position(|motion| motion.span == mark.span) else { continue };
        let Some(word) = wrong_sign(case, at) else { continue };
        let written = case.program.text()[word.clone()].to_owned();
        let meant = other_sign(&written);
        finding.help =
            Some(format!("write {meant} for {written}: with that sign the lead of the pass is right"));
        if !(mark.span.start..mark.span.end).contains(&word.start) {
            finding.also.push((mark, "the pass that it spoils".to_owned()));
        }
        finding.mark = Some(Mark::new(case.program, word));
    }
}

/// What a Z whose sign is wrong runs into, in the order in which it is told.
static LOST_Z: [&Code; 6] = [
    &code::DEPTH_OFF,
    &code::PLUNGE_IN_WOOD,
    &code::HITS_CENTER,
    &code::HITS_CHUCK,
    &code::PAST_TRAVEL,
    &code::AXIS_TOO_FAST,
];

/// Moves findings of a cutter that is far too low to the Z word that would not be with its other sign, and says how to
/// write it. One of them stays what it is, the others follow from it.
pub(super) fn lost_z(case: &Case<'_>, findings: &mut [Finding]) {
    let mut told: Option<(&'static Code, Range<usize>)> = None;
    for code in LOST_Z {
        for finding in findings.iter_mut().filter(|finding| finding.code == code) {
            let Some(mark) = finding.mark.clone() else { continue };
            let place = |motion: &Motion| {
                mark.span.contains(&motion.span.start) || motion.span.contains(&mark.span.start)
            };
            let Some(at) = case.motions.iter().position(place) else { continue };
            let Some(word) = wrong_z(case, at) else { continue };
            if let Some((cause, _)) = told.as_ref().filter(|(_, known)| *known == word) {
                finding.severity = Severity::Note;
                finding.follows = Some(cause);
                continue;
            }
            let written = &case.program.text()[word.clone()];
            let (meant, unit) = (other_sign(written), case.drawing.unit);
            let root = unit.show(case.drawing.root_diameter_mm / 2.0);
            finding.message = format!(
                "{written} brings the cutter to the axis of the blank or beyond, the root stands {root} from it"
            );
            finding.help = Some(format!("write {meant} for {written}"));
            finding.mark = Some(Mark::new(case.program, word.clone()));
            told = Some((code, word));
        }
    }
}

/// The Z word that holds at a motion, if it brings the tip to the axis or beyond and its other sign would not bring it
/// below the root.
fn wrong_z(case: &Case<'_>, at: usize) -> Option<Range<usize>> {
    let tip = |z_mm: f64| z_mm - case.setup.z_axis_mm;
    let [from, to] = [case.motions[at].from, case.motions[at].to].map(|pose| pose.z_mm);
    let (low, before) = if from < to { (from, at) } else { (to, at + 1) };
    let least = case.drawing.root_diameter_mm / 2.0 - case.drawing.passes.radius_mm;
    if 0.0 < tip(low) || tip(-low) < least {
        return None;
    }
    let word = word(case, before, b'Z')?;
    as_written(case, &word, low).then_some(word)
}

/// Whether a word says a place in millimetres or inches, under no shift of the origin.
fn as_written(case: &Case<'_>, word: &Range<usize>, place_mm: f64) -> bool {
    let number: Option<f64> = case.program.text()[word.start + 1..word.end].parse().ok();
    let is = |number: f64| {
        [1.0, LengthUnit::Inch.mm()]
            .iter()
            .any(|unit| ((place_mm / number).abs() / unit - 1.0).abs() <= SAME_SHARE)
    };
    number.is_some_and(is)
}

/// A word with its sign the other way.
fn other_sign(written: &str) -> String {
    let (letter, number) = written.split_at(1);
    match number.strip_prefix('-') {
        Some(size) => format!("{letter}{size}"),
        None => format!("{letter}-{}", number.trim_start_matches('+')),
    }
}

/// The word whose other sign gives the pass at a motion the drawn lead. A helix that runs through zero has the mirrored
/// point too, so X and A may both do; then it is the word that stands nowhere else in the program, or whose other sign
/// does. `None` if that leaves two.
fn wrong_sign(case: &Case<'_>, at: usize) -> Option<Range<usize>> {
    let motion = &case.motions[at];
    let lead = |from: [f64; 2], to: [f64; 2]| {
        let turned = to[1] - from[1];
        (LEAST_WAY_DEG < turned.abs()).then(|| (to[0] - from[0]) * 360.0 / turned)
    };
    // X counts down by the lead of a right-hand thread in a turn of A that brings the top of the blank to the front.
    let drawing = case.drawing;
    let wanted = -case.setup.machine.a_plus.sign() * drawing.hand.sign() * drawing.lead_mm;
    let ends = [[motion.from.x_mm, motion.from.a_deg], [motion.to.x_mm, motion.to.a_deg]];
    let mut found: Vec<(usize, Range<usize>)> = (0..4)
        .filter_map(|which| {
            let (end, axis) = (which / 2, which % 2);
            let mut flipped = ends;
            flipped[end][axis] = -flipped[end][axis];
            let off = lead(flipped[0], flipped[1])? - wanted;
            let word = word(case, at + end, [b'X', b'A'][axis])?;
            // Under a shift of the origin the word is not the place, and another sign would not mirror it.
            if !as_written(case, &word, ends[end][axis]) {
                return None;
            }
            (off.abs() <= LEAD_SHARE * drawing.lead_mm).then(|| (likelihood(case, &word), word))
        })
        .collect();
    found.sort_by_key(|(likelihood, _)| std::cmp::Reverse(*likelihood));
    match &found[..] {
        [(_, only)] => Some(only.clone()),
        [(most, first), (second, _), ..] if second < most => Some(first.clone()),
        _ => None,
    }
}

/// How much speaks for a slip in a word: that it stands nowhere else, and that its other sign does.
fn likelihood(case: &Case<'_>, word: &Range<usize>) -> usize {
    let text = case.program.text();
    let written = &text[word.clone()];
    let count = |word: &str| {
        let ends =
            |(at, _): &(usize, &str)| !text[at + word.len()..].starts_with(|c: char| c.is_ascii_digit());
        text.match_indices(word).filter(ends).count()
    };
    2 * usize::from(0 < count(&other_sign(written))) + usize::from(count(written) == 1)
}

/// The last word of a letter before a motion.
pub(super) fn word(case: &Case<'_>, before: usize, letter: u8) -> Option<Range<usize>> {
    case.motions[..before].iter().rev().find_map(|motion| own_word(case, motion, letter))
}

/// The word of a letter in a motion's own line.
pub(super) fn own_word(case: &Case<'_>, motion: &Motion, letter: u8) -> Option<Range<usize>> {
    let text = &case.program.text().as_bytes()[motion.span.clone()];
    let mut in_comment = false;
    let start = text.iter().position(|byte| {
        in_comment = *byte == b'(' || (in_comment && *byte != b')');
        !in_comment && byte.to_ascii_uppercase() == letter
    })?;
    let length = text[start + 1..].iter().take_while(|byte| b"+-.0123456789".contains(byte)).count();
    (0 < length).then_some(motion.span.start + start..motion.span.start + start + 1 + length)
}
