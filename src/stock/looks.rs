//! What is looked for while a row is carved: the least gap between cutter and wood in rapids, and shank or collet in the
//! wood. Looked for on some rows and at some stations only, closely enough for what is as wide as they are. Lengths in
//! mm, angles in radians.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::TAU;
use std::ops::Range;
use std::sync::atomic::{AtomicU64, Ordering};

use crate::setup::Setup;

use super::contact::{Gap, Outline, RowView};
use super::cutter::Profile;
use super::grid::Grid;
use super::sweep::{Sweep, search_stroke};

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

/// How a row is looked at.
pub(super) struct Looks {
    grid: Grid,
    outline: Outline,
    bodies: Vec<Body>,
    wood_radius: f64,
    gap_rows: usize,
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

/// How high the wood stands on a row before the program that is looked at, at most: what former programs have taken
/// off need not be looked at.
pub(super) struct Heights {
    /// The same everywhere, where there were no former programs.
    all: Option<f64>,
    /// Else the greatest radius of every so many stations.
    parts: Vec<f32>,
}

/// Stations that share one greatest radius.
const HEIGHT_COLUMNS: usize = 64;

impl Heights {
    pub(super) fn of(radii: &[f32], all: Option<f64>) -> Heights {
        let greatest = |part: &[f32]| part.iter().fold(0.0_f32, |most, &radius| most.max(radius));
        let parts =
            if all.is_some() { Vec::new() } else { radii.chunks(HEIGHT_COLUMNS).map(greatest).collect() };
        Heights { all, parts }
    }

    /// No wood in these columns stands higher.
    fn over(&self, columns: Range<usize>) -> f64 {
        self.all.unwrap_or_else(|| {
            let parts = columns.start / HEIGHT_COLUMNS..columns.end.div_ceil(HEIGHT_COLUMNS);
            f64::from(self.parts[parts].iter().fold(0.0_f32, |most, &radius| most.max(radius)))
        })
    }
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

impl Looks {
    /// For a set-up whose blank reaches `wood_radius` from its axis.
    pub(super) fn of(setup: &Setup, grid: Grid, wood_radius: f64) -> Looks {
        let row_step = TAU * wood_radius / grid.rows as f64;
        let every = |step_mm: f64| (step_mm / row_step).round().max(1.0) as usize;
        Looks {
            grid,
            outline: Outline::of(&setup.cutter),
            bodies: bodies(setup),
            wood_radius,
            gap_rows: every(GAP_ROW_STEP_MM),
            look_rows: every(LOOK_STEP_MM),
            look_columns: (LOOK_STEP_MM / grid.step_mm).round().max(1.0) as usize,
            nearest: Nearest(AtomicU64::new(WIDE_GAP_MM.to_bits())),
        }
    }

    /// Whether gaps are looked for on a row, and whether shank and collet are.
    pub(super) fn on(&self, row: usize) -> (bool, bool) {
        (row.is_multiple_of(self.gap_rows), row.is_multiple_of(self.look_rows))
    }

    /// The row nearest to an angle on which gaps are looked for.
    pub(super) fn gap_row_at(&self, theta_rad: f64) -> usize {
        let count = (self.grid.rows / self.gap_rows).max(1);
        let turned = (theta_rad / TAU).rem_euclid(1.0);
        (turned * count as f64).round() as usize % count * self.gap_rows
    }

    /// How much smaller the true gap may be: half the distance between the places that are looked at.
    pub(super) fn gap_sure_to(&self) -> f64 {
        let row_step = TAU * self.wood_radius / self.grid.rows as f64 * self.gap_rows as f64;
        row_step.hypot(self.grid.step_mm) / 2.0
    }

    /// Looks for the least gap between the cutter and the wood of a row in a rapid. One that only lifts the cutter out of
    /// where a feed ended keeps no distance of its own.
    pub(super) fn measure_gap(
        &self,
        (radii, heights): (&[f32], &Heights),
        sweep: &Sweep,
        angle: f64,
        (least, grazes): (&mut Option<Gap>, &mut BTreeSet<usize>),
    ) {
        let stroke = sweep.stroke();
        let lifts = stroke.from.s_mm == stroke.to.s_mm && stroke.from.theta_rad == stroke.to.theta_rad;
        if lifts && stroke.from.tip_mm <= stroke.to.tip_mm {
            return;
        }
        // No point of the cutter is lower than its tip, and no wood stands higher than the blank did.
        let lowest = stroke.from.tip_mm.min(stroke.to.tip_mm);
        if lowest - self.wood_radius > self.nearest.get() {
            return;
        }
        let view = RowView::of(stroke, &self.outline, angle);
        if view.above(self.wood_radius) > self.nearest.get() {
            return;
        }
        let gap_at = |column: usize, limit: f64| {
            view.gap(self.grid.station_mm(column), f64::from(radii[column]), limit)
        };
        let within = |wood_radius: f64| {
            let [from, to] = view.window(self.nearest.get() + LOOK_STEP_MM, wood_radius);
            self.grid.columns(from, to)
        };
        let highest = heights.over(within(self.wood_radius));
        if view.above(highest) > self.nearest.get() {
            return;
        }
        let columns = within(highest);
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

    /// Looks for the deepest place at which shank or collet stand in the wood of a row.
    pub(super) fn feel_bodies(
        &self,
        (radii, heights): (&[f32], &Heights),
        sweep: &Sweep,
        angle: f64,
        touches: &mut BTreeMap<usize, Touch>,
    ) {
        let stroke = sweep.stroke();
        let tip = stroke.from.tip_mm.min(stroke.to.tip_mm);
        let low = |body: &&Body| tip + body.height < self.wood_radius;
        for body in self.bodies.iter().filter(low) {
            let lowest = tip + body.height;
            let mut raised = *stroke;
            raised.from.tip_mm += body.height;
            raised.to.tip_mm += body.height;
            let from = stroke.from.s_mm.min(stroke.to.s_mm) - body.radius;
            let to = stroke.from.s_mm.max(stroke.to.s_mm) + body.radius;
            let columns = self.grid.columns(from, to);
            if lowest >= heights.over(columns.clone()) {
                continue;
            }
            for column in columns.step_by(self.look_columns) {
                // No ray meets the body nearer to the axis than the body's lower face ever comes.
                if f64::from(radii[column]) <= lowest {
                    continue;
                }
                let s = self.grid.station_mm(column);
                for theta in sweep.wide_copies(angle) {
                    let radius = search_stroke(&raised, &body.profile, s, theta, body.radius);
                    let depth_mm = f64::from(radii[column]) - radius;
                    let motion = stroke.motion;
                    let deeper = touches.get(&motion).is_none_or(|touch| depth_mm > touch.depth_mm);
                    if depth_mm > 0.0 && deeper {
                        let body = body.name;
                        touches.insert(motion, Touch { motion, body, depth_mm, s_mm: s, theta_rad: angle });
                    }
                }
            }
        }
    }
}
