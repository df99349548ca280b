//! What stands against a cut: places out of reach, chuck and centre in the way, axes too slow for the feed.

use super::frame::Frame;
use crate::design::Screw;
use crate::design::form::turn_length_mm;
use crate::finding::{Finding, design as code};
use crate::job::Job;

/// Air that must stay between cutter and chuck or centre, mm: less than this and a chip or a bent shank touches.
const GAP_MM: f64 = 1.0;

/// Everything that stands against the cut, whatever the order of its passes.
pub(super) fn of(job: &Job, screw: &Screw, frame: &Frame) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(reach(job, screw, frame));
    findings.extend(chuck(job, screw, frame));
    findings.extend(centre(job, screw));
    findings.extend(too_fast(job, screw));
    findings
}

/// A pass that turns farther than the rotary can.
pub(super) fn turns_short(job: &Job, span_deg: f64) -> Finding {
    let range = 2.0 * job.machine.a.limit_deg.unwrap_or(f64::INFINITY);
    Finding::new(
        &code::TURNS_SHORT,
        format!(
            "one pass turns the blank {:.2} times, and A has {:.2} turns from one limit to the other",
            span_deg / 360.0,
            range / 360.0
        ),
    )
    .at_some(job.marks.get("machine.a.limit"))
    .also_at(job.marks.get("screw.thread_length"), "the length of the thread")
    .help(format!(
        "up to one turn goes lost in meeting the start: shorten thread and waste to {:.2} turns, or use a coarser lead",
        (range / 360.0 - 1.0).max(0.0)
    ))
    .values(span_deg, range)
}

/// Stations and heights against the machine's range.
fn reach(job: &Job, screw: &Screw, frame: &Frame) -> Vec<Finding> {
    let (setup, unit) = (&frame.setup, job.unit);
    let towards_head = setup.machine.headstock.sign();
    let x_of = |s_mm: f64| setup.x_nose_mm + towards_head * s_mm;
    let [low, high] = setup.x_limits_mm;
    // Positive: so much is missing at that end.
    let missing = |s_mm: f64| (low - x_of(s_mm)).max(x_of(s_mm) - high);
    let z_of = |r_mm: f64| setup.z_axis_mm + r_mm;
    let wants = [
        (missing(frame.tail_air_s_mm), "machine.x.reach", "beyond the tail end of the blank"),
        (missing(frame.last_s_mm(job.cutting.travel)), "machine.x.past_chuck", "at the end of the run-out"),
        (z_of(frame.safe_r_mm) - setup.z_limits_mm[1], "machine.z.top", "above the blank in rapid moves"),
        (setup.z_limits_mm[0] - z_of(screw.root_radius_mm), "machine.z.bottom", "in the root of the thread"),
    ];
    wants
        .into_iter()
        .filter(|(missing, ..)| *missing > 0.0)
        .map(|(missing, key, place)| {
            let axis = if key.starts_with("machine.x") { "X" } else { "Z" };
            Finding::new(
                &code::REACH_SHORT,
                format!("{axis} is {} short of the place that the cutter needs {place}", unit.show(missing)),
            )
            .at_some(job.marks.get(key))
            .help(format!("{axis} must reach {} farther, or the blank must be smaller", unit.show(missing)))
            .values(missing, 0.0)
        })
        .collect()
}

/// The cutter beside the chuck, where the thread ends and where the run-out ends.
fn chuck(job: &Job, screw: &Screw, frame: &Frame) -> Option<Finding> {
    let unit = job.unit;
    let face = frame.setup.blank.chuck_face_s_mm;
    let lowest = [
        (frame.drawing.full_to_s_mm, screw.root_radius_mm),
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
        .also_at(job.marks.get("machine.headstock.grip"), "the grip")
        .help(format!("leave {} more between run-out and chuck", unit.show(needed - face)))
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
        .help(format!("use a centre of at most {}", unit.show(room)))
        .values(centre.diameter_mm, room)
    })
}

/// X and A speeds that the feed asks for along the helix.
fn too_fast(job: &Job, screw: &Screw) -> Vec<Finding> {
    let (machine, unit) = (&job.machine, job.unit);
    let feed = job.cutting.feed_mm_per_min;
    let turns_per_min = feed / turn_length_mm(job.screw.lead_mm, 2.0 * screw.crest_radius_mm);
    let (a, a_top) = (360.0 * turns_per_min, machine.a.top_deg_per_min);
    let (x, x_top) = (job.screw.lead_mm * turns_per_min, machine.x.top_mm_per_min);
    let a_words =
        format!("A to turn {turns_per_min:.2} times a minute; it can turn {:.2} times", a_top / 360.0);
    let x_words = format!("X to run {}; it can run {}", unit.show_speed(x), unit.show_speed(x_top));
    [(a, a_top, a_words, "machine.a.top_speed"), (x, x_top, x_words, "machine.x.top_speed")]
        .into_iter()
        .filter(|(asked, top, ..)| asked > top)
        .map(|(asked, top, words, key)| {
            Finding::new(&code::FEED_FAST, format!("a feed of {} asks {words}", unit.show_speed(feed)))
                .at_some(job.marks.get("cutting.feed"))
                .also_at(job.marks.get(key), "the top speed")
                .help(format!("give a feed of at most {}", unit.show_speed(feed * top / asked)))
                .values(asked, top)
        })
        .collect()
}
