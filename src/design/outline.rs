//! What must stand after each operation, as plain data for the proof: stretches of the piece with their outlines, and
//! where it may be thinner than the thread's core.

use super::steps::{Feature, Operation, Places};
use super::{Screw, drawing};
use crate::drawing::{Drawing, FlatsDrawn, OutlinePoint, Stretch, Thin, Threading};
use crate::job::{BlankAsked, Job, NoseShape};
use crate::setup::BlankShape;

/// How far a turned radius may be off, mm: 0.02 mm of diameter, of which a program with three decimals rounds away a
/// twentieth.
const TURNED_MM: f64 = 0.01;
/// How far a tapered or rounded nose may stand proud, mm: it is cut in steps that are then sanded.
const STEPS_MM: f64 = 0.15;
/// How far it may be cut too deep, mm: less than sanding takes.
const SANDED_MM: f64 = 0.05;
/// How far a chamfer may be off, mm.
const CHAMFER_MM: f64 = 0.05;
/// Distance from a corner of the outline within which nothing is judged, mm: a few cells of the proof's grid.
const CORNER_MM: f64 = 0.5;
/// Stations round a ring in which the piece may be as thin as the ring, mm beyond its edges.
const RING_EDGE_MM: f64 = 0.5;
/// Air between run-out and the plain part behind it that is judged, mm.
const BEHIND_RUN_OUT_MM: f64 = 1.0;
/// A blank this near the crest diameter is judged as turned, mm.
const AS_TURNED_MM: f64 = 0.01;

/// What has been done so far.
#[derive(Clone, Debug, Default)]
pub(super) struct Done {
    pub(super) operations: Vec<Operation>,
    features: Vec<(Operation, Feature)>,
}

impl Done {
    pub(super) fn add(&mut self, operation: Operation, features: &[Feature]) {
        self.operations.push(operation);
        self.features.extend(features.iter().map(|feature| (operation, feature.clone())));
    }

    fn has(&self, operation: Operation) -> bool {
        self.operations.contains(&operation)
    }
}

/// Axis to flat and number of corners, for a blank that has corners.
pub(super) fn corners(blank: &BlankAsked) -> Option<(f64, u32)> {
    match blank.shape {
        BlankShape::Round => None,
        BlankShape::Square => Some((blank.size_mm / 2.0, 4)),
        BlankShape::Octagon => Some((blank.size_mm / 2.0, 8)),
    }
}

/// Half the width of a flat: to where its neighbour begins, or to where it leaves the round it is cut from.
pub(super) fn half_flat(count: u32, from_axis_mm: f64, round_mm: f64) -> f64 {
    let to_corner = from_axis_mm * (std::f64::consts::PI / f64::from(count)).tan();
    to_corner.min((round_mm * round_mm - from_axis_mm * from_axis_mm).max(0.0).sqrt())
}

/// How far from shoulder and far end the sides of a flat stand proud, since the end of a cutter is round; mm.
pub(super) fn hollow_mm(job: &Job) -> f64 {
    let flats = job.operations.tenon.as_ref().and_then(|tenon| Some((tenon, tenon.flats?)));
    flats.map_or(0.0, |(tenon, flats)| {
        let radius = tenon.tooling.cutter.as_ref().map_or(0.0, |cutter| cutter.cutting_diameter_mm / 2.0);
        let half = half_flat(flats.count, flats.across_mm / 2.0, tenon.diameter_mm / 2.0).min(radius);
        radius - (radius * radius - half * half).sqrt()
    })
}

/// The drawing that must be met after the operations done so far, the last of which is `operation`.
pub(super) fn after(job: &Job, screw: &Screw, operation: Operation, done: &Done) -> Drawing {
    let places = Places::of(job, screw);
    let plain = drawing(job, screw);
    let nose = done_nose(job, done);
    let relief = done.has(Operation::Relief);
    let thread = match operation {
        Operation::Thread => Threading::Here,
        _ if done.has(Operation::Thread) => Threading::Before,
        _ => Threading::Later,
    };
    // Half a pitch of the first full groove lies before its middle.
    let full_from_s_mm = nose.map_or(plain.full_from_s_mm, |nose| nose + job.screw.pitch_mm / 2.0);
    let read_to = if relief { places.full_to } else { plain.read_s_mm[1] };
    Drawing {
        full_from_s_mm,
        thread,
        read_s_mm: [nose.unwrap_or(f64::NEG_INFINITY), read_to],
        ends_in_relief: relief,
        stretches: stretches(job, screw, &places, done),
        thin: thin(job, screw, &places, done),
        ..plain
    }
}

