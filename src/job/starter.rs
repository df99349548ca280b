//! Writes a starter job: short, commented, and clean when read back. Sizes it has to choose are usual ones, made to
//! fit the few that were asked for; it opens no files.

use std::f64::consts::PI;
use std::fmt::Write;

use super::limits::tidy;
use crate::drawing::Hand;
use crate::units::LengthUnit;

/// What a starter job is to hold; everything else it chooses. Lengths in mm, shown in `unit`.
#[derive(Clone, Debug, PartialEq)]
pub struct Starter {
    /// Title of the job.
    pub title: String,
    /// Unit of the file.
    pub unit: LengthUnit,
    /// Name of the wood.
    pub wood: String,
    /// Diameter over the crests.
    pub crest_diameter_mm: f64,
    /// Crest to crest.
    pub pitch_mm: f64,
    /// Threads side by side.
    pub starts: u32,
    /// Which way it winds.
    pub hand: Hand,
    /// Full thread along the axis.
    pub thread_length_mm: f64,
    /// Path of a machine file, or `None` for a table to fill in.
    pub machine: Option<String>,
    /// Path of a cutter file, or `None` for a table to fill in.
    pub cutter: Option<String>,
}

impl Default for Starter {
    fn default() -> Self {
        Starter {
            title: "bench screw".to_owned(),
            unit: LengthUnit::Mm,
            wood: "hard maple".to_owned(),
            crest_diameter_mm: 50.0,
            pitch_mm: 10.0,
            starts: 1,
            hand: Hand::Right,
            thread_length_mm: 250.0,
            machine: None,
            cutter: None,
        }
    }
}

/// Turns a minute that a starter job asks of A: slow enough for a small rotary (common practice, no source).
const TURNS_PER_MIN: f64 = 4.0;
const GRIP_MM: f64 = 30.0;
const WASTE_NOSE_MM: f64 = 12.5;
const WASTE_HEAD_MM: f64 = 40.0;
const PLAIN_HEAD_MM: f64 = 60.0;
const TIP_MM: f64 = 1.0;

/// The text of a starter job.
pub fn starter(answers: &Starter) -> String {
    let unit = answers.unit;
    let number = |length_mm: f64| tidy(length_mm / unit.mm(), unit.decimals());
    let quoted = |text: &str| toml::Value::String(text.to_owned()).to_string();
    let lead = answers.pitch_mm * f64::from(answers.starts);
    let feed = TURNS_PER_MIN * (PI * answers.crest_diameter_mm).hypot(lead);
    // Deep threads take more passes: about 2.5 mm of pitch each.
    let passes = (answers.pitch_mm / 2.5).ceil().clamp(2.0, 12.0);
    let mut text = format!(
        "# A wooden screw. Lengths are in {}; a length may also be a text such as \"1 1/2 in\" or \"38 mm\".\n\
         title = {}\n\
         units = \"{}\"\n\
         wood = {}\n",
        if unit == LengthUnit::Mm { "mm" } else { "inches" },
        quoted(&answers.title),
        if unit == LengthUnit::Mm { "mm" } else { "inch" },
        quoted(&answers.wood),
    );
    // Paths belong above the first table.
    for (key, path) in [("machine", &answers.machine), ("cutter", &answers.cutter)] {
        if let Some(path) = path {
            let _ = writeln!(text, "{key} = {}", quoted(path));
        }
    }
    let _ = write!(
        text,
        "\n[screw]\n\
         crest_diameter = {crest}  # over the crests\n\
         pitch = {pitch}  # crest to crest\n\
         starts = {starts}  # threads side by side; the lead is pitch times starts\n\
         hand = \"{hand}\"\n\
         crest_flat = {flat}  # wood left on the crest; or give depth instead\n\
         thread_length = {length}\n\
         plain_head = {head}  # from the end of the run-out to the head end\n\
         \n\
         [blank]\n\
         shape = \"round\"\n\
         size = {crest}\n\
         waste_nose = {waste_nose}  # beyond the nose, for the tail centre\n\
         waste_head = {waste_head}  # beyond the head, what the chuck grips included\n\
         \n\
         [cutting]\n\
         rpm = 16000\n\
         feed = {feed}  # along the thread, {name} a minute\n\
         passes = {passes}\n",
        crest = number(answers.crest_diameter_mm),
        pitch = number(answers.pitch_mm),
        starts = answers.starts,
        hand = answers.hand.name(),
        flat = number(answers.pitch_mm / 5.0),
        length = number(answers.thread_length_mm),
        head = number(PLAIN_HEAD_MM),
        waste_nose = number(WASTE_NOSE_MM),
        waste_head = number(WASTE_HEAD_MM),
        feed = tidy((feed / unit.mm()).floor().max(1.0), 0),
        name = unit.name(),
    );
    if answers.cutter.is_none() {
        text.push_str(&cutter_table(answers, &number));
    }
    if answers.machine.is_none() {
        text.push_str(&machine_table(answers, lead, feed, &number));
    }
    text
}

