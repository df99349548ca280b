//! The job, machine and cutter files as they are written: one struct a table, every key optional, nothing checked
//! but its kind. Missing keys and ranges are the business of the checks; no other room sees these types.

use schemars::JsonSchema;
use serde::Deserialize;

use super::amount::{Amount, Plain, Warmth};
use super::press::{Load, State};
use super::{Order, Travel};
use crate::drawing::Hand;
use crate::setup::{
    Arcs, BlankShape, CommentStyle, Corners, Dust, Edge, EndWord, InverseUnit, Milling, ModeWord, TopTurns,
    UnitsWord, XEnd, ZZero,
};
use crate::units::LengthUnit;
use crate::wood::Board;

/// Declares tables: a struct each whose keys are all optional and beside which no other key is taken.
macro_rules! tables {
    ($($(#[$doc:meta])* $name:ident { $($key:ident: $kind:ty,)* })*) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
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
        woods: String,
        screw: ScrewFile,
        blank: BlankFile,
        cutting: CuttingFile,
        season: SeasonFile,
        nut: NutFile,
        press: PressFile,
        round: RoundFile,
        relief: ReliefFile,
        nose: NoseFile,
        garter: GarterFile,
        tenon: TenonFile,
        marks: MarksFile,
    }

    /// `[season]`.
    SeasonFile {
        dry: AirFile,
        dry_moisture: Plain,
        wet: AirFile,
        wet_moisture: Plain,
        cutting: AirFile,
        cutting_moisture: Plain,
    }

    /// Air.
    AirFile {
        temperature: Warmth,
        humidity: Plain,
    }

    /// `[nut]`.
    NutFile {
        wood: String,
        board: Board,
        length: Amount,
        radial_clearance: Amount,
        flank_clearance: Amount,
        along_grain: Amount,
        across_grain: Amount,
        cutter: String,
        boring: String,
        rpm: Plain,
        feed: Plain,
        passes: u32,
        milling: Milling,
        start_angle: Plain,
        chamfer: Amount,
        step: Amount,
        below: Amount,
        below_diameter: Amount,
        clamps_from: Amount,
        clamp_height: Amount,
    }

    /// A cutter for threads in a hole.
    ThreadMillFile {
        title: String,
        units: LengthUnit,
        included_angle: Plain,
        tip_flat: Amount,
        tooth_diameter: Amount,
        tooth_above_end: Amount,
        rows: u32,
        row_spacing: Amount,
        flutes: u32,
        neck_diameter: Amount,
        neck_length: Amount,
        shank_diameter: Amount,
        collet_diameter: Amount,
        stick_out: Amount,
        edge: Edge,
    }

    /// `[mill]`.
    MillFile {
        x_travel: Amount,
        y_travel: Amount,
        collet_lowest: Amount,
        collet_highest: Amount,
        y_top_speed: Plain,
        y_backlash: Amount,
        arcs: Arcs,
    }

    /// A wood in a file of woods.
    WoodFile {
        source: String,
        other_names: String,
        botanical: String,
        region: String,
        density: Plain,
        shrink_radial: Plain,
        shrink_tangential: Plain,
        move_radial: Plain,
        move_tangential: Plain,
        moe: Plain,
        mor: Plain,
        shear: Plain,
        compression_across: Plain,
        hardness: Plain,
        dust: Dust,
        dust_words: String,
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
        root_width: Amount,
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
        kerf: Amount,
        off_centre: Amount,
        truing: Amount,
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

    /// `[round]`.
    RoundFile {
        cutter: String,
        rpm: Plain,
        feed: Plain,
        step: Amount,
        finish: Amount,
        advance: Plain,
    }

    /// `[relief]`.
    ReliefFile {
        cutter: String,
        rpm: Plain,
        feed: Plain,
        step: Amount,
        finish: Amount,
        advance: Plain,
        diameter: Amount,
    }

    /// `[nose]`.
    NoseFile {
        cutter: String,
        rpm: Plain,
        feed: Plain,
        step: Amount,
        finish: Amount,
        advance: Plain,
        taper: Amount,
        chamfer: Amount,
        round_over: Amount,
    }

    /// `[garter]`.
    GarterFile {
        cutter: String,
        rpm: Plain,
        feed: Plain,
        step: Amount,
        finish: Amount,
        advance: Plain,
        from_shoulder: Amount,
        width: Amount,
        diameter: Amount,
    }

    /// `[tenon]`.
    TenonFile {
        cutter: String,
        rpm: Plain,
        feed: Plain,
        step: Amount,
        finish: Amount,
        advance: Plain,
        length: Amount,
        diameter: Amount,
        flats: u32,
        across: Amount,
    }

    /// `[marks]`.
    MarksFile {
        cutter: String,
        rpm: Plain,
        feed: Plain,
        step: Amount,
        finish: Amount,
        advance: Plain,
        depth: Amount,
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
        mill: MillFile,
    }

    /// `[press]`.
    PressFile {
        handle_length: Amount,
        hand_force: Plain,
        collar_diameter: Amount,
        collar_hole: Amount,
        state: State,
        friction: Plain,
        collar_friction: Plain,
        load: Load,
        guided: bool,
        free_length: Amount,
        opening: Amount,
        tenon_diameter: Amount,
        handle_diameter: Amount,
        handle_wood: String,
    }

    /// A hand jig.
    JigFile {
        title: String,
        units: LengthUnit,
        lead_screw: Amount,
        threads_per_inch: Plain,
        gears: Vec<Plain>,
        module: Plain,
        diametral_pitch: Plain,
        shaft_diameter: Amount,
        studs: u32,
        axes_apart: Amount,
        nearest_stud: Amount,
        farthest_stud: Amount,
        alike_cuts: Hand,
        index_marks: u32,
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
        unit: AUnitFile,
        range: ARange,
        honoured: bool,
    }

    /// `[feed]`.
    FeedFile {
        convention: FeedConventionFile,
        inverse_unit: InverseUnit,
        whole_numbers: bool,
    }

    /// `[spindle]`.
    SpindleFile {
        control: SpindleChoice,
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
        dwell: DwellFile,
        name: String,
        units_word: UnitsWord,
        letters: Letters,
        blanks: bool,
        leave_out: Vec<ModeWord>,
        corners: Corners,
        rapids: Rapids,
        pause: Pause,
        numbers: Precision,
    }

    /// `[accepts]`.
    AcceptsFile {
        semicolon_comments: bool,
        long_line_numbers: bool,
        program_name: bool,
    }
}

/// Who decides what the job leaves out of its cutting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum PlanAsked {
    /// Wood, cutter and machine.
    ByWood,
}

/// The shapes of cutter that this program can reckon with.
#[derive(Clone, Copy, Debug, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum CutterShape {
    /// A cone, cut off or rounded at its tip.
    V,
    /// A cylinder with a flat end.
    Straight,
}

/// Declares the words that a key takes. Some are known so that they can be refused with their reason.
macro_rules! words {
    ($($(#[$doc:meta])* $name:ident { $($variant:ident,)* })*) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
            #[serde(rename_all = "kebab-case")]
            pub(super) enum $name {
                $($variant,)*
            }
        )*
    };
}

words! {
    /// What F means.
    FeedConventionFile { InverseTime, Linear, Combined, RadiusAware, }
    /// What A words count.
    AUnitFile { Degrees, Turns, Surface, }
    /// How A counts past a turn.
    ARange { CountsOn, ShortestWay, SignIsDirection, }
    /// Who starts the spindle, and at what speed.
    SpindleChoice { Program, OneSpeed, Hand, }
    /// How a dwell is written.
    DwellFile { Seconds, Milliseconds, XWord, None, }
    /// Capitals or not.
    Letters { Capital, Small, }
    /// How axes run in a rapid move.
    Rapids { Together, Apart, }
    /// Whether M0 stops the program.
    Pause { Stop, None, }
    /// How the control keeps numbers.
    Precision { Double, Single, }
}

/// The shapes of a tip, before its size is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(super) enum TipShape {
    /// Flat or sharp.
    Flat,
    /// A ball.
    Ball,
}

/// The unit a machine wants its programs in.
#[derive(Clone, Copy, Debug, Default, Deserialize, JsonSchema)]
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
