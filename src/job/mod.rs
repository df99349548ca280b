//! From the text of a job file to a checked [`Job`]: what screw is wanted and what shop it is made in.
//!
//! Everything here speaks of what was *asked*; sizes that follow from it (depth, root diameter, passes) belong to
//! [`crate::design`]. A `Job` keeps the marks of its values, so that whoever finds fault with one later can point at
//! it. This room opens no files: the caller hands it texts.
//!
//! ```text
//! text --page--> mirror of the file (file) --screw, cutting, cutter, machine--> parts --agree--> Job
//! ```

mod agree;
mod amount;
mod bench;
mod cutter;
mod cutting;
mod desk;
mod file;
mod fits;
mod habits;
mod jig;
mod limits;
mod machine;
mod mill;
mod nut;
mod operations;
mod order;
mod page;
mod press;
mod read;
mod schema;
mod screw;
mod season;
mod starter;
mod syntax;
mod thread_mill;
mod woods;

pub use amount::length_mm;
pub use bench::{Bench, is_bench, read_bench};
pub use cutter::read_cutter;
pub use jig::{Jig, read_jig};
pub use limits::{LIMITS, Limit, Quantity, limit};
pub use machine::read_machine;
pub use operations::{
    Flats, Garter, Nose, NoseShape, Operations, Relief, Round, SawMarks, Tenon, Tooling, cutter_mark,
};
pub use order::{Order as ScrewOrder, Ordered, read_order};
pub use press::{Load as PressLoad, PressAsked, State};
pub use read::{Load, read, read_by_hand};
pub use schema::{FILES_VERSION, FileKind, schema};
pub use starter::{REMINDER, Starter, starter};
pub use thread_mill::read_thread_mill;
pub use woods::read_woods;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::drawing::Hand;
use crate::setup::{BlankShape, Clamps, Cutter, Machine, Mill, Milling, ThreadMill, Tip};
use crate::source::Mark;
use crate::units::LengthUnit;
use crate::wood::{Board, Season, Species};

/// A checked job. Lengths in mm whatever the unit of the file.
#[derive(Clone, Debug)]
pub struct Job {
    /// What the shop calls it.
    pub title: String,
    /// The unit its maker thinks in; results are shown in it.
    pub unit: LengthUnit,
    /// Name of the wood.
    pub wood: String,
    /// What is known of it; `None` when no table has a wood of that name.
    pub species: Option<Species>,
    /// The screw asked for.
    pub screw: ScrewAsked,
    /// The wood it is made from.
    pub blank: BlankAsked,
    /// How it is to be cut.
    pub cutting: Cutting,
    /// What the year does to the wood, if the job tells.
    pub season: Option<Season>,
    /// The nut, if the job tells.
    pub nut: Option<NutAsked>,
    /// What is cut besides the thread.
    pub operations: Operations,
    /// The cutter.
    pub cutter: Cutter,
    /// The machine.
    pub machine: Machine,
    /// What the same machine does on flat work, if its file tells.
    pub mill: Option<Mill>,
    /// How the screw is worked, as far as the job tells.
    pub press: PressAsked,
    /// The hand jig, if the job names one.
    pub jig: Option<Jig>,
    /// Where each value was written.
    pub marks: Marks,
}

impl Job {
    /// How far to either side of the groove's middle its flank passes run: half of what the root is wider than the
    /// tip that cuts it; zero when there are none.
    pub fn flank_aside_mm(&self) -> f64 {
        match (self.screw.root_width_mm, self.cutter.tip) {
            (Some(flat_mm), Tip::Flat { diameter_mm }) if flat_mm > diameter_mm + desk::AGREE_MM => {
                (flat_mm - diameter_mm) / 2.0
            }
            _ => 0.0,
        }
    }
}

/// Where each value was written, by dotted key such as `screw.crest_flat`, `cutter.cutting_length` or
/// `machine.a.top_speed`. Keys of a machine or cutter file of its own carry the same prefix as inline ones.
#[derive(Clone, Debug, Default)]
pub struct Marks(pub BTreeMap<String, Mark>);

impl Marks {
    /// The mark of a key, if the file gave it.
    pub fn get(&self, key: &str) -> Option<&Mark> {
        self.0.get(key)
    }
}

/// The screw asked for. Whatever was given twice has been found to agree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScrewAsked {
    /// Diameter over the crests.
    pub crest_diameter_mm: f64,
    /// Crest to crest.
    pub pitch_mm: f64,
    /// Threads side by side.
    pub starts: u32,
    /// Advance per turn: pitch times starts, exactly.
    pub lead_mm: f64,
    /// Which way it winds.
    pub hand: Hand,
    /// What fixes the depth.
    pub depth: DepthAsked,
    /// Flat of the root, along the axis, if it is to be wider than the cutter's tip: a pass on each flank widens it.
    pub root_width_mm: Option<f64>,
    /// Full thread, measured along the axis.
    pub thread_length_mm: f64,
    /// From the nose face to the first full thread; to be turned down below the root, so the cutter runs over it.
    pub plain_nose_mm: f64,
    /// From the end of the run-out to the head end.
    pub plain_head_mm: f64,
    /// Included angle stated for the thread; the cutter makes it, so it has been found to agree with the cutter's.
    pub included_angle_deg: Option<f64>,
}

