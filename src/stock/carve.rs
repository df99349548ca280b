//! The carve itself: every row through all motions in order, rows in parallel, each row shown to the caller once and
//! then dropped, so that memory does not grow with the fineness of the grid.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::TAU;
use std::sync::atomic::{AtomicU64, Ordering};

use rayon::prelude::*;

use crate::pressure::Engagement;
use crate::rs274::{Kind, Motion};
use crate::setup::Setup;

use super::contact::{Gap, Outline, RowView};
use super::courses::courses;
use super::cutter::Profile;
use super::engaged::{ROWS_WATCHED, Watch};
use super::grid::Grid;
use super::row::cut;
use super::sweep::{Sweep, Way, likeness, search_stroke};
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

/// Shank or collet in the wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// Which motion.
    pub motion: usize,
    /// `shank` or `collet`.
    pub body: &'static str,
    /// How far it stands in the wood, mm along a ray.
    pub depth_mm: f64,
    /// Station.
    pub s_mm: f64,
    /// Angle on the blank, radians.
    pub theta_rad: f64,
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
/// Distance between the rows on which gaps are looked for, mm at the surface of the blank.
const GAP_ROW_STEP_MM: f64 = 0.25;
/// Distance between the places at which touches of shank and collet are looked for, mm: both are many times as wide.
/// Gaps are looked for at the same step along the blank first, and at every station where that comes near the least.
const LOOK_STEP_MM: f64 = 1.0;
/// A gap of this or less is a touch, mm: what single precision and mixing leave open, many times over.
const GRAZE_MM: f64 = 0.01;
/// Gaps wider than this are of no interest, mm.
const WIDE_GAP_MM: f64 = 50.0;

/// A body above the edges that must not meet wood.
struct Body {
    name: &'static str,
    profile: Profile,
    radius: f64,
    height: f64,
}

struct Bench<'a> {
    setup: &'a Setup,
    grid: Grid,
    profile: Profile,
    outline: Outline,
    sweeps: Vec<Sweep>,
    bodies: Vec<Body>,
    wood_radius: f64,
    motions: usize,
    gap_rows: usize,
    watched_rows: usize,
    look_rows: usize,
    look_columns: usize,
    nearest: Nearest,
}

/// The least gap that any parcel has found so far. It only spares the others from looking where nothing nearer can be:
/// whatever is as near is still looked at, so the answer does not hang on who came first.
struct Nearest(AtomicU64);

impl Nearest {
    fn get(&self) -> f64 {
        f64::from_bits(self.0.load(Ordering::Relaxed))
    }

    fn lower(&self, gap_mm: f64) {
        // Numbers that are not negative stand in the order of their bits.
        self.0.fetch_min(gap_mm.to_bits(), Ordering::Relaxed);
    }
}

/// What one parcel of rows gathered.
struct Parcel<T> {
    cuts: Vec<Cut>,
    touches: Vec<Option<Touch>>,
    gap: Option<Gap>,
    grazes: BTreeSet<usize>,
    rows: Vec<T>,
}

/// Carves motions out of the blank of a set-up. `look` is shown every finished row and keeps of it what it wants;
/// the kept values come back in the order of the rows. The same input gives the same result to the last bit.
pub fn carve<T: Send>(
    motions: &[Motion],
    setup: &Setup,
    grid: Grid,
    look: impl Fn(Row<'_>) -> Option<T> + Sync,
) -> Carved<T> {
    let profile = Profile::of(&setup.cutter);
    let wood_radius = wood::greatest_radius(&setup.blank);
    let mut sweeps = sweeps(motions, setup, profile, &grid, wood_radius);
    for index in 1..sweeps.len() {
        let (earlier, later) = sweeps.split_at_mut(index);
        Sweep::join(&mut earlier[index - 1], &mut later[0]);
    }
    let row_step = TAU * wood_radius / grid.rows as f64;
    let every = |step_mm: f64| (step_mm / row_step).round().max(1.0) as usize;
    let look_columns = (LOOK_STEP_MM / grid.step_mm).round().max(1.0) as usize;
    let bench = Bench {
        setup,
        grid,
        profile,
        outline: Outline::of(&setup.cutter),
        sweeps,
        bodies: bodies(setup),
        wood_radius,
        motions: motions.len(),
        gap_rows: every(GAP_ROW_STEP_MM),
        watched_rows: (grid.rows / ROWS_WATCHED).max(1),
        look_rows: every(LOOK_STEP_MM),
        look_columns,
        nearest: Nearest(AtomicU64::new(WIDE_GAP_MM.to_bits())),
    };
    let parcels: Vec<Parcel<T>> = (0..PARCELS)
        .into_par_iter()
        .map(|parcel| {
            let rows = parcel * grid.rows / PARCELS..(parcel + 1) * grid.rows / PARCELS;
            bench.carve_rows(rows, &look)
        })
        .collect();
    bench.gather(parcels)
}

/// Makes every course ready. Tables are worked out once for all courses that are alike, by the first of them.
pub(super) fn sweeps(
    motions: &[Motion],
    setup: &Setup,
    profile: Profile,
    grid: &Grid,
    wood_radius: f64,
) -> Vec<Sweep> {
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
            let leads = leaders[index] == index;
            if leads { Way::choose(&course.stroke, profile, grid, wood_radius) } else { Way::Clear }
        })
        .collect();
    let ready =
        |(course, leader): (_, usize)| Sweep::ready(course, ways[leader].clone(), profile, grid, wood_radius);
    courses.into_iter().zip(leaders).map(ready).collect()
}

/// Half of what a radius squared loses.
fn half_square(before: f32, after: f32) -> f64 {
    0.5 * f64::from(before - after) * f64::from(before + after)
}