/// Length of the nose's shape, if it is cut already. A saw line in the waste ends at the nose face.
fn done_nose(job: &Job, done: &Done) -> Option<f64> {
    let line = |(operation, feature): &(Operation, Feature)| {
        *operation == Operation::Marks && matches!(feature, Feature::Ring { s_mm, .. } if *s_mm < 0.0)
    };
    if done.features.iter().any(line) {
        return Some(0.0);
    }
    let shape = job.operations.nose.as_ref()?.shape;
    let cut = match shape {
        NoseShape::Chamfer { .. } => done.has(Operation::Chamfer),
        _ => done.has(Operation::Nose),
    };
    cut.then_some(match shape {
        NoseShape::Taper { length_mm } | NoseShape::Chamfer { length_mm } => length_mm,
        NoseShape::RoundOver { radius_mm } => radius_mm,
    })
}

fn cylinder(name: &'static str, from: f64, to: f64, r_mm: f64) -> Option<Stretch> {
    let (from, to) = (from + CORNER_MM, to - CORNER_MM);
    (from < to).then(|| Stretch {
        name,
        points: vec![OutlinePoint { s_mm: from, r_mm }, OutlinePoint { s_mm: to, r_mm }],
        flats: None,
        threaded: false,
        over_mm: TURNED_MM,
        under_mm: TURNED_MM,
    })
}

fn stretches(job: &Job, screw: &Screw, places: &Places, done: &Done) -> Vec<Stretch> {
    let mut all = bars(job, screw, places, done);
    for (operation, feature) in &done.features {
        match (operation, feature) {
            (Operation::Nose, Feature::Profile { points }) => {
                all.push(Stretch {
                    name: "nose",
                    points: points.clone(),
                    flats: None,
                    threaded: done.has(Operation::Thread),
                    over_mm: STEPS_MM,
                    under_mm: SANDED_MM,
                });
            }
            (Operation::Chamfer, _) => all.extend(chamfer(job, places)),
            (Operation::Relief, Feature::Turn { from_s_mm: Some(from), to_s_mm, to_r_mm, .. }) => {
                all.extend(cylinder("relief groove", *from, *to_s_mm, *to_r_mm));
            }
            (Operation::Garter, Feature::Turn { from_s_mm: Some(from), to_s_mm, to_r_mm, .. }) => {
                all.extend(cylinder("garter groove", *from, *to_s_mm, *to_r_mm));
            }
            (Operation::Tenon, Feature::Turn { from_s_mm: Some(from), to_r_mm, .. }) => {
                let flats = job.operations.tenon.as_ref().is_some_and(|tenon| tenon.flats.is_some());
                all.extend(cylinder("tenon", *from, places.head, *to_r_mm).filter(|_| !flats));
            }
            (Operation::Tenon, Feature::Flats { count, from_axis_mm, from_s_mm, from_r_mm, .. }) => {
                let hollow = hollow_mm(job);
                let flats = FlatsDrawn { count: *count, from_axis_mm: *from_axis_mm };
                let round = cylinder("tenon", from_s_mm + hollow, places.head, *from_r_mm);
                all.extend(round.map(|stretch| Stretch { flats: Some(flats), ..stretch }));
            }
            _ => {}
        }
    }
    if let Some(Feature::Turn { to_s_mm, to_r_mm, .. }) = spigot(job, done) {
        all.extend(cylinder("plain nose", 0.0, *to_s_mm, *to_r_mm));
    }
    all
}

/// The spigot at the nose, where rounding turned one.
fn spigot<'d>(job: &Job, done: &'d Done) -> Option<&'d Feature> {
    let mut rounds = done.features.iter().filter(|(operation, _)| *operation == Operation::Round);
    rounds.nth(1).map(|(_, feature)| feature).filter(|_| job.screw.plain_nose_mm > 0.0)
}

