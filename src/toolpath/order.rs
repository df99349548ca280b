//! Which pass follows which: by start or by depth, one way or both, spring and flank passes where they belong. Makes no
//! moves.

use super::{Pass, Towards};
use crate::feeds::{Kind, Trip};
use crate::job::{Job, Order, Travel};

/// The passes of a cut in order, from those of one start.
pub(super) fn passes(job: &Job, trips: &[Trip]) -> Vec<Pass> {
    let (starts, of) = (job.screw.starts, trips.len());
    let level = |number: usize, start: u32| {
        let trip = trips[number];
        Pass {
            start,
            number: number + 1,
            of,
            depth_mm: trip.depth_mm,
            kind: trip.kind,
            aside_mm: trip.aside_mm,
            feed_mm_per_min: trip.feed_mm_per_min,
            towards: Towards::Head,
        }
    };
    let mut passes: Vec<Pass> = match job.cutting.order {
        Order::ByStart => (0..starts).flat_map(|start| (0..of).map(move |n| (n, start))).collect::<Vec<_>>(),
        Order::ByDepth => (0..of).flat_map(|n| (0..starts).map(move |start| (n, start))).collect(),
    }
    .into_iter()
    .map(|(number, start)| level(number, start))
    .collect();
    if job.cutting.travel == Travel::BothWays {
        for (index, pass) in passes.iter_mut().enumerate() {
            let back = if pass.kind == Kind::Flank {
                climbs_towards_nose(pass.aside_mm, job.screw.hand.sign())
            } else {
                index % 2 == 1
            };
            pass.towards = if back { Towards::Nose } else { Towards::Head };
        }
    }
    passes
}

/// Whether a flank pass climbs (the edge enters thick and leaves thin, pressing fibres into the wood behind them) on its way
/// towards the nose.
///
/// A spindle that turns clockwise, seen from above, climbs on wood to the right of its way. Looking along a way on which the
/// blank's angle under the cutter grows, the nose lies to the right: that angle counts right-handed about the direction
/// from nose to head. A right-hand thread makes it grow on the way to the head.
fn climbs_towards_nose(aside_mm: f64, hand: f64) -> bool {
    aside_mm * hand > 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::sample;
    use crate::drawing::Hand;

    /// The rule worked out with vectors: up, from nose to head, and the way of the cutter over the wood.
    #[test]
    fn wood_lies_to_the_right_of_a_climbing_pass() {
        let cross = |a: [f64; 3], b: [f64; 3]| {
            [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
        };
        let (head, up) = ([1.0, 0.0, 0.0], [0.0, 0.0, 1.0]);
        // A point on top of something that turns right-handed about `head` moves this way.
        let round = cross(head, up);
        for hand in [Hand::Right, Hand::Left] {
            for aside in [0.3, -0.3] {
                for towards in [1.0, -1.0] {
                    // Mostly round the blank, a little along it; the angle under the cutter grows with the station by hand.
                    let turns = towards * hand.sign();
                    let way = [0, 1, 2].map(|i| turns * round[i] + 0.1 * towards * head[i]);
                    let right = cross(way, up);
                    // The sliver lies on the side to which the pass is moved.
                    let climbs = right[0] * aside > 0.0;
                    assert_eq!(
                        climbs,
                        climbs_towards_nose(aside, hand.sign()) == (towards < 0.0),
                        "{hand:?} {aside}"
                    );
                }
            }
        }
    }

    #[test]
    fn flank_passes_climb_when_passes_may_run_both_ways() {
        let mut job = sample::job();
        job.cutting.travel = Travel::BothWays;
        let trip = |kind, aside_mm| Trip { kind, depth_mm: 7.0, aside_mm, feed_mm_per_min: 1500.0 };
        let trips = [trip(Kind::Depth, 0.0), trip(Kind::Flank, 0.3), trip(Kind::Flank, -0.3)];
        let of = |passes: &[Pass]| {
            passes.iter().filter(|p| p.kind == Kind::Flank).map(|p| p.towards).collect::<Vec<_>>()
        };
        let pair = [Towards::Nose, Towards::Head];
        assert_eq!(of(&passes(&job, &trips)), [pair, pair].concat());
        job.screw.hand = Hand::Left;
        let pair = [Towards::Head, Towards::Nose];
        assert_eq!(of(&passes(&job, &trips)), [pair, pair].concat());
        job.cutting.travel = Travel::OneWay;
        assert!(of(&passes(&job, &trips)).iter().all(|towards| *towards == Towards::Head));
    }
}
