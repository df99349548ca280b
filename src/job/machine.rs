//! Checks a machine, in a job or in a file of its own. Whether it can make a given screw is not asked here.

use std::sync::Arc;

use super::desk::{Desk, Required};
use super::file::{MachineFile, Precision, ProgramFile, ProgramUnits, SpindleChoice};
use super::habits;
use super::limits::{say, tidy};
use super::{Marks, mill, page};
use crate::finding::{Finding, job as codes};
use crate::setup::{
    Centre, Chuck, CommentStyle, Dialect, DwellUnit, EndWord, FeedConvention, Habits, Machine, Mill, Rotary,
    Slide, Spindle, SpindleControl, TextStyle, TopTurns, XEnd, ZZero,
};
use crate::source::Source;
use crate::units::LengthUnit;

/// Decimals of a program when the machine file names none: what common controls read.
const DECIMALS: u32 = 4;
/// Longest line when the machine file names none; some old readers cut off what is longer.
const LINE_LENGTH: u32 = 70;
const DEG_PER_REV: f64 = 360.0;
/// Farthest that A counts on a control that keeps numbers in single precision: its step there is 2^-11, five
/// ten-thousandths of a degree (IEEE 754, derived).
const SINGLE_LIMIT_DEG: f64 = 8192.0;

const REQUIRED: &[Required] = &[
    ("machine.title", "title = \"the long bench\"", "title = \"the long bench\""),
    ("machine.headstock.end", "end = \"x-minus\"", "end = \"x-minus\""),
    ("machine.headstock.a_plus", "a_plus = \"to-front\"", "a_plus = \"to-front\""),
    ("machine.headstock.chuck_diameter", "chuck_diameter = 100", "chuck_diameter = 4"),
    ("machine.headstock.grip", "grip = 30", "grip = 1.25"),
    ("machine.zero.z", "z = \"axis\"", "z = \"axis\""),
    ("machine.x.reach", "reach = 700", "reach = 28"),
    ("machine.x.top_speed", "top_speed = 4000", "top_speed = 160"),
    ("machine.x.acceleration", "acceleration = 300", "acceleration = 12"),
    ("machine.x.backlash", "backlash = 0.05", "backlash = 0.002"),
    ("machine.z.top", "top = 90", "top = 3.5"),
    ("machine.z.bottom", "bottom = -10", "bottom = -0.5"),
    ("machine.z.top_speed", "top_speed = 2000", "top_speed = 80"),
    ("machine.z.acceleration", "acceleration = 200", "acceleration = 8"),
    ("machine.z.backlash", "backlash = 0.05", "backlash = 0.002"),
    ("machine.a.top_speed", "top_speed = 20", "top_speed = 20"),
    ("machine.a.acceleration", "acceleration = 1", "acceleration = 1"),
    ("machine.a.backlash", "backlash = 0.1", "backlash = 0.1"),
    ("machine.feed.convention", "convention = \"inverse-time\"", "convention = \"inverse-time\""),
    ("machine.spindle.control", "control = \"program\"", "control = \"program\""),
    ("machine.spindle.least", "least = 8000", "least = 8000"),
    ("machine.spindle.top", "top = 24000", "top = 24000"),
];

/// Reads a machine file alone. `job_unit` is what its programs speak when it says `units = "job"`. Its keys are
/// marked as `machine.…`; the machine is there when no finding stops it.
pub fn read_machine(source: &Arc<Source>, job_unit: LengthUnit) -> (Option<Machine>, Marks, Vec<Finding>) {
    let mut desk = Desk::default();
    let machine = from_text(source, job_unit, &mut desk).map(|(machine, _)| machine);
    (machine.filter(|_| !desk.stops()), desk.marks, desk.findings)
}

