//! Words and figures of a nut: what to cut, how the cutter mates, the block, the sizes for the hand.

use std::fmt::Write;

use comfy_table::{CellAlignment, Table, presets};
use serde::Serialize;

use crate::design::Screw;
use crate::design::fit::{Clearance, Verdict};
use crate::design::nut::{BestTooth, Bits, BlockAdvice, ByHand, Nut, bits, by_hand};
use crate::job::Job;
use crate::press::Press;
use crate::units::LengthUnit;
use crate::wood::Board;

/// Diameters of screw that a wooden nut is long (common practice, from memory).
const USUAL_LENGTH: [f64; 2] = [1.0, 1.5];
/// Threads past which more length holds little more: the seventh takes nothing (from memory; a table shown in a machining
/// newsgroup ends with the sixth). It is for metal; wood shares somewhat better.
const ENOUGH_THREADS: f64 = 6.0;

/// Everything that is told about a nut.
#[derive(Clone, Debug, Serialize)]
pub struct Told {
    bore_diameter_mm: f64,
    major_diameter_mm: f64,
    depth_mm: f64,
    length_mm: f64,
    length_over_diameter: f64,
    threads_engaged: f64,
    clearance: Clearance,
    bits: Bits,
    block: BlockAdvice,
    best_tooth: BestTooth,
    chamfer_mm: f64,
    load: Option<LoadLength>,
    cutter: Option<Cutter>,
    by_hand: ByHand,
    programs: Vec<ProgramTold>,
}

/// The length that the load asks for.
#[derive(Clone, Copy, Debug, Serialize)]
struct LoadLength {
    load_n: f64,
    /// What a weak piece needs so that its nut bears the load. How weak one is, is from memory.
    least_length_mm: f64,
}

#[derive(Clone, Debug, Serialize)]
struct Cutter {
    title: String,
    included_angle_deg: f64,
    flank_axial_deg: f64,
    screw_flank_axial_deg: f64,
    over_cut_mm: f64,
    aside_mm: f64,
    flank_gap_least_mm: f64,
    flank_gap_most_mm: f64,
    crest_flat_mm: f64,
}

#[derive(Clone, Debug, Serialize)]
struct ProgramTold {
    name: String,
    minutes: f64,
}

impl Told {
    /// Gathers it. `minutes` are those of each program, by name.
    pub fn of(job: &Job, screw: &Screw, nut: &Nut, press: &Press, minutes: &[(&str, f64)]) -> Self {
        let title =
            job.nut.as_ref().and_then(|asked| asked.milled.as_ref()).map(|milled| &milled.cutter.title);
        let cutter = nut.mating.as_ref().zip(title).map(|(mating, title)| Cutter {
            title: title.clone(),
            included_angle_deg: mating.tooth.included_angle_deg,
            flank_axial_deg: mating.flank_axial_deg,
            screw_flank_axial_deg: screw.flank_axial_deg,
            over_cut_mm: mating.over_cut_mm,
            aside_mm: mating.aside_mm,
            flank_gap_least_mm: mating.flank_least_mm,
            flank_gap_most_mm: mating.flank_most_mm,
            crest_flat_mm: mating.crest_flat_mm,
        });
        Told {
            bore_diameter_mm: 2.0 * nut.bore_radius_mm,
            major_diameter_mm: 2.0 * nut.major_radius_mm,
            depth_mm: nut.depth_mm,
            length_mm: nut.length_mm,
            length_over_diameter: nut.length_mm / job.screw.crest_diameter_mm,
            threads_engaged: nut.length_mm / job.screw.pitch_mm,
            clearance: nut.clearance,
            bits: bits(2.0 * nut.bore_radius_mm, job.unit),
            block: nut.block,
            best_tooth: nut.best,
            chamfer_mm: nut.chamfer_mm,
            load: load_length(nut, press),
            cutter,
            by_hand: by_hand(job, screw, nut),
            programs: minutes
                .iter()
                .map(|(name, minutes)| ProgramTold { name: (*name).to_owned(), minutes: *minutes })
                .collect(),
        }
    }
}

/// Stresses of the nut fall as its length grows, so the weakest of its places tells the least length.
fn load_length(nut: &Nut, press: &Press) -> Option<LoadLength> {
    let checks = press.checks.iter().filter(|check| check.place.starts_with("nut's") && !check.at_worst);
    let factor = checks.filter_map(crate::press::Check::weak_factor).min_by(f64::total_cmp)?;
    Some(LoadLength { load_n: press.usually().load_n[1], least_length_mm: nut.length_mm / factor })
}

type Row = (String, String, String);

fn row(what: &str, value: String, more: impl Into<String>) -> Row {
    (what.to_owned(), value, more.into())
}