/// What fixes the depth of the thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DepthAsked {
    /// The flat that stays on the crest, along the axis.
    CrestFlat {
        /// Its width.
        flat_mm: f64,
        /// A depth given besides, still to be compared with what follows from the flat.
        depth_too_mm: Option<f64>,
    },
    /// The depth from crest to root.
    Depth {
        /// Radial depth.
        depth_mm: f64,
    },
}

/// The blank asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BlankAsked {
    /// Section.
    pub shape: BlankShape,
    /// Diameter, or width across flats.
    pub size_mm: f64,
    /// Waste beyond the nose face.
    pub waste_nose_mm: f64,
    /// Waste beyond the head end, the chuck's grip included.
    pub waste_head_mm: f64,
    /// Width of the saw's cut.
    pub kerf_mm: f64,
    /// How far the axis may stand from the middle of the stick.
    pub off_centre_mm: f64,
    /// What is to come off everywhere so that the piece is true.
    pub truing_mm: f64,
}

/// The nut asked for. Its clearances hold as cut, with the screw standing centred in it.
#[derive(Clone, Debug, PartialEq)]
pub struct NutAsked {
    /// Name of its wood.
    pub wood: String,
    /// What is known of that; `None` when no table has a wood of that name.
    pub species: Option<Species>,
    /// How its board was sawn; its face lies square to the screw, its grain across.
    pub board: Board,
    /// Along the screw.
    pub length_mm: f64,
    /// Gap on the radius between crest and nut, and between core and bore.
    pub radial_clearance_mm: Option<f64>,
    /// Gap at each flank, measured along the axis.
    pub flank_clearance_mm: Option<f64>,
    /// Block along the grain; `None` for what the trade takes.
    pub along_grain_mm: Option<f64>,
    /// Block across the grain; `None` for what the trade takes.
    pub across_grain_mm: Option<f64>,
    /// Angle on the top face at which the groove of start 1 begins, from X+ towards Y+.
    pub start_angle_deg: f64,
    /// Width of the chamfers on the radius, from the bore outwards; zero for none, `None` for just past the grooves.
    pub chamfer_mm: Option<f64>,
    /// How it is milled, if the job names a cutter for it.
    pub milled: Option<NutMilled>,
}

/// How a nut is milled.
#[derive(Clone, Debug, PartialEq)]
pub struct NutMilled {
    /// The cutter for its thread.
    pub cutter: ThreadMill,
    /// The straight cutter for its bore; `None` when the hole is there already.
    pub boring: Option<Cutter>,
    /// Spindle speed, rev/min.
    pub rpm: f64,
    /// Speed of the teeth along the wall, mm/min.
    pub feed_mm_per_min: f64,
    /// Radial steps to full depth.
    pub passes: u32,
    /// Which way round.
    pub milling: Milling,
    /// How much the bore goes deeper in one turn.
    pub step_mm: f64,
    /// Height of the packing below the block.
    pub below_mm: f64,
    /// Diameter of the hole in the packing; `None` for as wide as the collet of the cutter asks.
    pub below_diameter_mm: Option<f64>,
    /// What holds the block.
    pub clamps: Clamps,
}

/// How the thread is to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Spindle speed, rev/min.
    pub rpm: f64,
    /// Speed of cutter against wood along the helix at the crest, mm/min; of `feeds_mm_per_min` the greatest.
    pub feed_mm_per_min: f64,
    /// The feed of each depth, where they differ; else empty.
    pub feeds_mm_per_min: Vec<f64>,
    /// The feed of the flank passes, where it differs.
    pub flank_feed_mm_per_min: Option<f64>,
    /// Depths.
    pub passes: Passes,
    /// Smallest last step of depth, so that the last pass cuts and does not rub.
    pub least_step_mm: f64,
    /// One more pass at full depth.
    pub spring_pass: bool,
    /// Which comes first.
    pub order: Order,
    /// Whether the way back cuts too.
    pub travel: Travel,
    /// Turns over which the groove climbs out at the head.
    pub run_out_turns: f64,
    /// Gap between the blank and the cutter in rapid moves.
    pub clearance_mm: f64,
    /// Share of the crest diameter that the core must keep.
    pub least_core_share: f64,
}

/// The depths of the passes.
#[derive(Clone, Debug, PartialEq)]
pub enum Passes {
    /// So many, each taking away the same area.
    EqualArea(u32),
    /// These depths below the crest, growing; the last is the full depth.
    Depths(Vec<f64>),
    /// Wood, cutter and machine decide what is not given: [`crate::feeds::settle`] turns this into depths and feeds.
    /// Until then nothing can be cut; `rpm` and feed of the job are zero unless they are given.
    ByWood(Given),
}

/// What a job gives of a plan that it leaves to the wood.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Given {
    /// Spindle speed.
    pub rpm: Option<f64>,
    /// One feed for all passes.
    pub feed_mm_per_min: Option<f64>,
    /// Feed of the flank passes.
    pub flank_feed_mm_per_min: Option<f64>,
    /// How many passes.
    pub count: Option<u32>,
    /// Depths of the passes.
    pub depths_mm: Option<Vec<f64>>,
}

/// The order of passes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Order {
    /// All depths of one start, then the next start.
    #[default]
    ByStart,
    /// All starts at one depth, then the next depth.
    ByDepth,
}

/// Whether the way back cuts too.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Travel {
    /// Every pass runs from nose to head.
    #[default]
    OneWay,
    /// Passes run to and fro.
    BothWays,
}
