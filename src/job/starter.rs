//! Writes a starter job: short, commented, and clean when read back. Sizes it has to choose are usual ones, made to
//! fit the few that were asked for; it opens no files.

use std::f64::consts::PI;
use std::fmt::Write;

use super::limits::tidy;
use crate::drawing::Hand;
use crate::units::LengthUnit;

/// Stands above the tables of a starter job that hold numbers of nobody's machine, until someone has put in his own.
pub const REMINDER: &str =
    "# Measure your cutter and your machine, write their numbers here, then delete this line.";

/// What a starter job is to hold; everything else it chooses. Lengths in mm, shown in `unit`; what is `None` takes a
/// usual size that is round in that unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Starter {
    /// Title of the job.
    pub title: String,
    /// Unit of the file.
    pub unit: LengthUnit,
    /// Name of the wood.
    pub wood: String,
    /// Diameter over the crests.
    pub crest_diameter_mm: Option<f64>,
    /// Crest to crest.
    pub pitch_mm: Option<f64>,
    /// Threads side by side.
    pub starts: u32,
    /// Which way it winds.
    pub hand: Hand,
    /// Full thread along the axis.
    pub thread_length_mm: Option<f64>,
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
            crest_diameter_mm: None,
            pitch_mm: None,
            starts: 1,
            hand: Hand::Right,
            thread_length_mm: None,
            machine: None,
            cutter: None,
        }
    }
}

/// Turns a minute that a starter job asks of A: slow enough for a small rotary (common practice, no source).
const TURNS_PER_MIN: f64 = 4.0;

/// Least way round the blank a minute, mm, that the machine of a starter job can go: chips that do not burn need it (common
/// practice, no source).
const LEAST_ROUND_MM_PER_MIN: f64 = 2000.0;

/// Length of a wooden nut over the crest diameter: 1 to 1.5 is common practice (from memory).
const NUT_PER_DIAMETER: f64 = 1.25;

/// Pitches that are chosen go by this share of the usual one.
const PITCH_STEP: f64 = 0.125;

/// Sizes that are round in a unit: lengths in it, speeds in it a minute, accelerations in it per second squared.
struct Usual {
    crest_diameter: f64,
    pitch: f64,
    /// Deep threads take more passes: about one for so much pitch.
    pitch_per_pass: f64,
    thread_length: f64,
    plain_head: f64,
    waste_nose: f64,
    waste_head: f64,
    tip: f64,
    cutting_diameter: f64,
    /// Edges are given to the next of these, if rules in this unit are read so.
    edge_step: Option<f64>,
    shank_diameter: f64,
    collet_diameter: f64,
    /// From the end of the edges to the collet nut.
    behind_edges: f64,
    chuck_diameter: f64,
    grip: f64,
    centre_diameter: f64,
    /// Reach of X is given to the next of these, and one more.
    reach_step: f64,
    /// Least place of the tip at the top, and how far it is above the crest at least.
    top: f64,
    top_above_crest: f64,
    x_speed: f64,
    x_accel: f64,
    z_speed: f64,
    z_accel: f64,
    backlash: f64,
}

const USUAL_MM: Usual = Usual {
    crest_diameter: 50.0,
    pitch: 10.0,
    pitch_per_pass: 2.5,
    thread_length: 250.0,
    plain_head: 60.0,
    waste_nose: 12.5,
    waste_head: 40.0,
    tip: 1.0,
    cutting_diameter: 25.0,
    edge_step: None,
    shank_diameter: 8.0,
    collet_diameter: 30.0,
    behind_edges: 25.0,
    chuck_diameter: 100.0,
    grip: 30.0,
    centre_diameter: 12.0,
    reach_step: 100.0,
    top: 90.0,
    top_above_crest: 40.0,
    x_speed: 4000.0,
    x_accel: 300.0,
    z_speed: 2000.0,
    z_accel: 200.0,
    backlash: 0.05,
};

