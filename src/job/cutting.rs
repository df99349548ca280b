//! Checks `[blank]` and `[cutting]`, each for itself. What they must be for the screw and the machine is asked in
//! `agree`.

use super::desk::{AGREE_MM, Desk, Required};
use super::file::{BlankFile, CuttingFile, PlanAsked};
use super::limits::say;
use super::{BlankAsked, Cutting, Given, Passes};
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

/// Keys without which there is no blank. What a cut needs hangs on who plans it and is asked for apart.
pub(super) const REQUIRED: &[Required] = &[
    ("blank.shape", "shape = \"round\"", "shape = \"round\""),
    ("blank.size", "size = 50", "size = 2"),
    ("blank.waste_nose", "waste_nose = 10", "waste_nose = \"1/2\""),
    ("blank.waste_head", "waste_head = 40", "waste_head = 1.5"),
];
/// What a cut needs when the wood does not decide it.
pub(super) const SPEEDS: &[Required] = &[
    ("cutting.rpm", "rpm = 9500 (or plan = \"by-wood\")", "rpm = 9500 (or plan = \"by-wood\")"),
    ("cutting.feed", "feed = 2400 (or plan = \"by-wood\")", "feed = 95 (or plan = \"by-wood\")"),
];
const PASSES: Required =
    ("cutting.passes", "passes = 4 (or plan = \"by-wood\")", "passes = 4 (or plan = \"by-wood\")");

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
    let by_wood = file.plan == Some(PlanAsked::ByWood);
    let speeds = speeds(file, by_wood, unit, desk);
    let passes = passes(file, by_wood, unit, desk);
    let least_step = or_usual("cutting.least_step", file.least_step, LEAST_STEP_MM, unit, desk);
    let clearance = or_usual("cutting.clearance", file.clearance, CLEARANCE_MM, unit, desk);
    let least_core = or_usual("cutting.least_core", file.least_core, LEAST_CORE_SHARE, unit, desk);
    let (speeds, passes) = speeds.zip(passes)?;
    let passes = match passes {
        PassesAsked::Open => by_wood_of(&speeds, None, None),
        PassesAsked::Given(Passes::EqualArea(count)) if by_wood => by_wood_of(&speeds, Some(count), None),
        PassesAsked::Given(Passes::Depths(depths)) if by_wood => by_wood_of(&speeds, None, Some(depths)),
        PassesAsked::Given(passes) => passes,
    };
    Some(Cutting {
        rpm: speeds.rpm.unwrap_or(0.0),
        feed_mm_per_min: speeds.feeds.iter().copied().chain(speeds.feed).fold(0.0, f64::max),
        feeds_mm_per_min: speeds.feeds,
        flank_feed_mm_per_min: speeds.flank_feed,
        passes,
        least_step_mm: least_step?,
        spring_pass: file.spring_pass.unwrap_or(false),
        order: file.order.unwrap_or_default(),
        travel: file.travel.unwrap_or_default(),
        run_out_turns: run_out_turns?,
        clearance_mm: clearance?,
        least_core_share: least_core?,
    })
}

/// The speeds that a job gives. Without a plan by the wood, spindle speed and one feed or several are there.
struct Speeds {
    rpm: Option<f64>,
    feed: Option<f64>,
    feeds: Vec<f64>,
    flank_feed: Option<f64>,
}

fn by_wood_of(speeds: &Speeds, count: Option<u32>, depths_mm: Option<Vec<f64>>) -> Passes {
    Passes::ByWood(Given {
        rpm: speeds.rpm,
        feed_mm_per_min: speeds.feed,
        flank_feed_mm_per_min: speeds.flank_feed,
        count,
        depths_mm,
    })
}

/// `None` when something is missing or wrong.
fn speeds(file: &CuttingFile, by_wood: bool, unit: LengthUnit, desk: &mut Desk) -> Option<Speeds> {
    let wanted = SPEEDS.iter().filter(|(key, ..)| *key != "cutting.feed" || !desk.given("cutting.feeds"));
    if !by_wood {
        desk.require(&wanted.copied().collect::<Vec<_>>(), unit);
    }
    let rpm = desk.number("cutting.rpm", file.rpm, unit);
    let feed = desk.number("cutting.feed", file.feed, unit);
    let flank_feed = desk.number("cutting.flank_feed", file.flank_feed, unit);
    let speeds = Speeds { rpm, feed, feeds: feeds(file, by_wood, unit, desk)?, flank_feed };
    // What is given wrongly was reported and stops the job; with the wood's plan nothing else has to be there.
    let enough = by_wood || (rpm.is_some() && (feed.is_some() || !speeds.feeds.is_empty()));
    enough.then_some(speeds)
}

/// The feed of each depth; empty when one feed holds for all.
fn feeds(file: &CuttingFile, by_wood: bool, unit: LengthUnit, desk: &mut Desk) -> Option<Vec<f64>> {
    let Some(written) = &file.feeds else { return Some(Vec::new()) };
    let other = if by_wood {
        Some(("cutting.plan", "a feed for each depth leaves the wood nothing to decide"))
    } else if file.feed.is_some() {
        Some(("cutting.feed", "one feed for all depths"))
    } else {
        None
    };
    if let Some((key, words)) = other {
        desk.complain(
            &codes::DISAGREE,
            "cutting.feeds",
            format!("`feeds` and `{}` exclude each other", super::desk::leaf(key)),
            Some((key, words.to_owned())),
            "keep one of the two and take the other out",
        );
        return None;
    }
    let depths = file.depths.as_ref().map_or(0, Vec::len);
    if depths != written.len() {
        let listed = |count: usize, what: &str| {
            if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
        };
        desk.complain(
            &codes::DISAGREE,
            "cutting.feeds",
            format!("{} for {}", listed(written.len(), "feed"), listed(depths, "depth")),
            desk.given("cutting.depths").then(|| ("cutting.depths", "each depth has its feed".to_owned())),
            "list one feed for each of depths, or write feed for one that holds for all",
        );
        return None;
    }
    let number =
        |(index, feed): (usize, &_)| desk.number(&format!("cutting.feeds.{index}"), Some(*feed), unit);
    let feeds: Vec<Option<f64>> = written.iter().enumerate().map(number).collect();
    feeds.into_iter().collect()
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

/// The passes that a job gives.
enum PassesAsked {
    /// None: the wood decides.
    Open,
    /// These.
    Given(Passes),
}

/// `None` when they are missing or wrong.
fn passes(file: &CuttingFile, by_wood: bool, unit: LengthUnit, desk: &mut Desk) -> Option<PassesAsked> {
    let count = desk.count("cutting.passes", file.passes);
    if !desk.given("cutting.passes") && !desk.given("cutting.depths") {
        if by_wood {
            return Some(PassesAsked::Open);
        }
        desk.require(&[PASSES], unit);
    }
    let Some(written) = &file.depths else {
        return count.map(|count| PassesAsked::Given(Passes::EqualArea(count)));
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
    Some(PassesAsked::Given(Passes::Depths(depths)))
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
