//! What is turned or milled beside the thread, against its stretches on the drawing: highest and lowest surface round
//! the piece, station by station. Works from radii only. Lengths in mm, angles in radians.

use std::f64::consts::TAU;
use std::ops::Range;
use std::sync::{Mutex, PoisonError};

use serde::Serialize;

use crate::drawing::{Drawing, FlatsDrawn, OutlinePoint, Stretch};
use crate::finding::{Finding, proof as code};
use crate::stock::Grid;

use super::Case;
use super::sizes::on_wood;
use super::skyline::Skyline;
use super::sure::SINGLE_PRECISION_MM;

/// What one row shows of one stretch.
#[derive(Clone, Debug)]
pub(crate) struct StretchSeen {
    /// How far wood stands proud of the outline at most, and where; negative where it lies below everywhere.
    over: [f64; 2],
    /// How far wood lies below it at most, and where.
    under: [f64; 2],
    /// Least and greatest radius; across flats, brought back to the middle of the flat.
    radius: [f64; 2],
}

/// A turned or milled stretch as measured.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Turned {
    /// Its name on the drawing.
    pub name: &'static str,
    /// Where it begins.
    pub from_s_mm: f64,
    /// Where it ends.
    pub to_s_mm: f64,
    /// Flats, or none for a round stretch.
    pub flats: Option<u32>,
    /// Least diameter, or least distance across flats.
    pub least_mm: f64,
    /// Greatest.
    pub greatest_mm: f64,
    /// What the drawing wants, least and greatest.
    pub drawn_mm: [f64; 2],
    /// How far wood stands proud at most, on the radius.
    pub over_mm: f64,
    /// How far it is cut too deep at most, on the radius.
    pub under_mm: f64,
    /// How far these figures may be off.
    pub sure_mm: f64,
}

/// The stretches of a drawing as they lie on a grid. No thread crosses flats.
#[derive(Debug)]
pub(crate) struct Outlines(Vec<Outline>);

#[derive(Debug)]
struct Outline {
    columns: Range<usize>,
    /// Its radius at each of them.
    radii: Vec<f32>,
    /// Where the thread crosses it: the greatest radius there of all rows read so far. What is greatest does not hang on
    /// the order in which they are.
    highest: Option<Mutex<Vec<f32>>>,
}

impl Outlines {
    pub(crate) fn of(drawing: &Drawing, grid: &Grid) -> Outlines {
        let one = |stretch: &Stretch| {
            let columns = columns(stretch, grid);
            let at = |column| outline_at(&stretch.points, grid.station_mm(column)) as f32;
            let radii: Vec<f32> = columns.clone().map(at).collect();
            let crossed = stretch.threaded && stretch.flats.is_none();
            let highest = crossed.then(|| Mutex::new(vec![f32::NEG_INFINITY; radii.len()]));
            Outline { columns, radii, highest }
        };
        Outlines(drawing.stretches.iter().map(one).collect())
    }
}

/// Reads every stretch of a drawing off a row.
pub(crate) fn read(
    drawing: &Drawing,
    outlines: &Outlines,
    grid: &Grid,
    skyline: &Skyline<'_>,
    angle_rad: f64,
) -> Vec<StretchSeen> {
    let one = |(stretch, outline): (&Stretch, &Outline)| match stretch.flats {
        Some(flats) => seen_on_flats(flats, outline, grid, skyline, angle_rad),
        None => seen(outline, grid, skyline),
    };
    drawing.stretches.iter().zip(&outlines.0).map(one).collect()
}

fn seen(outline: &Outline, grid: &Grid, skyline: &Skyline<'_>) -> StretchSeen {
    let columns = outline.columns.clone();
    let radii = &skyline.radii()[columns.clone()];
    if let Some(highest) = &outline.highest {
        let mut highest = highest.lock().unwrap_or_else(PoisonError::into_inner);
        for ((high, radius), round) in highest.iter_mut().zip(radii).zip(&outline.radii) {
            let off = radius - round;
            *high = if off > *high { off } else { *high };
        }
    }
    let place = |(off, place): (f32, usize)| [f64::from(off), grid.station_mm(columns.start + place)];
    let [over, under] = farthest(radii, &outline.radii);
    let of = |extreme: Option<(f32, usize)>, none: f32| f64::from(extreme.map_or(none, |(radius, _)| radius));
    let radius = [of(skyline.least(columns.clone()), f32::INFINITY), of(skyline.most(columns.clone()), 0.0)];
    StretchSeen { over: place(over), under: place(under), radius }
}

