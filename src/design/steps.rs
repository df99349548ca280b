//! The operations of a job in their order, one cutter to a step: what each takes away, the shop as it is then, and the
//! drawing that must be met after it. Plans no moves.
//!
//! Order: what a straight cutter does before the thread (round, nose, relief), the thread, what a V cutter does after it
//! (chamfer, saw lines), and last what weakens the head (garter, tenon), so that the thread is cut on a stiff piece.

use super::hand_over::least_feed;
use super::outline::{self, Done};
use super::{Screw, blank_radius_mm, drawing, setup};
use crate::drawing::{Drawing, OutlinePoint};
use crate::finding::{Finding, design as code};
use crate::job::{Job, NoseShape, Tooling};
use crate::setup::{Cutter, Setup};

/// How far below the root a plain nose is turned, mm on the radius: the thread's cutter runs over it without touching.
const BELOW_ROOT_MM: f64 = 0.5;
/// How far beyond the nose face a chamfer's flank reaches, mm, so that the saw does not leave a rim.
const PAST_FACE_MM: f64 = 0.5;
/// Distance from the axis that the tip of a chamfering cutter must keep, mm: the tail centre stands there.
const LEAST_TIP_MM: f64 = 6.0;
/// Points of a round-over.
const ROUND_STEPS: u32 = 48;
/// Agreement of lengths, mm: less than is measured with a rule.
const SAME_MM: f64 = 0.01;

/// What is done in one go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operation {
    /// Bring the blank to the crest diameter.
    Round,
    /// Taper or round the nose over.
    Nose,
    /// Groove for the end of the thread.
    Relief,
    /// The thread.
    Thread,
    /// Take the nose's edge off.
    Chamfer,
    /// Saw lines.
    Marks,
    /// Groove for the garter.
    Garter,
    /// Tenon, with its flats.
    Tenon,
}

impl Operation {
    /// Its name in files and lists.
    pub fn name(self) -> &'static str {
        match self {
            Operation::Round => "round",
            Operation::Nose => "nose",
            Operation::Relief => "relief",
            Operation::Thread => "thread",
            Operation::Chamfer => "chamfer",
            Operation::Marks => "marks",
            Operation::Garter => "garter",
            Operation::Tenon => "tenon",
        }
    }

    /// The table of the job that asks for it; empty for the thread.
    pub fn table(self) -> &'static str {
        match self {
            Operation::Thread => "",
            Operation::Chamfer => "nose",
            other => other.name(),
        }
    }
}

/// One thing that is taken away.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// Everything between two stations, down to a cylinder.
    Turn {
        /// Where it begins; nothing when it is open towards the tail end.
        from_s_mm: Option<f64>,
        /// The wall at which it ends.
        to_s_mm: f64,
        /// How far wood stands from the axis now; corners count.
        from_r_mm: f64,
        /// How far it shall stand.
        to_r_mm: f64,
        /// Distance from axis to flat of a square or octagon, and its number of corners: between the corners is air.
        corners: Option<(f64, u32)>,
    },
    /// A nose whose outline rises from the face towards the head.
    Profile {
        /// Its outline.
        points: Vec<OutlinePoint>,
    },
    /// A ring that a V cutter leaves.
    Ring {
        /// Station of the cutter's axis.
        s_mm: f64,
        /// How far wood stands from the axis now.
        from_r_mm: f64,
        /// Distance of the tip from the axis at full depth.
        to_r_mm: f64,
    },
    /// Flats, by turning the blank from one to the next.
    Flats {
        /// How many.
        count: u32,
        /// From axis to flat.
        from_axis_mm: f64,
        /// Shoulder.
        from_s_mm: f64,
        /// Far end.
        to_s_mm: f64,
        /// How far wood stands from the axis now.
        from_r_mm: f64,
    },
    /// The thread.
    Thread,
}

/// One program to write: operations that share a cutter.
#[derive(Clone, Debug)]
pub struct Step {
    /// The operations in order, each with what it takes away.
    pub operations: Vec<(Operation, Vec<Feature>)>,
    /// Speeds and levels.
    pub tooling: Tooling,
    /// The shop with this step's cutter.
    pub setup: Setup,
    /// What must stand after it.
    pub drawing: Drawing,
    /// What stands already when it begins.
    pub done: Vec<Operation>,
}

