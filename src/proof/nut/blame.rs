//! When the carved nut is wrong: looks for the line of the program that did it. It explains, it never judges. Lengths in
//! mm, angles in radians.

use std::f64::consts::TAU;

use crate::finding::{Finding, proof as code};
use crate::proof::motions::TOUCH_MM;
use crate::rs274::Kind;
use crate::setup::NutTool;
use crate::source::Mark;
use crate::stock::nut::{Leg, legs, solids};

use super::NutCase;
use super::rows::place_off;

/// A leg that goes round less than this tells no lead, radians.
const LEAST_ROUND: f64 = 0.02;
/// How far the lead of a leg may be off, as a share: more than rounding of words does to a short line.
const LEAD_SHARE: f64 = 0.02;
/// A leg that comes nearer to the axis, or goes farther from it, by more than this share of its way is an entry or an exit.
const ENTRY_SHARE: f64 = 0.1;

/// What the motions that cut did otherwise than the drawing asks; the first of each kind.
pub(super) fn explain(case: &NutCase<'_>) -> Vec<Finding> {
    let drawing = case.drawing;
    let unit = drawing.unit;
    let shapes = solids(&case.setup.tool);
    let Some(tooth) = shapes.first() else { return Vec::new() };
    let middle = f64::midpoint(tooth.low_mm, tooth.high_mm);
    let edge = shapes.iter().map(|solid| solid.radius_mm).fold(0.0, f64::max);
    let passes = drawing.passes;
    let root = drawing.section.last().map_or(0.0, |point| point.half_width_mm);
    let widened = match &case.setup.tool {
        NutTool::Thread(mill) => {
            (root - mill.teeth.first().map_or(0.0, |tooth| tooth.tip_flat_mm / 2.0)).max(0.0)
        }
        NutTool::Boring(_) => 0.0,
    };
    let mut findings: Vec<Finding> = Vec::new();
    let cutting = |leg: &Leg| {
        let motion = &case.motions[leg.motion];
        motion.kind == Kind::Feed && case.carved.cuts[leg.motion].deepest_mm > TOUCH_MM
    };
    for leg in legs(case.motions).into_iter().filter(cutting) {
        let (near, far) = (leg.from[0].hypot(leg.from[1]), leg.to[0].hypot(leg.to[1]));
        let round = leg.round();
        if round.abs() < LEAST_ROUND || (near - far).abs() > ENTRY_SHARE * leg.planar_mm() {
            continue;
        }
        let motion = &case.motions[leg.motion];
        let climb = leg.to[2] - leg.from[2];
        let heights = [leg.from[2] + middle, leg.to[2] + middle];
        let outside = |z: f64| z > 0.0 || z < -drawing.length_mm;
        if climb == 0.0 && heights.iter().all(|z| outside(*z)) {
            // A level circle with its tooth beyond a face: a chamfer.
            continue;
        }
        let lead = climb / round * TAU;
        let (finding, help) = if lead * drawing.hand.sign() < 0.0 {
            let words = "this move winds the other way than the drawing".to_owned();
            (
                Finding::new(&code::HAND_WRONG, words).values(lead, drawing.hand.sign() * drawing.lead_mm),
                "G2 stands where G3 belongs, or Z counts the wrong way",
            )
        } else if (lead.abs() / drawing.lead_mm - 1.0).abs() > LEAD_SHARE {
            let words = format!(
                "this move has a lead of {}, the drawing wants {}",
                unit.show(lead.abs()),
                unit.show(drawing.lead_mm)
            );
            (
                Finding::new(&code::LEAD_OFF, words).values(lead.abs(), drawing.lead_mm),
                "look at its Z word, and at the one before",
            )
        } else if near.max(far) + edge > drawing.major_diameter_mm / 2.0 + passes.radius_mm {
            let reached = 2.0 * (near.max(far) + edge);
            let words = format!(
                "this move cuts to a diameter of {}, the drawing wants {}",
                unit.show(reached),
                unit.show(drawing.major_diameter_mm)
            );
            (
                Finding::new(&code::DEPTH_OFF, words).values(reached, drawing.major_diameter_mm),
                "look for a lost point in X, Y, I or J",
            )
        } else {
            let angle = leg.from[1].atan2(leg.from[0]);
            let beside = place_off(drawing, angle, heights[0]);
            // Passes that widen a groove run beside its middle by as much as it is wider than the tooth.
            let off = beside.signum() * (beside.abs() - widened).max(0.0);
            let off_deg = off / drawing.lead_mm * 360.0;
            if off_deg.abs() <= passes.index_deg {
                continue;
            }
            let words = format!("this move runs {:.2} degrees beside its start", off_deg.abs());
            (
                Finding::new(&code::INDEX_OFF, words).values(off_deg, 0.0),
                "look at the place and the height at which the pass begins",
            )
        };
        if findings.iter().all(|told| told.code != finding.code) {
            findings.push(finding.at(Mark::new(case.program, motion.span.clone())).help(help));
        }
    }
    findings
}