fn chamfer(job: &Job, places: &Places) -> Option<Stretch> {
    let nose = job.operations.nose.as_ref()?;
    let NoseShape::Chamfer { length_mm } = nose.shape else { return None };
    let cutter = nose.tooling.cutter.as_ref().unwrap_or(&job.cutter);
    let slope = 1.0 / super::shape::Shape::of(cutter).tan_half();
    let at = |s_mm: f64| OutlinePoint { s_mm, r_mm: places.crest_r - (length_mm - s_mm) * slope };
    Some(Stretch {
        name: "chamfer",
        points: vec![at(0.0), at(length_mm)],
        flats: None,
        threaded: true,
        over_mm: CHAMFER_MM,
        under_mm: CHAMFER_MM,
    })
}

/// The parts that stand at the crest diameter and carry no thread, as far as they were turned.
fn bars(job: &Job, screw: &Screw, places: &Places, done: &Done) -> Vec<Stretch> {
    let near = (job.blank.size_mm / 2.0 - places.crest_r).abs() <= AS_TURNED_MM;
    let is_round = job.blank.shape == BlankShape::Round && near;
    if !(done.has(Operation::Round) || is_round) {
        return Vec::new();
    }
    let threaded = done.has(Operation::Thread);
    let behind = places.run_out_to + screw.crest_width_mm / 2.0 + BEHIND_RUN_OUT_MM;
    let (name, from) = if threaded { ("plain head", behind) } else { ("round", places.tail) };
    let mut cuts: Vec<[f64; 2]> = done.features.iter().filter_map(|done| taken(job, places, done)).collect();
    cuts.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut bars = Vec::new();
    let mut at = from;
    for [begin, end] in cuts {
        bars.extend(cylinder(name, at, begin.min(places.end), places.crest_r));
        at = at.max(end);
    }
    bars.extend(cylinder(name, at, places.end, places.crest_r));
    bars
}

/// Where a feature took the crest away.
fn taken(job: &Job, places: &Places, (operation, feature): &(Operation, Feature)) -> Option<[f64; 2]> {
    match feature {
        Feature::Turn { to_r_mm, .. } if *to_r_mm >= places.crest_r => None,
        Feature::Turn { from_s_mm, to_s_mm, .. } => Some([from_s_mm.unwrap_or(places.tail), *to_s_mm]),
        Feature::Profile { points } => Some([places.tail, points.last()?.s_mm]),
        Feature::Ring { s_mm, to_r_mm, .. } => {
            let half = ring_half(job, *operation, places.crest_r - to_r_mm);
            Some([s_mm - half, s_mm + half])
        }
        Feature::Flats { from_s_mm, to_s_mm, .. } => Some([*from_s_mm, *to_s_mm]),
        Feature::Thread => None,
    }
}

fn ring_half(job: &Job, operation: Operation, depth_mm: f64) -> f64 {
    let asked = &job.operations;
    let cutter = match operation {
        Operation::Chamfer => asked.nose.as_ref().and_then(|nose| nose.tooling.cutter.as_ref()),
        _ => asked.marks.as_ref().and_then(|marks| marks.tooling.cutter.as_ref()),
    };
    super::shape::Shape::of(cutter.unwrap_or(&job.cutter)).radius_at(depth_mm)
}

fn thin(job: &Job, screw: &Screw, places: &Places, done: &Done) -> Vec<Thin> {
    let edge = |from: f64, to: f64, r_mm: f64| Thin {
        from_s_mm: from - RING_EDGE_MM,
        to_s_mm: to + RING_EDGE_MM,
        r_mm,
    };
    let thin = |(operation, feature): &(Operation, Feature)| {
        let [from, to] = taken(job, places, &(*operation, feature.clone()))?;
        let least = match feature {
            Feature::Turn { to_r_mm, .. } | Feature::Ring { to_r_mm, .. } => *to_r_mm,
            Feature::Flats { from_axis_mm, .. } => *from_axis_mm,
            Feature::Profile { points } => {
                points.iter().map(|point| point.r_mm).fold(f64::INFINITY, f64::min)
            }
            Feature::Thread => return None,
        };
        (least < screw.root_radius_mm).then(|| edge(from, to, least))
    };
    done.features.iter().filter_map(thin).collect()
}