impl Step {
    /// Its name in a file's: `round`, or `round-relief` where two were joined.
    pub fn name(&self) -> String {
        self.operations.iter().map(|(operation, _)| operation.name()).collect::<Vec<_>>().join("-")
    }

    /// Whether it cuts the thread.
    pub fn has_thread(&self) -> bool {
        self.operations.iter().any(|(operation, _)| *operation == Operation::Thread)
    }
}

/// The places along a screw that operations work between, mm from the nose face.
#[derive(Clone, Copy, Debug)]
pub(super) struct Places {
    pub(super) tail: f64,
    pub(super) full_to: f64,
    pub(super) run_out_to: f64,
    pub(super) shoulder: f64,
    pub(super) head: f64,
    /// Where turning ends: past the head end by the saw's cut, or by what the round end of a cutter leaves beside flats.
    pub(super) end: f64,
    pub(super) crest_r: f64,
    pub(super) root_r: f64,
}

impl Places {
    pub(super) fn of(job: &Job, screw: &Screw) -> Places {
        let plain = drawing(job, screw);
        let tenon = job.operations.tenon.as_ref().map_or(0.0, |tenon| tenon.length_mm);
        Places {
            tail: -job.blank.waste_nose_mm,
            full_to: plain.full_to_s_mm,
            run_out_to: plain.run_out_to_s_mm,
            shoulder: plain.head_s_mm - tenon,
            head: plain.head_s_mm,
            end: plain.head_s_mm + job.blank.kerf_mm.max(outline::hollow_mm(job)),
            crest_r: screw.crest_radius_mm,
            root_r: screw.root_radius_mm,
        }
    }
}

/// The steps of a job, and what stands against them. `joined` puts neighbours that share cutter and speed into one.
/// A job without operations has one step: the thread.
pub fn steps(job: &Job, screw: &Screw, joined: bool) -> (Vec<Step>, Vec<Finding>) {
    let places = Places::of(job, screw);
    let mut findings = Vec::new();
    let mut works: Vec<(Operation, Tooling, Vec<Feature>)> = Vec::new();
    let asked = &job.operations;
    if let Some(round) = &asked.round {
        works.push((Operation::Round, round.tooling.clone(), round_features(job, &places)));
    }
    let nose = asked.nose.as_ref();
    if let Some(nose) = nose.filter(|nose| !matches!(nose.shape, NoseShape::Chamfer { .. })) {
        works.push((Operation::Nose, nose.tooling.clone(), nose_features(nose.shape, &places)));
    }
    if let Some(relief) = &asked.relief {
        let to_r_mm = relief.diameter_mm.map_or(places.root_r, |diameter| diameter / 2.0);
        findings.extend(relief_fits(job, &places, to_r_mm, relief.tooling.cutter.as_ref()));
        let groove = closed(places.full_to, places.run_out_to, places.crest_r, to_r_mm);
        works.push((Operation::Relief, relief.tooling.clone(), vec![groove]));
    }
    works.push((Operation::Thread, thread_tooling(job), vec![Feature::Thread]));
    if let Some(nose) = nose
        && let NoseShape::Chamfer { length_mm } = nose.shape
    {
        match chamfer_ring(job, length_mm, nose.tooling.cutter.as_ref().unwrap_or(&job.cutter), &places) {
            Ok(ring) => works.push((Operation::Chamfer, nose.tooling.clone(), vec![ring])),
            Err(finding) => findings.push(*finding),
        }
    }
    if let Some(marks) = &asked.marks {
        works.push((Operation::Marks, marks.tooling.clone(), mark_rings(job, marks.depth_mm, &places)));
    }
    if let Some(garter) = &asked.garter {
        let to = places.shoulder - garter.from_shoulder_mm;
        let groove = closed(to - garter.width_mm, to, places.crest_r, garter.diameter_mm / 2.0);
        works.push((Operation::Garter, garter.tooling.clone(), vec![groove]));
    }
    if let Some(tenon) = &asked.tenon {
        findings.extend(flats_fit(job, tenon));
        works.push((Operation::Tenon, tenon.tooling.clone(), tenon_features(tenon, &places)));
    }
    (gather(job, screw, works, joined), findings)
}

