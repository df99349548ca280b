//! What counts of a threaded surface for a fit: its bumps, row by row. A bump is where the surface lies far from the axis: a
//! ridge of a screw, a groove of a nut. Lengths in mm, angles in radians.

use std::f64::consts::{PI, TAU};

/// Radii at which the flanks of a bump are kept.
pub(super) const LEVELS: usize = 40;

/// Levels between those from which a flank is carried on beyond the last: they lie a tenth of the depth apart.
const CARRIED_OVER: usize = 8;
/// Heights of a flat top differ by less than this, mm.
const ABOUT_MM: f64 = 1e-3;

/// A bump on a row.
#[derive(Clone, Debug)]
pub(super) struct Bump {
    /// Where its lower flank stands at each level; NaN where the row ends before, or the bump is lower.
    pub(super) low: [f64; LEVELS],
    /// Its upper flank.
    pub(super) high: [f64; LEVELS],
    /// Greatest radius, and where.
    pub(super) top: [f64; 2],
    /// Least radius between this bump and the next above it, and where; `None` for the last.
    pub(super) valley: Option<[f64; 2]>,
}

/// The bumps of a whole surface.
#[derive(Clone, Debug)]
pub(super) struct Bumps {
    /// Lowest and highest level.
    pub(super) levels: [f64; 2],
    /// From where to where its flanks are known: a little beyond the levels they go on straight.
    pub(super) reach: [f64; 2],
    /// One entry for each row, rows evenly round.
    pub(super) rows: Vec<Vec<Bump>>,
}

/// One row's surface: radii at places that begin at `from` and stand `step` apart.
pub(super) struct Surface<'a, R> {
    pub(super) from: f64,
    pub(super) step: f64,
    pub(super) radii: &'a [R],
}

impl<R: Copy + Into<f64>> Surface<'_, R> {
    fn r(&self, column: usize) -> f64 {
        self.radii[column].into()
    }

    fn place(&self, column: usize) -> f64 {
        self.from + self.step * column as f64
    }

    fn crossing(&self, column: usize, level: f64) -> f64 {
        let (a, b) = (self.r(column), self.r(column + 1));
        self.place(column) + self.step * (level - a) / (b - a)
    }

    /// The bumps that rise above the lowest level.
    pub(super) fn bumps(&self, levels: [f64; 2]) -> Vec<Bump> {
        let count = self.radii.len();
        let mut ranges = Vec::new();
        let mut column = 0;
        while column < count {
            if self.r(column) < levels[0] {
                column += 1;
                continue;
            }
            let start = column;
            while column < count && self.r(column) >= levels[0] {
                column += 1;
            }
            ranges.push(start..column);
        }
        let by_radius = |a: &usize, b: &usize| self.r(*a).total_cmp(&self.r(*b));
        (0..ranges.len())
            .map(|index| {
                let range = ranges[index].clone();
                let (mut low, mut high) = ([f64::NAN; LEVELS], [f64::NAN; LEVELS]);
                let (mut first, mut last) = (range.start, range.end - 1);
                for level_index in 0..LEVELS {
                    let level = level(levels, level_index);
                    while first < last && self.r(first) < level {
                        first += 1;
                    }
                    while first < last && self.r(last) < level {
                        last -= 1;
                    }
                    if self.r(first) < level {
                        break;
                    }
                    if first > 0 {
                        low[level_index] = self.crossing(first - 1, level);
                    }
                    if last + 1 < count {
                        high[level_index] = self.crossing(last, level);
                    }
                }
                let top = range.clone().max_by(by_radius).unwrap_or(range.start);
                // The middle of what is about as high, since the top is flat.
                let about = self.r(top) - ABOUT_MM;
                let ends = [
                    range.clone().find(|&c| self.r(c) >= about),
                    range.clone().rfind(|&c| self.r(c) >= about),
                ];
                let top_place = match ends {
                    [Some(first), Some(last)] => f64::midpoint(self.place(first), self.place(last)),
                    _ => self.place(top),
                };
                let valley = ranges.get(index + 1).and_then(|next| (range.end..next.start).min_by(by_radius));
                Bump {
                    low,
                    high,
                    top: [self.r(top), top_place],
                    valley: valley.map(|column| [self.r(column), self.place(column)]),
                }
            })
            .collect()
    }
}

/// Radius of a level. They stand closer towards both ends: a groove is round beside its root, where it opens as the square
/// root of its depth, be it a nut's or a screw's.
fn level(levels: [f64; 2], index: usize) -> f64 {
    let share = (1.0 - (PI * index as f64 / (LEVELS - 1) as f64).cos()) / 2.0;
    levels[0] + (levels[1] - levels[0]) * share
}

impl Bump {
    /// Whether the row ends in it.
    pub(super) fn is_cut(&self) -> bool {
        self.low[0].is_nan() || self.high[0].is_nan()
    }
}

impl Bumps {
    /// The row nearest to an angle, and how far the angle lies ahead of it.
    pub(super) fn row(&self, angle: f64) -> (&[Bump], f64) {
        let step = TAU / self.rows.len() as f64;
        let nearest = (angle / step).round();
        let row = nearest.rem_euclid(self.rows.len() as f64) as usize;
        (&self.rows[row.min(self.rows.len() - 1)], angle - nearest * step)
    }

    /// Where a radius lies among the levels: between two, or beyond the last of them, where flanks are carried on straight.
    /// `None` beyond the reach.
    pub(super) fn mark(&self, radius: f64) -> Option<LevelMark> {
        let [low, high] = self.levels;
        if radius < self.reach[0] || self.reach[1] < radius {
            return None;
        }
        let carried = |a: usize, b: usize| {
            let (from, to) = (level(self.levels, a), level(self.levels, b));
            Some(LevelMark { a, b, share: (radius - from) / (to - from) })
        };
        if radius < low {
            return carried(0, CARRIED_OVER);
        }
        if high < radius {
            return carried(LEVELS - 1 - CARRIED_OVER, LEVELS - 1);
        }
        let turned = (1.0 - 2.0 * (radius - low) / (high - low)).clamp(-1.0, 1.0).acos();
        let at = turned / PI * (LEVELS - 1) as f64;
        let a = (at as usize).min(LEVELS - 2);
        Some(LevelMark { a, b: a + 1, share: at - a as f64 })
    }
}

/// A radius among the levels.
#[derive(Clone, Copy, Debug)]
pub(super) struct LevelMark {
    a: usize,
    b: usize,
    share: f64,
}

impl LevelMark {
    /// Where a flank stands there; NaN where it is not.
    pub(super) fn on(&self, flank: &[f64; LEVELS]) -> f64 {
        flank[self.a] + (flank[self.b] - flank[self.a]) * self.share
    }
}
