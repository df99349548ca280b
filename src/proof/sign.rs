//! A pass that would be right if one word had its sign the other way: a minus that was lost, or one too many. The line
//! that has the word is the one to mend, and it may stand before the pass that it spoils.

use std::ops::Range;

use crate::finding::{Finding, proof as code};
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
            let number: f64 = case.program.text()[word.start + 1..word.end].parse().ok()?;
            // Under a shift of the origin the word is not the place, and another sign would not mirror it.
            let scale = (ends[end][axis] / number).abs();
            if [1.0, LengthUnit::Inch.mm()].iter().all(|unit| SAME_SHARE < (scale / unit - 1.0).abs()) {
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
fn word(case: &Case<'_>, before: usize, letter: u8) -> Option<Range<usize>> {
    case.motions[..before].iter().rev().find_map(|motion| {
        let text = &case.program.text().as_bytes()[motion.span.clone()];
        let mut in_comment = false;
        let start = text.iter().position(|byte| {
            in_comment = *byte == b'(' || (in_comment && *byte != b')');
            !in_comment && byte.to_ascii_uppercase() == letter
        })?;
        let length = text[start + 1..].iter().take_while(|byte| b"+-.0123456789".contains(byte)).count();
        (0 < length).then_some(motion.span.start + start..motion.span.start + start + 1 + length)
    })
}