const USUAL_INCH: Usual = Usual {
    crest_diameter: 2.0,
    pitch: 0.4,
    pitch_per_pass: 0.1,
    thread_length: 10.0,
    plain_head: 2.5,
    waste_nose: 0.5,
    waste_head: 1.5,
    tip: 0.03125,
    cutting_diameter: 1.0,
    edge_step: Some(0.125),
    shank_diameter: 0.5,
    collet_diameter: 1.25,
    behind_edges: 1.0,
    chuck_diameter: 4.0,
    grip: 1.25,
    centre_diameter: 0.5,
    reach_step: 4.0,
    top: 3.5,
    top_above_crest: 1.5,
    x_speed: 160.0,
    x_accel: 12.0,
    z_speed: 80.0,
    z_accel: 8.0,
    backlash: 0.002,
};

/// The sizes of one starter job, in its unit.
struct Sizes {
    usual: &'static Usual,
    unit: LengthUnit,
    crest_diameter: f64,
    pitch: f64,
    lead: f64,
    thread_length: f64,
    feed: f64,
}

impl Sizes {
    fn of(answers: &Starter) -> Self {
        let unit = answers.unit;
        let usual = if unit == LengthUnit::Mm { &USUAL_MM } else { &USUAL_INCH };
        let or = |asked_mm: Option<f64>, usual: f64| asked_mm.map_or(usual, |asked_mm| asked_mm / unit.mm());
        let crest_diameter = or(answers.crest_diameter_mm, usual.crest_diameter);
        // A thread in proportion, to a round number.
        let step = usual.pitch * PITCH_STEP;
        let in_proportion = usual.pitch * crest_diameter / usual.crest_diameter;
        let pitch = or(answers.pitch_mm, ((in_proportion / step).round() * step).max(step));
        let lead = pitch * f64::from(answers.starts);
        Sizes {
            usual,
            unit,
            crest_diameter,
            pitch,
            lead,
            thread_length: or(answers.thread_length_mm, usual.thread_length),
            feed: TURNS_PER_MIN * (PI * crest_diameter).hypot(lead),
        }
    }

    /// A number of the file; a thirty-second of an inch takes one decimal more than is shown elsewhere.
    fn number(&self, number: f64) -> String {
        tidy(number, if self.unit == LengthUnit::Mm { self.unit.decimals() } else { 5 })
    }

    /// What the chuck holds of the blank: a thick one wants more than a quarter of its width.
    fn grip(&self) -> f64 {
        self.usual.grip.max(GRIP_SHARE * self.crest_diameter)
    }

    /// Waste at the head: the grip, and room for the run-out of the cutter.
    fn waste_head(&self) -> f64 {
        self.usual.waste_head + self.grip() - self.usual.grip
    }
}

/// Share of a blank's width that the chuck of a starter holds of its length (common practice, no source).
const GRIP_SHARE: f64 = 0.3;

/// The text of a starter job.
pub fn starter(answers: &Starter) -> String {
    let unit = answers.unit;
    let sizes = Sizes::of(answers);
    let usual = sizes.usual;
    let number = |number| sizes.number(number);
    let quoted = |text: &str| toml::Value::String(text.to_owned()).to_string();
    let passes = (sizes.pitch / usual.pitch_per_pass).ceil().clamp(2.0, 12.0);
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
         plan = \"by-wood\"  # speeds and depths follow from wood, cutter and machine; or give rpm and feed yourself\n\
         passes = {passes}  # fewer are faster: `threadwright feeds` shows how much; left out, the wood decides\n",
        crest = number(sizes.crest_diameter),
        pitch = number(sizes.pitch),
        starts = answers.starts,
        hand = answers.hand.name(),
        flat = number(sizes.pitch / 5.0),
        length = number(sizes.thread_length),
        head = number(usual.plain_head),
        waste_nose = number(usual.waste_nose),
        waste_head = number(sizes.waste_head()),
    );
    text.push_str(&year_and_nut(&sizes, &quoted(&answers.wood)));
    if answers.cutter.is_none() || answers.machine.is_none() {
        let _ = write!(text, "\n{REMINDER}");
    }
    if answers.cutter.is_none() {
        text.push_str(&cutter_table(&sizes));
    }
    if answers.machine.is_none() {
        text.push_str(&machine_table(&sizes));
    }
    text
}

