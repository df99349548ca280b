//! The shortest way down a ladder of depths: which rungs to stop at, when every step has its price. Knows nothing of what a
//! price is made of.

use super::plan::{MOST_PASSES, SAME_MM};

/// Shortfalls of feed smaller than this are rounding, as a logarithm.
pub(super) const NO_SHORTFALL: f64 = 1e-9;

/// How good a plan is: first how far the feed of its worst pass falls short of what does not burn, then time. Where nothing
/// falls short, which is what counts, the cheapest way down the ladder is the fastest plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cost {
    pub(super) short: f64,
    pub(super) minutes: f64,
}

impl Cost {
    pub(super) const NONE: Cost = Cost { short: 0.0, minutes: 0.0 };

    pub(super) fn plus(self, more: Cost) -> Cost {
        Cost { short: self.short.max(more.short), minutes: self.minutes + more.minutes }
    }

    pub(super) fn beats(self, other: Cost) -> bool {
        if (self.short - other.short).abs() > NO_SHORTFALL {
            self.short < other.short
        } else {
            self.minutes < other.minutes
        }
    }
}

/// The steps of a ladder with their prices at one spindle speed.
#[derive(Debug)]
pub(super) struct Ladder {
    /// The spindle speed.
    pub(super) rpm: f64,
    /// Depths of the rungs, the first zero, the last the full depth.
    pub(super) rungs_mm: Vec<f64>,
    /// Price of the step from a rung to itself and to each rung below it; `None` where it is not allowed.
    pub(super) prices: Vec<Vec<Option<Cost>>>,
}

impl Ladder {
    /// Depths of the passes of the cheapest way down, in so many passes or in as many as are cheapest. `light` bounds the
    /// depth at which the last pass may begin.
    ///
    /// For each number of passes and each rung the cheapest way there is the cheapest over all rungs before it (Bellman's
    /// principle: prices only add up).
    pub(super) fn down(&self, count: Option<usize>, light: Option<[f64; 2]>) -> Option<Vec<f64>> {
        let last = self.rungs_mm.len() - 1;
        let most = count.unwrap_or(MOST_PASSES);
        // best[k][rung]: the cost of getting there in k passes, and the rung before.
        let mut best: Vec<Vec<Option<(Cost, usize)>>> = vec![vec![None; last + 1]];
        best[0][0] = Some((Cost::NONE, 0));
        for k in 1..=most {
            let before = &best[k - 1];
            let way = |from: usize, to: usize| {
                let price = self.prices[from][to - from].filter(|_| to < last || self.begins(from, light))?;
                Some((before[from]?.0.plus(price), from))
            };
            let row = (0..=last)
                .map(|to| {
                    (0..to).filter_map(|from| way(from, to)).reduce(|a, b| if b.0.beats(a.0) { b } else { a })
                })
                .collect();
            best.push(row);
        }
        let counts = count.map_or(1..=most, |count| count..=count);
        let (_, passes) = counts
            .filter_map(|k| Some((best[k][last]?.0, k)))
            .reduce(|a, b| if b.0.beats(a.0) { b } else { a })?;
        let mut depths_mm = Vec::with_capacity(passes);
        let mut rung = last;
        for k in (1..=passes).rev() {
            depths_mm.push(self.rungs_mm[rung]);
            rung = best[k][rung]?.1;
        }
        depths_mm.reverse();
        Some(depths_mm)
    }

    /// Whether the last pass may begin at a rung.
    fn begins(&self, rung: usize, light: Option<[f64; 2]>) -> bool {
        let depth = self.rungs_mm[rung];
        light.is_none_or(|[from, to]| (from - SAME_MM..=to + SAME_MM).contains(&depth))
    }
}
