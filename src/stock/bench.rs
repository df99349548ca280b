//! What the rows of a blank go through: the programs made ready, one row after the other, and the sums of all rows.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::TAU;
use std::ops::Range;

use rayon::prelude::*;

use crate::rs274::Kind;
use crate::setup::{Blank, Setup};

use super::carve::{Carved, Cut, Earlier, Row};
use super::contact::Gap;
use super::engaged::{ROWS_WATCHED, Watch};
use super::grid::Grid;
use super::ledger::Ledger;
use super::looks::{Heights, Looks, Touch};
use super::row::cut;
use super::sweep::Sweep;
use super::wood;

/// Rows are handed out in this many parcels, whatever the number of processors, so that sums come out the same.
pub(super) const PARCELS: usize = 32;
/// A rapid shorter than this over wood is not the way back, mm.
const SCOUT_MM: f64 = 10.0;

/// A program made ready.
pub(super) struct Ready<'a> {
    sweeps: Vec<Sweep>,
    /// Number of its motions and its set-up, if it is looked at.
    looked_at: Option<(usize, &'a Setup)>,
}

impl<'a> From<(Vec<Sweep>, Option<(usize, &'a Setup)>)> for Ready<'a> {
    fn from((sweeps, looked_at): (Vec<Sweep>, Option<(usize, &'a Setup)>)) -> Self {
        Ready { sweeps, looked_at }
    }
}

struct Program {
    sweeps: Vec<Sweep>,
    looked_at: Option<LookedAt>,
}

struct LookedAt {
    looks: Looks,
    motions: usize,
}

/// All programs on one blank.
pub(super) struct Bench<'a> {
    blank: &'a Blank,
    grid: Grid,
    programs: Vec<Program>,
    wood_radius: f64,
    watched_rows: usize,
}

/// What one parcel of rows gathered of one program.
pub(super) struct Parcel<T> {
    cuts: Ledger,
    touches: BTreeMap<usize, Touch>,
    gap: Option<Gap>,
    grazes: BTreeSet<usize>,
    rows: Vec<T>,
}

/// Columns that are compared together.
const COMPARED: usize = 64;

/// From the first to past the last column in which two rows differ.
fn changed(before: &[f32], after: &[f32]) -> Range<usize> {
    let differs = |(a, b): (&[f32], &[f32])| {
        a.iter().zip(b).fold(false, |any, (a, b)| any | (a.to_bits() != b.to_bits()))
    };
    let mut parts = before.chunks(COMPARED).zip(after.chunks(COMPARED)).map(differs);
    let Some(first) = parts.clone().position(|differs| differs) else { return 0..0 };
    let last = parts.rposition(|differs| differs).unwrap_or(first);
    let column = |column: &usize| before[*column].to_bits() != after[*column].to_bits();
    let part = |nth: usize| nth * COMPARED..((nth + 1) * COMPARED).min(after.len());
    let (start, end) = (part(first).find(column), part(last).rfind(column));
    start.zip(end).map_or(0..0, |(start, end)| start..end + 1)
}

/// Half of what a radius squared loses.
fn half_square(before: f32, after: f32) -> f64 {
    0.5 * f64::from(before - after) * f64::from(before + after)
}