/// Puts works into steps, each with its shop and its drawing.
fn gather(
    job: &Job,
    screw: &Screw,
    works: Vec<(Operation, Tooling, Vec<Feature>)>,
    joined: bool,
) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    let mut done = Done::default();
    for (operation, tooling, features) in works {
        let before = done.operations.clone();
        done.add(operation, &features);
        let drawing = outline::after(job, screw, operation, &done);
        let same = |step: &&mut Step| {
            step.setup.cutter == *tooling.cutter.as_ref().unwrap_or(&job.cutter)
                && step.tooling.rpm == tooling.rpm
        };
        if let Some(step) = steps.last_mut().filter(|_| joined).filter(same) {
            let threaded = step.has_thread();
            step.operations.push((operation, features));
            step.drawing = Drawing {
                thread: if threaded { crate::drawing::Threading::Here } else { drawing.thread },
                ..drawing
            };
            step.setup.feed_radius_mm = feed_radius(screw, step);
            let [slowest, fastest] = feeds_mm_per_min(job, operation, &tooling);
            step.setup.feed_least_mm_per_min = step.setup.feed_least_mm_per_min.min(slowest);
            step.setup.feed_mm_per_min = step.setup.feed_mm_per_min.max(fastest);
            step.setup.level_mm =
                step.setup.level_mm.zip(level_mm(operation, &tooling)).map(|(a, b)| a.max(b));
            continue;
        }
        let mut shop = setup(job, screw);
        shop.cutter = tooling.cutter.clone().unwrap_or_else(|| job.cutter.clone());
        shop.rpm = tooling.rpm;
        [shop.feed_least_mm_per_min, shop.feed_mm_per_min] = feeds_mm_per_min(job, operation, &tooling);
        shop.level_mm = level_mm(operation, &tooling).filter(|_| shop.cutter.is_straight());
        let operations = vec![(operation, features)];
        let mut step = Step { operations, tooling, setup: shop, drawing, done: before };
        step.setup.feed_radius_mm = feed_radius(screw, &step);
        steps.push(step);
    }
    steps
}

/// The slowest and the fastest feed of an operation: a thread's passes may have feeds of their own.
fn feeds_mm_per_min(job: &Job, operation: Operation, tooling: &Tooling) -> [f64; 2] {
    match operation {
        Operation::Thread => [least_feed(job), job.cutting.feed_mm_per_min],
        _ => [tooling.feed_mm_per_min; 2],
    }
}

/// The deepest level of an operation; the thread has passes of its own, and a shaped nose is shaved from its side.
fn level_mm(operation: Operation, tooling: &Tooling) -> Option<f64> {
    let levelled = !matches!(operation, Operation::Thread | Operation::Nose);
    levelled.then(|| tooling.step_mm.max(tooling.finish_mm))
}

/// Distance from the axis at which a step's feed holds at the least: a V cutter's flanks cut up to the crest, the end of
/// a straight cutter at the height of its tip.
fn feed_radius(screw: &Screw, step: &Step) -> f64 {
    let lowest = |feature: &Feature| match feature {
        Feature::Turn { to_r_mm, .. } => *to_r_mm,
        Feature::Flats { from_axis_mm, .. } => *from_axis_mm,
        Feature::Profile { points } => points.iter().map(|point| point.r_mm).fold(f64::INFINITY, f64::min),
        Feature::Ring { .. } | Feature::Thread => f64::INFINITY,
    };
    let features = step.operations.iter().flat_map(|(_, features)| features);
    features.map(lowest).fold(screw.crest_radius_mm, f64::min)
}

fn thread_tooling(job: &Job) -> Tooling {
    Tooling {
        cutter: None,
        rpm: job.cutting.rpm,
        feed_mm_per_min: job.cutting.feed_mm_per_min,
        step_mm: job.cutting.least_step_mm,
        finish_mm: job.cutting.least_step_mm,
        advance: 1.0,
    }
}

fn closed(from: f64, to_s_mm: f64, from_r_mm: f64, to_r_mm: f64) -> Feature {
    Feature::Turn { from_s_mm: Some(from), to_s_mm, from_r_mm, to_r_mm, corners: None }
}

