//! The carve itself: every row through all motions in order, rows in parallel, each row shown to the caller once and
//! then dropped, so that memory does not grow with the fineness of the grid.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::{Arc, Mutex, PoisonError};

use rayon::prelude::*;

use crate::pressure::Engagement;
use crate::rs274::Motion;
use crate::setup::{Blank, Setup};

use super::bench::{Bench, PARCELS, Ready};
use super::contact::Gap;
use super::courses::courses;
use super::cutter::Profile;
use super::frame::Stroke;
use super::grid::Grid;
use super::looks::Touch;
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

/// What was kept of a row as the program before left it, and between which columns it has changed since.
#[derive(Clone, Debug)]
pub struct Earlier<'a, T> {
    /// What was kept.
    pub kept: &'a T,
    /// From the first to past the last column that is not what it was; empty if all are.
    pub changed: Range<usize>,
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
    pub(super) fn meet(&mut self, other: Option<Engagement>) {
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

impl<T> Carved<T> {
    /// Nothing yet.
    pub(super) fn none(grid: Grid) -> Carved<T> {
        let (cuts, touches, grazes, rows) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Carved { grid, cuts, touches, gap: None, grazes, gap_sure_to_mm: 0.0, rows }
    }
}

/// A program that ran before, whose wood the carve begins with.
#[derive(Clone, Copy, Debug)]
pub struct Former<'a> {
    /// Its motions.
    pub motions: &'a [Motion],
    /// The set-up it ran in: its cutter and its zeros. The blank is that of the program that is looked at.
    pub setup: &'a Setup,
}

/// A program of a sequence, in the set-up it runs in.
#[derive(Clone, Copy, Debug)]
pub struct Turn<'a> {
    /// Its motions.
    pub motions: &'a [Motion],
    /// Its cutter and its zeros.
    pub setup: &'a Setup,
    /// Whether it is looked at; else it only cuts.
    pub looked_at: bool,
}

/// Carves motions out of the blank of a set-up, or out of what `former` programs left of it, each with its own cutter.
/// Wood, touches and gaps are booked for `motions` alone.
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
    let before = |one: &Former<'_>| (sweeps(one.motions, one.setup, &grid, setup), None);
    let last = (sweeps(motions, setup, &grid, setup), Some((motions.len(), setup)));
    let programs = former.iter().map(before).chain([last]);
    let mut all = run(programs.collect(), setup, grid, |_, row, _| look(row));
    all.pop().flatten().unwrap_or_else(|| Carved::none(grid))
}

/// Carves programs one after the other out of one blank, that of the last, each with its own cutter. Every row goes
/// once through all of them, so memory does not grow with their number; whichever is looked at sees the row as it
/// leaves it. One entry comes back for each program, `None` where it was not looked at.
///
/// `look` is told which program has just finished the row it is shown, and what it kept of this row the time before; for
/// the rest see [`carve`].
pub fn carve_all<'a, T: Send>(
    programs: &[Turn<'a>],
    grid: Grid,
    look: impl Fn(usize, Row<'_>, Option<Earlier<'_, T>>) -> Option<T> + Sync,
) -> Vec<Option<Carved<T>>> {
    let Some(last) = programs.last() else { return Vec::new() };
    let ready = |turn: &Turn<'a>| {
        let looked_at = turn.looked_at.then_some((turn.motions.len(), turn.setup));
        (sweeps(turn.motions, turn.setup, &grid, last.setup), looked_at)
    };
    run(programs.par_iter().map(ready).collect(), last.setup, grid, look)
}

/// The sweeps of a program; where it is looked at, the number of its motions and its set-up.
type Planned<'a> = (Vec<Sweep>, Option<(usize, &'a Setup)>);

fn run<T: Send>(
    programs: Vec<Planned<'_>>,
    of_blank: &Setup,
    grid: Grid,
    look: impl Fn(usize, Row<'_>, Option<Earlier<'_, T>>) -> Option<T> + Sync,
) -> Vec<Option<Carved<T>>> {
    let bench = Bench::of(programs.into_iter().map(Ready::from).collect(), &of_blank.blank, grid);
    bench.scout();
    let gatherer = Mutex::new(bench.gatherer());
    // Parcels are begun in their order, so that few wait for one before them.
    (0..PARCELS).par_bridge().for_each(|parcel| {
        let done = bench.carve_parcel(parcel, &look);
        gatherer.lock().unwrap_or_else(PoisonError::into_inner).take(parcel, done);
    });
    gatherer.into_inner().unwrap_or_else(PoisonError::into_inner).finish(&bench)
}

/// Makes every course ready, and lets courses that go on from each other share out what is cut at their joint.
fn sweeps(motions: &[Motion], setup: &Setup, grid: &Grid, of_blank: &Setup) -> Vec<Sweep> {
    let mut sweeps = single_sweeps(motions, setup, grid, &of_blank.blank);
    for index in 1..sweeps.len() {
        let (earlier, later) = sweeps.split_at_mut(index);
        Sweep::join(&mut earlier[index - 1], &mut later[0]);
    }
    sweeps
}

/// Makes every course ready, each to cut all that it cuts by itself. Tables are worked out once for all courses that are
/// alike, by the first of them.
pub(super) fn single_sweeps(motions: &[Motion], setup: &Setup, grid: &Grid, blank: &Blank) -> Vec<Sweep> {
    let wood_radius = wood::greatest_radius(blank);
    let profile = Arc::new(Profile::of(&setup.cutter));
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
            if leads { Way::choose(&course.stroke, *profile, grid, wood_radius) } else { Way::Clear }
        })
        .collect();
    let ready = |(course, leader): (_, usize)| {
        Sweep::ready(course, ways[leader].clone(), &profile, grid, wood_radius)
    };
    courses.into_iter().zip(leaders).map(ready).collect()
}

/// Whether a stroke only rises. What it passes through was cut by whatever brought the cutter there: only a ray that
/// grazes the rim could tell the two apart, by the last digit of its place.
fn lifts(stroke: &Stroke) -> bool {
    let (from, to) = (stroke.from, stroke.to);
    let stays = from.s_mm == to.s_mm && from.theta_rad == to.theta_rad && from.beside_mm == to.beside_mm;
    stays && to.tip_mm >= from.tip_mm
}
