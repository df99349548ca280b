//! Grooves that need not be read again on a row, since no program has touched them after the one that was read before.

use std::ops::Range;
use std::sync::Arc;

use crate::drawing::Drawing;
use crate::stock::Earlier;

use super::rows::{Groove, Reader, RowSeen};

/// What need not be read again of a row.
pub(super) enum Kept<'s> {
    /// Nothing is known of it.
    Nothing,
    /// Its last grooves.
    Last {
        /// A column on the crest before them.
        crest: usize,
        /// These grooves.
        grooves: &'s [Groove],
    },
    /// All its grooves.
    All(&'s Arc<[Groove]>),
}

/// Columns between what changed and grooves that need not be read again.
const BESIDE: usize = 3;

impl Reader<'_> {
    /// Whether it finds the same grooves on the same wood as another reader, but for where they begin to look.
    pub(super) fn reads_like(&self, other: &Reader<'_>) -> bool {
        let (one, two) = (self.drawing, other.drawing);
        let sizes = |drawing: &Drawing| {
            [drawing.crest_diameter_mm, drawing.root_diameter_mm, drawing.lead_mm, drawing.run_out_to_s_mm]
        };
        self.grid == other.grid
            && self.bottom == other.bottom
            && sizes(one) == sizes(two)
            && one.starts == two.starts
            && one.section == two.section
            && self.columns().end == other.columns().end
    }

    /// Of grooves that a reader like it found before, those that no change of the row can have touched, nor the column at
    /// which that reader began to look.
    pub(super) fn kept<'s>(
        &self,
        earlier: &Earlier<'s, RowSeen>,
        columns: &Range<usize>,
        other_start: usize,
    ) -> Kept<'s> {
        let grooves = &earlier.kept.grooves;
        let column = |s_mm: f64| self.grid.columns(s_mm, f64::INFINITY).start;
        let Some(last) = grooves.last().and_then(|last| last.edges) else { return Kept::Nothing };
        let Range { start, end } = earlier.changed;
        let behind = start == end || columns.end.max(column(last[1])) + BESIDE <= start;
        if behind && columns.start == other_start {
            return Kept::All(grooves);
        }
        let from = columns.start.max(other_start).max(if behind { 0 } else { end });
        let crest_before = |pair: &[Groove]| {
            let ([_, left], [right, _]) = (pair[0].edges?, pair[1].edges?);
            let crest = column(f64::midpoint(left, right));
            (from + BESIDE <= crest && crest + BESIDE <= column(right)).then_some(crest)
        };
        let first = grooves.windows(2).zip(1..).find_map(|(pair, nth)| Some((nth, crest_before(pair)?)));
        match first {
            Some((nth, crest)) if crest < columns.end => Kept::Last { crest, grooves: &grooves[nth..] },
            _ => Kept::Nothing,
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::drawing::{Drawing, Hand, SectionPoint, Threading, Tolerances};
    use crate::stock::{Earlier, Grid, Row};
    use crate::units::LengthUnit;

    use super::*;
    use crate::proof::rows::{Bottom, Wanted};
    use crate::proof::turned::Outlines;

    const COLUMNS: usize = 1200;

    fn drawing(read_from: f64) -> Drawing {
        let point = |r_mm, half_width_mm| SectionPoint { r_mm, half_width_mm };
        Drawing {
            unit: LengthUnit::Mm,
            starts: 1,
            hand: Hand::Right,
            lead_mm: 12.0,
            crest_diameter_mm: 50.0,
            root_diameter_mm: 40.0,
            crest_flat_mm: 2.0,
            full_from_s_mm: 0.0,
            full_to_s_mm: 90.0,
            run_out_to_s_mm: 98.0,
            head_s_mm: 118.0,
            section: vec![point(20.0, 0.5), point(25.0, 5.0)],
            passes: Tolerances::default(),
            thread: Threading::Here,
            read_s_mm: [read_from, 103.0],
            ends_in_relief: false,
            stretches: Vec::new(),
            thin: Vec::new(),
        }
    }

    /// A row of such a thread.
    fn threaded(shift: f64, grid: &Grid) -> Vec<f32> {
        let radius = |column| {
            let s = grid.station_mm(column);
            let from_middle = ((s + shift).rem_euclid(12.0) - 6.0).abs();
            let depth = 5.0 * (1.0 - (s - 90.0) / 8.0).clamp(0.0, 1.0);
            (25.0 - depth + (from_middle - 0.5).max(0.0) / 0.9).min(25.0) as f32
        };
        (0..COLUMNS).map(radius).collect()
    }

    fn row(radii_mm: &[f32]) -> Row<'_> {
        Row { index: 0, angle_rad: 0.0, radii_mm }
    }

    /// Whatever is cut from a row between two programs, and wherever they begin to look, what is kept of the first reading
    /// makes the second what it would have been.
    #[test]
    fn a_row_is_read_again_as_if_it_had_not_been_known() {
        let grid = Grid { from_s_mm: 0.0, step_mm: 0.1, stations: COLUMNS, rows: 8 };
        let mut seed = 11_u32;
        let mut dice = move |below: usize| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 8) as usize % below
        };
        let mut kept = [0; 3];
        for trial in 0..3000 {
            let drawings = [0, 1].map(|_| drawing([0.0, 2.0, 7.5][dice(3)]));
            let reader = |drawing| Reader {
                drawing,
                grid,
                wanted: Wanted::of(drawing),
                outlines: Outlines::of(drawing, &grid),
                bottom: Bottom::Met,
            };
            let [before, after] = [reader(&drawings[0]), reader(&drawings[1])];
            let mut radii = threaded(dice(1200) as f64 / 100.0, &grid);
            let known = before.read(row(&radii), true, None);
            // The nose, the head, or a place anywhere is cut down to a radius.
            let (from, to) = match trial % 4 {
                0 => (0, dice(300)),
                1 => (COLUMNS - dice(250), COLUMNS),
                2 => (0, 0),
                _ => {
                    let from = dice(COLUMNS);
                    (from, COLUMNS.min(from + dice(60)))
                }
            };
            let cut = 19.0 + dice(70) as f32 / 10.0;
            let old = radii.clone();
            radii[from..to].iter_mut().for_each(|radius| *radius = radius.min(cut));
            let differs = |&column: &usize| radii[column].to_bits() != old[column].to_bits();
            let first = (0..COLUMNS).find(differs);
            let changed = first.map_or(0..0, |first| first..(0..COLUMNS).rfind(differs).unwrap_or(first) + 1);
            let earlier = Earlier { kept: &known, changed };
            let of = after.kept(&earlier, &after.columns(), before.columns().start);
            kept[match of {
                Kept::Nothing => 0,
                Kept::Last { .. } => 1,
                Kept::All(_) => 2,
            }] += 1;
            let got = after.read(row(&radii), true, Some((earlier, &before)));
            let want = after.read(row(&radii), true, None);
            assert_eq!(format!("{got:?}"), format!("{want:?}"), "trial {trial}: {from} to {to} cut to {cut}");
        }
        assert!(kept.iter().all(|&times| times > 300), "{kept:?}");
    }
}
