//! Checks `[blank]` and `[cutting]`, each for itself. What they must be for the screw and the machine is asked in
//! `agree`.

use super::desk::{AGREE_MM, Desk, Required};
use super::file::{BlankFile, CuttingFile};
use super::limits::say;
use super::{BlankAsked, Cutting, Passes};
use crate::finding::{Finding, job as codes};
use crate::source::Mark;
use crate::units::LengthUnit;

/// Smallest last step of depth when the job names none: a router cutter rubs when it takes less (common practice,
/// no source).
const LEAST_STEP_MM: f64 = 0.3;
/// Width of a saw's cut when the job names none (common practice, no source).
const KERF_MM: f64 = 3.0;
/// How far a centred stick may stand off its axis when the job names nothing (common practice, no source).
const OFF_CENTRE_MM: f64 = 0.5;
/// What is to come off everywhere when the job names nothing (common practice, no source).
const TRUING_MM: f64 = 0.5;
const RUN_OUT_TURNS: f64 = 0.5;
const CLEARANCE_MM: f64 = 5.0;
/// Common practice, no source: a core under half the crest diameter twists.
const LEAST_CORE_SHARE: f64 = 0.5;

/// Keys without which there is no blank and no cut. Passes have an alternative and are asked for apart.
pub(super) const REQUIRED: &[Required] = &[
    ("blank.shape", "shape = \"round\"", "shape = \"round\""),
    ("blank.size", "size = 50", "size = 2"),
    ("blank.waste_nose", "waste_nose = 10", "waste_nose = \"1/2\""),
    ("blank.waste_head", "waste_head = 40", "waste_head = 1.5"),
    ("cutting.rpm", "rpm = 16000", "rpm = 16000"),
    ("cutting.feed", "feed = 900", "feed = 35"),
];

/// The blank, and its whole length in mm if the job gives one.
pub(super) fn blank(
    file: &BlankFile,
    unit: LengthUnit,
    desk: &mut Desk,
) -> (Option<BlankAsked>, Option<f64>) {
    let size = desk.number("blank.size", file.size, unit);
    let nose = desk.number("blank.waste_nose", file.waste_nose, unit);
    let head = desk.number("blank.waste_head", file.waste_head, unit);
    let length = desk.number("blank.length", file.length, unit);
    let kerf = or_usual("blank.kerf", file.kerf, KERF_MM, unit, desk);
    let off_centre = or_usual("blank.off_centre", file.off_centre, OFF_CENTRE_MM, unit, desk);
    let truing = or_usual("blank.truing", file.truing, TRUING_MM, unit, desk);
    let blank = || {
        Some(BlankAsked {
            shape: file.shape?,
            size_mm: size?,
            waste_nose_mm: nose?,
            waste_head_mm: head?,
            kerf_mm: kerf?,
            off_centre_mm: off_centre?,
            truing_mm: truing?,
        })
    };
    (blank(), length)
}

/// Turns of the run-out; `None` when they are given wrongly.
pub(super) fn run_out(file: &CuttingFile, unit: LengthUnit, desk: &mut Desk) -> Option<f64> {
    or_usual("cutting.run_out", file.run_out, RUN_OUT_TURNS, unit, desk)
}

