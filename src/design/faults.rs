//! What can be wrong with sizes that hold together among themselves: they do not suit the cutter, the listed depths
//! or what the job allows. Asks nothing about moves, which is the plan's business, nor what can be seen without
//! sizes, which was asked when the job was read.

use super::screw::{AGREE_MM, Screw};
use super::{blank_radius_mm, habits};
use crate::finding::{Finding, design as code};
use crate::job::{DepthAsked, Given, Job, Passes};
use crate::units::LengthUnit;

/// Edge that must stand above the wood, so that the end of the grind does not run on the crest.
const SPARE_EDGE_MM: f64 = 0.5;

/// Air that must stay between blank and collet nut at full depth: less than this and a bent blank touches.
const COLLET_GAP_MM: f64 = 1.0;

/// Everything wrong with the sizes, in the order core, cutter, depths.
pub(super) fn of(job: &Job, screw: &Screw) -> Vec<Finding> {
    [
        core(job, screw),
        cutter_short(job, screw),
        cutter_narrow(job, screw),
        stick_out(job, screw),
        depths(job, screw),
    ]
    .into_iter()
    .flatten()
    .chain(habits::of(job, screw))
    .chain(necks(job))
    .collect()
}

/// The key that gives the pitch, and how it does.
pub(super) fn pitch_key(job: &Job) -> Option<(&'static str, &'static str)> {
    let keys = [
        ("screw.pitch", "the pitch"),
        ("screw.threads_per_inch", "the pitch follows from the threads per inch"),
        ("screw.lead", "the pitch follows from the lead"),
    ];
    keys.into_iter().find(|(key, _)| job.marks.get(key).is_some())
}

/// Points at what fixes the depth, and at the pitch that goes with it.
pub(super) fn at_depth(finding: Finding, job: &Job) -> Finding {
    let key = match job.screw.depth {
        DepthAsked::CrestFlat { .. } => "screw.crest_flat",
        DepthAsked::Depth { .. } => "screw.depth",
    };
    let finding = finding.at_some(job.marks.get(key));
    match pitch_key(job) {
        Some((key, words)) => finding.also_at(job.marks.get(key), words),
        None => finding,
    }
}

fn core(job: &Job, screw: &Screw) -> Option<Finding> {
    let least = job.cutting.least_core_share;
    if screw.core_share >= least {
        return None;
    }
    let unit = job.unit;
    let deepest = unit.show_at_most((1.0 - least) * screw.crest_radius_mm);
    let help = match job.screw.depth {
        DepthAsked::CrestFlat { .. } => format!(
            "the thread may be {deepest} deep: choose a smaller pitch, a wider crest flat or a cutter with a wider angle"
        ),
        DepthAsked::Depth { .. } => format!("give a depth of at most {deepest}"),
    };
    let finding = Finding::new(
        &code::CORE_THIN,
        format!(
            "a thread {} deep leaves a core {} thick, {:.1} % of the crest diameter; it must keep {:.1} %",
            unit.show(screw.depth_mm),
            unit.show(2.0 * screw.root_radius_mm),
            100.0 * screw.core_share,
            100.0 * least
        ),
    );
    let finding = at_depth(finding, job).also_at(job.marks.get("cutting.least_core"), "the least share");
    Some(finding.help(help).values(screw.core_share, least))
}

/// Places beside the thread that are left thinner than a screw may be: all that turns the thread goes through them, and
/// the thread is cut while some of them stand.
fn necks(job: &Job) -> Vec<Finding> {
    let (unit, crest, least) = (job.unit, job.screw.crest_diameter_mm, job.cutting.least_core_share);
    let asked = &job.operations;
    let tenon = asked.tenon.as_ref().map(|tenon| match tenon.flats {
        Some(flats) => ("tenon.across", "the tenon", flats.across_mm),
        None => ("tenon.diameter", "the tenon", tenon.diameter_mm),
    });
    let relief = asked.relief.as_ref().and_then(|relief| relief.diameter_mm);
    let necks = [
        relief.map(|diameter| ("relief.diameter", "the relief groove", diameter)),
        asked.garter.as_ref().map(|garter| ("garter.diameter", "the garter groove", garter.diameter_mm)),
        tenon,
    ];
    let thin = necks.into_iter().flatten().filter(|(_, _, left)| *left < least * crest);
    thin.map(|(key, what, left)| {
        Finding::new(
            &code::NECK_THIN,
            format!(
                "{what} leaves {} of a screw of {}: {:.1} %; it must keep {:.1} %",
                unit.show(left),
                unit.show(crest),
                100.0 * left / crest,
                100.0 * least
            ),
        )
        .at_some(job.marks.get(key))
        .also_at(job.marks.get("cutting.least_core"), "the least share")
        .help(format!(
            "leave at least {}; what twists the screw goes through here, and twice as thin is eight times as weak",
            unit.show_at_least(least * crest)
        ))
        .values(left / crest, least)
    })
    .collect()
}