impl<'a> Bench<'a> {
    pub(super) fn of(programs: Vec<Ready<'_>>, blank: &'a Blank, grid: Grid) -> Bench<'a> {
        let wood_radius = wood::greatest_radius(blank);
        let program = |ready: Ready<'_>| Program {
            sweeps: ready.sweeps,
            looked_at: ready
                .looked_at
                .map(|(motions, setup)| LookedAt { looks: Looks::of(setup, grid, wood_radius), motions }),
        };
        let programs = programs.into_iter().map(program).collect();
        Bench { blank, grid, programs, wood_radius, watched_rows: (grid.rows / ROWS_WATCHED).max(1) }
    }

    /// Looks at the rows under the lowest rapids over wood before all others: the gaps found there spare looking at most
    /// of them.
    pub(super) fn scout(&self) {
        let rows: BTreeSet<usize> =
            self.programs.iter().filter_map(|program| self.scouted(program)).collect();
        rows.into_par_iter().for_each(|row| {
            self.carve_rows(row..row + 1, &|_, _, _| None::<()>);
        });
    }

    fn scouted(&self, program: &Program) -> Option<usize> {
        let looked_at = program.looked_at.as_ref()?;
        let wood = [self.grid.from_s_mm, self.grid.station_mm(self.grid.stations - 1)];
        let over_wood = |sweep: &&Sweep| {
            let (from, to) = (sweep.stroke().from, sweep.stroke().to);
            let [a, b] = [from.s_mm.min(to.s_mm).max(wood[0]), from.s_mm.max(to.s_mm).min(wood[1])];
            sweep.stroke().kind == Kind::Rapid && SCOUT_MM < b - a
        };
        let lowest = |sweep: &Sweep| sweep.stroke().from.tip_mm.min(sweep.stroke().to.tip_mm);
        let rapids = program.sweeps.iter().filter(over_wood);
        let rapid = rapids.min_by(|a, b| lowest(a).total_cmp(&lowest(b)))?;
        Some(looked_at.looks.gap_row_at(rapid.stroke().from.theta_rad))
    }

    /// Carves one of the parcels; for each program what was gathered of it, if it is looked at.
    pub(super) fn carve_parcel<T>(
        &self,
        parcel: usize,
        look: &(impl Fn(usize, Row<'_>, Option<Earlier<'_, T>>) -> Option<T> + Sync),
    ) -> Vec<Option<Parcel<T>>> {
        let first = |parcel: usize| parcel * self.grid.rows / PARCELS;
        self.carve_rows(first(parcel)..first(parcel + 1), look)
    }

    fn carve_rows<T>(
        &self,
        rows: Range<usize>,
        look: &(impl Fn(usize, Row<'_>, Option<Earlier<'_, T>>) -> Option<T> + Sync),
    ) -> Vec<Option<Parcel<T>>> {
        let empty = |looked_at: &LookedAt| Parcel {
            cuts: Ledger::of(looked_at.motions),
            touches: BTreeMap::new(),
            gap: None,
            grazes: BTreeSet::new(),
            rows: Vec::new(),
        };
        let mut parcels: Vec<_> =
            self.programs.iter().map(|program| program.looked_at.as_ref().map(empty)).collect();
        if rows.is_empty() {
            return parcels;
        }
        let near: Vec<Vec<&Sweep>> =
            self.programs.iter().map(|program| self.near(program, rows.clone())).collect();
        let mut radii = vec![0.0_f32; self.grid.stations];
        let mut seen = Vec::new();
        for index in rows {
            // The last program whose row was kept.
            let mut before = None;
            radii.fill(wood::radius_at(self.blank, self.grid.angle_rad(index)) as f32);
            for (nth, (program, near)) in self.programs.iter().zip(&near).enumerate() {
                let (earlier, own) = parcels.split_at_mut(nth);
                match (&program.looked_at, &mut own[0]) {
                    (Some(LookedAt { looks, .. }), Some(parcel)) => {
                        // No wood stands higher than the blank did, or than what former programs left of it.
                        let heights = Heights::of(&radii, (nth == 0).then_some(self.wood_radius));
                        self.watch_row(index, &mut radii, near, looks, &heights, parcel);
                        let row = Row { index, angle_rad: self.grid.angle_rad(index), radii_mm: &radii };
                        let earlier = before.and_then(|nth: usize| {
                            let kept = earlier[nth].as_ref()?.rows.last()?;
                            Some(Earlier { kept, changed: changed(&seen, &radii) })
                        });
                        if let Some(kept) = look(nth, row, earlier) {
                            parcel.rows.push(kept);
                            before = Some(nth);
                            if nth + 1 < self.programs.len() {
                                seen.clone_from(&radii);
                            }
                        }
                    }
                    _ => self.cut_row(index, &mut radii, near),
                }
            }
        }
        parcels
    }

    /// The sweeps that have to do with some of these rows, in their order.
    fn near<'b>(&self, program: &'b Program, rows: Range<usize>) -> Vec<&'b Sweep> {
        let angles = [self.grid.angle_rad(rows.start), self.grid.angle_rad(rows.end - 1)];
        let looked_at = program.looked_at.is_some();
        let concerns = |sweep: &&Sweep| {
            let rapid = sweep.stroke().kind == Kind::Rapid;
            // Rapids are looked at from all sides.
            (looked_at && rapid) || ((looked_at || sweep.way.cuts()) && sweep.passes(angles))
        };
        program.sweeps.iter().filter(concerns).collect()
    }

    /// Takes a row through a program and looks at what happens.
    fn watch_row<T>(
        &self,
        index: usize,
        radii: &mut [f32],
        sweeps: &[&Sweep],
        looks: &Looks,
        heights: &Heights,
        parcel: &mut Parcel<T>,
    ) {
        let angle = self.grid.angle_rad(index);
        let (gap_row, look_row) = looks.on(index);
        for sweep in sweeps {
            if gap_row && sweep.stroke().kind == Kind::Rapid {
                looks.measure_gap((radii, heights), sweep, angle, (&mut parcel.gap, &mut parcel.grazes));
            }
            let watched = index.is_multiple_of(self.watched_rows) && sweep.stroke().kind == Kind::Feed;
            if sweep.way.cuts() {
                self.book(radii, sweep, angle, watched, &mut parcel.cuts);
            }
            if look_row {
                looks.feel_bodies((radii, heights), sweep, angle, &mut parcel.touches);
            }
        }
    }

    /// Takes a row through a program.
    fn cut_row(&self, index: usize, radii: &mut [f32], sweeps: &[&Sweep]) {
        for sweep in sweeps {
            for theta in sweep.copies(self.grid.angle_rad(index)) {
                cut(radii, sweep, &self.grid, theta);
            }
        }
    }

    fn book(&self, radii: &mut [f32], sweep: &Sweep, angle: f64, watched: bool, cuts: &mut Ledger) {
        let cell = 0.5 * self.grid.step_mm * TAU / self.grid.rows as f64;
        let last = radii.len() - 1;
        for theta in sweep.copies(angle) {
            let ends = [radii[0], radii[last]];
            let watch = if watched { Watch::over(radii, sweep, &self.grid, theta) } else { None };
            let bite = cut(radii, sweep, &self.grid, theta);
            if bite.deepest <= 0.0 {
                continue;
            }
            let total = cuts.entry(sweep.motion_at(theta));
            let met = watch
                .and_then(|watch| watch.met(radii, sweep, &sweep.profile, &self.grid, theta, total.engaged));
            // The first and the last station stand for half a cell each.
            let over = half_square(ends[0], radii[0]) + half_square(ends[1], radii[last]);
            total.removed_mm3 += (bite.squares - over) * cell;
            if f64::from(bite.deepest) > total.deepest_mm {
                total.deepest_mm = f64::from(bite.deepest);
                total.deepest_at = Some((self.grid.station_mm(bite.column), angle));
            }
            total.meet(met);
        }
    }

    /// Where parcels are put together.
    pub(super) fn gatherer<T>(&self) -> Gatherer<T> {
        let looked_at = self.programs.iter().map(|program| program.looked_at.as_ref());
        let none = |one: &LookedAt| Sum {
            carved: Carved { cuts: vec![Cut::default(); one.motions], ..Carved::none(self.grid) },
            touches: BTreeMap::new(),
            grazes: BTreeSet::new(),
        };
        Gatherer { sums: looked_at.map(|one| one.map(none)).collect(), next: 0, waiting: BTreeMap::new() }
    }
}

