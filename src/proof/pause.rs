//! What happens between two moves while the cutter stands in the wood: a spindle that starts there grabs, a cutter that waits
//! there burns.

use crate::finding::{Finding, proof as code};
use crate::rs274::{Event, Kind, Motion, Run};

use super::Case;
use super::motions::{TOUCH_MM, at_motion};

/// The first start of the spindle in wood, or else the first wait there.
pub(super) fn check(case: &Case<'_>, run: &Run) -> Option<Finding> {
    let inside: Vec<(&Motion, &Event)> = run
        .events
        .iter()
        .filter_map(|(next, event)| Some((next.checked_sub(1).filter(|&at| in_wood(case, at))?, event)))
        .map(|(at, event)| (&case.motions[at], event))
        .collect();
    let starts = |event: &Event| matches!(event, Event::Spindle { rpm } if *rpm != 0.0);
    if let Some((motion, _)) = inside.iter().find(|(_, event)| starts(event)) {
        let words = "after this move the spindle is started while the cutter stands in the wood".to_owned();
        let help = "lift the cutter clear of the wood first: one that starts in the groove grabs";
        return Some(at_motion(case, &code::START_IN_WOOD, motion, words).help(help));
    }
    let (motion, _) = inside.first()?;
    let words = "after this move the cutter stands still in the wood".to_owned();
    Some(
        at_motion(case, &code::WAIT_IN_WOOD, motion, words).help(
            "lift it clear of the wood before a dwell or a stop: an edge that turns in one place burns it",
        ),
    )
}

/// Whether the cutter stands where a motion that cut has brought it, still below the surface.
fn in_wood(case: &Case<'_>, at: usize) -> bool {
    let (motion, setup) = (&case.motions[at], case.setup);
    let crest = case.drawing.crest_diameter_mm / 2.0;
    let below = motion.to.z_mm - setup.z_axis_mm < crest;
    let s = (motion.to.x_mm - setup.x_nose_mm) * setup.machine.headstock.sign();
    let over = (setup.blank.from_s_mm..=setup.blank.chuck_face_s_mm).contains(&s);
    motion.kind == Kind::Feed && case.carved.cuts[at].deepest_mm > TOUCH_MM && below && over
}
