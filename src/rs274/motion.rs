//! What a program moves: the output of the interpreter and the input of the carve. Plain data; lengths in mm,
//! angles in degrees, whatever unit the program spoke.

use std::ops::Range;

/// Where all axes stand.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pose {
    /// X word.
    pub x_mm: f64,
    /// Y word.
    pub y_mm: f64,
    /// Z word.
    pub z_mm: f64,
    /// A word; counts on past 360.
    pub a_deg: f64,
}

/// How a motion runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Path {
    /// Every axis in a straight line, all in step.
    Straight,
    /// A circular arc in a plane, the other axes in step with its angle.
    Arc(Arc),
}

/// An arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// The plane it lies in.
    pub plane: Plane,
    /// Centre, in the plane's first and second axis (X Y, Z X or Y Z), mm.
    pub centre_mm: [f64; 2],
    /// Radius, mm.
    pub radius_mm: f64,
    /// Angle run through, degrees; positive counter-clockwise seen from the positive end of the third axis.
    pub sweep_deg: f64,
}

/// A plane of two straight axes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Plane {
    /// G17.
    #[default]
    Xy,
    /// G18.
    Zx,
    /// G19.
    Yz,
}

/// Whether a motion is meant to cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// G0.
    Rapid,
    /// G1, G2, G3 and what expands to them.
    Feed,
}

/// What the spindle does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turning {
    /// M5, or never started.
    #[default]
    Stopped,
    /// M3.
    Clockwise,
    /// M4.
    CounterClockwise,
}

/// How the F word is to be read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum FeedMode {
    /// G94: units per minute.
    #[default]
    PerMinute,
    /// G93: one over the minutes of the block.
    InverseTime,
}

/// One move of the program.
#[derive(Clone, Debug, PartialEq)]
pub struct Motion {
    /// Line of the program, from 1.
    pub line: usize,
    /// The block's bytes in the program text.
    pub span: Range<usize>,
    /// Rapid or feed.
    pub kind: Kind,
    /// Its path.
    pub path: Path,
    /// Where it starts.
    pub from: Pose,
    /// Where it ends.
    pub to: Pose,
    /// The F number that holds (program units, mm/min after conversion where it means a length; as written under
    /// inverse time). Zero for rapids.
    pub feed: f64,
    /// How F is read.
    pub feed_mode: FeedMode,
    /// Minutes that the F word makes it last under the machine's convention; `None` for rapids, and where no valid
    /// feed holds.
    pub minutes: Option<f64>,
    /// What the spindle does meanwhile.
    pub turning: Turning,
    /// Spindle speed, rev/min.
    pub rpm: f64,
}
