//! What stands against a cut: places out of reach, too few turns of A, chuck and centre in the way.

use super::frame::Frame;
use crate::design::Screw;
use crate::finding::{Finding, design as code};
use crate::job::Job;

/// Air that must stay between cutter and chuck or centre, mm: less than this and a chip or a bent shank touches.
const GAP_MM: f64 = 1.0;

/// Rounding in sums of lengths that does not count as out of reach, mm.
const SAME_PLACE_MM: f64 = 1e-6;

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
    let range = 2.0 * job.machine.a.limit_deg.unwrap_or(f64::INFINITY);
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
