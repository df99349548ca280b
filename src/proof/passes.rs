//! When the wood came out wrong: which line did it. Looks at the motions that cut and compares each with the drawn
//! thread; used to explain what the wood shows, never to judge in its stead.

use std::f64::consts::TAU;

use crate::finding::{Code, Finding, proof as code};
use crate::rs274::Kind;
use crate::setup::Tip;
use crate::source::Mark;
use crate::stock::{Course, courses};

use super::{Case, sign};

/// Wood cut off by a course that counts as a pass, mm³.
const PASS_MM3: f64 = 5.0;
/// Share of the most wood at which another place round the blank counts as cut just as much.
const ABOUT_EQUAL: f64 = 0.8;
/// A pass covers at least this part of a turn.
const LEAST_TURNS: f64 = 0.25;

/// The first motion of each kind of fault: wrong hand, wrong lead, wrong place round the blank, too deep.
pub(super) fn explain(case: &Case<'_>) -> Vec<Finding> {
    let passes: Vec<Pass> = courses(case.motions, case.setup)
        .iter()
        .filter(|course| course.stroke.kind == Kind::Feed)
        .filter_map(|course| Pass::of(case, course))
        .collect();
    let mut findings = Vec::new();
    findings.extend(wrong_hand(case, &passes));
    findings.extend(wrong_lead(case, &passes));
    findings.extend(wrong_place(case, &passes));
    findings.extend(too_deep(case, &passes));
    sign::hint(case, &mut findings);
    findings
}

/// A course of motions that cuts along a helix.
struct Pass {
    motion: usize,
    /// Advance per turn with its sign.
    lead: f64,
    /// How far it drifts from the drawn lead over its length, mm.
    drift: f64,
    /// Where it would cross the nose at angle zero, as a share of the pitch from 0 to 1.
    phase: f64,
    /// Lowest tip.
    tip: f64,
    /// The motion before which it was brought so low.
    low: usize,
    /// Wood it took off.
    removed: f64,
}

impl Pass {
    fn of(case: &Case<'_>, course: &Course) -> Option<Pass> {
        let stroke = course.stroke;
        let removed = course.motions().map(|motion| case.carved.cuts[motion].removed_mm3).sum();
        let turns = (stroke.to.theta_rad - stroke.from.theta_rad) / TAU;
        if turns.abs() < LEAST_TURNS || removed <= PASS_MM3 {
            return None;
        }
        let drawing = case.drawing;
        let signed = drawing.hand.sign() * drawing.lead_mm;
        let pitch = drawing.lead_mm / f64::from(drawing.starts);
        let lead = (stroke.to.s_mm - stroke.from.s_mm) / turns;
        let crossing = stroke.from.s_mm - signed * stroke.from.theta_rad / TAU;
        Some(Pass {
            motion: stroke.motion,
            lead,
            drift: (lead - signed) * turns,
            phase: (crossing / pitch).rem_euclid(1.0),
            tip: stroke.from.tip_mm.min(stroke.to.tip_mm),
            low: if stroke.from.tip_mm <= stroke.to.tip_mm {
                stroke.motion
            } else {
                course.motions().last().map_or(stroke.motion, |last| last + 1)
            },
            removed,
        })
    }
}

fn finding(case: &Case<'_>, pass: &Pass, code: &'static Code, message: String) -> Finding {
    let motion = &case.motions[pass.motion];
    Finding::new(code, message).at(Mark::new(case.program, motion.span.clone()))
}

fn wrong_hand(case: &Case<'_>, passes: &[Pass]) -> Option<Finding> {
    let drawing = case.drawing;
    let pass = passes.iter().find(|pass| pass.lead * drawing.hand.sign() < 0.0)?;
    let hand = drawing.hand.name();
    Some(
        finding(
            case,
            pass,
            &code::HAND_WRONG,
            format!("this pass winds against the {hand}-hand thread of the drawing"),
        )
        .values(pass.lead, drawing.hand.sign() * drawing.lead_mm)
        .help("look for a lost or doubled minus sign in X or A, or check which way A turns the blank"),
    )
}

