//! Checks `[screw]`: what is given twice has to agree. Sizes that follow from the cutter (depth from the crest flat,
//! root diameter) are none of its business.

use super::desk::{AGREE_MM, Desk, Required};
use super::file::ScrewFile;
use super::limits::{self, say, tidy};
use super::{DepthAsked, ScrewAsked};
use crate::finding::job as codes;
use crate::units::{LengthUnit, MM_PER_INCH};

/// Keys without which there is no screw. Pitch, depth and lengths have alternatives and are asked for apart.
pub(super) const REQUIRED: &[Required] = &[
    ("screw.crest_diameter", "crest_diameter = 50", "crest_diameter = 2"),
    ("screw.starts", "starts = 1", "starts = 1"),
    ("screw.hand", "hand = \"right\"", "hand = \"right\""),
];

/// Checks the table. `run_out_turns` comes from `[cutting]`. `None` when something is missing or wrong; every fault
/// is reported.
pub(super) fn check(
    file: &ScrewFile,
    run_out_turns: Option<f64>,
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<ScrewAsked> {
    let crest_diameter = desk.number("screw.crest_diameter", file.crest_diameter, unit);
    let starts = desk.count("screw.starts", file.starts);
    let turn = pitch_and_lead(file, starts, unit, desk);
    let included_angle = desk.number("screw.included_angle", file.included_angle, unit);
    let root_width = desk.number("screw.root_width", file.root_width, unit);
    let depth = depth(file, crest_diameter, turn.map(|(pitch, _)| pitch), unit, desk);
    let lengths = lengths(file, run_out_turns.zip(turn).map(|(turns, (_, lead))| turns * lead), unit, desk);
    let ((pitch_mm, lead_mm), lengths) = turn.zip(lengths)?;
    Some(ScrewAsked {
        crest_diameter_mm: crest_diameter?,
        pitch_mm,
        starts: starts?,
        lead_mm,
        hand: file.hand?,
        depth: depth?,
        root_width_mm: root_width,
        thread_length_mm: lengths.thread,
        plain_nose_mm: lengths.nose,
        plain_head_mm: lengths.head,
        included_angle_deg: included_angle,
    })
}

/// Pitch and lead in mm. The lead rules, then the threads per inch, then the pitch, so that whichever is written
/// as a round number stays exact.
fn pitch_and_lead(
    file: &ScrewFile,
    starts: Option<u32>,
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<(f64, f64)> {
    let pitch = desk.number("screw.pitch", file.pitch, unit);
    let per_inch = desk.number("screw.threads_per_inch", file.threads_per_inch, unit);
    let lead = desk.number("screw.lead", file.lead, unit);
    if !["screw.pitch", "screw.threads_per_inch", "screw.lead"].iter().any(|key| desk.given(key)) {
        desk.require(&[("screw.pitch", "pitch = 10", "pitch = \"1/4\"")], unit);
    }
    let pitch_per_inch = per_inch.map(|count| MM_PER_INCH / count);
    if let (Some(pitch), Some(other), Some(count)) = (pitch, pitch_per_inch, per_inch)
        && (pitch - other).abs() > AGREE_MM
    {
        let count = tidy(count, 4);
        let per_start = starts.is_some_and(|n| n > 1 && (pitch * f64::from(n) - other).abs() <= AGREE_MM);
        let help = if per_start {
            "threads_per_inch counts every crest, the starts together; leave it out or count again"
        } else {
            "keep the one that is meant and leave the other out"
        };
        desk.complain(
            &codes::DISAGREE,
            "screw.pitch",
            format!("a pitch of {} is not {count} threads per inch", say(unit, pitch)),
            Some((
                "screw.threads_per_inch",
                format!("{count} per inch make a pitch of {}", say(unit, other)),
            )),
            help,
        );
        return None;
    }
    let (key, pitch) = match (pitch_per_inch, pitch) {
        (Some(pitch), _) => ("screw.threads_per_inch", Some(pitch)),
        (None, pitch) => ("screw.pitch", pitch),
    };
    let starts = f64::from(starts?);
    match (pitch, lead) {
        (Some(pitch), Some(lead)) if (pitch * starts - lead).abs() > AGREE_MM => {
            lead_disagrees(key, pitch, lead, starts, unit, desk);
            None
        }
        (_, Some(lead)) => Some((lead / starts, lead)),
        (Some(pitch), None) => Some((pitch, pitch * starts)),
        (None, None) => None,
    }
}

/// More starts than these are hardly meant (common practice, no source).
const USUAL_STARTS: f64 = 6.0;

/// The number of starts with which pitch and lead agree, if it is one that screws have.
fn whole_starts(pitch: f64, lead: f64) -> Option<u32> {
    let count = (lead / pitch).round();
    ((2.0..=USUAL_STARTS).contains(&count) && (pitch * count - lead).abs() <= AGREE_MM)
        .then_some(count as u32)
}

fn lead_disagrees(key: &str, pitch: f64, lead: f64, starts: f64, unit: LengthUnit, desk: &mut Desk) {
    let number = |length_mm| tidy(length_mm / unit.mm(), unit.decimals());
    let threads = if starts > 1.0 { format!("{starts} starts") } else { "1 start".to_owned() };
    let help = if key == "screw.threads_per_inch" {
        format!(
            "threads_per_inch counts every crest, the starts together: a lead of {} with {threads} has {} per inch",
            say(unit, lead),
            tidy(MM_PER_INCH * starts / lead, 4)
        )
    } else if let Some(counted) = whole_starts(pitch, lead).filter(|counted| f64::from(*counted) > starts) {
        format!(
            "pitch and lead go together with starts = {counted}; with {threads} the lead is {}",
            number(pitch * starts)
        )
    } else if (pitch - lead).abs() <= AGREE_MM {
        format!(
            "pitch typed where lead was meant? if one turn advances {}, the pitch is {}; if crests stand {} apart, the \
             lead is {}",
            say(unit, lead),
            number(lead / starts),
            say(unit, pitch),
            number(pitch * starts)
        )
    } else {
        format!(
            "write lead = {} or leave lead out; if the lead of {} is meant, the pitch is {}",
            number(pitch * starts),
            say(unit, lead),
            number(lead / starts)
        )
    };
    desk.complain(
        &codes::DISAGREE,
        "screw.lead",
        format!(
            "a pitch of {} with {threads} makes a lead of {}, not {}",
            say(unit, pitch),
            say(unit, pitch * starts),
            say(unit, lead)
        ),
        Some((
            key,
            format!(
                "a lead of {} with {threads} makes a pitch of {}",
                say(unit, lead),
                say(unit, lead / starts)
            ),
        )),
        help,
    );
}

fn depth(
    file: &ScrewFile,
    crest_diameter: Option<f64>,
    pitch: Option<f64>,
    unit: LengthUnit,
    desk: &mut Desk,
) -> Option<DepthAsked> {
    let flat = desk.number("screw.crest_flat", file.crest_flat, unit);
    let depth = desk.number("screw.depth", file.depth, unit);
    if !desk.given("screw.crest_flat") && !desk.given("screw.depth") {
        desk.require(
            &[("screw.crest_flat", "crest_flat = 2 (or depth = 5)", "crest_flat = 0.08 (or depth = 0.2)")],
            unit,
        );
    }
    if let (Some(depth), Some(crest)) = (depth, crest_diameter)
        && 2.0 * depth >= crest
    {
        desk.complain(
            &codes::DISAGREE,
            "screw.depth",
            format!("a depth of {} leaves no core in a screw of {}", say(unit, depth), say(unit, crest)),
            Some(("screw.crest_diameter", format!("the radius is {}", say(unit, crest / 2.0)))),
            "depth is measured on one side, from crest to root",
        );
    }
    if let (Some(flat), Some(pitch)) = (flat, pitch)
        && flat >= pitch
    {
        let key =
            ["screw.pitch", "screw.threads_per_inch", "screw.lead"].into_iter().find(|key| desk.given(key));
        desk.complain(
            &codes::DISAGREE,
            "screw.crest_flat",
            format!(
                "a crest flat of {} leaves no groove in a pitch of {}",
                say(unit, flat),
                say(unit, pitch)
            ),
            key.map(|key| (key, "the pitch holds crest flat and groove together".to_owned())),
            "a flat of a fifth to a third of the pitch is usual",
        );
    }
    match (flat, depth) {
        (Some(flat_mm), depth_too_mm) => Some(DepthAsked::CrestFlat { flat_mm, depth_too_mm }),
        (None, Some(depth_mm)) => Some(DepthAsked::Depth { depth_mm }),
        (None, None) => None,
    }
}

/// Lengths along the axis, mm.
struct Lengths {
    nose: f64,
    thread: f64,
    head: f64,
}

/// Nose, thread and head. An overall length gives the one of thread and head that is not given, or has to agree.
fn lengths(file: &ScrewFile, run_out: Option<f64>, unit: LengthUnit, desk: &mut Desk) -> Option<Lengths> {
    let nose = match file.plain_nose {
        Some(written) => desk.number("screw.plain_nose", Some(written), unit),
        None => Some(0.0),
    };
    let thread = desk.number("screw.thread_length", file.thread_length, unit);
    let head = desk.number("screw.plain_head", file.plain_head, unit);
    let whole = desk.number("screw.length", file.length, unit);
    let given = |key: &str| desk.given(key);
    let one_gives_the_other =
        given("screw.length") && (given("screw.thread_length") || given("screw.plain_head"));
    if !one_gives_the_other {
        let thread_example = ("screw.thread_length", "thread_length = 300", "thread_length = 12");
        desk.require(&[thread_example, ("screw.plain_head", "plain_head = 60", "plain_head = 2.5")], unit);
    }
    let Some((whole, run_out)) = whole.zip(run_out) else {
        return Some(Lengths { nose: nose?, thread: thread?, head: head? });
    };
    let left = whole - nose? - run_out;
    match (thread, head) {
        (Some(thread), Some(head)) => {
            let lengths = Lengths { nose: nose?, thread, head };
            if (left - thread - head).abs() > AGREE_MM {
                sum_disagrees(&lengths, run_out, whole, unit, desk);
            }
            Some(lengths)
        }
        (Some(thread), None) if !desk.given("screw.plain_head") => {
            let head = left - thread;
            if head < -AGREE_MM {
                nothing_left(("plain_head", head), ("thread", thread), whole, run_out, unit, desk);
            }
            Some(Lengths { nose: nose?, thread, head: head.max(0.0) })
        }
        (None, Some(head)) if !desk.given("screw.thread_length") => {
            let thread = left - head;
            if limits::limit("screw.thread_length").is_some_and(|row| thread < row.least) {
                nothing_left(("thread_length", thread), ("head", head), whole, run_out, unit, desk);
            }
            Some(Lengths { nose: nose?, thread, head })
        }
        _ => None,
    }
}

/// An overall length that leaves too little for the part it is to give.
fn nothing_left(
    (key, rest): (&str, f64),
    (taken_name, taken): (&str, f64),
    whole: f64,
    run_out: f64,
    unit: LengthUnit,
    desk: &mut Desk,
) {
    let nose = whole - run_out - taken - rest;
    let taken_key = if taken_name == "thread" { "screw.thread_length" } else { "screw.plain_head" };
    desk.complain(
        &codes::DISAGREE,
        "screw.length",
        format!(
            "a length of {} leaves {} for {key}: nose {}, run-out {} and {taken_name} {} are taken already",
            say(unit, whole),
            say(unit, rest),
            say(unit, nose),
            say(unit, run_out),
            say(unit, taken)
        ),
        Some((taken_key, "taken from the length".to_owned())),
        "make the length greater or this part shorter",
    );
}

fn sum_disagrees(parts: &Lengths, run_out: f64, whole: f64, unit: LengthUnit, desk: &mut Desk) {
    let sum = parts.nose + parts.thread + run_out + parts.head;
    let head = whole - parts.nose - parts.thread - run_out;
    let help = if head >= 0.0 {
        format!(
            "write length = {}, or plain_head = {}, or leave one of them out",
            tidy(sum / unit.mm(), unit.decimals()),
            tidy(head / unit.mm(), unit.decimals())
        )
    } else {
        format!("write length = {} or leave length out", tidy(sum / unit.mm(), unit.decimals()))
    };
    desk.complain(
        &codes::DISAGREE,
        "screw.length",
        format!(
            "nose {} + thread {} + run-out {} + head {} make {}, not {}",
            say(unit, parts.nose),
            say(unit, parts.thread),
            say(unit, run_out),
            say(unit, parts.head),
            say(unit, sum),
            say(unit, whole)
        ),
        Some((
            "screw.thread_length",
            format!("the run-out of {} comes behind the thread", say(unit, run_out)),
        )),
        help,
    );
}
