//! Holds a job against its own shop: the screw against the blank, the cutter, the chuck and the speeds asked for.
//! Looks only at what was asked, where both places can be pointed at. Whatever needs sizes that follow (depth, core,
//! the reach of the cutter) is the business of design, whatever needs moves (lead-in, turns of a pass) of toolpath.

use std::f64::consts::PI;

use super::desk::{AGREE_MM, Desk};
use super::limits::{Quantity, say, tidy};
use super::{Cutting, DepthAsked, Job};
use crate::finding::{Finding, job as codes};
use crate::setup::{BlankShape, Tip};
use crate::units::LengthUnit;

/// Included angles that are to agree may differ by this: finer than a cutter is ground.
const AGREE_DEG: f64 = 0.05;
/// A round blank may be this much thicker than the crest before it is worth a word: it is how closely a blank is
/// turned by hand (common practice, no source).
const TURNED_OVER_MM: f64 = 0.5;
/// A sawn blank's length may differ by this from the sum of its parts: it is measured with a rule, and the cutter
/// keeps clear by more.
const SAWN_MM: f64 = 1.0;
/// A step of the program's last digit that moves the thread by more than this shows: two fifths of what the proof
/// lets pass in the lead (`Tolerances::lead_mm`), since X and A both round.
const ROUNDING_SHOWS_MM: f64 = 0.02;
const DEG_PER_TURN: f64 = 360.0;

/// Compares everything with everything. `blank_length_mm` is the length the job gives its blank, if it does.
pub(super) fn check(job: &Job, blank_length_mm: Option<f64>, desk: &mut Desk) {
    angle(job, desk);
    root_flat(job, desk);
    groove_has_room(job, desk);
    blank_section(job, desk);
    blank_length(job, blank_length_mm, desk);
    spindle(job, desk);
    feed(job, desk);
    rounding(job, desk);
}

/// The thread's angle is the cutter's.
fn angle(job: &Job, desk: &mut Desk) {
    let cutter = job.cutter.included_angle_deg;
    if let Some(asked) = job.screw.included_angle_deg.filter(|asked| (asked - cutter).abs() > AGREE_DEG) {
        let (asked, cutter) = (tidy(asked, 2), tidy(cutter, 2));
        desk.complain(
            &codes::DISAGREE,
            "screw.included_angle",
            format!("the thread is to have {asked} degrees, the cutter makes {cutter}"),
            Some(("cutter.included_angle", format!("this cutter makes {cutter} degrees"))),
            format!("take a cutter of {asked} degrees, or leave included_angle out of [screw]"),
        );
    }
}

/// Times the tip's width up to which flank passes beside the middle leave no ridge in the root: a tip to either side.
const WIDEST_ROOT: f64 = 3.0;

/// A root flat wider than the tip is cut by a pass on each flank; that needs a tip which leaves a flat, and nothing else
/// to be done to both flanks at once.
fn root_flat(job: &Job, desk: &mut Desk) {
    let Some(flat_mm) = job.screw.root_flat_mm else { return };
    let unit = job.unit;
    let flat = say(unit, flat_mm);
    let tip_mm = match job.cutter.tip {
        Tip::Flat { diameter_mm } => diameter_mm,
        Tip::Ball { .. } => {
            desk.complain(
                &codes::DISAGREE,
                "screw.root_flat",
                format!("a ball leaves no flat of {flat} in the root"),
                Some(("cutter.tip", "the cutter's tip is a ball".to_owned())),
                "leave root_flat out, or take a cutter with a flat tip",
            );
            return;
        }
    };
    let tip = say(unit, tip_mm);
    let also = Some(("cutter.tip_diameter", "the flat of the cutter".to_owned()));
    if flat_mm < tip_mm - AGREE_MM {
        desk.complain(
            &codes::DISAGREE,
            "screw.root_flat",
            format!("the root is to be {flat} wide, and the tip that cuts it is {tip} wide"),
            also,
            format!("leave root_flat out, or take a cutter with a tip of at most {flat}"),
        );
    } else if flat_mm > WIDEST_ROOT * tip_mm + AGREE_MM {
        let needed = say(unit, flat_mm / WIDEST_ROOT);
        desk.complain(
            &codes::DISAGREE,
            "screw.root_flat",
            format!("a tip of {tip} leaves a ridge in a root {flat} wide"),
            also,
            format!("three tips side by side must fill the root: take a tip of at least {needed}, or a narrower root"),
        );
    } else if job.flank_aside_mm() > 0.0 && job.cutting.spring_pass {
        desk.complain(
            &codes::DISAGREE,
            "cutting.spring_pass",
            format!("a spring pass touches neither flank of a root {flat} wide"),
            Some((
                "screw.root_flat",
                format!("wider than the tip of {tip}, so each flank has a pass of its own"),
            )),
            "take spring_pass out, or root_flat",
        );
    }
}

