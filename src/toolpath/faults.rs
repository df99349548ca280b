//! What stands against a cut: places out of reach, too few turns of A, chuck and centre in the way.

use super::frame::{Frame, a_limit_deg};
use crate::design::{self, Feature, Operation, Screw, Step};
use crate::finding::{Finding, design as code};
use crate::job::Job;

/// Air that must stay between cutter and chuck or centre, mm: less than this and a chip or a bent shank touches.
const GAP_MM: f64 = 1.0;

/// Rounding in sums of lengths that does not count as out of reach, mm.
const SAME_PLACE_MM: f64 = 1e-6;

/// Length along which a cutter goes down on flats, mm.
const LEAST_SLOPE_MM: f64 = 5.0;

/// Everything that stands against the cut, whatever the order of its passes.
pub(super) fn of(job: &Job, screw: &Screw, frame: &Frame) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(reach(job, screw, frame));
    findings.extend(chuck(job, screw, frame));
    findings.extend(centre(job, screw));
    findings
}

/// A job whose plan was left to the wood and never settled.
pub(super) fn plan_open(job: &Job) -> Finding {
    Finding::new(&code::PLAN_OPEN, "the job leaves its passes to the wood, and they were never worked out")
        .at_some(job.marks.get("cutting.plan"))
        .help("settle the job before its path is planned, or give rpm, feed and passes")
}

/// A pass that turns farther than the rotary can.
pub(super) fn turns_short(job: &Job, span_deg: f64) -> Finding {
    let range = 2.0 * a_limit_deg(&job.machine).unwrap_or(f64::INFINITY);
    let over_mm = ((span_deg - range) / 360.0 + 1.0) * job.screw.lead_mm;
    Finding::new(
        &code::TURNS_SHORT,
        format!(
            "one pass turns the blank {:.2} times; A has {:.2} turns from one limit to the other",
            span_deg / 360.0,
            range / 360.0
        ),
    )
    .at_some(job.marks.get("machine.a.limit"))
    .also_at(job.marks.get("screw.thread_length"), "the length of the thread")
    .help(format!(
        "shorten thread and waste by {} (up to one turn goes into meeting a start), or take a machine whose A counts on \
         for ever",
        job.unit.show_at_least(over_mm)
    ))
    .values(span_deg, range)
}

/// The way along the blank and the heights of the tip against what the machine reaches. Past the chuck's face the
/// chuck itself stands in the way first.
fn reach(job: &Job, screw: &Screw, frame: &Frame) -> Vec<Finding> {
    let (machine, unit) = (&job.machine, job.unit);
    let [bottom, top] = machine.z_range_above_axis_mm;
    let short = |key: &str, has: f64, needs: f64, message: String| {
        Finding::new(&code::REACH_SHORT, message).at_some(job.marks.get(key)).values(has, needs)
    };
    let mut findings = Vec::new();
    let (out, out_needed) = (machine.x_reach_mm, frame.setup.blank.chuck_face_s_mm - frame.tail_air_s_mm);
    if out_needed > out + SAME_PLACE_MM {
        let (has, needs) = (unit.show(out), unit.show(out_needed));
        let words =
            format!("the cutter reaches {has} from the chuck; with blank and lead-in it needs {needs}");
        findings.push(
            short("machine.x.reach", out, out_needed, words)
                .also_at(job.marks.get("blank.waste_nose"), "the cutter starts in the air beyond this waste")
                .help(format!(
                    "make screw and waste {} shorter, or take a longer machine",
                    unit.show_at_least(out_needed - out)
                )),
        );
    }
    if frame.safe_r_mm > top + SAME_PLACE_MM {
        let (has, needs) = (unit.show(top), unit.show(frame.safe_r_mm));
        let words = format!("the tip rises to {has} above the axis; blank and clearance need {needs}");
        findings.push(
            short("machine.z.top", top, frame.safe_r_mm, words)
                .also_at(job.marks.get("blank.size"), "the thickness of the blank")
                .help("let the cutter stick out less, or give a smaller clearance"),
        );
    }
    if bottom > screw.root_radius_mm + SAME_PLACE_MM {
        let (has, needs) = (unit.show(bottom), unit.show(screw.root_radius_mm));
        let words =
            format!("the tip sinks only to {has} above the axis; the root of the thread lies at {needs}");
        findings.push(
            short("machine.z.bottom", bottom, screw.root_radius_mm, words)
                .also_at(job.marks.get("screw.crest_diameter"), "diameter over the crests")
                .help("let the cutter stick out more, or raise the rotary axis"),
        );
    }
    findings
}

