//! How much wood a pass takes at once, against what the job's passes take, and how deep a level of turning goes, against the job's
//! levels: where one is missing or runs in the air, the next takes its wood as well, at a feed that was chosen for less.

use crate::drawing::Threading;
use crate::finding::{Finding, Severity, proof as code};
use crate::rs274::{Kind, Motion};
use crate::setup::Setup;
use crate::stock::Cut;

use super::motions::{TOUCH_MM, at_motion};
use super::{Case, depth_mm};

/// Share of the depth of a thread that counts as all of it.
const WHOLE_SHARE: f64 = 0.9;
/// A thread no deeper than this may be cut in one pass, mm (common practice, no source).
const SHALLOW_MM: f64 = 2.0;
/// Wood met against the most that is planned: above the first a person should think, above the second the cutter takes the
/// wood of three passes or more at the feed of one.
const TIMES: [f64; 2] = [1.25, 2.5];

/// A section smaller than this is a rim and no level, mm².
const LEAST_MM2: f64 = 1.0;

/// The first motion that meets far more wood than planned, or else the first that meets more.
pub(super) fn check(case: &Case<'_>) -> Option<Finding> {
    if case.drawing.thread != Threading::Here {
        return level(case);
    }
    let Some((at, weight)) = heaviest(case, case.setup.section_mm2, |motion, cut| {
        cut.engaged.filter(|_| turns(motion)).map(|met| met.area_mm2)
    }) else {
        return whole(case);
    };
    let (cut, planned) = (&case.carved.cuts[at], case.setup.section_mm2?);
    let met = cut.engaged?.area_mm2;
    let words = format!(
        "this pass bites {} deep and takes {:.1} times the wood of the heaviest pass that the job has",
        case.drawing.unit.show(cut.deepest_mm),
        met / planned
    );
    let finding = at_motion(case, &code::PASSES_FEW, &case.motions[at], words);
    Some(finding.weighs(weight).values(met, planned).help(way_out(case, at)))
}

/// A cut that turns or mills, deeper than the levels of the job.
fn level(case: &Case<'_>) -> Option<Finding> {
    let planned = case.setup.level_mm?;
    let bite = |motion: &Motion, cut: &Cut| level_bite_mm(motion, cut, case.setup);
    let (at, weight) = heaviest(case, Some(planned), bite)?;
    let (motion, unit) = (&case.motions[at], case.drawing.unit);
    let bite_mm = bite(motion, &case.carved.cuts[at])?;
    let words = format!(
        "this cut bites {} deep, the job's levels are at most {} deep",
        unit.show(bite_mm),
        unit.show(planned)
    );
    let finding = at_motion(case, &code::LEVELS_FEW, motion, words).weighs(weight).values(bite_mm, planned);
    Some(finding.help(
        "look before it for a level or a corner that is missing: a line, or a Z word that is missing or wrong; where the blank \
         is larger than the job says, measure it and write its size",
    ))
}

/// How deep a straight cutter bites on the whole; the rim that it takes along a wall does not count. Round the blank the
/// section of the wood it meets stands on its tip and is twice as high as its middle; along the blank it is at least as deep
/// as the wood it takes over the way it covers.
fn level_bite_mm(motion: &Motion, cut: &Cut, setup: &Setup) -> Option<f64> {
    if motion.kind != Kind::Feed {
        return None;
    }
    if turns(motion) {
        return cut.engaged.filter(|met| met.area_mm2 > LEAST_MM2).map(|met| 2.0 * met.height_mm);
    }
    let way = (motion.to.x_mm - motion.from.x_mm).abs();
    (way > 0.0).then(|| cut.removed_mm3 / (way * setup.cutter.cutting_diameter_mm))
}

/// The first motion at which a figure is far above what is planned, or else the first at which it is above.
fn heaviest(
    case: &Case<'_>,
    planned: Option<f64>,
    figure: impl Fn(&Motion, &Cut) -> Option<f64>,
) -> Option<(usize, Severity)> {
    let [some, much] = TIMES.map(|times| planned.map(|planned| times * planned));
    let above = |most: Option<f64>| {
        let over = |(motion, cut)| figure(motion, cut).zip(most).is_some_and(|(figure, most)| most < figure);
        case.motions.iter().zip(&case.carved.cuts).position(over)
    };
    above(much).map(|at| (at, Severity::Stop)).or_else(|| above(some).map(|at| (at, Severity::Care)))
}

/// The first pass that takes the whole depth at once.
fn whole(case: &Case<'_>) -> Option<Finding> {
    let depth = depth_mm(case.drawing);
    let deep = |cut: &Cut| cut.deepest_mm > WHOLE_SHARE * depth;
    let mut cuts = case.motions.iter().zip(&case.carved.cuts);
    let at = cuts.position(|(motion, cut)| turns(motion) && deep(cut)).filter(|_| SHALLOW_MM < depth)?;
    let bite = case.carved.cuts[at].deepest_mm;
    let shown = case.drawing.unit.show(bite);
    let words = format!("this pass takes {shown}, the whole depth of the thread, in one bite");
    Some(
        at_motion(case, &code::PASSES_FEW, &case.motions[at], words)
            .values(bite, depth)
            .help("deepen the groove in several passes, each taking about the same wood"),
    )
}

/// Whether a motion goes round the blank while it may cut.
fn turns(motion: &Motion) -> bool {
    motion.kind == Kind::Feed && motion.to.a_deg != motion.from.a_deg
}

fn way_out(case: &Case<'_>, at: usize) -> String {
    let look = "a line that is missing, or a Z word that is missing or wrong";
    let cut_before = case.carved.cuts[..at].iter().any(|cut| cut.deepest_mm > TOUCH_MM);
    match idle_before(case, at) {
        0 if !cut_before => format!(
            "it is the first that cuts: look before it for a pass that is missing, {look}; a program that goes on in a groove \
             that stands is proved when `mend` writes it, not on a whole blank"
        ),
        0 => format!(
            "look before it for a pass that is missing, {look}; else deepen the groove in more passes, as the job has them"
        ),
        1 => format!("the pass before it cuts nothing: look there for {look}"),
        idle => format!("the {idle} passes before it cut nothing: look there for {look}"),
    }
}

/// Passes right before the one at a motion that cut nothing. A pass is what turns the blank between two rapids.
fn idle_before(case: &Case<'_>, at: usize) -> usize {
    let mut idle = 0;
    let (mut runs, mut cuts) = (false, false);
    for (motion, cut) in case.motions[..at].iter().zip(&case.carved.cuts) {
        if motion.kind == Kind::Rapid {
            idle = if cuts { 0 } else { idle + usize::from(runs) };
            (runs, cuts) = (false, false);
        } else {
            runs |= turns(motion);
            cuts |= cut.deepest_mm > TOUCH_MM;
        }
    }
    idle
}
