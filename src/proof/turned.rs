//! What is turned or milled beside the thread, against its stretches on the drawing: highest and lowest surface round
//! the piece, station by station. Works from radii only. Lengths in mm, angles in radians.

use std::f64::consts::TAU;

use serde::Serialize;

use crate::drawing::{Drawing, FlatsDrawn, OutlinePoint, Stretch};
use crate::finding::{Finding, proof as code};
use crate::stock::{Grid, Row};

use super::Case;
use super::sizes::on_wood;
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
    /// Deviation at every station, kept only where the thread crosses the stretch.
    all: Vec<f32>,
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

/// The radii that the outlines of a drawing have at the stations of a grid, stretch by stretch.
#[derive(Clone, Debug)]
pub(crate) struct Outlines(Vec<Vec<f64>>);

impl Outlines {
    pub(crate) fn of(drawing: &Drawing, grid: &Grid) -> Outlines {
        let at = |stretch: &Stretch, column| outline_at(&stretch.points, grid.station_mm(column));
        let one = |stretch: &Stretch| columns(stretch, grid).map(|column| at(stretch, column)).collect();
        Outlines(drawing.stretches.iter().map(one).collect())
    }
}

/// Reads every stretch of a drawing off a row.
pub(crate) fn read(drawing: &Drawing, outlines: &Outlines, grid: &Grid, row: Row<'_>) -> Vec<StretchSeen> {
    drawing
        .stretches
        .iter()
        .zip(&outlines.0)
        .map(|(stretch, outline)| seen(stretch, outline, grid, row))
        .collect()
}

fn seen(stretch: &Stretch, outline: &[f64], grid: &Grid, row: Row<'_>) -> StretchSeen {
    let columns = columns(stretch, grid);
    let radii = &row.radii_mm[columns.clone()];
    let Some(flats) = stretch.flats else {
        let (over, under) = farthest(radii, outline);
        let place = |(off, place): (f64, usize)| [off, grid.station_mm(columns.start + place)];
        let radius = extremes(radii).map(f64::from);
        let off = |(&radius, round): (&f32, &f64)| (f64::from(radius) - round) as f32;
        let all = if stretch.threaded { radii.iter().zip(outline).map(off).collect() } else { Vec::new() };
        return StretchSeen { over: place(over), under: place(under), radius, all };
    };
    let cosine = off_flat(flats, row.angle_rad).cos();
    let flat = flats.from_axis_mm / cosine;
    let mut seen = StretchSeen {
        over: [f64::NEG_INFINITY, 0.0],
        under: [f64::NEG_INFINITY, 0.0],
        radius: [f64::INFINITY, 0.0],
        all: Vec::new(),
    };
    for ((column, &radius), &round) in columns.zip(radii).zip(outline) {
        let radius = f64::from(radius);
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
        if stretch.threaded {
            seen.all.push(off as f32);
        }
    }
    seen
}

/// Lanes compared side by side, so that the compiler can use vector units.
const LANES: usize = 8;

/// Least and greatest of some radii.
fn extremes(radii: &[f32]) -> [f32; 2] {
    let (mut least, mut most) = ([f32::INFINITY; LANES], [0.0_f32; LANES]);
    for radii in radii.chunks(LANES) {
        for ((least, most), &radius) in least.iter_mut().zip(&mut most).zip(radii) {
            *least = if radius < *least { radius } else { *least };
            *most = if radius > *most { radius } else { *most };
        }
    }
    [least.into_iter().fold(f32::INFINITY, f32::min), most.into_iter().fold(0.0, f32::max)]
}

/// How far radii stand proud of an outline and below it at most, each with the first place at which they do.
fn farthest(radii: &[f32], outline: &[f64]) -> ((f64, usize), (f64, usize)) {
    let off = |radius: f32, round: f64| f64::from(radius) - round;
    let (mut high, mut low) = ([f64::NEG_INFINITY; LANES], [f64::INFINITY; LANES]);
    let mut look = |lane: usize, off: f64| {
        high[lane] = if off > high[lane] { off } else { high[lane] };
        low[lane] = if off < low[lane] { off } else { low[lane] };
    };
    let (all, whole) = (radii.len().min(outline.len()), radii.len().min(outline.len()) / LANES * LANES);
    for (radii, outline) in radii[..whole].chunks_exact(LANES).zip(outline[..whole].chunks_exact(LANES)) {
        for lane in 0..LANES {
            look(lane, off(radii[lane], outline[lane]));
        }
    }
    for column in whole..all {
        look(0, off(radii[column], outline[column]));
    }
    let high = high.into_iter().fold(f64::NEG_INFINITY, f64::max);
    let low = low.into_iter().fold(f64::INFINITY, f64::min);
    let first = |wanted: f64| {
        let mut offs = radii.iter().zip(outline).map(|(&radius, &round)| off(radius, round));
        offs.position(|off| off == wanted).unwrap_or(0)
    };
    ((high, first(high)), (-low, first(low)))
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
        let Some(gauge) = Gauge::of(case, stretch, index) else { continue };
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
    fn of(case: &Case<'_>, stretch: &Stretch, index: usize) -> Option<Gauge> {
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
        if stretch.threaded {
            gauge.under = highest_below(case, stretch, index)?;
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
fn highest_below(case: &Case<'_>, stretch: &Stretch, index: usize) -> Option<[f64; 3]> {
    let grid = &case.carved.grid;
    let columns = columns(stretch, grid);
    let mut highest = vec![f32::NEG_INFINITY; columns.len()];
    for row in &case.carved.rows {
        let seen = row.turned.get(index)?;
        for (high, off) in highest.iter_mut().zip(&seen.all) {
            *high = high.max(*off);
        }
    }
    let lowest = highest.iter().enumerate().min_by(|a, b| a.1.total_cmp(b.1))?;
    Some([-f64::from(*lowest.1), grid.station_mm(columns.start + lowest.0), 0.0])
}