/// Reads a machine file at a desk; beside the machine stands what it does on flat work.
pub(super) fn from_text(
    source: &Arc<Source>,
    job_unit: LengthUnit,
    desk: &mut Desk,
) -> Option<(Machine, Option<Mill>)> {
    let text = page::mend(source, "machine", desk)?;
    let table = page::parse(&text);
    if page::is_other(
        &table,
        source,
        "machine",
        &[("flutes", "cutter"), ("cutting_diameter", "cutter"), ("screw", "job")],
        desk,
    ) {
        return None;
    }
    let file: MachineFile = page::fill(table, source, "machine", desk);
    let unit = file.units.unwrap_or_default();
    let mill = mill::check(&file, unit, desk);
    Some((check(&file, unit, job_unit, desk)?, mill))
}

/// Checks a machine whose lengths are in `unit`.
pub(super) fn check(
    file: &MachineFile,
    unit: LengthUnit,
    job_unit: LengthUnit,
    desk: &mut Desk,
) -> Option<Machine> {
    desk.require(REQUIRED, unit);
    let chuck = chuck(file, unit, desk);
    let centre = centre(file, unit, desk);
    let x = slide_x(file, unit, desk);
    let z = slide_z(file, unit, desk);
    let a = rotary(file, desk);
    let spindle = spindle(file, desk);
    let style = style(file.program.as_ref().unwrap_or(&ProgramFile::default()), job_unit, desk);
    let headstock = file.headstock.as_ref();
    let feed = habits::feed(file, desk);
    let habits = habits::check(file, desk);
    let ((x, x_reach_mm, x_past_chuck_mm), (z, z_range)) = x.zip(z)?;
    let style = style?;
    let accepts = file.accepts.as_ref();
    let semicolons_said = accepts.and_then(|table| table.semicolon_comments).unwrap_or(false);
    Some(Machine {
        title: file.title.clone().unwrap_or_default(),
        headstock: headstock?.end?,
        a_plus: headstock?.a_plus?,
        z_zero: file.zero.as_ref()?.z?,
        chuck: chuck?,
        centre,
        x,
        z,
        a: a?,
        x_reach_mm,
        x_past_chuck_mm,
        z_range_above_axis_mm: z_range,
        feed: feed?,
        spindle: spindle?,
        style,
        dialect: Dialect {
            semicolon_comments: semicolons_said || style.comments == CommentStyle::Semicolon,
            long_line_numbers: accepts.and_then(|table| table.long_line_numbers).unwrap_or(false),
            program_name: accepts.and_then(|table| table.program_name).unwrap_or(false)
                || file.program.as_ref().is_some_and(|program| program.name.is_some()),
        },
        habits: habits?,
    })
}

fn chuck(file: &MachineFile, unit: LengthUnit, desk: &mut Desk) -> Option<Chuck> {
    let table = file.headstock.as_ref()?;
    let diameter = desk.number("machine.headstock.chuck_diameter", table.chuck_diameter, unit);
    let grip = desk.number("machine.headstock.grip", table.grip, unit);
    Some(Chuck { diameter_mm: diameter?, grip_mm: grip? })
}

/// The tail centre, if the machine has one. Also nothing when its table is faulty: that has then been reported.
fn centre(file: &MachineFile, unit: LengthUnit, desk: &mut Desk) -> Option<Centre> {
    let table = file.tail.as_ref()?;
    desk.require(
        &[
            ("machine.tail.centre_diameter", "centre_diameter = 12", "centre_diameter = 0.5"),
            ("machine.tail.centre_angle", "centre_angle = 60", "centre_angle = 60"),
        ],
        unit,
    );
    let diameter = desk.number("machine.tail.centre_diameter", table.centre_diameter, unit);
    let angle = desk.number("machine.tail.centre_angle", table.centre_angle, unit);
    Some(Centre { diameter_mm: diameter?, angle_deg: angle? })
}