/// How to cut; `run_out_turns` as [`run_out`] found them.
pub(super) fn check(
    file: &CuttingFile,
    run_out_turns: Option<f64>,
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<Cutting> {
    let rpm = desk.number("cutting.rpm", file.rpm, unit);
    let feed = desk.number("cutting.feed", file.feed, unit);
    let passes = passes(file, unit, desk);
    let least_step = or_usual("cutting.least_step", file.least_step, LEAST_STEP_MM, unit, desk);
    let clearance = or_usual("cutting.clearance", file.clearance, CLEARANCE_MM, unit, desk);
    let least_core = or_usual("cutting.least_core", file.least_core, LEAST_CORE_SHARE, unit, desk);
    Some(Cutting {
        rpm: rpm?,
        feed_mm_per_min: feed?,
        passes: passes?,
        least_step_mm: least_step?,
        spring_pass: file.spring_pass.unwrap_or(false),
        order: file.order.unwrap_or_default(),
        travel: file.travel.unwrap_or_default(),
        run_out_turns: run_out_turns?,
        clearance_mm: clearance?,
        least_core_share: least_core?,
    })
}

fn or_usual(
    key: &str,
    written: Option<impl Into<super::amount::Amount>>,
    usual: f64,
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<f64> {
    match written {
        Some(written) => desk.number(key, Some(written), unit),
        None => Some(usual),
    }
}

fn passes(file: &CuttingFile, unit: LengthUnit, desk: &mut Desk) -> Option<Passes> {
    let count = desk.count("cutting.passes", file.passes);
    if !desk.given("cutting.passes") && !desk.given("cutting.depths") {
        desk.require(&[("cutting.passes", "passes = 4", "passes = 4")], unit);
    }
    let Some(written) = &file.depths else {
        return count.map(Passes::EqualArea);
    };
    let comma = decimal_comma(written.len(), desk);
    if let Some(Comma { mark, sure: true }) = &comma {
        let finding =
            Finding::new(&codes::KIND_WRONG, format!("{} in `depths` may be one depth or two", mark.text()));
        desk.find(finding.at(mark.clone()).help(format!(
            "a decimal takes a point: write {} for one depth, or {} with a space for two",
            mark.text().replace(',', "."),
            mark.text().replace(',', ", ")
        )));
        return None;
    }
    let mut depths = Vec::with_capacity(written.len());
    for (index, depth) in written.iter().enumerate() {
        depths.push(desk.number(&format!("cutting.depths.{index}"), Some(*depth), unit)?);
    }
    if depths.is_empty() {
        desk.complain(
            &codes::KIND_WRONG,
            "cutting.depths",
            "`depths` is an empty list",
            None,
            "write one depth a pass, or passes = 4 instead",
        );
        return None;
    }
    if let Some(count) = count.filter(|count| *count as usize != depths.len()) {
        desk.complain(
            &codes::DISAGREE,
            "cutting.passes",
            format!("{count} passes are asked for, but {} depths are listed", depths.len()),
            Some(("cutting.depths", "each depth is one pass".to_owned())),
            "keep depths for depths of your own, or passes for equal cuts, and take the other out",
        );
        return None;
    }
    if let Some(at) = depths.windows(2).position(|pair| pair[1] < pair[0] + AGREE_MM) {
        let comma = comma.map_or(String::new(), |Comma { mark, .. }| {
            format!("; if {} is one depth, write {}", mark.text(), mark.text().replace(',', "."))
        });
        desk.complain(
            &codes::DISAGREE,
            &format!("cutting.depths.{}", at + 1),
            format!(
                "the depth {} does not go deeper than the one before, {}",
                say(unit, depths[at + 1]),
                say(unit, depths[at])
            ),
            Some((&format!("cutting.depths.{at}"), "the depth before".to_owned())),
            format!("list depths below the crest, each deeper than the one before{comma}"),
        );
        return None;
    }
    Some(Passes::Depths(depths))
}

/// A comma in the list of depths that may have been meant as a decimal comma.
struct Comma {
    /// The two numbers beside it.
    mark: Mark,
    /// Other commas of the list have a space beside them, as between numbers; this one has none.
    sure: bool,
}

/// The first comma that stands close between two whole numbers of the list of depths, if there is one.
fn decimal_comma(count: usize, desk: &Desk) -> Option<Comma> {
    let marks: Vec<&Mark> =
        (0..count).filter_map(|index| desk.marks.get(&format!("cutting.depths.{index}"))).collect();
    let whole = |mark: &Mark| mark.text().bytes().all(|b| b.is_ascii_digit());
    let close = marks.windows(2).find(|pair| between(pair) == "," && whole(pair[0]) && whole(pair[1]))?;
    // A list that goes on in the next line says nothing about the commas within a line.
    let spaced = |gap: &str| gap != "," && gap.trim_matches(' ') == ",";
    Some(Comma {
        mark: Mark::new(&close[0].source, close[0].span.start..close[1].span.end),
        sure: marks.windows(2).any(|pair| spaced(between(pair))),
    })
}

/// What is written between two neighbours of a list.
fn between<'m>(pair: &[&'m Mark]) -> &'m str {
    pair[0].source.text().get(pair[0].span.end..pair[1].span.start).unwrap_or("")
}