/// Adds parcels up in their order, whatever the order in which they come.
pub(super) struct Gatherer<T> {
    sums: Vec<Option<Sum<T>>>,
    next: usize,
    waiting: BTreeMap<usize, Vec<Option<Parcel<T>>>>,
}

struct Sum<T> {
    carved: Carved<T>,
    touches: BTreeMap<usize, Touch>,
    grazes: BTreeSet<usize>,
}

impl<T> Gatherer<T> {
    /// Takes a parcel in.
    pub(super) fn take(&mut self, nth: usize, parcels: Vec<Option<Parcel<T>>>) {
        self.waiting.insert(nth, parcels);
        while let Some(parcels) = self.waiting.remove(&self.next) {
            self.next += 1;
            let pairs = self.sums.iter_mut().zip(parcels);
            pairs
                .filter_map(|(sum, parcel)| sum.as_mut().zip(parcel))
                .for_each(|(sum, parcel)| sum.add(parcel));
        }
    }

    /// What all parcels make together.
    pub(super) fn finish(self, bench: &Bench<'_>) -> Vec<Option<Carved<T>>> {
        let finished = |(sum, program): (Option<Sum<T>>, &Program)| {
            let (sum, looked_at) = sum.zip(program.looked_at.as_ref())?;
            Some(Carved {
                touches: sum.touches.into_values().collect(),
                grazes: sum.grazes.into_iter().collect(),
                gap_sure_to_mm: looked_at.looks.gap_sure_to(),
                ..sum.carved
            })
        };
        self.sums.into_iter().zip(&bench.programs).map(finished).collect()
    }
}

impl<T> Sum<T> {
    fn add(&mut self, parcel: Parcel<T>) {
        let carved = &mut self.carved;
        for (motion, part) in parcel.cuts.entries() {
            // The last page may go on past the last motion.
            let Some(total) = carved.cuts.get_mut(motion) else { break };
            total.removed_mm3 += part.removed_mm3;
            total.meet(part.engaged);
            if part.deepest_mm > total.deepest_mm {
                total.deepest_mm = part.deepest_mm;
                total.deepest_at = part.deepest_at;
            }
        }
        for (motion, part) in parcel.touches {
            let deeper = self.touches.get(&motion).is_none_or(|most| part.depth_mm > most.depth_mm);
            if deeper {
                self.touches.insert(motion, part);
            }
        }
        let nearer = parcel.gap.is_some_and(|part| carved.gap.is_none_or(|least| part.gap_mm < least.gap_mm));
        carved.gap = if nearer { parcel.gap } else { carved.gap };
        self.grazes.extend(parcel.grazes);
        carved.rows.extend(parcel.rows);
    }
}