/// The cutter beside the chuck, where the thread ends and where the run-out ends.
fn chuck(job: &Job, screw: &Screw, frame: &Frame) -> Option<Finding> {
    let unit = job.unit;
    let face = frame.setup.blank.chuck_face_s_mm;
    let lowest = [
        (frame.drawing.full_to_s_mm + screw.flank_aside_mm, screw.root_radius_mm),
        (frame.last_s_mm(job.cutting.travel), frame.clear_r_mm),
    ];
    let needed = lowest
        .into_iter()
        .map(|(s_mm, r_mm)| {
            s_mm + widest_below(job, screw, job.machine.chuck.diameter_mm / 2.0 - r_mm) + GAP_MM
        })
        .fold(f64::NEG_INFINITY, f64::max);
    (needed > face).then(|| {
        Finding::new(
            &code::CHUCK_NEAR,
            format!(
                "the chuck's face stands {} from the nose; with cutter and collet the cut needs {}",
                unit.show(face),
                unit.show(needed)
            ),
        )
        .at_some(job.marks.get("blank.waste_head").or_else(|| job.marks.get("screw.plain_head")))
        .also_at(job.marks.get("machine.headstock.grip"), "the length inside the chuck")
        .help(format!(
            "make the waste at the head or the plain head {} longer",
            unit.show_at_least(needed - face)
        ))
        .values(face, needed)
    })
}

/// Radius of the widest part of cutter, shank and collet up to a height above the tip; zero for a negative height.
fn widest_below(job: &Job, screw: &Screw, height_mm: f64) -> f64 {
    let cutter = &job.cutter;
    if height_mm <= 0.0 {
        return 0.0;
    }
    let edges = screw.shape().radius_at(height_mm.min(cutter.cutting_length_mm));
    let mut widest = edges.min(cutter.cutting_diameter_mm / 2.0);
    if height_mm > cutter.cutting_length_mm {
        widest = widest.max(cutter.shank_diameter_mm / 2.0);
    }
    if height_mm > cutter.stick_out_mm {
        widest = widest.max(cutter.collet_diameter_mm / 2.0);
    }
    widest
}

/// The tail centre under the cutter, where the passes begin. How deep its point stands in the wood is not known, so
/// its whole diameter has to pass below the tip.
fn centre(job: &Job, screw: &Screw) -> Option<Finding> {
    let (centre, unit) = (job.machine.centre?, job.unit);
    let room = 2.0 * (screw.root_radius_mm - GAP_MM);
    (centre.diameter_mm > room).then(|| {
        Finding::new(
            &code::CENTRE_WIDE,
            format!(
                "the tail centre is {} thick, and the cutter passes over it {} from the axis",
                unit.show(centre.diameter_mm),
                unit.show(screw.root_radius_mm)
            ),
        )
        .at_some(job.marks.get("machine.tail.centre_diameter"))
        .help(format!("use a tail centre of at most {} across", unit.show_at_most(room)))
        .values(centre.diameter_mm, room)
    })
}

/// Everything that stands against a step: reach along the blank, the chuck, a cutter too short or too wide. A thread's
/// own are asked when it is planned.
pub(super) fn of_step(job: &Job, step: &Step) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (operation, features) in &step.operations {
        let places: Vec<Reach> = features.iter().filter_map(|feature| Reach::of(step, feature)).collect();
        let Some(last) = places.iter().max_by(|a, b| a.to_s_mm.total_cmp(&b.to_s_mm)) else { continue };
        findings.extend(chuck_of_step(job, step, *operation, last));
        let lowest = places.iter().min_by(|a, b| a.lowest_mm.total_cmp(&b.lowest_mm));
        findings.extend(lowest.and_then(|lowest| short_cutter(job, step, *operation, lowest)));
        let first = places.iter().map(|place| place.from_s_mm).fold(f64::INFINITY, f64::min);
        findings.extend(reach_of_step(job, step, *operation, first));
        // Whether a relief groove is wide enough was asked with the sizes.
        if *operation != Operation::Relief {
            findings.extend(narrow_bed(job, step, *operation, features));
        }
    }
    findings
}

/// The room that a feature needs.
#[expect(clippy::struct_field_names, reason = "units stand in every name")]
struct Reach {
    /// Station of the cutter's far edge nearest to the chuck.
    to_s_mm: f64,
    /// Station of the cutter's axis farthest from the chuck.
    from_s_mm: f64,
    /// Lowest place of the tip above the axis.
    lowest_mm: f64,
    /// How far wood stands over the tip there.
    deep_mm: f64,
}

impl Reach {
    fn of(step: &Step, feature: &Feature) -> Option<Reach> {
        let radius = step.setup.cutter.cutting_diameter_mm / 2.0;
        let tail = step.setup.blank.from_s_mm - radius;
        Some(match feature {
            Feature::Turn { from_s_mm, to_s_mm, from_r_mm, to_r_mm, .. } => Reach {
                to_s_mm: *to_s_mm,
                from_s_mm: from_s_mm.unwrap_or(tail),
                lowest_mm: *to_r_mm,
                deep_mm: from_r_mm - to_r_mm,
            },
            Feature::Profile { points } => {
                let (first, last) = (points.first()?, points.last()?);
                Reach {
                    to_s_mm: last.s_mm,
                    from_s_mm: first.s_mm - radius,
                    lowest_mm: first.r_mm,
                    deep_mm: last.r_mm - first.r_mm,
                }
            }
            Feature::Ring { s_mm, from_r_mm, to_r_mm } => Reach {
                to_s_mm: s_mm + radius,
                from_s_mm: *s_mm,
                lowest_mm: *to_r_mm,
                deep_mm: from_r_mm - to_r_mm,
            },
            Feature::Flats { from_s_mm, to_s_mm, from_axis_mm, from_r_mm, .. } => Reach {
                to_s_mm: *to_s_mm,
                from_s_mm: *from_s_mm,
                lowest_mm: *from_axis_mm,
                deep_mm: from_r_mm - from_axis_mm,
            },
            Feature::Thread => return None,
        })
    }
}

