//! Holds the operations of a job against the screw's own lengths, the blank and the spindle. Looks only at what was asked;
//! what needs sizes that follow from the cutter is asked in design.

use super::Job;
use super::desk::{AGREE_MM, Desk};
use super::limits::{say, tidy};
use super::operations::{NoseShape, Operations, Tooling};
use crate::finding::job as codes;

/// Everything that does not go together.
pub(super) fn check(job: &Job, desk: &mut Desk) {
    spindle(job, desk);
    round(job, desk);
    scant(job, desk);
    tenon(job, desk);
    garter(job, desk);
    nose(job, desk);
}

fn spindle(job: &Job, desk: &mut Desk) {
    let spindle = &job.machine.spindle;
    for (table, tooling) in tables(&job.operations) {
        let key = format!("{table}.rpm");
        // What follows from [cutting] was told there.
        if desk.marks.get(&key).is_some() && !(spindle.least_rpm..=spindle.top_rpm).contains(&tooling.rpm) {
            desk.complain(
                &codes::RPM_PAST_SPINDLE,
                &key,
                format!(
                    "[{table}] asks for {} rev/min, the spindle has {} to {}",
                    tidy(tooling.rpm, 1),
                    tidy(spindle.least_rpm, 1),
                    tidy(spindle.top_rpm, 1)
                ),
                Some(("machine.spindle.top", "fastest speed".to_owned())),
                format!("write rpm from {} to {}", tidy(spindle.least_rpm, 1), tidy(spindle.top_rpm, 1)),
            );
        }
    }
}

/// Every table that is given, with its tooling.
fn tables(operations: &Operations) -> Vec<(&'static str, &Tooling)> {
    let Operations { round, relief, nose, garter, tenon, marks } = operations;
    let all = [
        ("round", round.as_ref().map(|o| &o.tooling)),
        ("relief", relief.as_ref().map(|o| &o.tooling)),
        ("nose", nose.as_ref().map(|o| &o.tooling)),
        ("garter", garter.as_ref().map(|o| &o.tooling)),
        ("tenon", tenon.as_ref().map(|o| &o.tooling)),
        ("marks", marks.as_ref().map(|o| &o.tooling)),
    ];
    all.into_iter().filter_map(|(table, tooling)| Some((table, tooling?))).collect()
}

/// A round blank of the crest diameter leaves nothing to round.
fn round(job: &Job, desk: &mut Desk) {
    let round = job.blank.shape == crate::setup::BlankShape::Round;
    if job.operations.round.is_some() && round && job.blank.size_mm <= job.screw.crest_diameter_mm + AGREE_MM
    {
        desk.complain(
            &codes::DISAGREE,
            "round",
            "the blank is round at the crest diameter already, so there is nothing for [round] to do",
            Some(("blank.shape", "this blank".to_owned())),
            "leave [round] out, or write the blank as it really is: shape = \"square\" or \"octagon\", or a thicker size",
        );
    }
}

/// A stick to be rounded has to be thick enough off its centre too.
fn scant(job: &Job, desk: &mut Desk) {
    let (unit, blank) = (job.unit, &job.blank);
    let least = job.screw.crest_diameter_mm + 2.0 * (blank.off_centre_mm + blank.truing_mm);
    let stands_over = blank.shape != crate::setup::BlankShape::Round
        || blank.size_mm > job.screw.crest_diameter_mm + AGREE_MM;
    if job.operations.round.is_some()
        && stands_over
        && blank.size_mm >= job.screw.crest_diameter_mm - AGREE_MM
        && blank.size_mm < least - AGREE_MM
    {
        desk.complain(
            &codes::BLANK_SCANT,
            "blank.size",
            format!(
                "a stick of {} that stands {} off centre and is to lose {} all round should be {}",
                say(unit, blank.size_mm),
                say(unit, blank.off_centre_mm),
                say(unit, blank.truing_mm),
                say(unit, least)
            ),
            Some(("screw.crest_diameter", "the finished diameter".to_owned())),
            "take a thicker stick, or centre it better and write off_centre and truing below [blank]",
        );
    }
}