/// How far the tip goes below the highest edge of blank and crests.
fn below_the_top_mm(job: &Job, screw: &Screw) -> f64 {
    let stands = if job.operations.round.is_some() { 0.0 } else { blank_radius_mm(&job.blank) };
    stands.max(screw.crest_radius_mm) - screw.root_radius_mm
}

fn cutter_short(job: &Job, screw: &Screw) -> Option<Finding> {
    let unit = job.unit;
    let in_wood = below_the_top_mm(job, screw);
    let needed = in_wood + SPARE_EDGE_MM;
    let edges = job.cutter.cutting_length_mm;
    (edges < needed).then(|| {
        Finding::new(
            &code::CUTTER_SHORT,
            format!(
                "the cutter's edges are {} long; they stand {} deep in the wood and {} must stay above it",
                unit.show(edges),
                unit.show(in_wood),
                unit.show(SPARE_EDGE_MM)
            ),
        )
        .at_some(job.marks.get("cutter.cutting_length"))
        .help(format!(
            "take a cutter with edges of at least {}, or a shallower thread",
            unit.show_at_least(needed)
        ))
        .values(edges, needed)
    })
}

fn cutter_narrow(job: &Job, screw: &Screw) -> Option<Finding> {
    let unit = job.unit;
    let needed = 2.0 * screw.shape().radius_at(screw.depth_mm);
    let diameter = job.cutter.cutting_diameter_mm;
    (diameter < needed).then(|| {
        Finding::new(
            &code::CUTTER_NARROW,
            format!(
                "the cutter is {} across at its widest; {} above its tip the groove needs {}",
                unit.show(diameter),
                unit.show(screw.depth_mm),
                unit.show(needed)
            ),
        )
        .at_some(job.marks.get("cutter.cutting_diameter"))
        .help(format!("take a cutter of at least {}, or a smaller pitch", unit.show_at_least(needed)))
        .values(diameter, needed)
    })
}

fn stick_out(job: &Job, screw: &Screw) -> Option<Finding> {
    let unit = job.unit;
    let in_wood = below_the_top_mm(job, screw);
    let needed = in_wood + COLLET_GAP_MM;
    let stick_out = job.cutter.stick_out_mm;
    (stick_out < needed).then(|| {
        Finding::new(
            &code::STICK_OUT_SHORT,
            format!(
                "the cutter sticks out {}; it goes {} into the blank and {} of air must stay below the collet nut",
                unit.show(stick_out),
                unit.show(in_wood),
                unit.show(COLLET_GAP_MM)
            ),
        )
        .at_some(job.marks.get("cutter.stick_out"))
        .help(format!("let it stick out at least {}", unit.show_at_least(needed)))
        .values(stick_out, needed)
    })
}

/// A list of depths ends where the thread does. That it grows was found with the job.
fn depths(job: &Job, screw: &Screw) -> Option<Finding> {
    let (Passes::Depths(depths) | Passes::ByWood(Given { depths_mm: Some(depths), .. })) =
        &job.cutting.passes
    else {
        return None;
    };
    let &last = depths.last()?;
    if (last - screw.depth_mm).abs() <= AGREE_MM {
        return None;
    }
    let unit = job.unit;
    let (asked, words) = match job.screw.depth {
        DepthAsked::Depth { .. } => ("screw.depth", "the depth of the thread"),
        DepthAsked::CrestFlat { .. } => ("screw.crest_flat", "the depth follows from the crest flat"),
    };
    let full = unit.show(screw.depth_mm);
    let help = if let Some(meant) = decimal_meant(depths, screw.depth_mm, unit) {
        format!("a decimal takes a point, not a comma: write {meant} for the last depth")
    } else if depths.iter().any(|depth| (depth - screw.depth_mm) > AGREE_MM && *depth < last) {
        format!("take out the depths beyond {full} and end the list with it")
    } else {
        format!("end the list with {full}")
    };
    Some(
        Finding::new(
            &code::DEPTHS_ODD,
            format!("the last pass cuts {} deep, the thread is {full} deep", unit.show(last)),
        )
        .at_some(job.marks.get(&format!("cutting.depths.{}", depths.len() - 1)))
        .also_at(job.marks.get(asked), words)
        .help(help)
        .values(last, screw.depth_mm),
    )
}

/// The full depth as it must be written, when a decimal comma split it into the last two of the list: 2 and 5 for 2.5.
fn decimal_meant(depths_mm: &[f64], full_mm: f64, unit: LengthUnit) -> Option<String> {
    let [.., whole, part] = depths_mm else {
        return None;
    };
    let meant = format!("{}.{}", whole / unit.mm(), part / unit.mm());
    let meant_mm = meant.parse::<f64>().ok()? * unit.mm();
    ((meant_mm - full_mm).abs() <= AGREE_MM).then_some(meant)
}