/// Crest flat and root have to leave room for flanks between them.
fn groove_has_room(job: &Job, desk: &mut Desk) {
    let (DepthAsked::CrestFlat { flat_mm, .. }, Tip::Flat { diameter_mm }) =
        (job.screw.depth, job.cutter.tip)
    else {
        return;
    };
    let root_mm = job.screw.root_flat_mm.unwrap_or(0.0).max(diameter_mm);
    let room = job.screw.pitch_mm - flat_mm - root_mm;
    if room <= 0.0 && flat_mm < job.screw.pitch_mm {
        let unit = job.unit;
        desk.complain(
            &codes::DISAGREE,
            "screw.crest_flat",
            format!(
                "a crest flat of {} and a {} of {} leave no flanks in a pitch of {}",
                say(unit, flat_mm),
                if root_mm > diameter_mm { "root flat" } else { "tip" },
                say(unit, root_mm),
                say(unit, job.screw.pitch_mm)
            ),
            Some(("cutter.tip_diameter", "the tip is as wide as the groove".to_owned())),
            "make the flat smaller, or take a cutter with a smaller tip",
        );
    }
}

/// The blank holds the screw; what stands over is another tool's work.
fn blank_section(job: &Job, desk: &mut Desk) {
    let (unit, crest, size) = (job.unit, job.screw.crest_diameter_mm, job.blank.size_mm);
    let (name, across) = match job.blank.shape {
        BlankShape::Round => ("a round", ""),
        BlankShape::Octagon => ("an octagonal", " across flats"),
        BlankShape::Square => ("a square", " across flats"),
    };
    if size < crest - AGREE_MM {
        desk.complain(
            &codes::BLANK_TOO_SMALL,
            "blank.size",
            format!(
                "{name} blank of {}{across} does not hold a screw of {}",
                say(unit, size),
                say(unit, crest)
            ),
            Some(("screw.crest_diameter", "diameter over the crests".to_owned())),
            format!(
                "this program cuts only the thread: take a round blank of {}, turned to the crest diameter",
                say(unit, crest)
            ),
        );
    } else if job.blank.shape != BlankShape::Round || size > crest + TURNED_OVER_MM {
        let (size, crest_said) = (say(unit, size), say(unit, crest));
        let stands = if job.blank.shape == BlankShape::Round {
            format!("{name} blank of {size} stands over the crests of {crest_said}")
        } else {
            format!("the corners of {name} blank of {size}{across} stand over the crests of {crest_said}")
        };
        desk.complain(
            &codes::BLANK_TO_TURN,
            "blank.size",
            stands,
            Some(("screw.crest_diameter", "diameter over the crests".to_owned())),
            format!(
                "this program cuts only the thread: turn the blank to {} first, then write shape = \"round\" and size = {}",
                say(unit, crest),
                tidy(crest / unit.mm(), unit.decimals())
            ),
        );
    }
}

/// Waste holds the grip; the parts make up the length that the blank is said to have.
fn blank_length(job: &Job, given: Option<f64>, desk: &mut Desk) {
    let unit = job.unit;
    let (waste, grip) = (job.blank.waste_head_mm, job.machine.chuck.grip_mm);
    if waste < grip - AGREE_MM {
        desk.complain(
            &codes::GRIP_SHORT,
            "blank.waste_head",
            format!("the waste at the head is {}, the chuck grips {}", say(unit, waste), say(unit, grip)),
            Some(("machine.headstock.grip", "the length inside the chuck".to_owned())),
            format!("leave at least {} of waste at the head", say(unit, grip)),
        );
    }
    let parts = blank_sum_mm(job);
    let Some(given) = given.filter(|given| (given - parts).abs() > SAWN_MM) else {
        return;
    };
    let parts_said = format!(
        "waste {} + screw {} + waste {} are {}",
        say(unit, job.blank.waste_nose_mm),
        say(unit, screw_length_mm(job)),
        say(unit, waste),
        say(unit, parts)
    );
    let help = if given < parts {
        format!("take a blank of {}, or shorten a part", say(unit, parts))
    } else {
        format!(
            "add the {} over to waste_nose or waste_head, so that it is known where wood stands",
            say(unit, given - parts)
        )
    };
    let message = format!("the blank is {} long, but its parts make {}", say(unit, given), say(unit, parts));
    desk.complain(&codes::DISAGREE, "blank.length", message, Some(("blank.waste_head", parts_said)), help);
}

fn screw_length_mm(job: &Job) -> f64 {
    let screw = &job.screw;
    screw.plain_nose_mm
        + screw.thread_length_mm
        + job.cutting.run_out_turns * screw.lead_mm
        + screw.plain_head_mm
}

