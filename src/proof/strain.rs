//! The loads of a program against what wood, cutter and machine bear: chips, power, torque, bending. One finding a kind, at
//! the worst line. None forbids the cut: the numbers are advice of the trade and estimates, from memory.

use crate::finding::{Code, Finding, proof as code};
use crate::pressure::{BAND, least_chip_mm};
use crate::setup::{Edge, Setup};
use crate::source::Mark;
use crate::units::LengthUnit;

use super::loads::Load;
use super::{Case, Measured};

/// Wood that a motion has to take off before its load is worth a word, mm³: less is an end of a pass.
const WORTH_MM3: f64 = 5.0;
/// Share of the wood of the longest cut that a motion has to take off before thin chips on it burn: on less, such as a
/// run-out that ends in a groove turned before, the edge rubs for a moment.
const LONG_SHARE: f64 = 0.05;
/// Share by which a load may pass its limit: the section is measured on a grid, and limits are round numbers.
const SLACK: f64 = 0.05;
/// How far the blank may bend, mm: a third of a wooden screw's play; common practice, no source.
const BENDS_MM: f64 = 0.2;
/// How far the cutter may bend, mm: beyond that it chatters; common practice, no source.
const CUTTER_BENDS_MM: f64 = 0.1;

/// A feed more times as fast than this is none that an axis runs: no way out (common practice, no source).
const FASTER_TIMES: f64 = 10.0;

/// A kind of load with its limit.
struct Kind {
    code: &'static Code,
    /// How far a load goes towards its limit: above one, past it. `None` where it is not known.
    towards: fn(&Load, &Setup) -> Option<f64>,
    /// The value met and the limit.
    values: fn(&Load, &Setup) -> Option<(f64, f64)>,
    message: fn(&Load, &Setup, LengthUnit) -> String,
    help: fn(&Load, &Setup, LengthUnit) -> String,
}

/// The upper end of an estimate's band.
fn most(load: Option<f64>) -> Option<f64> {
    load.map(|load| load * BAND)
}

fn ratio(value: Option<f64>, limit: Option<f64>) -> Option<f64> {
    Some(value? / limit?)
}

fn least_chip(setup: &Setup) -> f64 {
    least_chip_mm(setup.timber.density_kg_m3, setup.cutter.edge)
}

/// A small length: a thousandth of a millimetre, or a hundredth of a thousandth of an inch.
fn fine(unit: LengthUnit, mm: f64) -> String {
    format!("{:.*} {}", unit.decimals() + 1, mm / unit.mm(), unit.name())
}

static KINDS: &[Kind] = &[
    Kind {
        code: &code::CHIP_THIN,
        towards: |load, setup| Some(least_chip(setup) / load.chip_mm.filter(|_| load.full)?),
        values: |load, setup| Some((load.chip_mm?, least_chip(setup))),
        message: |load, setup, unit| {
            format!(
                "the chips are {} thick: below {} a {} edge rubs and burns",
                fine(unit, load.chip_mm.unwrap_or_default()),
                fine(unit, least_chip(setup)),
                setup.cutter.edge.name()
            )
        },
        help: |load, setup, _| {
            let times = least_chip(setup) / load.chip_mm.unwrap_or(f64::INFINITY);
            let edge = if setup.cutter.edge == Edge::Sharp { "" } else { "sharpen the cutter, or " };
            // No load grows faster than the feed.
            let held = if most(load.bend_mm).is_some_and(|bend| bend * times > BENDS_MM) {
                "; a blank so slender wants a steady behind the cutter for that"
            } else {
                ""
            };
            let ways: Vec<String> = [
                Some(format!("feed {times:.1} times as fast")).filter(|_| times < FASTER_TIMES),
                Some("turn the spindle as much slower".to_owned())
                    .filter(|_| setup.rpm >= times * setup.machine.spindle.least_rpm),
                Some("take fewer and deeper passes".to_owned()),
            ]
            .into_iter()
            .flatten()
            .collect();
            format!("{edge}{} (trade practice, from memory){held}", ways.join(", or "))
        },
    },
    Kind {
        code: &code::CHIP_THICK,
        towards: |load, _| ratio(load.feed_per_edge_mm, load.most_feed_per_edge_mm),
        values: |load, _| load.feed_per_edge_mm.zip(load.most_feed_per_edge_mm),
        message: |load, _, unit| {
            format!(
                "each edge moves on by {}: above {} a cutter of this width tears",
                fine(unit, load.feed_per_edge_mm.unwrap_or_default()),
                fine(unit, load.most_feed_per_edge_mm.unwrap_or_default())
            )
        },
        help: |_, _, _| "feed slower or turn the spindle faster (trade practice, from memory)".to_owned(),
    },
    Kind {
        code: &code::POWER_HIGH,
        towards: |load, setup| ratio(most(load.power_w), setup.machine.spindle.power_w),
        values: |load, setup| most(load.power_w).zip(setup.machine.spindle.power_w),
        message: |load, setup, _| {
            format!(
                "the cut takes {} W, the spindle gives {:.0} W",
                band(load.power_w, 0),
                setup.machine.spindle.power_w.unwrap_or_default()
            )
        },
        help: |_, _, _| "take less depth or feed slower (estimated from memory, half to double)".to_owned(),
    },
    Kind {
        code: &code::TORQUE_HIGH,
        towards: |load, setup| ratio(most(load.torque_nm), setup.machine.a.holding_nm),
        values: |load, setup| most(load.torque_nm).zip(setup.machine.a.holding_nm),
        message: |load, setup, _| {
            format!(
                "the cut turns the blank with {} N m, A holds {:.1} N m",
                band(load.torque_nm, 1),
                setup.machine.a.holding_nm.unwrap_or_default()
            )
        },
        help: |_, _, _| {
            "take less depth or feed slower, so that A does not slip (estimated from memory, half to double)"
                .to_owned()
        },
    },
    Kind {
        code: &code::BLANK_BENDS,
        towards: |load, _| ratio(most(load.bend_mm), Some(BENDS_MM)),
        values: |load, _| most(load.bend_mm).map(|bend| (bend, BENDS_MM)),
        message: |load, setup, _| {
            let held =
                if setup.machine.centre.is_some() { "between chuck and centre" } else { "beyond the chuck" };
            format!("the cut bends the blank by {} mm {held}", band(load.bend_mm, 2))
        },
        help: |_, _, _| {
            "take less depth, set a steady behind the cutter, or hold the nose with a centre (estimated from memory, half to \
             double)"
                .to_owned()
        },
    },
    Kind {
        code: &code::CUTTER_BENDS,
        towards: |load, _| ratio(most(load.cutter_bend_mm), Some(CUTTER_BENDS_MM)),
        values: |load, _| most(load.cutter_bend_mm).map(|bend| (bend, CUTTER_BENDS_MM)),
        message: |load, _, _| format!("the cut bends the cutter by {} mm", band(load.cutter_bend_mm, 2)),
        help: |_, _, _| {
            "let it stick out less, take a thicker shank or less depth (estimated from memory, half to double)".to_owned()
        },
    },
];