fn seen_on_flats(
    flats: FlatsDrawn,
    outline: &Outline,
    grid: &Grid,
    skyline: &Skyline<'_>,
    angle_rad: f64,
) -> StretchSeen {
    let cosine = off_flat(flats, angle_rad).cos();
    let flat = flats.from_axis_mm / cosine;
    let mut seen = StretchSeen {
        over: [f64::NEG_INFINITY, 0.0],
        under: [f64::NEG_INFINITY, 0.0],
        radius: [f64::INFINITY, 0.0],
    };
    let radii = &skyline.radii()[outline.columns.clone()];
    for ((column, &radius), &round) in outline.columns.clone().zip(radii).zip(&outline.radii) {
        let (radius, round) = (f64::from(radius), f64::from(round));
        let on_flat = flat < round;
        let off = radius - if on_flat { flat } else { round };
        if off > seen.over[0] {
            seen.over = [off, grid.station_mm(column)];
        }
        if -off > seen.under[0] {
            seen.under = [-off, grid.station_mm(column)];
        }
        // Only what lies on a flat tells how far the flats stand from each other.
        if on_flat {
            let told = radius * cosine;
            seen.radius = [seen.radius[0].min(told), seen.radius[1].max(told)];
        }
    }
    seen
}

/// Lanes compared side by side, so that the compiler can use vector units.
const LANES: usize = 8;
/// Stations that are compared before the place of the farthest is sought among them.
const PART: usize = 256;

/// How far radii stand proud of an outline and below it at most, each with the first place at which they do.
fn farthest(radii: &[f32], outline: &[f32]) -> [(f32, usize); 2] {
    let mut far = [(f32::NEG_INFINITY, 0); 2];
    for (nth, (radii, outline)) in radii.chunks(PART).zip(outline.chunks(PART)).enumerate() {
        let (mut high, mut low) = ([f32::NEG_INFINITY; LANES], [f32::INFINITY; LANES]);
        let mut look = |lane: usize, off: f32| {
            high[lane] = if off > high[lane] { off } else { high[lane] };
            low[lane] = if off < low[lane] { off } else { low[lane] };
        };
        let (whole, rounds) = (radii.chunks_exact(LANES), outline.chunks_exact(LANES));
        let rest = whole.remainder().iter().zip(rounds.remainder());
        for (radii, outline) in whole.zip(rounds) {
            for lane in 0..LANES {
                look(lane, radii[lane] - outline[lane]);
            }
        }
        rest.for_each(|(radius, round)| look(0, radius - round));
        let first =
            |wanted: f32| radii.iter().zip(outline).position(|(radius, round)| radius - round == wanted);
        let high = high.into_iter().fold(f32::NEG_INFINITY, f32::max);
        let low = low.into_iter().fold(f32::INFINITY, f32::min);
        for (far, (off, value)) in far.iter_mut().zip([(high, high), (-low, low)]) {
            if off > far.0 {
                *far = (off, nth * PART + first(value).unwrap_or(0));
            }
        }
    }
    far
}

/// Columns of a stretch, one cell inside its ends.
fn columns(stretch: &Stretch, grid: &Grid) -> std::ops::Range<usize> {
    let (Some(first), Some(last)) = (stretch.points.first(), stretch.points.last()) else { return 0..0 };
    grid.columns(first.s_mm + grid.step_mm, last.s_mm - grid.step_mm)
}

/// Angle to the middle of the nearest flat.
fn off_flat(flats: FlatsDrawn, angle: f64) -> f64 {
    let step = TAU / f64::from(flats.count);
    let turned = angle.rem_euclid(step);
    turned.min(step - turned)
}

/// Radius of an outline at a station, straight between its points.
fn outline_at(points: &[OutlinePoint], s_mm: f64) -> f64 {
    let above = points.partition_point(|point| point.s_mm < s_mm);
    match (above.checked_sub(1).and_then(|below| points.get(below)), points.get(above)) {
        (Some(a), Some(b)) if b.s_mm > a.s_mm => {
            a.r_mm + (b.r_mm - a.r_mm) * (s_mm - a.s_mm) / (b.s_mm - a.s_mm)
        }
        (_, Some(only)) | (Some(only), None) => only.r_mm,
        (None, None) => 0.0,
    }
}

