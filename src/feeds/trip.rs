//! The passes of one start, in order, whoever planned them: each with its depth, its place beside the middle of the
//! groove and its feed. Knows no moves.

use serde::Serialize;

use super::depth::depths;
use super::engage::{self, Met};
use crate::design::Screw;
use crate::design::shape::Shape;
use crate::finding::Finding;
use crate::job::Job;

/// What a pass is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Down the middle, deeper than before.
    Depth,
    /// Once more at the same depth.
    Spring,
    /// At full depth beside the middle: cleans one flank.
    Flank,
}

/// One pass of every start.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Trip {
    /// What it is for.
    pub kind: Kind,
    /// Depth below the crest.
    pub depth_mm: f64,
    /// How far it runs beside the middle of the groove, along the axis, towards the head.
    pub aside_mm: f64,
    /// Feed along the thread at the crest.
    pub feed_mm_per_min: f64,
}

impl Trip {
    /// What the pass meets; `before_mm` is the depth of the groove it finds.
    pub(super) fn met(&self, shape: Shape, before_mm: f64) -> Met {
        match self.kind {
            Kind::Flank => engage::flank(shape, self.depth_mm, self.aside_mm),
            Kind::Depth | Kind::Spring => engage::deepening(shape, before_mm, self.depth_mm),
        }
    }
}

/// The passes of one start, and a note when they are fewer than the job asks. Empty while the wood still has to decide.
///
/// After the depths come a spring pass, or a pass on either flank when the root is wider than the tip: the same section
/// moved along the axis towards the head and towards the nose. The groove they find is narrower by as much at every
/// height, so each takes an even sliver off its own flank and does not touch the other.
pub fn trips(job: &Job, screw: &Screw) -> (Vec<Trip>, Option<Finding>) {
    let cutting = &job.cutting;
    let (depths, note) = depths(job, screw);
    let feed_of =
        |index: usize| cutting.feeds_mm_per_min.get(index).copied().unwrap_or(cutting.feed_mm_per_min);
    let down = |(index, &depth_mm): (usize, &f64)| Trip {
        kind: Kind::Depth,
        depth_mm,
        aside_mm: 0.0,
        feed_mm_per_min: feed_of(index),
    };
    let mut trips: Vec<Trip> = depths.iter().enumerate().map(down).collect();
    let Some(&last) = trips.last() else { return (trips, note) };
    if screw.flank_aside_mm > 0.0 {
        let feed_mm_per_min = cutting.flank_feed_mm_per_min.unwrap_or(last.feed_mm_per_min);
        trips.extend([1.0, -1.0].map(|side| Trip {
            kind: Kind::Flank,
            aside_mm: side * screw.flank_aside_mm,
            feed_mm_per_min,
            ..last
        }));
    } else if cutting.spring_pass {
        trips.push(Trip { kind: Kind::Spring, ..last });
    }
    (trips, note)
}

/// The largest section of wood that any of a job's passes meets at once, mm²; `None` while the wood still has to decide.
pub fn section_mm2(job: &Job, screw: &Screw) -> Option<f64> {
    let mut before_mm = 0.0;
    let section = |trip: &Trip| {
        let met = trip.met(screw.shape(), before_mm);
        before_mm = trip.depth_mm;
        met.whole.area_mm2
    };
    trips(job, screw).0.iter().map(section).reduce(f64::max)
}
