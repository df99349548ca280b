//! Programs read by another rule than the one they were written by: the wrong unit of length, steps for places. All that
//! follows from that is left unsaid, since one word mends it.

use std::sync::Arc;

use crate::drawing::{Drawing, Threading};
use crate::finding::{Finding, proof as code};
use crate::rs274::{self, Kind, Pose, Run};
use crate::setup::Setup;
use crate::source::{Mark, Source};

use super::control;
use super::motions::ON_LIMIT;

/// A program that speaks the wrong unit reaches 25.4 times too far or too little; a long lead-in or a short trial may
/// halve or double that.
const UNIT_RATIO: std::ops::Range<f64> = 12.0..50.0;

/// Whether the program speaks the wrong unit: its feed moves then reach many times too far or too little along X.
pub(super) fn unit(program: &Arc<Source>, run: &Run, setup: &Setup, drawing: &Drawing) -> Option<Finding> {
    if drawing.thread != Threading::Here {
        // Other operations may be as short as they like.
        return None;
    }
    let feeds = run.motions.iter().filter(|motion| motion.kind == Kind::Feed);
    let (low, high) = feeds.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), motion| {
        (low.min(motion.to.x_mm), high.max(motion.to.x_mm))
    });
    let spoken = run.unit_set?;
    let ratio = (high - low) / (drawing.run_out_to_s_mm - setup.blank.from_s_mm);
    if run.lost_at_line.is_some() || !(UNIT_RATIO.contains(&ratio) || UNIT_RATIO.contains(&ratio.recip())) {
        return None;
    }
    let (length, name) = (drawing.unit.show(high - low), spoken.plural());
    let words = format!("read in {name}, the program works over {length} of length");
    Some(unit_odd(program, run, words)?.values(high - low, drawing.run_out_to_s_mm))
}

/// Says at the word that chooses the unit, or at the first move, that it is the wrong one.
pub(super) fn unit_odd(program: &Arc<Source>, run: &Run, words: String) -> Option<Finding> {
    let first = run.motions.first()?;
    let head = &program.text()[..first.span.start];
    let word = head.rfind("G20").or_else(|| head.rfind("G21"));
    let mark = word.map_or(first.span.clone(), |at| at..at + 3);
    Some(
        Finding::new(&code::UNITS_ODD, words)
            .at(Mark::new(program, mark))
            .help("G21 means millimetres, G20 inches; one of them stands where the other belongs"),
    )
}

/// The word for places, and that for steps.
const DISTANCE: [&str; 2] = ["G90", "G91"];

/// Whether the program's words are steps that the program takes for places, or the other way round: as it stands it leaves
/// the machine or never comes down to the wood, with the other word it does neither.
pub(super) fn distance(
    program: &Arc<Source>,
    run: &Run,
    setup: &Setup,
    drawing: &Drawing,
) -> Option<Finding> {
    if drawing.thread != Threading::Here || run.lost_at_line.is_some() || works(run, setup) {
        return None;
    }
    let text = program.text();
    let spoken: Vec<(usize, usize)> =
        (0..2).flat_map(|which| words(text, DISTANCE[which]).map(move |at| (at, which))).collect();
    let &(at, which) = spoken.iter().min()?;
    if spoken.iter().any(|word| word.1 != which) {
        return None;
    }
    let (word, meant) = (DISTANCE[which], DISTANCE[1 - which]);
    let mut other = text.to_owned();
    for &(at, _) in &spoken {
        other.replace_range(at..at + word.len(), meant);
    }
    let other = Source::new(program.name(), other);
    if !works(&rs274::run(&other, &control(setup)), setup) {
        return None;
    }
    let [read, fits] =
        if which == 1 { ["a step on from the last place", "places"] } else { ["a place", "steps"] };
    Some(
        Finding::new(
            &code::DISTANCE_ODD,
            format!("with {word} every X, Z and A is {read}; taken as {fits} the program fits the machine"),
        )
        .at(Mark::new(program, at..at + word.len()))
        .help(format!("write {meant} for {word}, then prove again")),
    )
}

/// Where a word for the distance mode stands; G90.1 and G91.1 are other words.
fn words<'a>(text: &'a str, word: &'a str) -> impl Iterator<Item = usize> + 'a {
    let ends = move |at: &usize| {
        !text[at + word.len()..].starts_with(|next: char| next.is_ascii_digit() || next == '.')
    };
    text.match_indices(word).map(|(at, _)| at).filter(ends)
}

/// Whether a program keeps to the machine's travel and feeds below the surface of the blank.
fn works(run: &Run, setup: &Setup) -> bool {
    let inside = |value: f64, [low, high]: [f64; 2]| (low - ON_LIMIT..=high + ON_LIMIT).contains(&value);
    let keeps = |pose: &Pose| inside(pose.x_mm, setup.x_limits_mm) && inside(pose.z_mm, setup.z_limits_mm);
    let surface = setup.z_axis_mm + setup.blank.size_mm / 2.0;
    let cuts = run.motions.iter().any(|motion| {
        motion.kind == Kind::Feed && motion.to.z_mm < surface && motion.to.a_deg != motion.from.a_deg
    });
    cuts && run.motions.iter().all(|motion| keeps(&motion.to))
}