/// The slide, its reach and how far it passes the chuck.
fn slide_x(file: &MachineFile, unit: LengthUnit, desk: &mut Desk) -> Option<(Slide, f64, f64)> {
    let table = file.x.as_ref()?;
    let reach = desk.number("machine.x.reach", table.reach, unit);
    let past_chuck = match table.past_chuck {
        Some(written) => desk.number("machine.x.past_chuck", Some(written), unit),
        None => Some(0.0),
    };
    let top = desk.number("machine.x.top_speed", table.top_speed, unit);
    let accel = desk.number("machine.x.acceleration", table.acceleration, unit);
    let backlash = desk.number("machine.x.backlash", table.backlash, unit);
    let slide = Slide { top_mm_per_min: top?, accel_mm_per_s2: accel?, backlash_mm: backlash? };
    Some((slide, reach?, past_chuck?))
}

/// The slide and the range of the tip above the axis.
fn slide_z(file: &MachineFile, unit: LengthUnit, desk: &mut Desk) -> Option<(Slide, [f64; 2])> {
    let table = file.z.as_ref()?;
    let top = desk.number("machine.z.top", table.top, unit);
    let bottom = desk.number("machine.z.bottom", table.bottom, unit);
    let top_speed = desk.number("machine.z.top_speed", table.top_speed, unit);
    let accel = desk.number("machine.z.acceleration", table.acceleration, unit);
    let backlash = desk.number("machine.z.backlash", table.backlash, unit);
    if let (Some(top), Some(bottom)) = (top, bottom)
        && bottom >= top
    {
        desk.complain(
            &codes::DISAGREE,
            "machine.z.bottom",
            format!(
                "the lowest place of the tip, {}, is not below the highest, {}",
                say(unit, bottom),
                say(unit, top)
            ),
            Some(("machine.z.top", "highest place".to_owned())),
            "both are measured upwards from the axis of rotation; below the axis is negative",
        );
        return None;
    }
    let slide = Slide { top_mm_per_min: top_speed?, accel_mm_per_s2: accel?, backlash_mm: backlash? };
    Some((slide, [bottom?, top?]))
}

fn rotary(file: &MachineFile, desk: &mut Desk) -> Option<Rotary> {
    let table = file.a.as_ref()?;
    let top = desk.number("machine.a.top_speed", table.top_speed, LengthUnit::Mm);
    let accel = desk.number("machine.a.acceleration", table.acceleration, LengthUnit::Mm);
    let backlash = desk.number("machine.a.backlash", table.backlash, LengthUnit::Mm);
    let limit = match table.limit {
        Some(written) => Some(desk.number("machine.a.limit", Some(written), LengthUnit::Mm)?),
        None => None,
    };
    // Wrong, it was reported and stops the job; missing, it is not known.
    let holding_nm = desk.number("machine.a.holding_torque", table.holding_torque, LengthUnit::Mm);
    // In single precision A words stay exact enough only up to here.
    let single = file.program.as_ref().and_then(|program| program.numbers) == Some(Precision::Single);
    let limit = if single {
        Some(limit.map_or(SINGLE_LIMIT_DEG, |limit: f64| limit.min(SINGLE_LIMIT_DEG)))
    } else {
        limit
    };
    Some(Rotary {
        top_deg_per_min: top? * DEG_PER_REV,
        accel_deg_per_s2: accel? * DEG_PER_REV,
        backlash_deg: backlash?,
        limit_deg: limit,
        holding_nm,
    })
}