/// A heated house, and a nut of the screw's wood.
fn year_and_nut(sizes: &Sizes, wood: &str) -> String {
    let warm = if sizes.unit == LengthUnit::Mm { 20 } else { 68 };
    let length = (NUT_PER_DIAMETER * sizes.crest_diameter).min(sizes.thread_length);
    format!(
        "\n[season]  # the air where the screw will be used; the wood takes its moisture from it\n\
         dry = {{ temperature = {warm}, humidity = 35 }}\n\
         wet = {{ temperature = {warm}, humidity = 65 }}\n\
         cutting_moisture = 9  # of the wood when it is cut, by the meter, in percent\n\
         \n\
         [nut]\n\
         wood = {wood}\n\
         board = \"flat-sawn\"  # rings along the face that the screw goes through; or \"rift-sawn\", \"quarter-sawn\"\n\
         length = {}  # along the screw\n",
        sizes.number(length)
    )
}

/// A 60 degree V that spans the pitch.
fn cutter_table(sizes: &Sizes) -> String {
    let (usual, number) = (sizes.usual, |number| sizes.number(number));
    let tip = usual.tip.min(sizes.pitch / 10.0);
    let diameter = sizes.pitch.max(usual.cutting_diameter);
    let slope = 30_f64.to_radians().tan();
    let cone = (diameter - tip) / 2.0 / slope;
    let edges = usual.edge_step.map_or(cone, |step| (cone / step).ceil() * step);
    format!(
        "\n[cutter]\n\
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
        number(usual.shank_diameter),
        number(usual.collet_diameter),
        number(edges + usual.behind_edges),
    )
}

/// A machine large and fast enough for the job.
fn machine_table(sizes: &Sizes) -> String {
    let (usual, number) = (sizes.usual, |number| sizes.number(number));
    // Room for the blank, its clearance and a lead-in of a turn, to the next step.
    let screw = sizes.thread_length + 0.5 * sizes.lead + usual.plain_head;
    let room = usual.waste_nose + screw + sizes.waste_head() + sizes.lead;
    let reach = (room / usual.reach_step).ceil() * usual.reach_step + usual.reach_step;
    let top = (sizes.crest_diameter / 2.0 + usual.top_above_crest).max(usual.top);
    // A thin screw has to turn faster for the same way along the wood.
    let round_mm = PI * sizes.crest_diameter * sizes.unit.mm();
    let turns = (LEAST_ROUND_MM_PER_MIN / round_mm / 5.0).ceil().max(4.0) * 5.0;
    format!(
        "\n[machine]\n\
         title = \"bench router with a rotary axis\"\n\
         headstock = {{ end = \"x-minus\", a_plus = \"to-front\", chuck_diameter = {chuck}, grip = {grip} }}\n\
  # a_plus is what the top of the blank does when A is jogged from 0 to +90\n\
         tail = {{ centre_diameter = {centre}, centre_angle = 60 }}\n\
         zero = {{ z = \"axis\" }}\n\
         x = {{ reach = {reach}, top_speed = {x_speed}, acceleration = {x_accel}, backlash = {play} }}\n\
         z = {{ top = {top}, bottom = 0, top_speed = {z_speed}, acceleration = {z_accel}, backlash = {play} }}\n\
         a = {{ top_speed = {turns}, acceleration = 1, backlash = 0.1 }}  # turns a minute, turns per s^2, degrees\n\
         feed = {{ convention = \"inverse-time\" }}  # or \"linear\" or \"combined\": the manual of the control tells\n\
         spindle = {{ control = \"program\", least = 8000, top = 24000, start_seconds = 5 }}\n",
        turns = number(turns),
        chuck = number(usual.chuck_diameter),
        grip = number(sizes.grip()),
        centre = number(usual.centre_diameter.min(sizes.crest_diameter / 4.0)),
        reach = number(reach),
        x_speed = number(sizes.feed.max(usual.x_speed)),
        x_accel = number(usual.x_accel),
        play = number(usual.backlash),
        top = number(top),
        z_speed = number(usual.z_speed),
        z_accel = number(usual.z_accel),
    )
}
