//! From sizes to moves, in the screw's own frame: station, angle and radius. Knows nothing of a machine's signs,
//! units or words; [`crate::post`] turns the moves into text.
//!
//! A pass begins in the air beyond the tail end, goes down to its depth there, cuts along the helix at a constant
//! radius, climbs out over the run-out, rises clear of the blank and comes back above it. Rapid moves change one of
//! the three values at a time, the radius first.

use crate::feeds::{Kind, Trip};

mod aids;
mod frame;
mod order;
mod thread;
mod lathe;
mod turning;
mod flats;
mod work;
mod faults;
mod nut;

pub use aids::{extents, in_air};
pub use nut::{Line, NutMove, NutPath, NutPlace, nut_work};
pub use thread::{Choice, plan, plan_choice};
pub use work::{Work, work};

#[cfg(test)]
mod tests;

/// Where the cutter's tip stands on the screw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Station from the nose face towards the head.
    pub s_mm: f64,
    /// Angle of the blank under the cutter, right-handed about the direction in which stations count; counts on past
    /// 360.
    pub theta_deg: f64,
    /// Distance of the tip from the axis.
    pub r_mm: f64,
}

/// How fast a move runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pace {
    /// As fast as the machine can, in the air.
    Rapid,
    /// In so many minutes.
    Feed {
        /// Time of the whole move.
        minutes: f64,
    },
}

/// What a move is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// Along the blank, above it, to where a pass begins.
    Return,
    /// Turning the blank to the angle at which a pass begins.
    Index,
    /// Down to depth, in the air.
    Approach,
    /// Along the helix in the air, long enough to take up the play of the axes.
    LeadIn,
    /// Along the helix at full depth of the pass.
    Cut,
    /// Along the helix between depth and the open air.
    RunOut,
    /// Up, clear of the blank.
    Retract,
}

/// One straight move (in station, angle and radius together).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// How fast.
    pub pace: Pace,
    /// What for.
    pub what: What,
    /// Where to.
    pub to: Place,
    /// The pass it belongs to: a place in [`Path::passes`].
    pub pass: usize,
}

/// Which way a pass runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Towards {
    /// From the tail end to the head.
    Head,
    /// From the head to the tail end.
    Nose,
}

/// One trip along one start at one depth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pass {
    /// The start, from 0.
    pub start: u32,
    /// Its number among the passes of this start, from 1.
    pub number: usize,
    /// How many passes each start gets, spring and flank passes counted.
    pub of: usize,
    /// Depth below the crest.
    pub depth_mm: f64,
    /// What it is for.
    pub kind: Kind,
    /// How far it runs beside the middle of its groove, along the axis, towards the head.
    pub aside_mm: f64,
    /// Feed along the thread at the crest.
    pub feed_mm_per_min: f64,
    /// Which way it runs.
    pub towards: Towards,
}

/// The plan of a cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// Where it begins: clear of everything. The way there is radius first, then station, then angle.
    pub from: Place,
    /// The moves in order.
    pub moves: Vec<Move>,
    /// The passes in order.
    pub passes: Vec<Pass>,
    /// The passes of each start.
    pub trips: Vec<Trip>,
}
