//! The feeds sheet: passes with chips, forces and limits, plans over spindle speeds and numbers of passes, and advice in
//! the words of the shop. Every figure that rests on memory is marked.

use comfy_table::{CellAlignment, Table as Grid, presets};
use serde::Serialize;

use crate::feeds::{Bounds, Kind, Plan, Reason, Row, Table, Verdict};
use crate::job::Job;
use crate::pressure::{BAND, FROM_MEMORY};
use crate::setup::Setup;
use crate::units::LengthUnit;

/// Minutes of a whole program, by the plan and by steps of equal depth at one feed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Times {
    /// As the job is cut.
    pub minutes: f64,
    /// As the wood would have it cut.
    pub by_wood_minutes: f64,
    /// With equal steps and one feed, under the same limits.
    pub even_minutes: Option<f64>,
    /// How many such steps down the middle.
    pub even_passes: usize,
    /// Their feed.
    pub even_feed_mm_per_min: f64,
    /// Their spindle speed.
    pub even_rpm: f64,
    /// Whether they keep every limit.
    pub even_keeps: bool,
}

/// All that a sheet shows of one job in one wood.
#[derive(Clone, Debug, Serialize)]
pub struct Sheet {
    /// The wood.
    pub wood: String,
    /// Its density.
    pub density_kg_m3: Option<f64>,
    /// Its stiffness.
    pub modulus_gpa: Option<f64>,
    /// State of the edges: `sharp`, `used` or `dull`.
    pub edge: &'static str,
    /// Spindle speed.
    pub rpm: f64,
    /// Power of the spindle.
    pub spindle_power_w: Option<f64>,
    /// Torque that A holds.
    pub holding_torque_nm: Option<f64>,
    /// Thinnest chip that does not burn.
    pub least_chip_mm: f64,
    /// The passes of one start.
    pub passes: Vec<Row>,
    /// The plan that the wood makes.
    pub by_wood: Plan,
    /// Running times.
    pub times: Times,
    /// Fastest plans over spindle speeds and numbers of passes.
    pub table: Table,
    /// What of this is from memory.
    pub from_memory: Vec<String>,
}

impl Sheet {
    /// What of a sheet is from memory: the model, and of the wood what its table has from memory.
    pub fn memory(setup: &Setup) -> Vec<String> {
        let timber = &setup.timber;
        let of_wood = [(timber.density_from_memory, "density"), (timber.modulus_from_memory, "stiffness")];
        let of_wood = of_wood.into_iter().filter(|(from_memory, _)| *from_memory);
        FROM_MEMORY
            .iter()
            .map(|&words| words.to_owned())
            .chain(of_wood.map(|(_, what)| format!("{what} of {}: from memory", timber.name)))
            .collect()
    }
}

/// Ends of a band: half to double.
fn band(value: f64, decimals: usize) -> String {
    format!("{:.*}-{:.*}", decimals, value / BAND, decimals, value * BAND)
}

/// The sheet as text. `whole` adds the table and the advice.
pub fn text(job: &Job, bounds: &Bounds, sheet: &Sheet) -> String {
    let mut parts = vec![head(job, bounds, sheet), passes(job, sheet), times(job, sheet)];
    parts.push(format!("fastest plans in minutes of one start, and what limits them\n\n{}", grid(sheet)));
    parts.push(advice(job, bounds, sheet));
    parts.push(memory(sheet));
    parts.join("\n\n")
}

fn plain(rows: Vec<Vec<String>>, right_from: usize) -> String {
    let mut table = Grid::new();
    table.load_style(presets::NOTHING);
    table.add_rows(rows);
    for column in table.column_iter_mut().skip(right_from) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table.trim_fmt()
}

fn head(job: &Job, bounds: &Bounds, sheet: &Sheet) -> String {
    let cutter = &bounds.setup.cutter;
    let known = |value: Option<f64>, show: &dyn Fn(f64) -> String, missing: &str| {
        value.map_or(missing.to_owned(), show)
    };
    let not_given = |key: &str| format!("not given ({key} in the machine file): left out");
    let lines = [
        (
            "density",
            known(sheet.density_kg_m3, &|d| format!("{d:.0} kg/m3"), "not known: forces are left out"),
        ),
        (
            "stiffness",
            known(
                sheet.modulus_gpa,
                &|e| format!("{e:.1} GPa along the grain"),
                "not known: bending is left out",
            ),
        ),
        (
            "edges",
            format!("{}, {}; chips under {:.3} mm burn", cutter.flutes, sheet.edge, sheet.least_chip_mm),
        ),
        ("spindle", format!("{:.0} rev/min", sheet.rpm)),
        ("its power", known(sheet.spindle_power_w, &|w| format!("{w:.0} W"), &not_given("spindle.power"))),
        (
            "A holds",
            known(sheet.holding_torque_nm, &|t| format!("{t:.1} N m"), &not_given("a.holding_torque")),
        ),
        ("A and X follow", format!("{}, a tenth kept back", job.unit.show_speed(bounds.axes.0))),
    ];
    let rows = lines.into_iter().map(|(what, value)| vec![what.to_owned(), value]).collect();
    let title = format!("{}: {}, on {}", job.title, sheet.wood, bounds.setup.machine.title);
    format!("{title}\n\n{}", plain(rows, 9))
}

