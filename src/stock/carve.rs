//! The carve itself: every row through all motions in order, rows in parallel, each row shown to the caller once and
//! then dropped, so that memory does not grow with the fineness of the grid.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::TAU;
use std::ops::Range;

use rayon::prelude::*;

use crate::pressure::Engagement;
use crate::rs274::{Kind, Motion};
use crate::setup::Setup;

use super::contact::Gap;
use super::courses::courses;
use super::cutter::Profile;
use super::engaged::{ROWS_WATCHED, Watch};
use super::frame::Stroke;
use super::grid::Grid;
use super::looks::{Heights, Looks, Touch};
use super::row::cut;
use super::sweep::{Sweep, Way, likeness};
use super::wood;

/// A finished row, shown to the caller of [`carve`].
#[derive(Clone, Copy, Debug)]
pub struct Row<'a> {
    /// Index in the grid.
    pub index: usize,
    /// Its angle on the blank, radians.
    pub angle_rad: f64,
    /// Distance from the axis to the wood's surface at each station, mm.
    pub radii_mm: &'a [f32],
}

/// What one motion cut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cut {
    /// Wood removed, mm³.
    pub removed_mm3: f64,
    /// Deepest bite measured along a ray, mm.
    pub deepest_mm: f64,
    /// Station and angle (radians) of the deepest bite.
    pub deepest_at: Option<(f64, f64)>,
    /// The most that the cutter met at once on its way round the blank, as far as the rows that were watched show.
    pub engaged: Option<Engagement>,
}

impl Cut {
    /// Keeps the larger of two sections.
    fn meet(&mut self, other: Option<Engagement>) {
        let larger =
            other.is_some_and(|other| self.engaged.is_none_or(|so_far| other.area_mm2 > so_far.area_mm2));
        self.engaged = if larger { other } else { self.engaged };
    }
}

/// All that a carve found out.
#[derive(Clone, Debug)]
pub struct Carved<T> {
    /// The grid it was carved on.
    pub grid: Grid,
    /// One entry for each motion.
    pub cuts: Vec<Cut>,
    /// For each motion whose shank or collet met wood, the deepest place.
    pub touches: Vec<Touch>,
    /// The least gap between cutter and wood in a rapid motion, if any came near.
    pub gap: Option<Gap>,
    /// Rapid motions along the blank or round it that touch wood on their way.
    pub grazes: Vec<usize>,
    /// How much smaller the true gap may be: half the distance between the places that were looked at, mm.
    pub gap_sure_to_mm: f64,
    /// What the caller kept of each row, in order.
    pub rows: Vec<T>,
}

/// Rows are handed out in this many parcels, whatever the number of processors, so that sums come out the same.
const PARCELS: usize = 32;
/// A rapid shorter than this over wood is not the way back, mm.
const SCOUT_MM: f64 = 10.0;

struct Bench<'a> {
    setup: &'a Setup,
    grid: Grid,
    /// What the former programs cut.
    former: Vec<Sweep>,
    /// What the program that is looked at cuts.
    sweeps: Vec<Sweep>,
    motions: usize,
    wood_radius: f64,
    watched_rows: usize,
    looks: Looks,
}

/// What one parcel of rows gathered.
struct Parcel<T> {
    cuts: Vec<Cut>,
    touches: Vec<Option<Touch>>,
    gap: Option<Gap>,
    grazes: BTreeSet<usize>,
    rows: Vec<T>,
}

/// A program that ran before, whose wood the carve begins with.
#[derive(Clone, Copy, Debug)]
pub struct Former<'a> {
    /// Its motions.
    pub motions: &'a [Motion],
    /// The set-up it ran in: its cutter and its zeros. The blank is that of the program that is looked at.
    pub setup: &'a Setup,
}

