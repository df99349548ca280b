//! What the motions of a nut's program touch that they should not, and how they enter the wood. Lengths in mm.

use crate::drawing::NutDrawing;
use crate::finding::{Code, Finding, Spot, proof as code};
use crate::proof::motions::TOUCH_MM;
use crate::rs274::{Kind, Motion};
use crate::source::Mark;
use crate::stock::nut::{Leg, Solid, Trouble, bodies, legs, solids};

use super::{NutCase, NutMeasured};

/// A feed move that goes down more steeply than this (depth over the way of the edge along the wall) is a plunge.
const PLUNGE_SLOPE: f64 = 0.5;

/// A place in the wood of a nut.
pub(super) fn on_nut(z_mm: f64, angle_rad: f64, r_mm: Option<f64>) -> Spot {
    Spot {
        z_mm: Some(z_mm),
        angle_deg: Some(angle_rad.to_degrees().rem_euclid(360.0)),
        r_mm,
        ..Spot::default()
    }
}

/// A place in words.
pub(super) fn place(drawing: &NutDrawing, z_mm: f64, angle_rad: f64) -> String {
    format!(
        "{} below the top face, {:.0} degrees round from X+",
        drawing.unit.show(-z_mm),
        angle_rad.to_degrees().rem_euclid(360.0)
    )
}

/// Rapids and plunges in wood, parts that rub, cuts beside the hole, bed and clamps.
pub(super) fn check(case: &NutCase<'_>, measured: &mut NutMeasured) -> Vec<Finding> {
    let legs = legs(case.motions);
    let mut findings = wood(case, &legs);
    findings.extend(astray(case));
    findings.extend(under(case, &legs, measured));
    findings.extend(clamps(case, &legs));
    measured.rapid_clearance_min_mm = case.carved.gap.map(|(gap, _)| gap.max(0.0));
    findings
}

fn at(case: &NutCase<'_>, code: &'static Code, motion: &Motion, words: String) -> Finding {
    Finding::new(code, words).at(Mark::new(case.program, motion.span.clone()))
}

fn wood(case: &NutCase<'_>, legs: &[Leg]) -> Vec<Finding> {
    let unit = case.drawing.unit;
    let edge = solids(&case.setup.tool).iter().map(|solid| solid.radius_mm).fold(0.0, f64::max);
    let mut findings = Vec::new();
    for (index, (motion, cut)) in case.motions.iter().zip(&case.carved.cuts).enumerate() {
        let Some((z, angle)) = cut.deepest_at.filter(|_| cut.deepest_mm > TOUCH_MM) else { continue };
        let (depth, spot) = (unit.show(cut.deepest_mm), on_nut(z, angle, None));
        let steep = |leg: &Leg| {
            let round = leg.round().abs() * (leg.farthest() + edge);
            leg.from[2] - leg.to[2] > PLUNGE_SLOPE * round.max(leg.planar_mm())
        };
        let own = || legs.iter().filter(|leg| leg.motion == index);
        let (code, words, help) = if motion.kind == Kind::Rapid {
            (
                &code::RAPID_IN_WOOD,
                format!("a rapid move runs {depth} deep through wood, {}", place(case.drawing, z, angle)),
                "bring the cutter back to the axis of the nut first, or make it a feed move if it is meant to cut",
            )
        } else if own().any(steep) {
            (
                &code::PLUNGE_IN_WOOD,
                format!(
                    "the cutter is pushed {depth} straight down into standing wood, {}",
                    place(case.drawing, z, angle)
                ),
                "go down on the axis of the nut, and into the wood on a helix",
            )
        } else {
            continue;
        };
        findings.push(at(case, code, motion, words).spot(spot).values(cut.deepest_mm, 0.0).help(help));
    }
    findings
}

