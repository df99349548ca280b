//! The shop as plain data: machine, blank and cutter, and where the program's zero lies on them. Both halves read
//! it; it computes nothing. Lengths in mm, angles in degrees, speeds in mm/min or degrees/min.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::units::LengthUnit;

mod cutter;
mod nut;
mod season;
mod timber;
#[cfg(test)]
pub(crate) mod sample;

pub use cutter::{Cutter, Edge, Tip};
pub use nut::{Arcs, Block, Clamps, Mill, Milling, NutSetup, NutTool, ThreadMill, Tooth};
pub use season::{NutGrowth, ScrewGrowth, Season};
pub use timber::{Dust, Timber};

/// Everything about the shop that a program runs into.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// The machine.
    pub machine: Machine,
    /// The wood as it is before the program runs.
    pub blank: Blank,
    /// What wood it is.
    pub timber: Timber,
    /// The cutter in its collet.
    pub cutter: Cutter,
    /// X word of the nose face.
    pub x_nose_mm: f64,
    /// Z word of the axis of rotation.
    pub z_axis_mm: f64,
    /// Least and greatest X word the machine can reach in this set-up.
    pub x_limits_mm: [f64; 2],
    /// Least and greatest Z word the machine can reach in this set-up.
    pub z_limits_mm: [f64; 2],
    /// Spindle speed the job asks for.
    pub rpm: f64,
    /// Speed of cutter against wood along the helix, at `feed_radius_mm`, that the job asks for: the fastest of its passes.
    pub feed_mm_per_min: f64,
    /// The slowest of its passes.
    pub feed_least_mm_per_min: f64,
    /// Distance from the axis at which that feed holds.
    pub feed_radius_mm: f64,
    /// Largest section of wood that any of the job's passes meets at once; `None` where nobody planned any.
    pub section_mm2: Option<f64>,
    /// Deepest bite of the job's levels where a program turns or mills with a straight cutter; `None` for a thread, or where
    /// nobody planned any.
    pub level_mm: Option<f64>,
}

/// A direction along X.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum XEnd {
    /// The end that X counts up to.
    XPlus,
    /// The end that X counts down to.
    XMinus,
}

impl XEnd {
    /// +1 or -1.
    pub fn sign(self) -> f64 {
        match self {
            XEnd::XPlus => 1.0,
            XEnd::XMinus => -1.0,
        }
    }
}

/// What the top of the blank does when A counts up. The operator stands at the front, where Y counts down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TopTurns {
    /// The top moves towards the operator: the blank turns right-handed about +X.
    ToFront,
    /// The top moves away from the operator: the blank turns left-handed about +X.
    ToBack,
}

impl TopTurns {
    /// +1 for `ToFront`, -1 for `ToBack`.
    pub fn sign(self) -> f64 {
        match self {
            TopTurns::ToFront => 1.0,
            TopTurns::ToBack => -1.0,
        }
    }
}

/// Where Z0 lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ZZero {
    /// On the axis of rotation.
    Axis,
    /// On top of the finished cylinder, one crest radius above the axis.
    FinishedSurface,
}

/// What an F word means when A moves (the machine's manual tells).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FeedConvention {
    /// G93: F is one over the minutes the block lasts.
    InverseTime,
    /// G94 as NISTIR 6556 section 2.1.2.5 has it: F along X Y Z as if A stood still; degrees/min for A alone.
    Linear,
    /// G94 over the root of mm squared and degrees squared together.
    Combined,
}

/// A machine described by what it can do.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// What the shop calls it.
    pub title: String,
    /// End of X at which the headstock stands.
    pub headstock: XEnd,
    /// What the top of the blank does when A counts up.
    pub a_plus: TopTurns,
    /// Where Z0 lies.
    pub z_zero: ZZero,
    /// The chuck or driving plate that holds the head.
    pub chuck: Chuck,
    /// The tail centre that holds the nose, if there is one.
    pub centre: Option<Centre>,
    /// X slide.
    pub x: Slide,
    /// Z slide.
    pub z: Slide,
    /// Rotary.
    pub a: Rotary,
    /// How far the cutter can stand from the chuck face towards the tail, along X.
    pub x_reach_mm: f64,
    /// How far it can pass the chuck face the other way.
    pub x_past_chuck_mm: f64,
    /// Highest and lowest place of the cutter's tip above the axis of rotation (lowest may be negative).
    pub z_range_above_axis_mm: [f64; 2],
    /// What F means.
    pub feed: FeedConvention,
    /// Spindle.
    pub spindle: Spindle,
    /// How programs are written for it.
    pub style: TextStyle,
    /// What its reader accepts beyond the standard.
    pub dialect: Dialect,
    /// Habits of its control that change what is written.
    pub habits: Habits,
}

/// Habits of a control. The default is what NISTIR 6556 has.
#[derive(Clone, Debug, Default, PartialEq)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is a habit of its own, and any of them may go together"
)]
pub struct Habits {
    /// What F counts under G93.
    pub inverse: InverseUnit,
    /// What A words count.
    pub a_unit: AUnit,
    /// Axes run apart in a rapid move, each at its own speed.
    pub rapids_apart: bool,
    /// Name that stands behind the opening percent line.
    pub name: Option<String>,
    /// F words are whole numbers.
    pub whole_feed: bool,
    /// Words for the unit of length.
    pub units_word: UnitsWord,
    /// Letters are small.
    pub small_letters: bool,
    /// No blanks between words.
    pub no_blanks: bool,
    /// Mode words that the control does not know and that are left out.
    pub left_out: Vec<ModeWord>,
    /// Word for how corners are run.
    pub corners: Corners,
    /// The spindle has one speed and takes no S.
    pub one_speed: bool,
    /// Numbers are kept in single precision.
    pub single_precision: bool,
}

