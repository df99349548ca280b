//! How much wood a pass takes at once, against what the job's passes take: where one is missing or runs in the air, the next takes its
//! wood as well, at a feed that was chosen for less.

use crate::drawing::Threading;
use crate::finding::{Finding, Severity, proof as code};
use crate::rs274::{Kind, Motion};
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

/// The first motion round the blank that meets far more wood than planned, or else the first that meets more.
pub(super) fn check(case: &Case<'_>) -> Option<Finding> {
    if case.drawing.thread != Threading::Here {
        return None;
    }
    let [some, much] = TIMES;
    let heavy = |times: f64| {
        let most = times * case.setup.section_mm2?;
        first(case, |cut| cut.engaged.is_some_and(|met| met.area_mm2 > most))
    };
    let weighed = heavy(much).map(|at| (at, Severity::Stop));
    let Some((at, weight)) = weighed.or_else(|| heavy(some).map(|at| (at, Severity::Care))) else {
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

/// The first pass that takes the whole depth at once.
fn whole(case: &Case<'_>) -> Option<Finding> {
    let depth = depth_mm(case.drawing);
    let deep = |cut: &Cut| cut.deepest_mm > WHOLE_SHARE * depth;
    let at = first(case, deep).filter(|_| SHALLOW_MM < depth)?;
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

/// The first motion round the blank whose cut is such.
fn first(case: &Case<'_>, such: impl Fn(&Cut) -> bool) -> Option<usize> {
    case.motions.iter().zip(&case.carved.cuts).position(|(motion, cut)| turns(motion) && such(cut))
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