fn spindle(file: &MachineFile, desk: &mut Desk) -> Option<Spindle> {
    let table = file.spindle.as_ref()?;
    let least = desk.number("machine.spindle.least", table.least, LengthUnit::Mm);
    let top = desk.number("machine.spindle.top", table.top, LengthUnit::Mm);
    // A power that is wrong was reported and stops the job; one that is missing is not known.
    let power_w = desk.number("machine.spindle.power", table.power, LengthUnit::Mm);
    let mut start = desk.number("machine.spindle.start_seconds", table.start_seconds, LengthUnit::Mm);
    let control = match table.control? {
        SpindleChoice::Program | SpindleChoice::OneSpeed => SpindleControl::Program,
        SpindleChoice::Hand => SpindleControl::Hand,
    };
    match control {
        SpindleControl::Program => {
            let example = "start_seconds = 5";
            desk.require(&[("machine.spindle.start_seconds", example, example)], LengthUnit::Mm);
        }
        // The operator waits for a spindle that he switches himself.
        SpindleControl::Hand if table.start_seconds.is_none() => start = Some(0.0),
        SpindleControl::Hand => {}
    }
    let (least_rpm, top_rpm) = (least?, top?);
    if least_rpm > top_rpm {
        desk.complain(
            &codes::DISAGREE,
            "machine.spindle.least",
            format!(
                "the slowest speed, {} rev/min, is above the fastest, {}",
                tidy(least_rpm, 1),
                tidy(top_rpm, 1)
            ),
            Some(("machine.spindle.top", "fastest".to_owned())),
            "least is the slowest speed of the spindle, top its fastest",
        );
        return None;
    }
    Some(Spindle { control, least_rpm, top_rpm, start_s: start?, power_w })
}

fn style(file: &ProgramFile, job_unit: LengthUnit, desk: &mut Desk) -> Option<TextStyle> {
    let decimals = desk.count("machine.program.decimals", file.decimals.or(Some(DECIMALS)));
    let line_length = desk.count("machine.program.line_length", file.line_length.or(Some(LINE_LENGTH)));
    let line_numbers = match file.line_numbers {
        Some(step) => Some(desk.count("machine.program.line_numbers", Some(step))?),
        None => None,
    };
    Some(TextStyle {
        unit: match file.units.unwrap_or_default() {
            ProgramUnits::Job => job_unit,
            ProgramUnits::Mm => LengthUnit::Mm,
            ProgramUnits::Inch => LengthUnit::Inch,
        },
        decimals: decimals? as usize,
        line_length: line_length? as usize,
        comments: file.comments.unwrap_or(CommentStyle::Parentheses),
        line_numbers,
        percent: file.percent.unwrap_or(false),
        end: file.end.unwrap_or(EndWord::M2),
        dwell: habits::dwell(file, desk)?,
    })
}

/// Stands for the machine of a job that is cut by hand: it has no limits, so nothing is found against it.
pub(super) fn no_machine(unit: LengthUnit) -> Machine {
    let slide = Slide { top_mm_per_min: f64::INFINITY, accel_mm_per_s2: f64::INFINITY, backlash_mm: 0.0 };
    Machine {
        title: "no machine".to_owned(),
        headstock: XEnd::XMinus,
        a_plus: TopTurns::ToFront,
        z_zero: ZZero::Axis,
        chuck: Chuck { diameter_mm: 0.0, grip_mm: 0.0 },
        centre: None,
        x: slide,
        z: slide,
        a: Rotary {
            top_deg_per_min: f64::INFINITY,
            accel_deg_per_s2: f64::INFINITY,
            backlash_deg: 0.0,
            limit_deg: None,
            holding_nm: None,
        },
        x_reach_mm: f64::INFINITY,
        x_past_chuck_mm: f64::INFINITY,
        z_range_above_axis_mm: [f64::NEG_INFINITY, f64::INFINITY],
        feed: FeedConvention::InverseTime,
        spindle: Spindle {
            control: SpindleControl::Hand,
            least_rpm: 0.0,
            top_rpm: f64::INFINITY,
            start_s: 0.0,
            power_w: None,
        },
        style: TextStyle {
            unit,
            decimals: DECIMALS as usize,
            line_length: LINE_LENGTH as usize,
            comments: CommentStyle::None,
            line_numbers: None,
            percent: false,
            end: EndWord::M2,
            dwell: DwellUnit::Seconds,
        },
        dialect: Dialect::default(),
        habits: Habits::default(),
    }
}