/// What F counts under G93.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum InverseUnit {
    /// One over the minutes of the block, as the standard has it.
    #[default]
    PerMinute,
    /// One over its seconds.
    PerSecond,
    /// Its seconds.
    Seconds,
}

/// What A words count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum AUnit {
    /// Degrees, as the standard has it.
    #[default]
    Degrees,
    /// Turns.
    Turns,
}

impl AUnit {
    /// Degrees in one of this unit.
    pub fn degrees(self) -> f64 {
        match self {
            AUnit::Degrees => 1.0,
            AUnit::Turns => 360.0,
        }
    }
}

/// Words for the unit of length.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub enum UnitsWord {
    /// G20 and G21.
    #[default]
    #[serde(rename = "G20-G21")]
    G20,
    /// G70 and G71, as in the EIA list.
    #[serde(rename = "G70-G71")]
    G70,
    /// The control has one unit and takes no word for it.
    #[serde(rename = "none")]
    None,
}

/// A mode word that a plain program begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[expect(missing_docs, reason = "each is the word that it names")]
pub enum ModeWord {
    G17,
    G40,
    G49,
    G54,
    G80,
    G94,
}

impl ModeWord {
    /// As it is written.
    pub fn word(self) -> &'static str {
        match self {
            ModeWord::G17 => "G17",
            ModeWord::G40 => "G40",
            ModeWord::G49 => "G49",
            ModeWord::G54 => "G54",
            ModeWord::G80 => "G80",
            ModeWord::G94 => "G94",
        }
    }
}

/// Word for how corners are run.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Corners {
    /// None is written.
    #[default]
    Leave,
    /// G61.
    ExactPath,
    /// G61.1.
    ExactStop,
    /// G64.
    Continuous,
}

/// The chuck or driving plate: a cylinder round the axis that begins at its face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chuck {
    /// Outside diameter, jaws included.
    pub diameter_mm: f64,
    /// Length of blank that it holds, measured from its face.
    pub grip_mm: f64,
}

/// The tail centre: a cone whose point enters the end of the blank, on a cylinder.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centre {
    /// Diameter of the cylinder behind the point.
    pub diameter_mm: f64,
    /// Included angle of the point.
    pub angle_deg: f64,
}

/// A straight axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slide {
    /// Top speed.
    pub top_mm_per_min: f64,
    /// Acceleration.
    pub accel_mm_per_s2: f64,
    /// Play when the direction changes.
    pub backlash_mm: f64,
}

/// The rotary axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rotary {
    /// Top speed.
    pub top_deg_per_min: f64,
    /// Acceleration.
    pub accel_deg_per_s2: f64,
    /// Play when the direction changes.
    pub backlash_deg: f64,
    /// Greatest A word either way; `None` when A may count on for ever.
    pub limit_deg: Option<f64>,
    /// Torque against which it holds the blank, N m; `None` when the shop does not know.
    pub holding_nm: Option<f64>,
}

/// The spindle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spindle {
    /// Whether the program starts it.
    pub control: SpindleControl,
    /// Slowest speed, rev/min.
    pub least_rpm: f64,
    /// Fastest speed, rev/min.
    pub top_rpm: f64,
    /// Seconds to wait until it has its speed.
    pub start_s: f64,
    /// Power it gives to the cutter, W; `None` when the shop does not know.
    pub power_w: Option<f64>,
}

/// Who starts the spindle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum SpindleControl {
    /// M3 and S in the program.
    Program,
    /// A switch on the router; the program waits at M0.
    Hand,
}

/// How program text is to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextStyle {
    /// Unit of the program's lengths: G21 or G20.
    pub unit: LengthUnit,
    /// Decimals of X, Z and A words.
    pub decimals: usize,
    /// Longest line, characters.
    pub line_length: usize,
    /// How comments are marked.
    pub comments: CommentStyle,
    /// Step of line numbers; `None` for none.
    pub line_numbers: Option<u32>,
    /// Whether the program stands between two lines of `%`.
    pub percent: bool,
    /// The end word.
    pub end: EndWord,
    /// Unit of the P word of a dwell.
    pub dwell: DwellUnit,
}

/// How comments are marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CommentStyle {
    /// `(so)`.
    Parentheses,
    /// `; so`, a habit outside the standard.
    Semicolon,
    /// The machine takes none.
    None,
}

/// The word that ends a program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub enum EndWord {
    /// End.
    M2,
    /// End and rewind, in most shops.
    M30,
    /// None: the closing percent line ends the program.
    #[serde(rename = "none")]
    None,
}

/// Unit of the P word of G4.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DwellUnit {
    /// Seconds, as the standard has it.
    Seconds,
    /// Milliseconds.
    Milliseconds,
    /// The control knows no dwell: the program stops instead.
    None,
}

/// What a machine's reader accepts beyond NISTIR 6556. All off is the standard.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Dialect {
    /// A semicolon starts a comment that runs to the end of the line.
    pub semicolon_comments: bool,
    /// Line numbers of more than five digits.
    pub long_line_numbers: bool,
    /// An O number or a name line after the opening `%`.
    pub program_name: bool,
}

/// The wood before the program runs. Stations count from the nose face towards the head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blank {
    /// Section.
    pub shape: BlankShape,
    /// Diameter, or width across flats.
    pub size_mm: f64,
    /// Station of the tail end (zero or negative: waste beyond the nose).
    pub from_s_mm: f64,
    /// Station of the head end, inside the chuck.
    pub to_s_mm: f64,
    /// Station of the chuck's face.
    pub chuck_face_s_mm: f64,
}

/// Section of a blank. At angle zero a flat faces the cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum BlankShape {
    /// Square.
    Square,
    /// Regular octagon.
    Octagon,
    /// Round.
    Round,
}
