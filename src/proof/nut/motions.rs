//! What the motions of a nut's program ask of the machine: unit, travel, axis speeds, feed at the wall, what is left to
//! chance, running time. Every finding stands at its program line.

use std::sync::Arc;

use crate::drawing::NutDrawing;
use crate::finding::{Finding, Severity, proof as code};
use crate::proof::misread::unit_odd;
use crate::proof::motions::{SPEED_SLACK, TOUCH_MM};
use crate::proof::moves::Moves;
use crate::proof::{run_up, spindle};
use crate::rs274::{Kind, Motion, Pose, Run};
use crate::setup::NutSetup;
use crate::source::Source;
use crate::stock::corners;
use crate::stock::nut::{Leg, legs, solids};

use super::{NutCase, NutMeasured, NutUncertainty};

/// A program that speaks the wrong unit reaches 25.4 times too far or too little; the way past both faces may double it.
const UNIT_RATIO: std::ops::Range<f64> = 12.0..60.0;
/// Slack on travel, mm, for values that stand exactly on a limit.
const ON_LIMIT_MM: f64 = 1e-6;
/// Share by which the feed at the wall may differ from the job's.
const FEED_SLACK: f64 = 0.05;
/// Feeds against the job's that a person may want: slower burns, faster breaks the cutter.
const FEED_RANGE: std::ops::Range<f64> = 0.5..1.5;
/// Moves whose distance from the axis differs by less than this share go round it: more than the rounding of words makes,
/// less than an entry does over a few lines.
const ROUND_SHARE: f64 = 0.005;
/// So many lines before and after a short line must go round as well: the last of an entry runs with the entry's feed.
const ROUND_LINES: usize = 3;
/// Share of the running time by which it may be off: stops at corners, and how a control rounds them.
const MINUTES_SHARE: f64 = 0.1;

/// Whether the program speaks the wrong unit: its feed moves then reach many times too far or too little along Z.
pub(super) fn unit(
    program: &Arc<Source>,
    run: &Run,
    setup: &NutSetup,
    drawing: &NutDrawing,
) -> Option<Finding> {
    let feeds = run.motions.iter().filter(|motion| motion.kind == Kind::Feed);
    let (low, high) = feeds.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), motion| {
        (low.min(motion.to.z_mm), high.max(motion.to.z_mm))
    });
    let spoken = run.unit_set?;
    let ratio = (high - low) / setup.block.thickness_mm;
    if run.lost_at_line.is_some() || !(UNIT_RATIO.contains(&ratio) || UNIT_RATIO.contains(&ratio.recip())) {
        return None;
    }
    let (height, name) = (drawing.unit.show(high - low), spoken.plural());
    let words = format!("read in {name}, the program works over {height} of height");
    Some(unit_odd(program, run, words)?.values(high - low, setup.block.thickness_mm))
}

/// Checks the motions and measures what can be measured on them.
pub(super) fn check(
    case: &NutCase<'_>,
    run: &Run,
    measured: &mut NutMeasured,
    uncertainty: &mut NutUncertainty,
) -> Vec<Finding> {
    let moves = Moves {
        program: case.program,
        machine: &case.setup.machine,
        rpm: case.setup.rpm,
        motions: case.motions,
        deepest_mm: case.carved.cuts.iter().map(|cut| cut.deepest_mm).collect(),
    };
    let mut findings = travel(case, &moves);
    findings.extend(speeds(case, &moves));
    findings.extend(spindle::check(&moves, run));
    findings.extend(run_up::check(&moves, run));
    findings.extend(left_open(&moves, run));
    findings.extend(feed(case, &moves, measured));
    let minutes: f64 = case.motions.iter().map(|motion| least_minutes(motion, case.setup)).sum();
    measured.minutes = Some(minutes + run.dwell_minutes);
    uncertainty.minutes = Some(minutes * MINUTES_SHARE);
    findings
}