fn open(to_s_mm: f64, from_r_mm: f64, to_r_mm: f64) -> Feature {
    Feature::Turn { from_s_mm: None, to_s_mm, from_r_mm, to_r_mm, corners: None }
}

fn round_features(job: &Job, places: &Places) -> Vec<Feature> {
    let corners = outline::corners(&job.blank);
    let all = Feature::Turn {
        from_s_mm: None,
        to_s_mm: places.end,
        from_r_mm: blank_radius_mm(&job.blank),
        to_r_mm: places.crest_r,
        corners,
    };
    let mut features = vec![all];
    if job.screw.plain_nose_mm > 0.0 {
        let spigot = (places.root_r - BELOW_ROOT_MM).max(places.root_r / 2.0);
        features.push(open(job.screw.plain_nose_mm, places.crest_r, spigot));
    }
    features
}

/// The outline of a nose from the face on.
fn nose_outline(shape: NoseShape, places: &Places) -> Vec<OutlinePoint> {
    let point = |s_mm: f64, r_mm: f64| OutlinePoint { s_mm, r_mm };
    match shape {
        NoseShape::Taper { length_mm } => vec![point(0.0, places.root_r), point(length_mm, places.crest_r)],
        NoseShape::RoundOver { radius_mm } => (0..=ROUND_STEPS)
            .map(|i| {
                let angle = f64::from(i) / f64::from(ROUND_STEPS) * std::f64::consts::FRAC_PI_2;
                point(radius_mm * (1.0 - angle.cos()), places.crest_r - radius_mm * (1.0 - angle.sin()))
            })
            .collect(),
        NoseShape::Chamfer { .. } => Vec::new(),
    }
}

fn nose_features(shape: NoseShape, places: &Places) -> Vec<Feature> {
    let points = nose_outline(shape, places);
    let face = points.first().map_or(places.crest_r, |point| point.r_mm);
    let mut features = Vec::new();
    if places.tail < -SAME_MM {
        features.push(open(0.0, places.crest_r, face));
    }
    features.push(Feature::Profile { points });
    features
}

fn relief_fits(job: &Job, places: &Places, to_r_mm: f64, cutter: Option<&Cutter>) -> Vec<Finding> {
    let unit = job.unit;
    let width = places.run_out_to - places.full_to;
    let mut findings = Vec::new();
    if let Some(cutter) = cutter.filter(|cutter| cutter.cutting_diameter_mm > width + SAME_MM) {
        findings.push(
            Finding::new(
                &code::CUTTER_WIDE,
                format!(
                    "the relief groove is as wide as the run-out, {}; a cutter of {} does not fit",
                    unit.show(width),
                    unit.show(cutter.cutting_diameter_mm)
                ),
            )
            .at_some(job.marks.get("relief.cutter"))
            .also_at(job.marks.get("cutting.run_out"), "turns of the run-out")
            .help(format!(
                "take a thinner cutter, or write run_out = {:.2} below [cutting]",
                cutter.cutting_diameter_mm / job.screw.lead_mm
            ))
            .values(cutter.cutting_diameter_mm, width),
        );
    }
    if to_r_mm > places.root_r + SAME_MM {
        findings.push(
            Finding::new(
                &code::RELIEF_SHALLOW,
                format!(
                    "a relief groove of diameter {} stands above the root of {}: the thread would not end in it",
                    unit.show(2.0 * to_r_mm),
                    unit.show(2.0 * places.root_r)
                ),
            )
            .at_some(job.marks.get("relief.diameter"))
            .help("leave diameter out for the root diameter, or give less")
            .values(2.0 * to_r_mm, 2.0 * places.root_r),
        );
    }
    findings
}