/// Compares every stretch with the drawing; the figures and what speaks against them.
pub(super) fn check(case: &Case<'_>) -> (Vec<Turned>, Vec<Finding>) {
    let mut turned = Vec::new();
    let mut findings = Vec::new();
    for (index, stretch) in case.drawing.stretches.iter().enumerate() {
        let Some(gauge) = Gauge::of(case, index) else { continue };
        findings.extend(gauge.judge(case, stretch));
        turned.push(gauge.turned(stretch));
    }
    (turned, findings)
}

/// One stretch over all rows.
struct Gauge {
    over: [f64; 3],
    under: [f64; 3],
    radius: [f64; 2],
}

impl Gauge {
    fn of(case: &Case<'_>, index: usize) -> Option<Gauge> {
        let rows = || case.carved.rows.iter().filter_map(|row| Some((row.turned.get(index)?, row.angle)));
        let mut gauge = Gauge {
            over: [f64::NEG_INFINITY, 0.0, 0.0],
            under: [f64::NEG_INFINITY, 0.0, 0.0],
            radius: [f64::INFINITY, 0.0],
        };
        for (seen, angle) in rows() {
            if seen.over[0] > gauge.over[0] {
                gauge.over = [seen.over[0], seen.over[1], angle];
            }
            if seen.under[0] > gauge.under[0] {
                gauge.under = [seen.under[0], seen.under[1], angle];
            }
            gauge.radius = [gauge.radius[0].min(seen.radius[0]), gauge.radius[1].max(seen.radius[1])];
        }
        if let Some(highest) = &case.outlines.0.get(index)?.highest {
            gauge.under = highest_below(case, index, highest)?;
        }
        gauge.over[0].is_finite().then_some(gauge)
    }

    fn judge(&self, case: &Case<'_>, stretch: &Stretch) -> Vec<Finding> {
        let unit = case.drawing.unit;
        let mut findings = Vec::new();
        let [over, s_mm, angle] = self.over;
        if over > stretch.over_mm + SINGLE_PRECISION_MM {
            findings.push(
                Finding::new(
                    &code::WOOD_LEFT,
                    format!(
                        "{}: wood stands {} proud of the drawing, {} from the nose",
                        stretch.name,
                        unit.show(over),
                        unit.show(s_mm)
                    ),
                )
                .values(over, 0.0)
                .spot(on_wood(s_mm, angle, None))
                .help("a level or a part of one is missing, or an earlier program was not run"),
            );
        }
        let [under, s_mm, angle] = self.under;
        if under > stretch.under_mm + SINGLE_PRECISION_MM {
            findings.push(
                Finding::new(
                    &code::WOOD_GONE,
                    format!(
                        "{}: cut {} deeper than the drawing, {} from the nose",
                        stretch.name,
                        unit.show(under),
                        unit.show(s_mm)
                    ),
                )
                .values(under, 0.0)
                .spot(on_wood(s_mm, angle, None))
                .help("check the Z of the lowest level, where Z0 lies, and whether the wood was meant to stay here"),
            );
        }
        findings
    }

    fn turned(&self, stretch: &Stretch) -> Turned {
        let radii = stretch.points.iter().map(|point| point.r_mm);
        let drawn = stretch.flats.map_or_else(
            || radii.fold([f64::INFINITY, 0.0], |[least, most], r| [least.min(2.0 * r), most.max(2.0 * r)]),
            |flats| [2.0 * flats.from_axis_mm; 2],
        );
        Turned {
            name: stretch.name,
            from_s_mm: stretch.points.first().map_or(0.0, |point| point.s_mm),
            to_s_mm: stretch.points.last().map_or(0.0, |point| point.s_mm),
            flats: stretch.flats.map(|flats| flats.count),
            least_mm: 2.0 * self.radius[0],
            greatest_mm: 2.0 * self.radius[1],
            drawn_mm: drawn,
            over_mm: self.over[0].max(0.0),
            under_mm: self.under[0].max(0.0),
            sure_mm: 2.0 * SINGLE_PRECISION_MM,
        }
    }
}

/// Where the thread crosses a stretch only what stands highest at a station is compared: how far that lies below the
/// outline at most, and its station.
fn highest_below(case: &Case<'_>, index: usize, highest: &Mutex<Vec<f32>>) -> Option<[f64; 3]> {
    let columns = &case.outlines.0.get(index)?.columns;
    let highest = highest.lock().unwrap_or_else(PoisonError::into_inner);
    let (column, lowest) = columns.clone().zip(highest.iter()).min_by(|a, b| a.1.total_cmp(b.1))?;
    Some([-f64::from(*lowest), case.carved.grid.station_mm(column), 0.0])
}