fn mark_of<'j>(job: &'j Job, operation: Operation, leaf: &str) -> Option<&'j crate::source::Mark> {
    let table = operation.table();
    job.marks.get(&format!("{table}.{leaf}")).or_else(|| job.marks.get(table))
}

fn chuck_of_step(job: &Job, step: &Step, operation: Operation, last: &Reach) -> Option<Finding> {
    let (unit, face) = (job.unit, step.setup.blank.chuck_face_s_mm);
    let needed = last.to_s_mm + GAP_MM;
    (needed > face + SAME_PLACE_MM).then(|| {
        Finding::new(
            &code::CHUCK_NEAR,
            format!(
                "{} reaches to {} from the nose, and the chuck's face stands at {}",
                operation.name(),
                unit.show(last.to_s_mm),
                unit.show(face)
            ),
        )
        .at_some(job.marks.get("blank.waste_head"))
        .also_at(
            mark_of(job, operation, "cutter"),
            "this operation goes on past the head end by the saw's cut",
        )
        .help(format!("make the waste at the head {} longer", unit.show_at_least(needed - face)))
        .values(face, needed)
    })
}

/// Edges that end below the wood's surface, or a collet that would rub on it.
fn short_cutter(job: &Job, step: &Step, operation: Operation, lowest: &Reach) -> Option<Finding> {
    let (unit, cutter) = (job.unit, &step.setup.cutter);
    let needs = lowest.deep_mm + GAP_MM;
    // Corners that stand beside the cut turn under the collet.
    let corner = design::blank_radius_mm(&job.blank) - lowest.lowest_mm + GAP_MM;
    let (code, has, needs, words) = if cutter.cutting_length_mm < needs {
        (&code::CUTTER_SHORT, cutter.cutting_length_mm, needs, "its edges are only")
    } else if cutter.stick_out_mm < corner {
        (&code::STICK_OUT_SHORT, cutter.stick_out_mm, corner, "the cutter sticks out only")
    } else {
        return None;
    };
    Some(
        Finding::new(
            code,
            format!(
                "{} goes {} deep, and {words} {}",
                operation.name(),
                unit.show(needs - GAP_MM),
                unit.show(has)
            ),
        )
        .at_some(mark_of(job, operation, "cutter"))
        .help(format!("take a cutter with at least {}", unit.show_at_least(needs)))
        .values(has, needs),
    )
}

fn reach_of_step(job: &Job, step: &Step, operation: Operation, first_s_mm: f64) -> Option<Finding> {
    let (unit, out) = (job.unit, job.machine.x_reach_mm);
    let needed = step.setup.blank.chuck_face_s_mm - first_s_mm + 2.0 * GAP_MM;
    (needed > out + SAME_PLACE_MM).then(|| {
        Finding::new(
            &code::REACH_SHORT,
            format!(
                "the cutter reaches {} from the chuck; for {} it needs {}",
                unit.show(out),
                operation.name(),
                unit.show(needed)
            ),
        )
        .at_some(job.marks.get("machine.x.reach"))
        .also_at(mark_of(job, operation, "cutter"), "half its width stands beyond the tail end")
        .help(format!(
            "make screw and waste {} shorter, or take a thinner cutter",
            unit.show_at_least(needed - out)
        ))
        .values(out, needed)
    })
}

/// A stretch between two walls that is narrower than the cutter; flats need some length to go down on.
fn narrow_bed(job: &Job, step: &Step, operation: Operation, features: &[Feature]) -> Option<Finding> {
    let (unit, width) = (job.unit, step.setup.cutter.cutting_diameter_mm);
    let bed = |feature: &Feature| match feature {
        Feature::Turn { from_s_mm: Some(from), to_s_mm, .. } => Some((to_s_mm - from, width)),
        Feature::Flats { from_s_mm, to_s_mm, .. } => Some((to_s_mm - from_s_mm, width + LEAST_SLOPE_MM)),
        _ => None,
    };
    let narrow = features.iter().filter_map(bed).find(|(has, needs)| has + SAME_PLACE_MM < *needs);
    narrow.map(|(has, needs)| {
        Finding::new(
            &code::CUTTER_WIDE,
            format!(
                "{} leaves {} between its walls, and a cutter of {} needs {}",
                operation.name(),
                unit.show(has),
                unit.show(width),
                unit.show(needs)
            ),
        )
        .at_some(mark_of(job, operation, "cutter"))
        .help("take a thinner cutter, or make it longer")
        .values(has, needs)
    })
}