fn blank_sum_mm(job: &Job) -> f64 {
    job.blank.waste_nose_mm + screw_length_mm(job) + job.blank.waste_head_mm
}

/// Speeds that are left to the wood are zero here and fit any machine.
fn spindle(job: &Job, desk: &mut Desk) {
    let (rpm, spindle) = (job.cutting.rpm, &job.machine.spindle);
    if rpm == 0.0 || rpm >= spindle.least_rpm && rpm <= spindle.top_rpm {
        return;
    }
    let (key, bound, word) = if rpm < spindle.least_rpm {
        ("machine.spindle.least", spindle.least_rpm, "slowest")
    } else {
        ("machine.spindle.top", spindle.top_rpm, "fastest")
    };
    let finding = Finding::new(
        &codes::RPM_PAST_SPINDLE,
        format!("the job asks for {} rev/min, the spindle's {word} is {}", tidy(rpm, 1), tidy(bound, 1)),
    )
    .at_some(desk.marks.get("cutting.rpm"))
    .also_at(desk.marks.get(key), format!("{word} speed"))
    .help(format!("write rpm from {} to {}", tidy(spindle.least_rpm, 1), tidy(spindle.top_rpm, 1)))
    .values(rpm, bound);
    desk.find(finding);
}

/// One turn runs along a helix of length sqrt((pi d)^2 + lead^2) at the crest, so the feed sets the turns a minute,
/// and the turns set the speed of X (unrolled cylinder).
fn feed(job: &Job, desk: &mut Desk) {
    let Cutting { feed_mm_per_min: one, feeds_mm_per_min: list, flank_feed_mm_per_min: flank, .. } =
        &job.cutting;
    let flank = flank.map(|feed| ("cutting.flank_feed".to_owned(), feed));
    let asked: Vec<(String, f64)> = if list.is_empty() {
        std::iter::once(("cutting.feed".to_owned(), *one)).chain(flank).collect()
    } else {
        let key = |(index, &feed): (usize, &f64)| (format!("cutting.feeds.{index}"), feed);
        list.iter().enumerate().map(key).chain(flank).collect()
    };
    let fastest = asked.into_iter().max_by(|a, b| a.1.total_cmp(&b.1));
    let Some((asked_key, feed)) = fastest else { return };
    let lead = job.screw.lead_mm;
    let helix = (PI * job.screw.crest_diameter_mm).hypot(lead);
    let turns = feed / helix;
    let a_top = job.machine.a.top_deg_per_min / DEG_PER_TURN;
    let x_top = job.machine.x.top_mm_per_min;
    let fits = a_top.min(x_top / lead) * helix;
    if feed <= fits {
        return;
    }
    let speed = |held| Quantity::Speed.say(held, job.unit);
    let (key, needs) = if turns > a_top {
        let needs = format!("turns A at {} rev/min, its top is {}", tidy(turns, 2), tidy(a_top, 2));
        ("machine.a.top_speed", needs)
    } else {
        ("machine.x.top_speed", format!("moves X at {}, its top is {}", speed(turns * lead), speed(x_top)))
    };
    // Rounded down, so that writing the offered number does end the finding.
    let step = if job.unit == LengthUnit::Mm { 1.0 } else { 0.1 };
    let offer = (fits / job.unit.mm() / step).floor() * step;
    let finding =
        Finding::new(&codes::FEED_PAST_AXIS, format!("a feed of {} along this thread {needs}", speed(feed)))
            .at_some(desk.marks.get(&asked_key))
            .also_at(desk.marks.get(key), "top speed of the axis")
            .help(format!("write feed = {} or less", tidy(offer, 1)))
            .values(feed, fits);
    desk.find(finding);
}

/// Half a step of the last digit of X, and of A along the thread, as it will show in the wood.
fn rounding(job: &Job, desk: &mut Desk) {
    let style = &job.machine.style;
    let half_step = 0.5 * 10_f64.powf(-(style.decimals as f64));
    let x_mm = half_step * style.unit.mm();
    let a_mm = half_step / DEG_PER_TURN * job.screw.lead_mm;
    let shows_mm = x_mm + a_mm;
    if shows_mm <= ROUNDING_SHOWS_MM {
        return;
    }
    let decimals =
        if style.decimals == 1 { "1 decimal".to_owned() } else { format!("{} decimals", style.decimals) };
    let units = if style.unit == LengthUnit::Mm { "millimetres" } else { "inches" };
    desk.complain(
        &codes::DECIMALS_FEW,
        "machine.program.decimals",
        format!("a program in {units} with {decimals} places the thread only to {} mm", tidy(shows_mm, 3)),
        None,
        format!(
            "let the machine take more decimals if it can; {} mm would not show",
            tidy(ROUNDING_SHOWS_MM, 3)
        ),
    );
}
