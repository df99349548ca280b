//! The shop as it is when a nut is milled: a block flat on the bed, its axis upright, the rotary taken off. Plain data,
//! read by both halves; it computes nothing.
//!
//! ```text
//! X0 Y0  on the axis of the nut        Z0  on the top face of the block, Z counts up
//! block  from Z = -thickness to Z0     bed  at Z = -(thickness + below)
//! X, Y   words: the cutter's axis      Z   word: the lowest end of the cutter
//! angle  from X+ towards Y+: anticlockwise seen from above; a right-hand thread climbs as it grows
//! ```
//! The spindle turns clockwise seen from above (M3), so a cutter that circles anticlockwise inside a hole climbs.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Cutter, Edge, Machine, Timber};

/// Everything about the shop that one program of a nut runs into.
#[derive(Clone, Debug, PartialEq)]
pub struct NutSetup {
    /// The machine. Of it count: top speeds, play and acceleration of X and Z, spindle, style, dialect and habits of its
    /// programs. What belongs to the rotary does not count: it is not there.
    pub machine: Machine,
    /// What the machine does on flat work.
    pub mill: Mill,
    /// The wood and what holds it, before the program runs.
    pub block: Block,
    /// What wood it is.
    pub timber: Timber,
    /// The cutter in its collet.
    pub tool: NutTool,
    /// Least and greatest X word in reach.
    pub x_limits_mm: [f64; 2],
    /// Least and greatest Y word in reach.
    pub y_limits_mm: [f64; 2],
    /// Least and greatest Z word in reach, with this cutter and this block.
    pub z_limits_mm: [f64; 2],
    /// Spindle speed the job asks for.
    pub rpm: f64,
    /// Speed of the cutter's outermost edge along the wall, at the diameter that a pass reaches: what the job asks for.
    /// The words of a program speak of the cutter's axis, which runs slower by (D - d) / D.
    pub edge_feed_mm_per_min: f64,
}

/// What a machine does on flat work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mill {
    /// Travel of X.
    pub x_travel_mm: f64,
    /// Travel of Y.
    pub y_travel_mm: f64,
    /// Highest and lowest place of the collet nut's face above the bed: lowest first.
    pub collet_above_bed_mm: [f64; 2],
    /// Top speed of Y.
    pub y_top_mm_per_min: f64,
    /// Play of Y when its direction changes.
    pub y_backlash_mm: f64,
    /// How its control takes arcs.
    pub arcs: Arcs,
}

/// How a control takes arcs in the plane of X and Y.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Arcs {
    /// G2 and G3 with the centre as I and J from the start of the arc, Z along with it (NISTIR 6556 section 3.5.3.2).
    Centre,
    /// None: every arc is written as short lines.
    None,
}

/// The block, how it lies, and what holds it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Along the grain. The grain lies along X.
    pub along_grain_mm: f64,
    /// Across the grain, along Y.
    pub across_grain_mm: f64,
    /// Along the axis of the nut.
    pub thickness_mm: f64,
    /// Diameter of the hole through it before the program runs, round the axis; `None` when it is solid.
    pub hole_diameter_mm: Option<f64>,
    /// From the bottom face of the block down to the bed: packing or a spoil board with a hole in it.
    pub below_mm: f64,
    /// Diameter of the free room below the block, round the axis: the hole in the packing.
    pub below_diameter_mm: f64,
    /// What holds it.
    pub clamps: Clamps,
}

/// Clamps, as what they leave free: nothing stands nearer to the axis than `from_axis_mm`, nor higher above the top face
/// than `height_mm`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clamps {
    /// Distance from the axis at which the nearest clamp begins.
    pub from_axis_mm: f64,
    /// Height of the highest clamp above the top face.
    pub height_mm: f64,
}

/// The cutter that a program of a nut runs with.
#[derive(Clone, Debug, PartialEq)]
pub enum NutTool {
    /// Teeth on a neck, for the thread and its chamfers.
    Thread(ThreadMill),
    /// A straight cutter, for the bore. Its lengths count from its end.
    Boring(Cutter),
}

/// A cutter for threads in a hole: V teeth, as rings about its axis, on a neck. Seen from its end upwards: the neck from
/// the end to `neck_length_mm`, then the shank to the collet nut at `stick_out_mm`. Heights count from its end.
#[derive(Clone, Debug, PartialEq)]
pub struct ThreadMill {
    /// What the shop calls it.
    pub title: String,
    /// Rows of teeth, the lowest first. Those of one cutter differ in their height alone.
    pub teeth: Vec<Tooth>,
    /// Cutting edges of each row, round the axis.
    pub flutes: u32,
    /// Diameter of the neck that carries the teeth.
    pub neck_diameter_mm: f64,
    /// From the end to where the shank begins.
    pub neck_length_mm: f64,
    /// Diameter of the shank above the neck.
    pub shank_diameter_mm: f64,
    /// Diameter of collet and nut.
    pub collet_diameter_mm: f64,
    /// From the end to the face of the collet nut.
    pub stick_out_mm: f64,
    /// State of its edges.
    pub edge: Edge,
}

/// One row of teeth: at distance q from the cutter's axis it is half as thick as `tip_flat_mm / 2 + (diameter_mm / 2 - q)
/// tan(included_angle_deg / 2)`, up and down alike, from the neck out to half its diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tooth {
    /// Height of its middle above the end of the cutter.
    pub middle_mm: f64,
    /// Diameter over the tips.
    pub diameter_mm: f64,
    /// Between its flanks.
    pub included_angle_deg: f64,
    /// Width of the flat at the tip, along the axis; zero for a sharp one.
    pub tip_flat_mm: f64,
}

/// Which way a cutter goes round in its hole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Milling {
    /// Anticlockwise seen from above: chips begin thick.
    #[default]
    Climb,
    /// Clockwise: chips begin thin.
    Conventional,
}