/// The ring that leaves a chamfer on the nose: its flank runs through the crest at the chamfer's length.
fn chamfer_ring(
    job: &Job,
    length_mm: f64,
    cutter: &Cutter,
    places: &Places,
) -> Result<Feature, Box<Finding>> {
    let shape = super::shape::Shape::of(cutter);
    let reach = length_mm + PAST_FACE_MM;
    let to_r_mm = places.crest_r - reach / shape.tan_half();
    if to_r_mm < LEAST_TIP_MM {
        let unit = job.unit;
        let most = (places.crest_r - LEAST_TIP_MM) * shape.tan_half() - PAST_FACE_MM;
        let finding = Finding::new(
            &code::CHAMFER_DEEP,
            format!(
                "a chamfer {} long would bring the tip of this cutter {} from the axis",
                unit.show(length_mm),
                unit.show(to_r_mm.max(0.0))
            ),
        )
        .at_some(job.marks.get("nose.chamfer"))
        .also_at(crate::job::cutter_mark(&job.marks, "nose"), "the angle of its flank is the chamfer's")
        .help(format!(
            "make it at most {}, or take a cutter with a wider angle",
            unit.show_at_most(most.max(0.0))
        ))
        .values(length_mm, most);
        return Err(Box::new(finding));
    }
    // Where the flank, carried down to the tip plane, stands off the cutter's axis.
    let foot = shape.foot_mm();
    Ok(Feature::Ring { s_mm: -PAST_FACE_MM - foot, from_r_mm: places.crest_r, to_r_mm })
}

/// Saw lines in the waste, their near edges on the nose face and the head end. A shaped nose shows its face itself.
fn mark_rings(job: &Job, depth_mm: f64, places: &Places) -> Vec<Feature> {
    let cutter = job.operations.marks.as_ref().and_then(|marks| marks.tooling.cutter.as_ref());
    let half = super::shape::Shape::of(cutter.unwrap_or(&job.cutter)).radius_at(depth_mm);
    let ring =
        |s_mm: f64| Feature::Ring { s_mm, from_r_mm: places.crest_r, to_r_mm: places.crest_r - depth_mm };
    let nose = job.operations.nose.is_none() && job.screw.plain_nose_mm == 0.0 && places.tail < -2.0 * half;
    nose.then(|| ring(-half)).into_iter().chain([ring(places.head + half)]).collect()
}

/// Flats wider than the cutter would need Y.
fn flats_fit(job: &Job, tenon: &crate::job::Tenon) -> Option<Finding> {
    let flats = tenon.flats?;
    let cutter = tenon.tooling.cutter.as_ref()?;
    // Where the flats do not meet, each is as wide as its chord of the round; where they do, the corner of the round that
    // stands over their edge has to go as well, and lies half a flat's angle from the middle of either.
    let (round, from_axis) = (tenon.diameter_mm / 2.0, flats.across_mm / 2.0);
    let half_angle = std::f64::consts::PI / f64::from(flats.count);
    let meet = round * half_angle.cos() > from_axis;
    let width = if meet {
        2.0 * round * half_angle.sin()
    } else {
        2.0 * outline::half_flat(flats.count, from_axis, round)
    };
    if width <= cutter.cutting_diameter_mm - SAME_MM {
        return None;
    }
    let unit = job.unit;
    let reach = cutter.cutting_diameter_mm;
    let chord = reach.hypot(flats.across_mm);
    let most = if chord / 2.0 * half_angle.cos() > from_axis { reach / half_angle.sin() } else { chord };
    Some(
        Finding::new(
            &code::CUTTER_NARROW,
            format!("the flats are {} wide, the cutter only {}", unit.show(width), unit.show(reach)),
        )
        .at_some(job.marks.get("tenon.across"))
        .also_at(job.marks.get("tenon.cutter"), "the cutter, which stays above the axis")
        .help(format!(
            "take a wider cutter, or break the corners: diameter at most {}",
            unit.show_at_most(most - SAME_MM)
        ))
        .values(width, reach),
    )
}

fn tenon_features(tenon: &crate::job::Tenon, places: &Places) -> Vec<Feature> {
    let round = tenon.diameter_mm / 2.0;
    let mut features = Vec::new();
    if round < places.crest_r - SAME_MM {
        features.push(closed(places.shoulder, places.end, places.crest_r, round));
    }
    if let Some(flats) = tenon.flats {
        features.push(Feature::Flats {
            count: flats.count,
            from_axis_mm: flats.across_mm / 2.0,
            from_s_mm: places.shoulder,
            to_s_mm: places.end,
            from_r_mm: round,
        });
    }
    features
}