fn bodies(setup: &Setup) -> Vec<Body> {
    let cutter = &setup.cutter;
    let body = |name, diameter: f64, height| Body {
        name,
        profile: Profile::cylinder(diameter / 2.0),
        radius: diameter / 2.0,
        height,
    };
    vec![
        body("shank", cutter.shank_diameter_mm, cutter.cutting_length_mm),
        body("collet", cutter.collet_diameter_mm, cutter.stick_out_mm),
    ]
}

impl Bench<'_> {
    fn carve_rows<T>(
        &self,
        rows: std::ops::Range<usize>,
        look: &(impl Fn(Row<'_>) -> Option<T> + Sync),
    ) -> Parcel<T> {
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
            let (gap_row, look_row) = (index % self.gap_rows == 0, index % self.look_rows == 0);
            for sweep in &self.sweeps {
                if gap_row && sweep.stroke.kind == Kind::Rapid {
                    self.measure_gap(&radii, sweep, angle, &mut parcel.gap, &mut parcel.grazes);
                }
                let watched = index % self.watched_rows == 0 && sweep.stroke.kind == Kind::Feed;
                self.cut_row(&mut radii, sweep, angle, watched, &mut parcel.cuts);
                if look_row {
                    self.feel_bodies(&radii, sweep, angle, &mut parcel.touches[sweep.stroke.motion]);
                }
            }
            parcel.rows.extend(look(Row { index, angle_rad: angle, radii_mm: &radii }));
        }
        parcel
    }

    fn cut_row(&self, radii: &mut [f32], sweep: &Sweep, angle: f64, watched: bool, cuts: &mut [Cut]) {
        if matches!(sweep.way, Way::Clear) {
            return;
        }
        let cell = 0.5 * self.grid.step_mm * TAU / self.grid.rows as f64;
        let last = radii.len() - 1;
        for theta in sweep.copies(angle) {
            let ends = [radii[0], radii[last]];
            let watch = if watched { Watch::over(radii, sweep, &self.grid, theta) } else { None };
            let bite = cut(radii, sweep, &self.profile, &self.grid, theta);
            let met = watch.and_then(|watch| watch.met(radii, sweep, &self.profile, &self.grid, theta));
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

    fn measure_gap(
        &self,
        radii: &[f32],
        sweep: &Sweep,
        angle: f64,
        least: &mut Option<Gap>,
        grazes: &mut BTreeSet<usize>,
    ) {
        let stroke = &sweep.stroke;
        let lifts = stroke.from.s_mm == stroke.to.s_mm && stroke.from.theta_rad == stroke.to.theta_rad;
        // No point of the cutter is lower than its tip, and no wood stands higher than the blank did.
        if stroke.from.tip_mm.min(stroke.to.tip_mm) - self.wood_radius > self.nearest.get() {
            return;
        }
        let view = RowView::of(stroke, &self.outline, angle);
        let gap_at = |column: usize, limit: f64| {
            view.gap(self.grid.station_mm(column), f64::from(radii[column]), limit)
        };
        let [from, to] = view.window(self.nearest.get() + LOOK_STEP_MM, self.wood_radius);
        let columns = self.grid.columns(from, to);
        for first in columns.clone().step_by(self.look_columns) {
            // From the middle of a stretch no point of it is farther than half its length, along the blank; the wood's
            // surface between them may be steep, so the whole length is allowed for.
            let past = (first + self.look_columns).min(columns.end);
            if gap_at(usize::midpoint(first, past), self.nearest.get() + LOOK_STEP_MM).is_none() {
                continue;
            }
            for column in first..past {
                if let Some(gap_mm) = gap_at(column, self.nearest.get()) {
                    self.nearest.lower(gap_mm.max(GRAZE_MM));
                    if gap_mm <= GRAZE_MM && !lifts {
                        grazes.insert(stroke.motion);
                    }
                    if least.is_none_or(|least| gap_mm < least.gap_mm) {
                        let (motion, s_mm) = (stroke.motion, self.grid.station_mm(column));
                        *least = Some(Gap { motion, gap_mm, s_mm, theta_rad: angle });
                    }
                }
            }
        }
    }

    fn feel_bodies(&self, radii: &[f32], sweep: &Sweep, angle: f64, deepest: &mut Option<Touch>) {
        let stroke = &sweep.stroke;
        for body in &self.bodies {
            if stroke.from.tip_mm.min(stroke.to.tip_mm) + body.height >= self.wood_radius {
                continue;
            }
            let mut raised = *stroke;
            raised.from.tip_mm += body.height;
            raised.to.tip_mm += body.height;
            let from = stroke.from.s_mm.min(stroke.to.s_mm) - body.radius;
            let to = stroke.from.s_mm.max(stroke.to.s_mm) + body.radius;
            for column in self.grid.columns(from, to).step_by(self.look_columns) {
                let s = self.grid.station_mm(column);
                for theta in sweep.copies(angle) {
                    let radius = search_stroke(&raised, &body.profile, s, theta, body.radius);
                    let depth_mm = f64::from(radii[column]) - radius;
                    if depth_mm > deepest.map_or(0.0, |touch| touch.depth_mm) {
                        let motion = stroke.motion;
                        let body = body.name;
                        *deepest = Some(Touch { motion, body, depth_mm, s_mm: s, theta_rad: angle });
                    }
                }
            }
        }
    }

    /// Distance between two rows on which gaps are looked for.
    fn row_step(&self) -> f64 {
        TAU * self.wood_radius / self.grid.rows as f64 * self.gap_rows as f64
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
            gap_sure_to_mm: self.row_step().hypot(self.grid.step_mm) / 2.0,
            rows,
        }
    }
}
