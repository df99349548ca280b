//! Habits of a control that change what is written: read from `[feed]`, `[a]`, `[spindle]` and `[program]`. A habit
//! under which a screw cannot be cut, or not be proved, is refused with its reason.

use super::desk::Desk;
use super::file::{
    ARange, AUnitFile, DwellFile, FeedConventionFile, Letters, MachineFile, Pause, Precision, ProgramFile,
    Rapids, SpindleChoice,
};
use crate::finding::job as codes;
use crate::setup::{AUnit, DwellUnit, EndWord, FeedConvention, Habits, ModeWord};

/// Longest name behind the percent line.
const NAME_LENGTH: usize = 24;

/// What F means, if a screw can be cut with it.
pub(super) fn feed(file: &MachineFile, desk: &mut Desk) -> Option<FeedConvention> {
    match file.feed.as_ref()?.convention? {
        FeedConventionFile::InverseTime => Some(FeedConvention::InverseTime),
        FeedConventionFile::Linear => Some(FeedConvention::Linear),
        FeedConventionFile::Combined => Some(FeedConvention::Combined),
        FeedConventionFile::RadiusAware => refuse(
            desk,
            "machine.feed.convention",
            "a control that turns degrees into surface speed by a radius of its own runs at a speed that no program shows",
            "set the control to G93 and write \"inverse-time\", or switch the radius off and write what F then means",
        ),
    }
}

/// How a dwell is written.
pub(super) fn dwell(file: &ProgramFile, desk: &mut Desk) -> Option<DwellUnit> {
    match file.dwell.unwrap_or(DwellFile::Seconds) {
        DwellFile::Seconds => Some(DwellUnit::Seconds),
        DwellFile::Milliseconds => Some(DwellUnit::Milliseconds),
        DwellFile::None => Some(DwellUnit::None),
        DwellFile::XWord => refuse(
            desk,
            "machine.program.dwell",
            "a dwell written with X is a move of X to every other control, and to the reader of the proof",
            "write dwell = \"none\": the program then stops until the spindle has its speed",
        ),
    }
}

fn refuse<T>(desk: &mut Desk, key: &str, why: &str, help: &str) -> Option<T> {
    desk.complain(&codes::HABIT_REFUSED, key, why, None, help);
    None
}

/// Every other habit.
pub(super) fn check(file: &MachineFile, desk: &mut Desk) -> Option<Habits> {
    let plain = ProgramFile::default();
    let program = file.program.as_ref().unwrap_or(&plain);
    let a_unit = rotary(file, desk);
    let name_right = name_right(program, desk);
    let stops = stops(file, program, desk);
    let left_out = program.leave_out.clone().unwrap_or_default();
    let feed = file.feed.as_ref();
    let left_out_right = left_out_right(&left_out, feed.and_then(|feed| feed.convention), desk);
    let whole_feed = feed.and_then(|feed| feed.whole_numbers).unwrap_or(false);
    let convention = feed.and_then(|feed| feed.convention);
    if whole_feed && convention == Some(FeedConventionFile::InverseTime) {
        return refuse(
            desk,
            "machine.feed.whole_numbers",
            "under G93 F is one over the minutes of a block, most often below 10: whole numbers would change the speed by half",
            "let the control take F with decimals, or use another convention",
        );
    }
    let spindle = file.spindle.as_ref().and_then(|spindle| spindle.control);
    let habits = Habits {
        inverse: feed.and_then(|feed| feed.inverse_unit).unwrap_or_default(),
        a_unit: a_unit?,
        rapids_apart: program.rapids == Some(Rapids::Apart),
        name: program.name.clone(),
        whole_feed,
        units_word: program.units_word.unwrap_or_default(),
        small_letters: program.letters == Some(Letters::Small),
        no_blanks: program.blanks == Some(false),
        left_out,
        corners: program.corners.unwrap_or_default(),
        one_speed: spindle == Some(SpindleChoice::OneSpeed),
        single_precision: program.numbers == Some(Precision::Single),
    };
    (stops && left_out_right && name_right).then_some(habits)
}

