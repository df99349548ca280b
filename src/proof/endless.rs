//! Programs that are not carved because it would take for ever. Each says so at its line.

use std::sync::Arc;

use crate::finding::{Finding, proof as code};
use crate::rs274::{Kind, Motion, Run};
use crate::setup::Setup;
use crate::source::{Mark, Source};
use crate::stock::courses_in_wood;

use super::motions::at_pose;

/// Turns in one move that no screw needs: a slip of the pen, which would take for ever to carve.
const MOST_TURNS: f64 = 2000.0;

/// What would take for ever to carve.
pub(super) fn check(program: &Arc<Source>, run: &Run, setup: &Setup) -> Option<Finding> {
    wound(program, run).or_else(|| angular(program, run, setup))
}

/// A move that turns A absurdly far.
fn wound(program: &Arc<Source>, run: &Run) -> Option<Finding> {
    let turns = |motion: &Motion| (motion.to.a_deg - motion.from.a_deg).abs() / 360.0;
    let motion = run.motions.iter().find(|motion| turns(motion) > MOST_TURNS)?;
    Some(
        Finding::new(&code::PAST_TRAVEL, format!("A would turn {:.0} times in one move", turns(motion)))
            .at(Mark::new(program, motion.span.clone()))
            .spot(at_pose(motion.to))
            .help("look for a lost point in the A word"),
    )
}

/// More ways through the wood than these are not carved: during which the blank turns, and of any kind. The tables of one
/// that turns take some 12 kB and a sixth of a millisecond on two processors, so so many of them take 400 MB and five
/// seconds; those over a still blank take time alone. No screw needs a hundredth of them.
const MOST_COURSES: [usize; 2] = [30_000, 100_000];

/// A path of too many corners.
fn angular(program: &Arc<Source>, run: &Run, setup: &Setup) -> Option<Finding> {
    if run.motions.len() <= MOST_COURSES[0] {
        return None;
    }
    let counts = courses_in_wood(&run.motions, setup);
    let (count, most) = counts.into_iter().zip(MOST_COURSES).find(|(count, most)| count > most)?;
    let first = run.motions.iter().find(|motion| motion.kind == Kind::Feed)?;
    let words =
        format!("the cutter changes its way {count} times at the wood; no more than {most} ways are carved");
    Some(
        Finding::new(&code::PATH_ANGULAR, words)
            .at(Mark::new(program, first.span.clone()))
            .values(count as f64, most as f64)
            .help(
                "moves that lie on one helix to 0.006 mm are carved as one: have the program written with longer moves or \
                 more decimals, or split it and prove the parts one after the other",
            ),
    )
}