fn table(title: &str, rows: Vec<Row>) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(vec![title.to_owned(), String::new(), String::new()]);
    table.add_rows(rows.into_iter().map(|(what, value, more)| vec![what, value, more]));
    if let Some(column) = table.column_mut(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table.trim_fmt()
}

/// The page.
pub fn text(job: &Job, screw: &Screw, nut: &Nut, told: &Told) -> String {
    let starts =
        if job.screw.starts == 1 { "1 start".to_owned() } else { format!("{} starts", job.screw.starts) };
    let mut parts = vec![
        format!("{}: the nut, {}-hand, {starts}", job.title, job.screw.hand.name()),
        to_cut(job, nut, told),
        length(job, told),
        block(job, nut, told),
    ];
    parts.extend(told.cutter.as_ref().map(|cutter| mating(job, told, cutter)));
    parts.push(hand(job, screw, told));
    format!("{}\n", parts.join("\n\n"))
}

fn to_cut(job: &Job, nut: &Nut, told: &Told) -> String {
    let show = |mm: f64| job.unit.show(mm);
    let overlap = |bit: f64| show((job.screw.crest_diameter_mm - bit) / 2.0);
    let bit = |bit: Option<f64>| bit.map_or("none that is common".to_owned(), |bit| rule(bit, job.unit));
    let verdict = match nut.fit.as_ref().map(|fit| fit.verdict) {
        Some(Verdict::Free) => "stays free through the year, see fit",
        Some(Verdict::Tight) => "binds in some season on lively boards, see fit",
        Some(Verdict::Binds) => "binds in some season, see fit",
        None => "its fit through the year is not known",
    };
    table(
        "to cut",
        vec![
            row("bore", show(told.bore_diameter_mm), verdict),
            row("over the grooves", show(told.major_diameter_mm), format!("{} deep", show(told.depth_mm))),
            row("lead", show(job.screw.lead_mm), format!("pitch {}", show(job.screw.pitch_mm))),
            row("flank clearance", show(told.clearance.flank_mm), "at each flank, along the axis"),
            row("radial clearance", show(told.clearance.radial_mm), "on the radius"),
            row("chamfers", show(told.chamfer_mm), "on the radius, from the bore"),
            row(
                "tooth that mates best",
                format!("{:.2} deg", told.best_tooth.included_angle_deg),
                format!("circling; {:.2} deg in a plane with the axis", told.best_tooth.in_plane_deg),
            ),
            row(
                "common bit below",
                bit(told.bits.below_mm),
                told.bits.below_mm.map_or(String::new(), |bit| {
                    format!(
                        "then open out by {} on the radius",
                        show(((told.bore_diameter_mm - bit) / 2.0).max(0.0))
                    )
                }),
            ),
            row(
                "common bit above",
                bit(told.bits.above_mm),
                told.bits.above_mm.map_or(String::new(), |bit| {
                    format!("leaves {} of overlap, as bored {}", overlap(bit), overlap(told.bore_diameter_mm))
                }),
            ),
        ],
    )
}

/// A diameter as a bit is marked: a fraction in an inch shop.
fn rule(mm: f64, unit: LengthUnit) -> String {
    /// Finest division of an inch on a bit.
    const PARTS: u32 = 16;
    if unit == LengthUnit::Mm {
        return unit.show(mm);
    }
    let parts = (mm / unit.mm() * f64::from(PARTS)).round() as u32;
    let (whole, mut top, mut bottom) = (parts / PARTS, parts % PARTS, PARTS);
    while top > 0 && top.is_multiple_of(2) {
        (top, bottom) = (top / 2, bottom / 2);
    }
    match (whole, top) {
        (whole, 0) => format!("{whole} in"),
        (0, top) => format!("{top}/{bottom} in"),
        (whole, top) => format!("{whole} {top}/{bottom} in"),
    }
}

fn length(job: &Job, told: &Told) -> String {
    let [least, most] = USUAL_LENGTH;
    let mut text = format!(
        "length: {}, {:.1} times the screw's diameter, {:.1} threads engaged. usual are {least} to {most} times the\n\
         diameter (common practice, from memory); past {ENOUGH_THREADS:.0} threads more length holds little more.",
        job.unit.show(told.length_mm),
        told.length_over_diameter,
        told.threads_engaged
    );
    if let Some(load) = told.load {
        let _ = write!(
            text,
            "\nload: by the hand at the handle {:.0} N; a weak piece bears it from a length of {} on\n(from memory, see press)",
            load.load_n,
            job.unit.show_at_least(load.least_length_mm)
        );
    }
    text
}

