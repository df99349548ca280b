//! Least and greatest radius of every few stations of a row, worked out once, so that what is asked of a row need not
//! look at each of its stations again. Works from radii only.

use std::ops::Range;

/// A row with its summary.
pub(super) struct Skyline<'a> {
    radii: &'a [f32],
    least: Vec<f32>,
    most: Vec<f32>,
}

/// Stations that are summed up in one part: few enough that a groove takes several, many enough to be worth it.
const PART: usize = 32;

impl<'a> Skyline<'a> {
    pub(super) fn of(radii: &'a [f32]) -> Skyline<'a> {
        let both = |part| (folded(part, f32::INFINITY, lesser), folded(part, f32::NEG_INFINITY, greater));
        let (least, most) = radii.chunks(PART).map(both).unzip();
        Skyline { radii, least, most }
    }

    /// The radii of the row.
    pub(super) fn radii(&self) -> &'a [f32] {
        self.radii
    }

    /// The least radius of these columns, and the first column that has it.
    pub(super) fn least(&self, columns: Range<usize>) -> Option<(f32, usize)> {
        self.extreme(columns, &self.least, f32::INFINITY, lesser)
    }

    /// The greatest radius of these columns, and the first column that has it.
    pub(super) fn most(&self, columns: Range<usize>) -> Option<(f32, usize)> {
        self.extreme(columns, &self.most, f32::NEG_INFINITY, greater)
    }

    fn extreme(
        &self,
        columns: Range<usize>,
        parts: &[f32],
        start: f32,
        of: impl Fn(f32, f32) -> f32 + Copy,
    ) -> Option<(f32, usize)> {
        let [before, whole, after] = split(columns);
        let ends =
            of(folded(&self.radii[before.clone()], start, of), folded(&self.radii[after.clone()], start, of));
        let extreme = folded(&parts[whole.clone()], ends, of);
        let first = |mut columns: Range<usize>| columns.find(|&column| self.radii[column] == extreme);
        let column = first(before)
            .or_else(|| first(columns_of(whole.into_iter().find(|&part| parts[part] == extreme)?)))
            .or_else(|| first(after))?;
        Some((extreme, column))
    }

    /// The last of these columns with less than a radius.
    pub(super) fn last_below(&self, columns: Range<usize>, radius: f32) -> Option<usize> {
        let [before, whole, after] = split(columns);
        let last = |columns: Range<usize>| columns.rev().find(|&column| self.radii[column] < radius);
        last(after)
            .or_else(|| last(columns_of(whole.rev().find(|&part| self.least[part] < radius)?)))
            .or_else(|| last(before))
    }

    /// Columns that lie on the other side of a level than the column before them.
    pub(super) fn crossings(&self, columns: Range<usize>, level: f32) -> impl Iterator<Item = usize> {
        let above = move |column: usize| self.radii[column] > level;
        let (mut column, past) = (columns.start, columns.end);
        std::iter::from_fn(move || {
            loop {
                column += 1;
                if past <= column {
                    return None;
                }
                let part = column / PART;
                let on_one_side = self.most[part] <= level || level < self.least[part];
                if on_one_side && column % PART != 0 {
                    // On to the first column of the next part.
                    column = columns_of(part).end - 1;
                } else if above(column) != above(column - 1) {
                    return Some(column);
                }
            }
        })
    }
}

/// Columns of a part.
fn columns_of(part: usize) -> Range<usize> {
    part * PART..(part + 1) * PART
}

/// Columns before the first whole part, the whole parts, and columns after them.
fn split(columns: Range<usize>) -> [Range<usize>; 3] {
    let whole = columns.start.div_ceil(PART)..columns.end / PART;
    if whole.is_empty() {
        return [columns, 0..0, 0..0];
    }
    let (first, past) = (whole.start * PART, whole.end * PART);
    [columns.start..first, whole, past..columns.end]
}

fn lesser(a: f32, b: f32) -> f32 {
    if b < a { b } else { a }
}

fn greater(a: f32, b: f32) -> f32 {
    if b > a { b } else { a }
}

/// Numbers folded side by side, so that the compiler can use vector units.
const LANES: usize = 8;

fn folded(radii: &[f32], start: f32, of: impl Fn(f32, f32) -> f32 + Copy) -> f32 {
    let mut lanes = [start; LANES];
    let chunks = radii.chunks_exact(LANES);
    let rest = chunks.remainder();
    for chunk in chunks {
        for (lane, &radius) in lanes.iter_mut().zip(chunk) {
            *lane = of(*lane, radius);
        }
    }
    let [a, b, c, d, e, f, g, h] = lanes;
    let four = of(of(of(a, e), of(b, f)), of(of(c, g), of(d, h)));
    rest.iter().fold(four, |so_far, &radius| of(so_far, radius))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What the summary answers is what looking at every station answers, for rows and ranges of every sort.
    #[test]
    fn the_summary_answers_as_looking_at_each_station_does() {
        let mut seed = 7_u32;
        let mut dice = move |below: usize| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 8) as usize % below
        };
        for trial in 0..2000 {
            let length = 1 + dice(300);
            // Few heights, so that the same height often comes twice and whole parts lie on one side.
            let heights = 1 + trial % 5;
            let mut level = 0;
            let radii: Vec<f32> = (0..length)
                .map(|_| {
                    level = if dice(12) == 0 { dice(heights) } else { level };
                    level as f32
                })
                .collect();
            let skyline = Skyline::of(&radii);
            let from = dice(length + 1);
            let columns = from..from + dice(length + 1 - from);
            let of = || columns.clone().map(|column| (radii[column], column));
            let least = of().min_by(|a, b| a.0.total_cmp(&b.0));
            let most = of().rev().max_by(|a, b| a.0.total_cmp(&b.0));
            assert_eq!(skyline.least(columns.clone()), least, "{radii:?} {columns:?}");
            assert_eq!(skyline.most(columns.clone()), most, "{radii:?} {columns:?}");
            let limit = dice(heights) as f32;
            let last = columns.clone().rev().find(|&column| radii[column] < limit);
            assert_eq!(skyline.last_below(columns.clone(), limit), last, "{radii:?} {columns:?} {limit}");
            let sides = |column: &usize| (radii[*column] > limit) != (radii[column - 1] > limit);
            let crossings: Vec<usize> = (columns.start + 1..columns.end).filter(sides).collect();
            let found: Vec<usize> = skyline.crossings(columns.clone(), limit).collect();
            assert_eq!(found, crossings, "{radii:?} {columns:?} {limit}");
        }
    }
}
