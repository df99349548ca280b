//! The job, machine and cutter files as they are written: one struct a table, every key optional, nothing checked
//! but its kind. Missing keys and ranges are the business of the checks; no other room sees these types.

use serde::Deserialize;

use super::amount::{Amount, Plain};
use super::{Order, Travel};
use crate::drawing::Hand;
use crate::setup::{
    BlankShape, CommentStyle, DwellUnit, Edge, EndWord, FeedConvention, SpindleControl, TopTurns, XEnd, ZZero,
};
use crate::units::LengthUnit;

/// Declares tables: a struct each whose keys are all optional and beside which no other key is taken.
macro_rules! tables {
    ($($(#[$doc:meta])* $name:ident { $($key:ident: $kind:ty,)* })*) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Default, Deserialize)]
            #[serde(deny_unknown_fields, expecting = "a table")]
            pub(super) struct $name {
                $(pub(super) $key: Option<$kind>,)*
            }
        )*
    };
}

tables! {
    /// The job, without its `machine` and `cutter`, which may be paths or tables.
    JobFile {
        title: String,
        units: LengthUnit,
        wood: String,
        screw: ScrewFile,
        blank: BlankFile,
        cutting: CuttingFile,
    }

    /// `[screw]`.
    ScrewFile {
        crest_diameter: Amount,
        pitch: Amount,
        threads_per_inch: Amount,
        starts: u32,
        lead: Amount,
        hand: Hand,
        included_angle: Plain,
        crest_flat: Amount,
        depth: Amount,
        root_flat: Amount,
        thread_length: Amount,
        plain_nose: Amount,
        plain_head: Amount,
        length: Amount,
    }

    /// `[blank]`.
    BlankFile {
        shape: BlankShape,
        size: Amount,
        waste_nose: Amount,
        waste_head: Amount,
        length: Amount,
    }

    /// `[cutting]`.
    CuttingFile {
        plan: PlanAsked,
        rpm: Plain,
        feed: Plain,
        feeds: Vec<Plain>,
        flank_feed: Plain,
        passes: u32,
        depths: Vec<Amount>,
        least_step: Amount,
        spring_pass: bool,
        order: Order,
        travel: Travel,
        run_out: Plain,
        clearance: Amount,
        least_core: Plain,
    }

    /// A cutter.
    CutterFile {
        title: String,
        units: LengthUnit,
        shape: CutterShape,
        included_angle: Plain,
        tip: TipShape,
        tip_diameter: Amount,
        tip_radius: Amount,
        flutes: u32,
        cutting_diameter: Amount,
        cutting_length: Amount,
        shank_diameter: Amount,
        collet_diameter: Amount,
        stick_out: Amount,
        edge: Edge,
    }

    /// A machine.
    MachineFile {
        title: String,
        units: LengthUnit,
        headstock: HeadstockFile,
        tail: TailFile,
        zero: ZeroFile,
        x: XFile,
        z: ZFile,
        a: AFile,
        feed: FeedFile,
        spindle: SpindleFile,
        program: ProgramFile,
        accepts: AcceptsFile,
    }

    /// `[headstock]`.
    HeadstockFile {
        end: XEnd,
        a_plus: TopTurns,
        chuck_diameter: Amount,
        grip: Amount,
    }

    /// `[tail]`.
    TailFile {
        centre_diameter: Amount,
        centre_angle: Plain,
    }

    /// `[zero]`.
    ZeroFile {
        z: ZZero,
    }

    /// `[x]`.
    XFile {
        reach: Amount,
        past_chuck: Amount,
        top_speed: Plain,
        acceleration: Plain,
        backlash: Amount,
    }

    /// `[z]`.
    ZFile {
        top: Amount,
        bottom: Amount,
        top_speed: Plain,
        acceleration: Plain,
        backlash: Amount,
    }

    /// `[a]`.
    AFile {
        top_speed: Plain,
        acceleration: Plain,
        backlash: Plain,
        limit: Plain,
        holding_torque: Plain,
    }

    /// `[feed]`.
    FeedFile {
        convention: FeedConvention,
    }

    /// `[spindle]`.
    SpindleFile {
        control: SpindleControl,
        least: Plain,
        top: Plain,
        start_seconds: Plain,
        power: Plain,
    }

    /// `[program]`.
    ProgramFile {
        units: ProgramUnits,
        decimals: u32,
        line_length: u32,
        comments: CommentStyle,
        line_numbers: u32,
        percent: bool,
        end: EndWord,
        dwell: DwellUnit,
    }

    /// `[accepts]`.
    AcceptsFile {
        semicolon_comments: bool,
        long_line_numbers: bool,
        program_name: bool,
    }
}

/// Who decides what the job leaves out of its cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum PlanAsked {
    /// Wood, cutter and machine.
    ByWood,
}

/// The shapes of cutter that this program can reckon with.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum CutterShape {
    /// A cone, cut off or rounded at its tip.
    V,
}

/// The shapes of a tip, before its size is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum TipShape {
    /// Flat or sharp.
    Flat,
    /// A ball.
    Ball,
}

/// The unit a machine wants its programs in.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum ProgramUnits {
    /// The job's.
    #[default]
    Job,
    /// Always millimetres.
    Mm,
    /// Always inches.
    Inch,
}