fn band(value: Option<f64>, decimals: usize) -> String {
    let value = value.unwrap_or_default();
    format!("{:.*} to {:.*}", decimals, value / BAND, decimals, value * BAND)
}

/// Raises what is past its limit, and keeps the extremes.
pub(super) fn check(case: &Case<'_>, loads: &[Load], measured: &mut Measured) -> Vec<Finding> {
    let worth: Vec<&Load> = loads.iter().filter(|load| load.removed_mm3 > WORTH_MM3).collect();
    let greatest = |of: fn(&Load) -> Option<f64>| worth.iter().filter_map(|load| of(load)).reduce(f64::max);
    let longest = greatest(|load| Some(load.removed_mm3)).unwrap_or_default();
    let long: Vec<&Load> =
        worth.iter().copied().filter(|load| load.removed_mm3 > LONG_SHARE * longest).collect();
    let full = long.iter().filter(|load| load.full);
    measured.chip_min_mm = full.filter_map(|load| load.chip_mm).reduce(f64::min);
    measured.chip_max_mm = greatest(|load| load.chip_mm);
    measured.side_force_max_n = greatest(|load| load.side_force_n);
    measured.power_max_w = greatest(|load| load.power_w);
    measured.torque_max_nm = greatest(|load| load.torque_nm);
    measured.bend_max_mm = greatest(|load| load.bend_mm);
    let of_kind = |kind: &Kind| if kind.code == &code::CHIP_THIN { &long } else { &worth };
    KINDS.iter().filter_map(|kind| past(case, kind, of_kind(kind))).collect()
}

/// The finding of one kind, at the line that is farthest past the limit.
fn past(case: &Case<'_>, kind: &Kind, loads: &[&Load]) -> Option<Finding> {
    let (setup, unit) = (case.setup, case.drawing.unit);
    let over: Vec<(f64, &Load)> = loads
        .iter()
        .filter_map(|load| Some(((kind.towards)(load, setup)?, *load)))
        .filter(|(towards, _)| *towards > 1.0 + SLACK)
        .collect();
    // The first of equals speaks.
    let (_, worst) = over.iter().copied().reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    let others = match over.len() - 1 {
        0 => String::new(),
        1 => "; so does one more line".to_owned(),
        more => format!("; so do {more} more lines"),
    };
    let message = (kind.message)(worst, setup, unit) + &others;
    let motion = &case.motions[worst.motion];
    let finding = Finding::new(kind.code, message)
        .at(Mark::new(case.program, motion.span.clone()))
        .help((kind.help)(worst, setup, unit));
    Some(match (kind.values)(worst, setup) {
        Some((value, wanted)) => finding.values(value, wanted),
        None => finding,
    })
}