fn travel(case: &NutCase<'_>, moves: &Moves<'_>) -> Vec<Finding> {
    let (setup, unit) = (case.setup, case.drawing.unit);
    let words = |pose: &Pose| [pose.x_mm, pose.y_mm, pose.z_mm, pose.a_deg];
    // The rotary is off, so A has nowhere to go.
    let axes =
        [("X", setup.x_limits_mm), ("Y", setup.y_limits_mm), ("Z", setup.z_limits_mm), ("A", [0.0; 2])];
    let mut findings = Vec::new();
    for (axis, (name, [low, high])) in axes.into_iter().enumerate() {
        let past = case.motions.iter().find_map(|motion| {
            let beyond = |v: &f64| *v < low - ON_LIMIT_MM || high + ON_LIMIT_MM < *v;
            let v = corners(motion).map(|pose| words(&pose)[axis]).find(beyond)?;
            Some((motion, v))
        });
        let Some((motion, v)) = past else { continue };
        let limit = if v < low { low } else { high };
        let (said, help) = if name == "A" {
            ("the program turns A, and the rotary is off the machine".to_owned(), "take the A words out")
        } else {
            (
                format!("{name} goes to {}, the machine ends at {}", unit.show(v), unit.show(limit)),
                "move the block on the bed, use a shorter cutter, or correct the travel in the machine file",
            )
        };
        findings.push(moves.finding(&code::PAST_TRAVEL, motion, said).values(v, limit).help(help));
    }
    findings
}

/// Top speeds of X, Y and Z, mm/min.
fn tops(setup: &NutSetup) -> [f64; 3] {
    [setup.machine.x.top_mm_per_min, setup.mill.y_top_mm_per_min, setup.machine.z.top_mm_per_min]
}

/// Ways of X, Y and Z between two poses, mm.
fn ways(from: &Pose, to: &Pose) -> [f64; 3] {
    [to.x_mm - from.x_mm, to.y_mm - from.y_mm, to.z_mm - from.z_mm]
}

fn speeds(case: &NutCase<'_>, moves: &Moves<'_>) -> Vec<Finding> {
    let unit = case.drawing.unit;
    let mut fastest: [Option<(f64, &Motion)>; 3] = [None; 3];
    for motion in case.motions {
        let Some(minutes) = motion.minutes.filter(|&minutes| minutes > 0.0) else { continue };
        let corners: Vec<Pose> = corners(motion).collect();
        let share = minutes / corners.len() as f64;
        let mut from = motion.from;
        for to in corners {
            for (best, way) in fastest.iter_mut().zip(ways(&from, &to)) {
                let rate = way.abs() / share;
                if best.is_none_or(|(so_far, _)| rate > so_far) {
                    *best = Some((rate, motion));
                }
            }
            from = to;
        }
    }
    let mut findings = Vec::new();
    for ((name, best), top) in ["X", "Y", "Z"].into_iter().zip(fastest).zip(tops(case.setup)) {
        let Some((rate, motion)) = best.filter(|(rate, _)| *rate > top * (1.0 + SPEED_SLACK)) else {
            continue;
        };
        let (asked, top_shown) = (unit.show_speed(rate), unit.show_speed(top));
        let words = format!("{name} would have to run at {asked}, its top speed is {top_shown}");
        findings.push(
            moves.finding(&code::AXIS_TOO_FAST, motion, words).values(rate, top).help("lower the feed"),
        );
    }
    findings
}

/// What the program relies on without saying it before its first feed move.
fn left_open(moves: &Moves<'_>, run: &Run) -> Vec<Finding> {
    let mut findings = Vec::new();
    let Some(first) = moves.motions.first() else { return findings };
    let said = run.said;
    let feeds = moves.motions.iter().any(|motion| motion.kind == Kind::Feed);
    let modes = [(said.units, "G20 or G21"), (said.distance, "G90 or G91"), (said.feed_mode, "G93 or G94")];
    let open: Vec<&str> = modes.iter().filter(|(said, _)| !said).map(|(_, name)| *name).collect();
    if feeds && !open.is_empty() {
        let words = format!("the program feeds without having said {}", open.join(", nor "));
        findings.push(moves.finding(&code::MODE_OPEN, first, words).help(
            "set every mode at the head of the program: what the last program left may mean another move",
        ));
    }
    let placed = [("X", said.axes[0]), ("Y", said.axes[3]), ("Z", said.axes[1])];
    let axes: Vec<&str> = placed.iter().filter(|(_, said)| !said).map(|(name, _)| *name).collect();
    if feeds && !axes.is_empty() {
        let words = format!(
            "the program feeds without having placed {}: the proof takes the cutter on the axis, at the top of Z",
            axes.join(" and ")
        );
        findings.push(
            moves
                .finding(&code::START_OPEN, first, words)
                .help("bring every axis to its place with G0, Z first"),
        );
    } else if first.from.x_mm != first.to.x_mm || first.from.y_mm != first.to.y_mm {
        let words = "the first move runs sideways while nobody knows how low the cutter stands".to_owned();
        findings.push(
            moves
                .finding(&code::START_OPEN, first, words)
                .help("let the first move be G0 with Z alone, upwards"),
        );
    }
    if let Some(line) = run.optional_line
        && let Some(motion) = moves.motions.iter().find(|motion| motion.line >= line)
    {
        let words = format!("line {line} begins with / and is left out when the operator's switch is on");
        findings.push(
            moves
                .finding(&code::LINE_OPTIONAL, motion, words)
                .help("take the slash or the line out: the proof takes the line as executed"),
        );
    }
    let several = |motion: &&Motion| {
        let moved = ways(&motion.from, &motion.to).iter().filter(|way| **way != 0.0).count();
        motion.kind == Kind::Rapid && moved > 1
    };
    if let Some(motion) = moves.motions.iter().find(several).filter(|_| moves.machine.habits.rapids_apart) {
        let words =
            "this rapid move drives several axes, and on this machine each runs at its own speed".to_owned();
        findings.push(
            moves
                .finding(&code::RAPID_APART, motion, words)
                .help("move one axis to a line, Z first on the way up and last on the way down"),
        );
    }
    findings
}