fn wrong_lead(case: &Case<'_>, passes: &[Pass]) -> Option<Finding> {
    let drawing = case.drawing;
    let off =
        |pass: &&Pass| pass.lead * drawing.hand.sign() > 0.0 && pass.drift.abs() > drawing.passes.lead_mm;
    let pass = passes.iter().find(off)?;
    let unit = drawing.unit;
    Some(
        finding(
            case,
            pass,
            &code::LEAD_OFF,
            format!(
                "this pass has a lead of {}, the drawing wants {}; it drifts {} over its length",
                unit.show(pass.lead.abs()),
                unit.show(drawing.lead_mm),
                unit.show(pass.drift.abs())
            ),
        )
        .values(pass.lead.abs(), drawing.lead_mm)
        .help("X and A of every pass must keep the same ratio: lead per 360 degrees"),
    )
}

fn wrong_place(case: &Case<'_>, passes: &[Pass]) -> Option<Finding> {
    let drawing = case.drawing;
    let share = drawing.passes.index_deg / 360.0 * f64::from(drawing.starts);
    let true_lead: Vec<&Pass> = passes
        .iter()
        .filter(|pass| (pass.lead - drawing.hand.sign() * drawing.lead_mm).abs() <= drawing.passes.lead_mm)
        .collect();
    let apart = |a: f64, b: f64| {
        let way = (a - b).rem_euclid(1.0);
        if way > 0.5 { way - 1.0 } else { way }
    };
    // The place that most of the wood was cut at is the one meant.
    let weight = |phase: f64| -> f64 {
        true_lead.iter().filter(|p| apart(p.phase, phase).abs() <= share).map(|p| p.removed).sum()
    };
    let most = true_lead.iter().map(|pass| weight(pass.phase)).fold(0.0, f64::max);
    // Of two places cut about equally, the first is the one meant: the second start was indexed from it.
    let meant = true_lead.iter().find(|pass| weight(pass.phase) >= ABOUT_EQUAL * most)?.phase;
    // A root wider than the tip is cut by passes to either side of its middle.
    let pitch = drawing.lead_mm / f64::from(drawing.starts);
    let beside = beside_mm(case) / pitch;
    let pass = true_lead.iter().find(|pass| apart(pass.phase, meant).abs() > share + beside)?;
    let off_deg = -drawing.hand.sign() * apart(pass.phase, meant) / f64::from(drawing.starts) * 360.0;
    Some(
        finding(
            case,
            pass,
            &code::INDEX_OFF,
            format!("this pass stands {:.2} degrees from its place round the blank", off_deg.abs()),
        )
        .values(off_deg, 0.0)
        .help(format!(
            "starts stand 360 / {} degrees apart, and every pass of a start begins at the same angle",
            drawing.starts
        )),
    )
}

/// How far beside the middle of its groove a pass may run and stay inside the drawn root.
fn beside_mm(case: &Case<'_>) -> f64 {
    let root = case.drawing.section.first().map_or(0.0, |point| point.half_width_mm);
    match case.setup.cutter.tip {
        Tip::Flat { diameter_mm } => (root - diameter_mm / 2.0).max(0.0),
        Tip::Ball { .. } => 0.0,
    }
}

fn too_deep(case: &Case<'_>, passes: &[Pass]) -> Option<Finding> {
    let drawing = case.drawing;
    let root = drawing.root_diameter_mm / 2.0;
    let pass = passes.iter().find(|pass| root - pass.tip > drawing.passes.radius_mm)?;
    let unit = drawing.unit;
    // A thread cut too deep is one thing, a ring that parts the blank another.
    let along = (pass.lead - drawing.hand.sign() * drawing.lead_mm).abs() <= drawing.passes.lead_mm;
    let code = if along { &code::DEPTH_OFF } else { &code::BLANK_PARTED };
    let words = if pass.tip > 0.0 {
        let [cut, wanted] = [2.0 * pass.tip, drawing.root_diameter_mm].map(|diameter| unit.show(diameter));
        format!("this pass cuts to root diameter {cut}, the drawing wants {wanted}")
    } else {
        format!("this pass cuts {} beyond the axis of the blank", unit.show(-pass.tip))
    };
    let finding = finding(case, pass, code, words)
        .values(2.0 * pass.tip.max(0.0), drawing.root_diameter_mm)
        .help("check its Z");
    // The line that brought the cutter down may stand before those that cut.
    Some(match sign::word(case, pass.low, b'Z') {
        Some(word) => {
            let pass = finding.mark.clone().filter(|mark| !mark.span.contains(&word.start));
            finding.also_at(pass.as_ref(), "the pass that it spoils").at(Mark::new(case.program, word))
        }
        None => finding,
    })
}
