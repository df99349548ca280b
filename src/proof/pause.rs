//! What happens between two moves while the cutter stands in the wood: a spindle that starts there grabs, a cutter that waits
//! there burns; and where a program leaves the cutter.

use crate::drawing::Threading;
use crate::finding::{Finding, proof as code};
use crate::rs274::{Event, Kind, Motion, Run};
use crate::stock::{Stand, greatest_radius};

use super::Case;
use super::motions::{TOUCH_MM, at_motion};

/// A cutter that a program leaves nearer to the wood than this is worth a word, mm (common practice, no source).
const LOW_MM: f64 = 2.0;

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

/// A program that ends with the cutter in the wood or just above it: what moves next, by hand or by a program, drags it along.
pub(super) fn end(case: &Case<'_>) -> Option<Finding> {
    let last = case.motions.last()?;
    let stand = Stand::of(last.to, case.setup);
    let blank = &case.setup.blank;
    let over = (blank.from_s_mm..=blank.chuck_face_s_mm).contains(&stand.s_mm);
    let above_mm = stand.tip_mm - surface_mm(case);
    if !over || above_mm > LOW_MM {
        return None;
    }
    let words = if above_mm > 0.0 {
        format!("the program ends with the cutter {} above the wood", case.drawing.unit.show(above_mm))
    } else {
        "the program ends with the cutter below the surface of the wood".to_owned()
    };
    let finding = at_motion(case, &code::END_LOW, last, words).values(above_mm, LOW_MM);
    Some(finding.help("end with G0 and Z up, clear of everything; the line that lifts may be missing"))
}

/// Distance from the axis to the surface that the cutter leaves or meets: that of the thread, or of the blank as long as it is
/// being turned.
fn surface_mm(case: &Case<'_>) -> f64 {
    match case.drawing.thread {
        Threading::Later => greatest_radius(&case.setup.blank),
        _ => case.drawing.crest_diameter_mm / 2.0,
    }
}

/// Whether the cutter stands where a motion that cut has brought it, still below the surface.
fn in_wood(case: &Case<'_>, at: usize) -> bool {
    let (motion, blank) = (&case.motions[at], &case.setup.blank);
    let stand = Stand::of(motion.to, case.setup);
    let over = (blank.from_s_mm..=blank.chuck_face_s_mm).contains(&stand.s_mm);
    let cut = motion.kind == Kind::Feed && case.carved.cuts[at].deepest_mm > TOUCH_MM;
    cut && over && stand.tip_mm < surface_mm(case)
}