/// Speed of the cutter's edge along the wall, over all moves round the axis that cut: the edge runs as much farther than
/// the cutter's axis as it stands farther out.
fn feed(case: &NutCase<'_>, moves: &Moves<'_>, measured: &mut NutMeasured) -> Option<Finding> {
    let edge = solids(&case.setup.tool).iter().map(|solid| solid.radius_mm).fold(0.0, f64::max);
    let asked = case.setup.edge_feed_mm_per_min;
    let mut worst: Option<(f64, f64, &Motion)> = None;
    let legs = legs(case.motions);
    for (index, leg) in legs.iter().enumerate() {
        let motion = &case.motions[leg.motion];
        let deepest = moves.deepest_mm[leg.motion];
        let Some(minutes) = motion.minutes.filter(|minutes| *minutes > 0.0) else { continue };
        if motion.kind != Kind::Feed || deepest <= TOUCH_MM || !goes_round(&legs, index) {
            continue;
        }
        let (near, far) = (leg.from[0].hypot(leg.from[1]), leg.to[0].hypot(leg.to[1]));
        let wall = f64::midpoint(near, far) + edge;
        let speed = (leg.round() * wall).hypot(leg.to[2] - leg.from[2]) / minutes;
        measured.feed_min_mm_per_min =
            Some(measured.feed_min_mm_per_min.map_or(speed, |so_far| so_far.min(speed)));
        measured.feed_max_mm_per_min =
            Some(measured.feed_max_mm_per_min.map_or(speed, |so_far| so_far.max(speed)));
        let off = (speed / asked - 1.0).abs();
        if off > FEED_SLACK && worst.is_none_or(|(so_far, ..)| off > so_far) {
            worst = Some((off, speed, motion));
        }
    }
    let (_, speed, motion) = worst?;
    let weight = if FEED_RANGE.contains(&(speed / asked)) { Severity::Care } else { Severity::Stop };
    let unit = case.drawing.unit;
    let (ran, want) = (unit.show_speed(speed), unit.show_speed(asked));
    let words = format!("the edge of the cutter runs along the wall at {ran}, the job asks {want}");
    Some(moves.finding(&code::FEED_OFF, motion, words).weighs(weight).values(speed, asked).help(
        "F counts the way of the cutter's axis, which runs slower than its edge: F = edge feed x (D - d) / D",
    ))
}

/// Whether a leg goes round the axis, and if it is a line, those beside it too.
fn goes_round(legs: &[Leg], index: usize) -> bool {
    let leg = &legs[index];
    let off = leg.to[0].hypot(leg.to[1]);
    let same = |end: [f64; 3]| (end[0].hypot(end[1]) - off).abs() <= ROUND_SHARE * off;
    let beside = if leg.turn.is_some() { 0 } else { ROUND_LINES };
    let around = index.checked_sub(beside).and_then(|first| legs.get(first..=index + beside));
    leg.round() != 0.0 && around.is_some_and(|legs| legs.iter().all(|leg| same(leg.from) && same(leg.to)))
}

/// Minutes that a motion lasts: what its F asks, or in a rapid move what the slowest axis needs.
fn least_minutes(motion: &Motion, setup: &NutSetup) -> f64 {
    let ways = ways(&motion.from, &motion.to);
    let at_top = ways.iter().zip(tops(setup)).map(|(way, top)| way.abs() / top).fold(0.0, f64::max);
    motion.minutes.unwrap_or(0.0).max(at_top)
}