fn tenon(job: &Job, desk: &mut Desk) {
    let Some(tenon) = &job.operations.tenon else { return };
    let (unit, plain, crest) = (job.unit, job.screw.plain_head_mm, job.screw.crest_diameter_mm);
    if tenon.length_mm > plain + AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "tenon.length",
            format!(
                "the tenon is {} long, the plain head it is cut from {}",
                say(unit, tenon.length_mm),
                say(unit, plain)
            ),
            Some(("screw.plain_head", "the tenon is a part of it".to_owned())),
            format!("make plain_head at least {}, or the tenon shorter", say(unit, tenon.length_mm)),
        );
    }
    if tenon.diameter_mm > crest + AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "tenon.diameter",
            format!(
                "a tenon of {} is thicker than the screw of {}",
                say(unit, tenon.diameter_mm),
                say(unit, crest)
            ),
            Some(("screw.crest_diameter", "diameter over the crests".to_owned())),
            format!("give it at most {}", say(unit, crest)),
        );
    }
    if let Some(flats) = tenon.flats
        && flats.across_mm >= tenon.diameter_mm - AGREE_MM
    {
        desk.complain(
            &codes::DISAGREE,
            "tenon.across",
            format!(
                "{} from flat to flat leaves no flats on a tenon of {} over the corners",
                say(unit, flats.across_mm),
                say(unit, tenon.diameter_mm)
            ),
            Some(("tenon.diameter", "with flats, this is measured over the corners".to_owned())),
            "make across smaller than diameter",
        );
    }
}

fn garter(job: &Job, desk: &mut Desk) {
    let Some(garter) = &job.operations.garter else { return };
    let unit = job.unit;
    let tenon = job.operations.tenon.as_ref().map_or(0.0, |tenon| tenon.length_mm);
    let room = job.screw.plain_head_mm - tenon;
    let needs = garter.from_shoulder_mm + garter.width_mm;
    if needs > room + AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "garter.from_shoulder",
            format!(
                "the garter groove needs {} before the shoulder, and {} are plain there",
                say(unit, needs),
                say(unit, room)
            ),
            Some(("screw.plain_head", "from the run-out to the head end, the tenon included".to_owned())),
            format!("make plain_head {} longer, or move the groove", say(unit, needs - room)),
        );
    }
    if garter.diameter_mm >= job.screw.crest_diameter_mm - AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "garter.diameter",
            format!("a groove of diameter {} cuts nothing", say(unit, garter.diameter_mm)),
            Some(("screw.crest_diameter", "diameter over the crests".to_owned())),
            format!("give it less than {}", say(unit, job.screw.crest_diameter_mm)),
        );
    }
    if let Some(cutter) = &garter.tooling.cutter
        && cutter.cutting_diameter_mm > garter.width_mm + AGREE_MM
    {
        desk.complain(
            &codes::DISAGREE,
            "garter.width",
            format!(
                "a cutter of {} cuts no groove {} wide",
                say(unit, cutter.cutting_diameter_mm),
                say(unit, garter.width_mm)
            ),
            Some(("garter.cutter.cutting_diameter", "the cutter".to_owned())),
            "take a thinner cutter or a wider groove",
        );
    }
}

fn nose(job: &Job, desk: &mut Desk) {
    let Some(nose) = &job.operations.nose else { return };
    let (key, length) = match nose.shape {
        NoseShape::Taper { length_mm } => ("nose.taper", length_mm),
        NoseShape::Chamfer { length_mm } => ("nose.chamfer", length_mm),
        NoseShape::RoundOver { radius_mm } => ("nose.round_over", radius_mm),
    };
    let unit = job.unit;
    let most = job.screw.thread_length_mm / 2.0;
    if job.screw.plain_nose_mm > 0.0 {
        desk.complain(
            &codes::DISAGREE,
            "nose",
            "the screw has a plain nose below the root, which has no edge to shape",
            Some(("screw.plain_nose", "the plain nose".to_owned())),
            "keep plain_nose or [nose], and leave the other out",
        );
    } else if length > most {
        desk.complain(
            &codes::DISAGREE,
            key,
            format!("a nose shaped over {} takes more than half of the thread", say(unit, length)),
            Some(("screw.thread_length", "length of the thread".to_owned())),
            format!("give it at most {}", say(unit, most)),
        );
    }
}