/// What the carve saw go astray; of each kind the first motion speaks for all.
fn astray(case: &NutCase<'_>) -> Vec<Finding> {
    let unit = case.drawing.unit;
    let mut findings: Vec<Finding> = Vec::new();
    for astray in case.carved.astray.iter().filter(|astray| astray.by_mm > TOUCH_MM) {
        let motion = &case.motions[astray.motion];
        let by = unit.show(astray.by_mm);
        let there = place(case.drawing, astray.z_mm, astray.angle_rad);
        let (code, words, help) = match astray.what {
            Trouble::Touches(part) => (
                &code::COLLET_RUBS,
                format!("the {} stands {by} in the wood, {there}", part.name()),
                "a cutter with a slimmer neck or a longer reach, or a shallower thread",
            ),
            Trouble::Buried => (
                &code::CUT_BURIED,
                format!("the cutter goes through the wood beside the hole and leaves {by} between, {there}"),
                "begin every pass on the axis of the nut, and look for a lost sign in X, Y, I and J",
            ),
            Trouble::Through => (
                &code::BLOCK_BROKEN,
                format!("the cutter breaks out of the side of the block, {there}"),
                "look for a slip in X, Y, I and J, or take a larger block",
            ),
        };
        if findings.iter().all(|told| told.code != code) {
            let spot = on_nut(astray.z_mm, astray.angle_rad, None);
            findings.push(at(case, code, motion, words).spot(spot).values(astray.by_mm, 0.0).help(help));
        }
    }
    findings
}

/// The widest that a solid is below a height above the cutter's end; `None` if it begins above.
fn widest_below(solid: &Solid, height: f64) -> Option<f64> {
    (solid.low_mm < height).then(|| solid.widest_below(height))
}

/// Everything on the cutter.
fn all_solids(case: &NutCase<'_>) -> Vec<Solid> {
    let mut all = solids(&case.setup.tool);
    all.extend(bodies(&case.setup.tool).iter().map(|body| body.solid));
    all
}

/// The bed, and the packing round the free room under the block.
fn under(case: &NutCase<'_>, legs: &[Leg], measured: &mut NutMeasured) -> Option<Finding> {
    let (block, unit) = (case.setup.block, case.drawing.unit);
    let bed = -(block.thickness_mm + block.below_mm);
    let lowest = legs.iter().min_by(|a, b| a.heights()[0].total_cmp(&b.heights()[0]))?;
    measured.bed_clearance_min_mm = Some(lowest.heights()[0] - bed);
    if let Some(leg) = legs.iter().find(|leg| leg.heights()[0] < bed) {
        let motion = &case.motions[leg.motion];
        let low = leg.heights()[0];
        let words = format!("the cutter goes {} deep into the bed", unit.show(bed - low));
        return Some(
            at(case, &code::HITS_BED, motion, words).values(low, bed).help(
                "lay the block higher, or see whether the cutter's end was touched off on the top face",
            ),
        );
    }
    let parts = all_solids(case);
    let free = block.below_diameter_mm / 2.0;
    let leg = legs.iter().find(|leg| {
        let height = -block.thickness_mm - leg.heights()[0];
        let reach = parts.iter().filter_map(|solid| widest_below(solid, height)).reduce(f64::max);
        reach.is_some_and(|reach| leg.farthest() + reach > free)
    })?;
    let words = format!(
        "under the block the cutter reaches beyond the hole of {} in the packing",
        unit.show(block.below_diameter_mm)
    );
    Some(
        at(case, &code::HITS_BED, &case.motions[leg.motion], words)
            .help("bore the hole in the packing wider, or see how far the pass runs out below"),
    )
}

fn clamps(case: &NutCase<'_>, legs: &[Leg]) -> Option<Finding> {
    let (clamps, unit) = (case.setup.block.clamps, case.drawing.unit);
    let parts = all_solids(case);
    let leg = legs.iter().find(|leg| {
        let height = clamps.height_mm - leg.heights()[0];
        let reach = parts.iter().filter_map(|solid| widest_below(solid, height)).reduce(f64::max);
        reach.is_some_and(|reach| leg.farthest() + reach > clamps.from_axis_mm)
    })?;
    let words = format!(
        "the cutter comes within reach of the clamps, which begin {} from the axis and stand {} high",
        unit.show(clamps.from_axis_mm),
        unit.show(clamps.height_mm)
    );
    Some(at(case, &code::HITS_CLAMP, &case.motions[leg.motion], words).help(
        "set the clamps farther out or lower, use more stick-out, or move sideways only at safe height",
    ))
}