/// What A words count, if A counts on and is not passed over.
fn rotary(file: &MachineFile, desk: &mut Desk) -> Option<AUnit> {
    let plain = super::file::AFile::default();
    let table = file.a.as_ref().unwrap_or(&plain);
    if table.honoured == Some(false) {
        return refuse(
            desk,
            "machine.a.honoured",
            "a control that passes over A words cuts straight grooves and raises no alarm",
            "have the rotary set up as A first, and see it turn in a program run in the air",
        );
    }
    let range = match table.range.unwrap_or(ARange::CountsOn) {
        ARange::CountsOn => None,
        ARange::ShortestWay => Some("goes the shortest way to an angle below 360"),
        ARange::SignIsDirection => Some("takes the sign of A for the way to turn"),
    };
    if let Some(habit) = range {
        return refuse(
            desk,
            "machine.a.range",
            &format!("a control that {habit} loses the turns of a thread"),
            "set the axis to count on past 360 (some call it linear or unlimited), or give its travel as limit",
        );
    }
    match table.unit.unwrap_or(AUnitFile::Degrees) {
        AUnitFile::Degrees => Some(AUnit::Degrees),
        AUnitFile::Turns => Some(AUnit::Turns),
        AUnitFile::Surface => refuse(
            desk,
            "machine.a.unit",
            "A in millimetres of surface means another angle for every diameter, and a thread has several",
            "set the axis to degrees, or to turns",
        ),
    }
}

/// Whether the name behind the percent line is right, or absent.
fn name_right(program: &ProgramFile, desk: &mut Desk) -> bool {
    let Some(name) = &program.name else { return true };
    let plain = |c: char| c.is_ascii_uppercase() || c.is_ascii_digit() || c == '-';
    if name.is_empty() || name.len() > NAME_LENGTH || !name.chars().all(plain) {
        return refuse::<()>(
            desk,
            "machine.program.name",
            &format!("\"{name}\" is no name that a control would take"),
            "write capitals, digits and -, such as name = \"O1001\"",
        )
        .is_some();
    }
    if program.percent != Some(true) {
        return refuse::<()>(
            desk,
            "machine.program.name",
            "a name stands behind the opening percent line, and this machine has none",
            "write percent = true, or take name out",
        )
        .is_some();
    }
    true
}

/// Whether the program can wait for the operator where it must, and end where it ends.
fn stops(file: &MachineFile, program: &ProgramFile, desk: &mut Desk) -> bool {
    let hand = file.spindle.as_ref().and_then(|spindle| spindle.control) == Some(SpindleChoice::Hand);
    let no_pause = program.pause == Some(Pause::None);
    if no_pause && (hand || program.dwell == Some(DwellFile::None)) {
        let why = if hand {
            "without M0 the program cannot wait until you have switched the spindle on"
        } else {
            "with neither M0 nor a dwell the program cannot wait until the spindle has its speed"
        };
        let help = "let the control take M0, or a dwell with a spindle that the program starts";
        return refuse::<()>(desk, "machine.program.pause", why, help).is_some();
    }
    if program.end == Some(EndWord::None) && program.percent != Some(true) {
        let why = "without an end word and without a percent line nothing tells the control that the program is over";
        let help = "write percent = true, or end = \"M2\"";
        return refuse::<()>(desk, "machine.program.end", why, help).is_some();
    }
    true
}

/// G94 can be left out only where nothing else is ever in force.
fn left_out_right(left_out: &[ModeWord], convention: Option<FeedConventionFile>, desk: &mut Desk) -> bool {
    if left_out.contains(&ModeWord::G94) && convention == Some(FeedConventionFile::InverseTime) {
        let why = "a control that knows G93 knows G94 too, and the next program needs it";
        let help = "take G94 out of leave_out, or write another convention";
        return refuse::<()>(desk, "machine.program.leave_out", why, help).is_some();
    }
    true
}