fn block(job: &Job, nut: &Nut, told: &Told) -> String {
    let show = |mm: f64| job.unit.show(mm);
    let board = job.nut.as_ref().map_or(Board::FlatSawn, |asked| asked.board);
    let best = nut.fit.as_ref().map(|fit| fit.boards[0].board);
    let sawn = match best {
        Some(best) if best == board => format!("{}, which needs least clearance here", board.name()),
        Some(best) => format!("{}; {} would need less clearance, see fit", board.name(), best.name()),
        None => board.name().to_owned(),
    };
    format!(
        "block: {} along the grain, {} across it, {} thick, finished.\n\
         usual are {} and {} or more: a thread's width beyond the hole along the grain, where it splits,\n\
         half of it across (common practice, no source).\n\
         grain: square to the screw, or the thread shears off along it; the hole through the face of the board.\n\
         sawn: {sawn}.\n\
         no pith, no knot in the thread, rings as even as they come; let it stand where it will be used.",
        show(told.block.along_grain_mm),
        show(told.block.across_grain_mm),
        show(told.block.thickness_mm),
        show(told.block.usual_along_mm),
        show(told.block.usual_across_mm)
    )
}

fn mating(job: &Job, told: &Told, cutter: &Cutter) -> String {
    let show = |mm: f64| job.unit.show(mm);
    let deg = |deg: f64| format!("{deg:.2} deg");
    let mut rows = vec![
        row(
            "tooth",
            deg(cutter.included_angle_deg),
            format!("best would be {}", deg(told.best_tooth.included_angle_deg)),
        ),
        row(
            "flank of the nut",
            deg(cutter.flank_axial_deg),
            format!("of the screw {}; half angles in the axial section", deg(cutter.screw_flank_axial_deg)),
        ),
        row("over-cut", show(cutter.over_cut_mm), "at each flank, on the pitch line, by the lead"),
        row(
            "passes aside",
            show(cutter.aside_mm),
            if cutter.aside_mm > 0.0 {
                "above and below: the tip is narrower than the groove"
            } else {
                "none needed"
            },
        ),
        row(
            "gap at the flanks",
            show(cutter.flank_gap_least_mm),
            format!("as cut, up to {} where the angles part", show(cutter.flank_gap_most_mm)),
        ),
        row("thread left at the bore", show(cutter.crest_flat_mm), "along the axis"),
    ];
    rows.extend(told.programs.iter().map(|program| {
        row(
            &format!("program {}", program.name),
            format!("{:.0} min", program.minutes.round().max(1.0)),
            "with --out",
        )
    }));
    table(&format!("milled with: {}", cutter.title), rows)
}

fn hand(job: &Job, screw: &Screw, told: &Told) -> String {
    let show = |mm: f64| job.unit.show(mm);
    let sizes = &told.by_hand;
    let starts = if sizes.starts == 1 {
        "one tooth, or several in a row a pitch apart".to_owned()
    } else {
        format!(
            "{} starts: index the work by {} degrees, or cut with rows a pitch apart",
            sizes.starts,
            360.0 / f64::from(sizes.starts)
        )
    };
    let form = table(
        "by hand, with a tap, a chaser or a bar in a boring jig",
        vec![
            row("bore first", show(sizes.bore_mm), "diameter"),
            row(
                "over the teeth",
                show(sizes.tap_diameter_mm),
                format!("teeth stand {} out of the bore", show(sizes.tooth_depth_mm)),
            ),
            row(
                "tooth",
                format!("{:.2} deg", sizes.tooth_deg),
                format!(
                    "in a plane with the axis; the screw's cutter is {} deg",
                    job.cutter.included_angle_deg
                ),
            ),
            row("flat at its tip", show(sizes.tooth_flat_mm), "along the axis"),
            row("lead", show(sizes.lead_mm), starts),
        ],
    );
    let mut strip = Table::new();
    strip.load_style(presets::NOTHING);
    strip.set_header(
        vec!["test strip", "flank clearance", "bore", "over the teeth"]
            .into_iter()
            .map(str::to_owned)
            .collect::<Vec<_>>(),
    );
    for (name, hole) in ["tighter", "the nut", "easier"].into_iter().zip(&sizes.strip) {
        strip.add_row(vec![
            name.to_owned(),
            show(hole.flank_clearance_mm),
            show(hole.bore_mm),
            show(hole.major_mm),
        ]);
    }
    for column in strip.column_iter_mut().skip(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    let depth = screw.depth_mm;
    format!(
        "{form}\n\n{}\n\na strip of the nut's wood, {} thick, three holes with the same tooth let in to different depths. take the\n\
         tightest that the screw, {} deep, runs through freely on the day it is cut; the year asks for the middle one.",
        strip.trim_fmt(),
        show(sizes.strip_thickness_mm),
        show(depth)
    )
}