/// Carves motions out of the blank of a set-up, or out of what `former` programs left of it, each with its own cutter.
/// Every row goes through all programs in order, so memory does not grow with their number; wood, touches and gaps
/// are booked for `motions` alone.
///
/// `look` is shown every finished row and keeps of it what it wants; the kept values come back in the order of the
/// rows. The same input gives the same result to the last bit.
pub fn carve<T: Send>(
    former: &[Former<'_>],
    motions: &[Motion],
    setup: &Setup,
    grid: Grid,
    look: impl Fn(Row<'_>) -> Option<T> + Sync,
) -> Carved<T> {
    let wood_radius = wood::greatest_radius(&setup.blank);
    let former = former.iter().flat_map(|one| sweeps(one.motions, one.setup, &grid, wood_radius)).collect();
    let sweeps = sweeps(motions, setup, &grid, wood_radius);
    let looks = Looks::of(setup, grid, wood_radius);
    let watched_rows = (grid.rows / ROWS_WATCHED).max(1);
    let motions = motions.len();
    let bench = Bench { setup, grid, former, sweeps, motions, wood_radius, watched_rows, looks };
    bench.scout();
    let parcels: Vec<Parcel<T>> = (0..PARCELS)
        .into_par_iter()
        .map(|parcel| {
            let rows = parcel * grid.rows / PARCELS..(parcel + 1) * grid.rows / PARCELS;
            bench.carve_rows(rows, &look)
        })
        .collect();
    bench.gather(parcels)
}

/// Makes every course ready, and lets courses that go on from each other share out what is cut at their joint.
fn sweeps(motions: &[Motion], setup: &Setup, grid: &Grid, wood_radius: f64) -> Vec<Sweep> {
    let mut sweeps = single_sweeps(motions, setup, grid, wood_radius);
    for index in 1..sweeps.len() {
        let (earlier, later) = sweeps.split_at_mut(index);
        Sweep::join(&mut earlier[index - 1], &mut later[0]);
    }
    sweeps
}

/// Makes every course ready, each to cut all that it cuts by itself. Tables are worked out once for all courses that are
/// alike, by the first of them.
pub(super) fn single_sweeps(motions: &[Motion], setup: &Setup, grid: &Grid, wood_radius: f64) -> Vec<Sweep> {
    let profile = Profile::of(&setup.cutter);
    let courses = courses(motions, setup);
    let mut firsts = BTreeMap::new();
    let leaders: Vec<usize> = courses
        .iter()
        .enumerate()
        .map(|(index, course)| *firsts.entry(likeness(&course.stroke, index)).or_insert(index))
        .collect();
    let ways: Vec<Way> = courses
        .par_iter()
        .enumerate()
        .map(|(index, course)| {
            let leads = leaders[index] == index && !(index > 0 && lifts(&course.stroke));
            if leads { Way::choose(&course.stroke, profile, grid, wood_radius) } else { Way::Clear }
        })
        .collect();
    let ready =
        |(course, leader): (_, usize)| Sweep::ready(course, ways[leader].clone(), profile, grid, wood_radius);
    courses.into_iter().zip(leaders).map(ready).collect()
}

/// Whether a stroke only rises. What it passes through was cut by whatever brought the cutter there: only a ray that
/// grazes the rim could tell the two apart, by the last digit of its place.
fn lifts(stroke: &Stroke) -> bool {
    let (from, to) = (stroke.from, stroke.to);
    let stays = from.s_mm == to.s_mm && from.theta_rad == to.theta_rad && from.beside_mm == to.beside_mm;
    stays && to.tip_mm >= from.tip_mm
}

/// Half of what a radius squared loses.
fn half_square(before: f32, after: f32) -> f64 {
    0.5 * f64::from(before - after) * f64::from(before + after)
}

impl Bench<'_> {
    /// Looks at the row under the lowest rapid over wood before all others: the gap found there spares looking at most
    /// of them.
    fn scout(&self) {
        let wood = [self.grid.from_s_mm, self.grid.station_mm(self.grid.stations - 1)];
        let over_wood = |sweep: &&Sweep| {
            let (from, to) = (sweep.stroke.from, sweep.stroke.to);
            let [a, b] = [from.s_mm.min(to.s_mm).max(wood[0]), from.s_mm.max(to.s_mm).min(wood[1])];
            sweep.stroke.kind == Kind::Rapid && SCOUT_MM < b - a
        };
        let lowest = |sweep: &Sweep| sweep.stroke.from.tip_mm.min(sweep.stroke.to.tip_mm);
        let rapids = self.sweeps.iter().filter(over_wood);
        if let Some(rapid) = rapids.min_by(|a, b| lowest(a).total_cmp(&lowest(b))) {
            let row = self.looks.gap_row_at(rapid.stroke.from.theta_rad);
            self.carve_rows(row..row + 1, &|_| None::<()>);
        }
    }

    fn carve_rows<T>(&self, rows: Range<usize>, look: &(impl Fn(Row<'_>) -> Option<T> + Sync)) -> Parcel<T> {
        let mut parcel = Parcel {
            cuts: vec![Cut::default(); self.motions],
            touches: vec![None; self.motions],
            gap: None,
            grazes: BTreeSet::new(),
            rows: Vec::new(),
        };
        let mut radii = vec![0.0_f32; self.grid.stations];
        for index in rows {
            let angle = self.grid.angle_rad(index);
            radii.fill(wood::radius_at(&self.setup.blank, angle) as f32);
            for sweep in self.former.iter().filter(|sweep| sweep.way.cuts()) {
                for theta in sweep.copies(angle) {
                    cut(&mut radii, sweep, &self.grid, theta);
                }
            }
            let heights =
                Heights::of(&radii, if self.former.is_empty() { Some(self.wood_radius) } else { None });
            let (gap_row, look_row) = self.looks.on(index);
            for sweep in &self.sweeps {
                if gap_row && sweep.stroke.kind == Kind::Rapid {
                    let found = (&mut parcel.gap, &mut parcel.grazes);
                    self.looks.measure_gap((&radii, &heights), sweep, angle, found);
                }
                let watched = index % self.watched_rows == 0 && sweep.stroke.kind == Kind::Feed;
                self.cut_row(&mut radii, sweep, angle, watched, &mut parcel.cuts);
                if look_row {
                    let deepest = &mut parcel.touches[sweep.stroke.motion];
                    self.looks.feel_bodies((&radii, &heights), sweep, angle, deepest);
                }
            }
            parcel.rows.extend(look(Row { index, angle_rad: angle, radii_mm: &radii }));
        }
        parcel
    }

    fn cut_row(&self, radii: &mut [f32], sweep: &Sweep, angle: f64, watched: bool, cuts: &mut [Cut]) {
        if !sweep.way.cuts() {
            return;
        }
        let cell = 0.5 * self.grid.step_mm * TAU / self.grid.rows as f64;
        let last = radii.len() - 1;
        for theta in sweep.copies(angle) {
            let ends = [radii[0], radii[last]];
            let watch = if watched { Watch::over(radii, sweep, &self.grid, theta) } else { None };
            let bite = cut(radii, sweep, &self.grid, theta);
            let met = watch.and_then(|watch| watch.met(radii, sweep, &sweep.profile, &self.grid, theta));
            let total = &mut cuts[sweep.course.motion_at(theta)];
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

    fn gather<T>(&self, parcels: Vec<Parcel<T>>) -> Carved<T> {
        let mut cuts = vec![Cut::default(); self.motions];
        let mut touches: Vec<Option<Touch>> = vec![None; self.motions];
        let mut gap: Option<Gap> = None;
        let mut grazes = BTreeSet::new();
        let mut rows = Vec::new();
        for parcel in parcels {
            for (total, part) in cuts.iter_mut().zip(parcel.cuts) {
                total.removed_mm3 += part.removed_mm3;
                total.meet(part.engaged);
                if part.deepest_mm > total.deepest_mm {
                    total.deepest_mm = part.deepest_mm;
                    total.deepest_at = part.deepest_at;
                }
            }
            for (most, part) in touches.iter_mut().zip(parcel.touches) {
                let deeper = part.is_some_and(|p| most.is_none_or(|m| p.depth_mm > m.depth_mm));
                *most = if deeper { part } else { *most };
            }
            let nearer = parcel.gap.is_some_and(|p| gap.is_none_or(|least| p.gap_mm < least.gap_mm));
            gap = if nearer { parcel.gap } else { gap };
            grazes.extend(parcel.grazes);
            rows.extend(parcel.rows);
        }
        Carved {
            grid: self.grid,
            cuts,
            touches: touches.into_iter().flatten().collect(),
            gap,
            grazes: grazes.into_iter().collect(),
            gap_sure_to_mm: self.looks.gap_sure_to(),
            rows,
        }
    }
}