/// A depth in the unit of the job, without its name.
fn number(unit: LengthUnit, mm: f64) -> String {
    unit.number(mm)
}

fn speed(unit: LengthUnit, mm_per_min: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{mm_per_min:.0}"),
        LengthUnit::Inch => format!("{:.1}", mm_per_min / unit.mm()),
    }
}

/// What a pass is called.
fn name(index: usize, row: &Row) -> String {
    match row.trip.kind {
        Kind::Depth => (index + 1).to_string(),
        Kind::Spring => "spring".to_owned(),
        Kind::Flank if row.trip.aside_mm > 0.0 => "head flank".to_owned(),
        Kind::Flank => "nose flank".to_owned(),
    }
}

fn passes(job: &Job, sheet: &Sheet) -> String {
    let unit = job.unit;
    let length = unit.name();
    let mut rows = vec![
        [
            "pass",
            "depth",
            "feed",
            "chip",
            "root to crest",
            "tip to crest",
            "force",
            "power",
            "torque",
            "bends",
            "twists",
            "cutter",
            "",
        ]
        .map(str::to_owned)
        .to_vec(),
        [
            "",
            length,
            &format!("{length}/min"),
            "mm",
            "mm",
            "m/s",
            "N",
            "W",
            "N m",
            "mm",
            "deg",
            "bends mm",
            "",
        ]
        .map(str::to_owned)
        .to_vec(),
    ];
    for (index, row) in sheet.passes.iter().enumerate() {
        let mut cells =
            vec![name(index, row), number(unit, row.trip.depth_mm), speed(unit, row.trip.feed_mm_per_min)];
        let dash = || "-".to_owned();
        if let Some(loads) = &row.loads {
            let push = loads.strain.push;
            cells.extend([
                format!("{:.3}", loads.strain.chip_mm),
                format!("{:.3}-{:.3}", loads.root_chip_mm, loads.crest_chip_mm),
                format!("{:.1}-{:.1}", loads.tip_m_s, loads.crest_m_s),
                push.map_or_else(dash, |push| band(push.side_n, 0)),
                push.map_or_else(dash, |push| band(push.power_w, 0)),
                loads.torque_nm.map_or_else(dash, |torque| band(torque, 1)),
                loads.bend_mm.map_or_else(dash, |bend| band(bend, 2)),
                loads.twist_deg.map_or_else(dash, |twist| band(twist, 2)),
                loads.cutter_bend_mm.map_or_else(dash, |bend| band(bend, 2)),
            ]);
        } else {
            cells.extend(std::iter::repeat_with(dash).take(9));
        }
        cells.push(verdict(row));
        rows.push(cells);
    }
    let mut table = Grid::new();
    table.load_style(presets::NOTHING);
    table.add_rows(rows);
    for column in table.column_iter_mut().take(12) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    format!(
        "passes of each start; forces, power and what follows from them from half to double\n\n{}",
        table.trim_fmt()
    )
}

fn verdict(row: &Row) -> String {
    match row.verdict {
        Verdict::Fine => format!("limit: {}", row.reason.words()),
        Verdict::Thin => "chips too thin: burns".to_owned(),
        Verdict::Past(Reason::Tears) => "chips too thick: tears".to_owned(),
        Verdict::Past(reason) => format!("too much: {}", reason.words()),
        Verdict::Spring => "takes what the blank gave way to".to_owned(),
    }
}

fn times(job: &Job, sheet: &Sheet) -> String {
    let times = &sheet.times;
    let by_wood = if times.by_wood_minutes == times.minutes {
        "as the wood has it".to_owned()
    } else {
        format!("as it stands; as the wood would have it {:.1} min", times.by_wood_minutes)
    };
    let even = times.even_minutes.map(|even| {
        let steps = if times.even_passes == 1 {
            "one step".to_owned()
        } else {
            format!("{} equal steps", times.even_passes)
        };
        let keeps = if times.even_keeps { "" } else { ", and its chips burn" };
        format!(
            "; {steps} of depth at one feed ({} at {:.0} rev/min): {even:.1} min{keeps}",
            job.unit.show_speed(times.even_feed_mm_per_min),
            times.even_rpm
        )
    });
    format!("running time {:.1} min {by_wood}{}", times.minutes, even.unwrap_or_default())
}

fn grid(sheet: &Sheet) -> String {
    let table = &sheet.table;
    let mut header = vec!["rev/min".to_owned()];
    header.extend(
        table.passes.iter().map(|&n| if n == 1 { "1 pass".to_owned() } else { format!("{n} passes") }),
    );
    let mut rows = vec![header];
    for (rpm, cells) in table.rpm.iter().zip(&table.cells) {
        let mut row = vec![format!("{rpm:.0}")];
        row.extend(cells.iter().map(|cell| match cell {
            None => "-".to_owned(),
            Some(cell) if cell.burns => format!("burns/{}", cell.reason.short()),
            Some(cell) => format!("{:.1} {}", cell.minutes, cell.reason.short()),
        }));
        rows.push(row);
    }
    plain(rows, 0)
}

fn memory(sheet: &Sheet) -> String {
    let lines: Vec<String> = sheet.from_memory.iter().map(|words| format!("  {words}")).collect();
    format!("from memory, to be taken as advice:\n{}", lines.join("\n"))
}

fn advice(_job: &Job, _bounds: &Bounds, _sheet: &Sheet) -> String {
    String::new()
}