/// A 60 degree V that spans the pitch.
fn cutter_table(answers: &Starter, number: &dyn Fn(f64) -> String) -> String {
    let tip = TIP_MM.min(answers.pitch_mm / 10.0);
    let diameter = answers.pitch_mm.max(25.0);
    let slope = 30_f64.to_radians().tan();
    let edges = (diameter - tip) / 2.0 / slope;
    format!(
        "\n# Measure your cutter and your machine, and write their numbers here.\n\
         [cutter]\n\
         title = \"60 degree V\"\n\
         shape = \"v\"\n\
         included_angle = 60\n\
         tip = \"flat\"\n\
         tip_diameter = {}\n\
         flutes = 2\n\
         cutting_diameter = {}\n\
         cutting_length = {}\n\
         shank_diameter = {}\n\
         collet_diameter = {}\n\
         stick_out = {}  # from the tip to the collet nut\n",
        number(tip),
        number(diameter),
        number(edges),
        number(8.0),
        number(30.0),
        number(edges + 25.0),
    )
}

/// A machine large and fast enough for the job.
fn machine_table(answers: &Starter, lead: f64, feed: f64, number: &dyn Fn(f64) -> String) -> String {
    // Room for the blank, its clearance and a lead-in of a turn, to the next 100 mm.
    let blank = WASTE_NOSE_MM + answers.thread_length_mm + 0.5 * lead + PLAIN_HEAD_MM + WASTE_HEAD_MM;
    let reach = ((blank + lead) / 100.0).ceil() * 100.0 + 100.0;
    let top = (answers.crest_diameter_mm / 2.0 + 40.0).max(90.0);
    let x_speed = feed.max(4000.0);
    format!(
        "\n[machine]\n\
         title = \"bench router with a rotary axis\"\n\
         headstock = {{ end = \"x-minus\", a_plus = \"to-front\", chuck_diameter = {chuck}, grip = {grip} }}\n\
  # a_plus is what the top of the blank does when A is jogged from 0 to +90\n\
         tail = {{ centre_diameter = {centre}, centre_angle = 60 }}\n\
         zero = {{ z = \"axis\" }}\n\
         x = {{ reach = {reach}, top_speed = {x_speed}, acceleration = {x_accel}, backlash = {play} }}\n\
         z = {{ top = {top}, bottom = 0, top_speed = {z_speed}, acceleration = {z_accel}, backlash = {play} }}\n\
         a = {{ top_speed = 20, acceleration = 1, backlash = 0.1 }}  # turns a minute, turns per s^2, degrees\n\
         feed = {{ convention = \"inverse-time\" }}  # or \"linear\" or \"combined\": the manual of the control tells\n\
         spindle = {{ control = \"program\", least = 8000, top = 24000, start_seconds = 5 }}\n",
        chuck = number(100.0),
        grip = number(GRIP_MM),
        centre = number(12.0_f64.min(answers.crest_diameter_mm / 4.0)),
        reach = number(reach),
        x_speed = number(x_speed),
        x_accel = number(300.0),
        play = number(0.05),
        top = number(top),
        z_speed = number(2000.0),
        z_accel = number(200.0),
    )
}
