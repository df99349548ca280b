//! The carve of a nut: every row through all legs in order, rows in parallel, each row shown to the caller once and then
//! dropped. Lengths in mm, angles in radians.

use std::collections::BTreeMap;
use std::f64::consts::TAU;
use std::ops::Range;
use std::sync::Arc;

use rayon::prelude::*;

use crate::rs274::{Kind, Motion};
use crate::setup::NutSetup;

use super::grid::NutGrid;
use super::helix::Helix;
use super::legs::{Leg, legs};
use super::row::{Bite, Ray, Way, cut, helical, parts};
use super::tool::{Body, Part, Solid, bodies, solids};

/// A finished row, shown to the caller of [`carve`].
#[derive(Clone, Copy, Debug)]
pub struct NutRow<'a> {
    /// Index in the grid.
    pub index: usize,
    /// Its angle, from X+ towards Y+.
    pub angle_rad: f64,
    /// From the axis to the wood at each height, the bottom face first.
    pub radii_mm: &'a [f64],
}

/// What one motion cut.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct NutCut {
    /// Wood removed, mm³.
    pub removed_mm3: f64,
    /// Deepest bite measured along a ray.
    pub deepest_mm: f64,
    /// Height and angle of the deepest bite.
    pub deepest_at: Option<(f64, f64)>,
}

/// Something that a motion did where it should not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Astray {
    /// Which motion.
    pub motion: usize,
    /// Height of the place.
    pub z_mm: f64,
    /// Its angle.
    pub angle_rad: f64,
    /// How far.
    pub by_mm: f64,
    /// What.
    pub what: Trouble,
}

/// What went astray.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// A part of the cutter that does not cut stands in wood; how deep.
    Touches(Part),
    /// Wood was left between the hole and the cut; how much. The field then no longer tells the hole.
    Buried,
    /// The side of the block was broken through; how deep the bite was.
    Through,
}

/// All that a carve found out.
#[derive(Clone, Debug)]
pub struct NutCarved<T> {
    /// The grid it was carved on.
    pub grid: NutGrid,
    /// One entry for each motion.
    pub cuts: Vec<NutCut>,
    /// What went astray: of each kind and motion the worst place, in the order of the program.
    pub astray: Vec<Astray>,
    /// Least gap, along a ray, between the cutter and wood in a rapid motion, with the motion.
    pub gap: Option<(f64, usize)>,
    /// What the caller kept of each row, in order.
    pub rows: Vec<T>,
}

/// A program that ran before, with the set-up it ran in. The block is that of the first.
#[derive(Clone, Copy, Debug)]
pub struct NutFormer<'a> {
    /// Its motions.
    pub motions: &'a [Motion],
    /// Its cutter.
    pub setup: &'a NutSetup,
}

/// Rows are handed out in this many parcels, whatever the number of processors, so that sums come out the same.
const PARCELS: usize = 32;
/// One row in so many millimetres round the wall is felt for necks, shanks and gaps.
const FELT_EVERY_MM: f64 = 1.5;
/// Helices whose radius or climb differ by less than this are cut by one table, mm and mm a radian: it holds the best
/// moments, near which the reach is flat.
const ALIKE_MM: f64 = 1e-3;

/// A leg made ready.
struct Sweep {
    leg: Leg,
    ways: Vec<(Solid, Way)>,
    bodies: Vec<Body>,
    /// How many parts bodies are felt in.
    parts: usize,
    /// What cuts reaches no farther from the axis than this; nor do the bodies.
    reach: f64,
}

struct Bench<'a> {
    grid: NutGrid,
    setup: &'a NutSetup,
    hole_mm: f64,
    former: Vec<Sweep>,
    sweeps: Vec<Sweep>,
    motions: usize,
    felt_every: usize,
}

/// What one parcel of rows gathered.
struct Parcel<T> {
    cuts: Vec<NutCut>,
    astray: BTreeMap<(usize, u8), Astray>,
    gap: Option<(f64, usize)>,
    rows: Vec<T>,
}

/// Carves motions out of the block of a set-up, or out of what `former` programs left of it, each with its own cutter.
/// With former programs, the block and its hole are those of the first of them.
///
/// `look` is shown every finished row and keeps of it what it wants. The same input gives the same result to the last bit.
pub fn carve<T: Send>(
    former: &[NutFormer<'_>],
    motions: &[Motion],
    setup: &NutSetup,
    grid: NutGrid,
    look: impl Fn(NutRow<'_>) -> Option<T> + Sync,
) -> NutCarved<T> {
    let block = former.first().map_or(setup.block, |first| first.setup.block);
    let hole_mm = block.hole_diameter_mm.map_or(0.0, |diameter| diameter / 2.0);
    let ready = |motions: &[Motion], setup: &NutSetup| sweeps(motions, setup, &grid, hole_mm);
    let former = former.iter().flat_map(|one| ready(one.motions, one.setup)).collect();
    let sweeps = ready(motions, setup);
    let felt = FELT_EVERY_MM / (TAU * hole_mm.max(1.0) / grid.rows as f64);
    let bench = Bench {
        grid,
        setup,
        hole_mm,
        former,
        sweeps,
        motions: motions.len(),
        felt_every: (felt as usize).max(1),
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

/// Makes legs ready. Those that reach neither wood nor its height are left out, but for rapid moves and what their bodies
/// may touch.
fn sweeps(motions: &[Motion], setup: &NutSetup, grid: &NutGrid, hole_mm: f64) -> Vec<Sweep> {
    let (solids, bodies) = (solids(&setup.tool), bodies(&setup.tool));
    let mut tables: BTreeMap<(usize, i64, i64), Arc<Helix>> = BTreeMap::new();
    let mut all = Vec::new();
    for leg in legs(motions) {
        let [low, high] = leg.heights();
        let farthest = leg.farthest();
        // The field begins at the hole, so what stays inside it touches nothing.
        let near_wood = |solid: &Solid| {
            let stands = low + solid.low_mm <= 0.0 && grid.from_z_mm <= high + solid.high_mm;
            stands && farthest + solid.radius_mm > hole_mm
        };
        let mut ways = Vec::new();
        for (which, solid) in solids.iter().enumerate().filter(|(_, solid)| near_wood(solid)) {
            let way = match helical(&leg) {
                Some([radius, climb]) => {
                    let key = (which, (radius / ALIKE_MM).round() as i64, (climb / ALIKE_MM).round() as i64);
                    let table = tables
                        .entry(key)
                        .or_insert_with(|| Arc::new(Helix::of(solid, radius, climb, hole_mm)));
                    Way::Helix(Arc::clone(table), climb)
                }
                None => Way::Search(parts(&leg)),
            };
            ways.push((*solid, way));
        }
        let touching: Vec<Body> = bodies.iter().filter(|body| near_wood(&body.solid)).copied().collect();
        if ways.is_empty() && touching.is_empty() && leg.kind != Kind::Rapid {
            continue;
        }
        let reach = farthest + solids.iter().map(|solid| solid.radius_mm).fold(0.0, f64::max);
        all.push(Sweep { parts: parts(&leg), leg, ways, bodies: touching, reach });
    }
    all
}

impl Bench<'_> {
    fn carve_rows<T>(
        &self,
        rows: Range<usize>,
        look: &(impl Fn(NutRow<'_>) -> Option<T> + Sync),
    ) -> Parcel<T> {
        let mut parcel = Parcel {
            cuts: vec![NutCut::default(); self.motions],
            astray: BTreeMap::new(),
            gap: None,
            rows: Vec::new(),
        };
        let block = self.setup.block;
        let half_block = [block.along_grain_mm / 2.0, block.across_grain_mm / 2.0];
        let mut radii = vec![0.0; self.grid.heights];
        for index in rows {
            let ray = Ray::at(self.grid.angle_rad(index), half_block);
            radii.fill(self.hole_mm.min(ray.limit));
            for sweep in &self.former {
                for (solid, way) in &sweep.ways {
                    cut(&mut radii, (&sweep.leg, solid, way), &self.grid, &ray, &mut Bite::default());
                }
            }
            let felt = index % self.felt_every == 0;
            for sweep in &self.sweeps {
                if felt && sweep.leg.kind == Kind::Rapid {
                    self.measure_gap(&radii, sweep, &ray, &mut parcel.gap);
                }
                self.cut_row(&mut radii, sweep, &ray, &mut parcel);
                if felt {
                    self.feel(&radii, sweep, &ray, &mut parcel);
                }
            }
            parcel.rows.extend(look(NutRow { index, angle_rad: ray.angle, radii_mm: &radii }));
        }
        parcel
    }

    fn cut_row<T>(&self, radii: &mut [f64], sweep: &Sweep, ray: &Ray, parcel: &mut Parcel<T>) {
        let cell = 0.5 * self.grid.step_mm * TAU / self.grid.rows as f64;
        let last = radii.len() - 1;
        for (solid, way) in &sweep.ways {
            let ends = [radii[0], radii[last]];
            let mut bite = Bite::default();
            cut(radii, (&sweep.leg, solid, way), &self.grid, ray, &mut bite);
            if bite.deepest == 0.0 {
                continue;
            }
            let total = &mut parcel.cuts[sweep.leg.motion];
            // The first and the last height stand for half a cell each.
            let square = |before: f64, after: f64| 0.5 * (after - before) * (after + before);
            let over = square(ends[0], radii[0]) + square(ends[1], radii[last]);
            total.removed_mm3 += (bite.squares - over) * cell;
            if bite.deepest > total.deepest_mm {
                total.deepest_mm = bite.deepest;
                total.deepest_at = Some((self.grid.z_mm(bite.column), ray.angle));
            }
            let place = |what, by_mm, column| Astray {
                motion: sweep.leg.motion,
                z_mm: self.grid.z_mm(column),
                angle_rad: ray.angle,
                by_mm,
                what,
            };
            if let Some((left, column)) = bite.buried {
                note(&mut parcel.astray, place(Trouble::Buried, left, column));
            }
            if let Some(column) = bite.through {
                note(&mut parcel.astray, place(Trouble::Through, bite.deepest, column));
            }
        }
    }

    /// Feels whether a part that does not cut stands in wood after a leg.
    fn feel<T>(&self, radii: &[f64], sweep: &Sweep, ray: &Ray, parcel: &mut Parcel<T>) {
        let [low, high] = sweep.leg.heights();
        for body in &sweep.bodies {
            for column in self.grid.columns(low + body.solid.low_mm, high + body.solid.high_mm) {
                let Some(reach) = self.reach(sweep, &body.solid, ray, column) else { continue };
                if reach > radii[column] {
                    let found = Astray {
                        motion: sweep.leg.motion,
                        z_mm: self.grid.z_mm(column),
                        angle_rad: ray.angle,
                        by_mm: reach - radii[column],
                        what: Trouble::Touches(body.part),
                    };
                    note(&mut parcel.astray, found);
                }
            }
        }
    }

    /// How far a solid reaches at a column while a leg runs.
    fn reach(&self, sweep: &Sweep, solid: &Solid, ray: &Ray, column: usize) -> Option<f64> {
        let (z, parts) = (self.grid.z_mm(column), sweep.parts as f64);
        (0..sweep.parts)
            .filter_map(|part| {
                let part = [part as f64 / parts, (part + 1) as f64 / parts];
                ray.reach(&sweep.leg, solid, z, part).map(|(reach, _)| reach)
            })
            .reduce(f64::max)
    }

    fn measure_gap(&self, radii: &[f64], sweep: &Sweep, ray: &Ray, gap: &mut Option<(f64, usize)>) {
        let [low, high] = sweep.leg.heights();
        for solid in solids(&self.setup.tool) {
            for column in self.grid.columns(low + solid.low_mm, high + solid.high_mm) {
                let least = gap.map_or(f64::INFINITY, |(least, _)| least);
                if radii[column] - sweep.reach >= least {
                    continue;
                }
                if let Some(reach) = self.reach(sweep, &solid, ray, column)
                    && radii[column] - reach < least
                {
                    *gap = Some((radii[column] - reach, sweep.leg.motion));
                }
            }
        }
    }

    fn gather<T>(&self, parcels: Vec<Parcel<T>>) -> NutCarved<T> {
        let mut cuts = vec![NutCut::default(); self.motions];
        let (mut astray, mut gap, mut rows) = (BTreeMap::new(), None, Vec::new());
        for parcel in parcels {
            for (total, part) in cuts.iter_mut().zip(parcel.cuts) {
                total.removed_mm3 += part.removed_mm3;
                if part.deepest_mm > total.deepest_mm {
                    total.deepest_mm = part.deepest_mm;
                    total.deepest_at = part.deepest_at;
                }
            }
            for found in parcel.astray.into_values() {
                note(&mut astray, found);
            }
            let nearer = |(least, _): (f64, usize)| parcel.gap.is_some_and(|(part, _)| part < least);
            if gap.is_none_or(nearer) {
                gap = parcel.gap;
            }
            rows.extend(parcel.rows);
        }
        NutCarved { grid: self.grid, cuts, astray: astray.into_values().collect(), gap, rows }
    }
}

/// Keeps the worst place of each kind and motion.
fn note(astray: &mut BTreeMap<(usize, u8), Astray>, found: Astray) {
    let kind = match found.what {
        Trouble::Buried => 0,
        Trouble::Through => 1,
        Trouble::Touches(part) => 2 + part as u8,
    };
    let worst = astray.entry((found.motion, kind)).or_insert(found);
    if found.by_mm > worst.by_mm {
        *worst = found;
    }
}
