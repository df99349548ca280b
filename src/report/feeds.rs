//! The feeds sheet: passes with chips, forces and limits, plans over spindle speeds and numbers of passes, advice in the
//! words of the shop, two woods beside each other. Every figure that rests on memory is marked.

use comfy_table::{CellAlignment, Table as Grid};
use serde::Serialize;

use super::feeds_advice::advice;
use super::lines::{self, wrapped};
use crate::feeds::{Advice, AxisBinds, Bounds, Kind, LIGHT_MM, Loads, Plan, Reason, Row, Table, Verdict};
use crate::job::Job;
use crate::pressure::{BAND, FROM_MEMORY};
use crate::setup::Setup;
use crate::units::LengthUnit;

/// Minutes of a whole program, by the plan and by steps of equal depth at one feed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Times {
    /// As the job is cut; `None` when it has no path.
    pub minutes: Option<f64>,
    /// As the wood would have it cut.
    pub by_wood_minutes: Option<f64>,
    /// With equal steps and one feed, under the same limits.
    pub even_minutes: Option<f64>,
    /// How many passes that makes, the last and the flanks as by the wood.
    pub even_passes: usize,
    /// Their feed.
    pub even_feed_mm_per_min: f64,
    /// Their spindle speed.
    pub even_rpm: f64,
    /// Whether they keep every limit.
    pub even_keeps: bool,
    /// Whether the job fixes how many passes both have.
    pub passes_fixed: bool,
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
    /// Whether the passes are the wood's own plan.
    pub planned_by_wood: bool,
    /// The passes of one start.
    pub passes: Vec<Row>,
    /// Whether the top speed of an axis ends the feed of every one of them.
    pub axis_binds: Option<AxisBinds>,
    /// The plan that the wood makes.
    pub by_wood: Plan,
    /// Running times.
    pub times: Times,
    /// Fastest plans over spindle speeds and numbers of passes.
    pub table: Table,
    /// Figures of the advice.
    pub advice: Option<Advice>,
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
            .chain(of_wood.map(|(_, what)| format!("{what} of {}", timber.name)))
            .collect()
    }
}

/// The sheet as text; `other` is the same job in another wood, to be shown beside it.
pub fn text(job: &Job, bounds: &Bounds, sheet: &Sheet, other: Option<&Sheet>) -> String {
    let unit = job.unit;
    let mut parts = vec![head(job, bounds, sheet)];
    parts.extend(other.map(|other| beside(unit, sheet, other)));
    parts.push(passes(unit, sheet));
    parts.push(forces(unit, sheet));
    parts.push(times(unit, sheet));
    parts.extend(by_hand(unit, sheet));
    parts.push(grid(unit, sheet));
    parts.extend(sheet.advice.as_ref().map(|figures| advice(unit, bounds, sheet, figures)));
    parts.push(memory(sheet));
    parts.join("\n\n")
}

/// A table; columns from `right_from` up to `right_to` are set to the right, and words in a last one that is not are broken.
fn plain(rows: Vec<Vec<String>>, right_from: usize, right_to: usize) -> String {
    let mut table = Grid::new();
    table.add_rows(rows);
    for column in table.column_iter_mut().take(right_to).skip(right_from) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    let words_last = right_to < table.column_count();
    lines::plain(table, words_last)
}

/// The middle of a band as its ends, half to double, with as many decimals as tell them apart.
pub(super) fn band(value: f64) -> String {
    let decimals = decimals_of(value * BAND);
    format!("{:.*}-{:.*}", decimals, value / BAND, decimals, value * BAND)
}

fn decimals_of(value: f64) -> usize {
    match value {
        v if v >= 10.0 => 0,
        v if v >= 1.0 => 1,
        v if v >= 0.1 => 2,
        _ => 3,
    }
}

/// The same for a length, in the unit of the job, without its name.
pub(super) fn band_of_length(unit: LengthUnit, mm: f64) -> String {
    let decimals = unit.decimals();
    format!("{:.*}-{:.*}", decimals, mm / BAND / unit.mm(), decimals, mm * BAND / unit.mm())
}

/// The thickness of a chip, without the name of the unit.
pub(super) fn chip(unit: LengthUnit, mm: f64) -> String {
    format!("{:.*}", unit.decimals() + 1, mm / unit.mm())
}

fn speed(unit: LengthUnit, mm_per_min: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{mm_per_min:.0}"),
        LengthUnit::Inch => format!("{:.1}", mm_per_min / unit.mm()),
    }
}

/// What a pass is called in a table.
fn name(index: usize, row: &Row) -> String {
    match row.trip.kind {
        Kind::Depth => (index + 1).to_string(),
        Kind::Spring => "spring".to_owned(),
        Kind::Flank if row.trip.aside_mm > 0.0 => "head flank".to_owned(),
        Kind::Flank => "nose flank".to_owned(),
    }
}

/// The same in a sentence.
pub(super) fn pass(index: usize, row: &Row) -> String {
    match row.trip.kind {
        Kind::Depth => format!("pass {}", index + 1),
        Kind::Spring => "the spring pass".to_owned(),
        Kind::Flank => format!("the {} pass", name(index, row)),
    }
}

fn show<T>(value: Option<T>, words: impl Fn(T) -> String, missing: &str) -> String {
    value.map_or_else(|| missing.to_owned(), words)
}

fn head(job: &Job, bounds: &Bounds, sheet: &Sheet) -> String {
    let edges = bounds.setup.cutter.flutes;
    let edges = if edges == 1 { "1 edge".to_owned() } else { format!("{edges} edges") };
    let not_given = |key: &str| format!("not given ({key} in the machine file): left out");
    let dense =
        if sheet.density_kg_m3.is_some() { "" } else { " (as in dense wood: the density is not known)" };
    let chips =
        format!("chips under {} {} burn{dense}", chip(job.unit, sheet.least_chip_mm), job.unit.name());
    let rows = [
        ("density", show(sheet.density_kg_m3, |d| format!("{d:.0} kg/m3"), "not known: forces are left out")),
        (
            "stiffness",
            show(
                sheet.modulus_gpa,
                |e| format!("{e:.1} GPa along the grain"),
                "not known: bending is left out",
            ),
        ),
        ("cutter", format!("{}: {edges}, {}; {chips}", bounds.setup.cutter.title, sheet.edge)),
        ("spindle", format!("{:.0} rev/min", sheet.rpm)),
        ("its power", show(sheet.spindle_power_w, |w| format!("{w:.0} W"), &not_given("spindle.power"))),
        ("A holds", show(sheet.holding_torque_nm, |t| format!("{t:.1} N m"), &not_given("a.holding_torque"))),
        ("the axes follow", format!("{}, a tenth kept back", job.unit.show_speed(bounds.axes.0))),
    ];
    let rows = rows.into_iter().map(|(what, value)| vec![what.to_owned(), value]).collect();
    let title = format!("{}: {}, on {}", job.title, sheet.wood, bounds.setup.machine.title);
    format!("{title}\n\n{}", plain(rows, 0, 0))
}

/// Two woods beside each other: what they ask of this job's passes, and the plan each would make.
fn beside(unit: LengthUnit, sheet: &Sheet, other: &Sheet) -> String {
    let most = |sheet: &Sheet, of: fn(&Loads) -> Option<f64>, words: &dyn Fn(f64) -> String| {
        let most = sheet.passes.iter().filter_map(|row| of(row.loads.as_ref()?)).reduce(f64::max);
        show(most, words, "not known")
    };
    let name = unit.name();
    let row = |what: &str, of: &dyn Fn(&Sheet) -> String| vec![what.to_owned(), of(sheet), of(other)];
    let rows = vec![
        row("", &|sheet| sheet.wood.clone()),
        row("density", &|sheet| show(sheet.density_kg_m3, |d| format!("{d:.0} kg/m3"), "not known")),
        row("stiffness", &|sheet| show(sheet.modulus_gpa, |e| format!("{e:.1} GPa"), "not known")),
        row("thinnest chip", &|sheet| format!("{} {name}", chip(unit, sheet.least_chip_mm))),
        row("most force", &|sheet| {
            most(sheet, |loads| loads.strain.push.map(|push| push.side_n), &|n| format!("{} N", band(n)))
        }),
        row("most power", &|sheet| {
            most(sheet, |loads| loads.strain.push.map(|push| push.power_w), &|w| format!("{} W", band(w)))
        }),
        row("most torque", &|sheet| most(sheet, |loads| loads.torque_nm, &|t| format!("{} N m", band(t)))),
        row("blank bends", &|sheet| {
            most(sheet, |loads| loads.bend_mm, &|mm| format!("{} {name}", band_of_length(unit, mm)))
        }),
        row("it would have", &|sheet| {
            let plan = &sheet.by_wood;
            let feeds = plan.passes.iter().map(|pass| pass.trip.feed_mm_per_min);
            let [low, high] = [feeds.clone().fold(f64::INFINITY, f64::min), feeds.fold(0.0, f64::max)];
            let range = if low == high {
                speed(unit, low)
            } else {
                format!("{}-{}", speed(unit, low), speed(unit, high))
            };
            format!("{} passes at {:.0} rev/min, {range} {name}/min", plan.passes.len(), plan.rpm)
        }),
        row("in", &|sheet| minutes(sheet.times.by_wood_minutes)),
    ];
    format!(
        "the woods beside each other: this job's passes, and what each wood would have\n\n{}",
        plain(rows, 0, 0)
    )
}

fn passes(unit: LengthUnit, sheet: &Sheet) -> String {
    let name_of = unit.name();
    let heads = [
        ["", "", "", "mean", "chip, root", "edge, tip", ""],
        ["pass", "depth", "feed", "chip", "to crest", "to crest", ""],
        ["", name_of, &format!("{name_of}/min"), name_of, name_of, "m/s", ""],
    ];
    let mut rows: Vec<Vec<String>> = heads.map(|head| head.map(str::to_owned).to_vec()).into();
    for (index, row) in sheet.passes.iter().enumerate() {
        let mut cells =
            vec![name(index, row), unit.number(row.trip.depth_mm), speed(unit, row.trip.feed_mm_per_min)];
        cells.extend(match &row.loads {
            Some(loads) => [
                chip(unit, loads.strain.chip_mm),
                format!("{}-{}", chip(unit, loads.root_chip_mm), chip(unit, loads.crest_chip_mm)),
                format!("{:.1}-{:.1}", loads.tip_m_s, loads.crest_m_s),
            ],
            None => ["-", "-", "-"].map(str::to_owned),
        });
        cells.push(verdict(row));
        rows.push(cells);
    }
    let depth = sheet.passes.iter().enumerate().filter_map(|(index, row)| {
        let stops = row.deeper?;
        Some(format!("{} can go no deeper at this feed: {}", pass(index, row), stops.words()))
    });
    let remarks: Vec<String> = held_against(unit, sheet)
        .into_iter()
        .chain(depth)
        .chain(machine_binds(sheet))
        .map(|words| wrapped(&words))
        .collect();
    format!(
        "passes of each start: chips, and what keeps the feed from being greater\n\n{}\n\n{}",
        plain(rows, 0, 6),
        remarks.join("\n")
    )
}

/// Which chip is held against the least, and where burning is to be looked for.
fn held_against(unit: LengthUnit, sheet: &Sheet) -> Option<String> {
    let crests = sheet.passes.iter().enumerate().filter_map(|(index, row)| Some((index, row, row.loads?)));
    let (index, row, loads) = crests.min_by(|a, b| a.2.crest_chip_mm.total_cmp(&b.2.crest_chip_mm))?;
    let name = unit.name();
    Some(format!(
        "the mean chip is held against {} {name}; it is thinnest at the crest, where burning shows first: {} {name} in {}",
        chip(unit, sheet.least_chip_mm),
        chip(unit, loads.crest_chip_mm),
        pass(index, row)
    ))
}

/// Where an axis alone sets every feed, the wood has no say.
fn machine_binds(sheet: &Sheet) -> Option<String> {
    let binds = sheet.axis_binds?;
    let any = if binds.in_any_wood {
        "any wood of the table may be cut by this plan on this machine"
    } else {
        "in this wood; in the hardest of the table something else would bind"
    };
    let given = sheet.spindle_power_w.is_some() && sheet.holding_torque_nm.is_some();
    let but = if given { "" } else { ", as far as its limits are given" };
    Some(format!("{} ends the feed of every pass: {any}{but}", binds.axis.words()))
}

fn verdict(row: &Row) -> String {
    match row.verdict {
        Verdict::Fine => row.reason.words().to_owned(),
        Verdict::Thin => "CHIPS TOO THIN: burns".to_owned(),
        Verdict::Past(Reason::Tears) => "CHIPS TOO THICK: tears".to_owned(),
        Verdict::Past(reason) => format!("TOO MUCH: {}", reason.words()),
        Verdict::Spring => "takes what gave way before".to_owned(),
    }
}

fn forces(unit: LengthUnit, sheet: &Sheet) -> String {
    let length = unit.name();
    let heads = [
        ["", "", "", "torque", "blank", "", "cutter"],
        ["pass", "force", "power", "on A", "bends", "twists", "bends"],
        ["", "N", "W", "N m", length, "deg", length],
    ];
    let mut rows: Vec<Vec<String>> = heads.map(|head| head.map(str::to_owned).to_vec()).into();
    for (index, row) in sheet.passes.iter().enumerate() {
        let Some(loads) = &row.loads else { continue };
        let push = loads.strain.push;
        rows.push(vec![
            name(index, row),
            show(push, |push| band(push.side_n), "-"),
            show(push, |push| band(push.power_w), "-"),
            show(loads.torque_nm, band, "-"),
            show(loads.bend_mm, |mm| band_of_length(unit, mm), "-"),
            show(loads.twist_deg, band, "-"),
            show(loads.cutter_bend_mm, |mm| band_of_length(unit, mm), "-"),
        ]);
    }
    format!("what they ask for, from half to double the estimate\n\n{}", plain(rows, 0, 7))
}

fn minutes(minutes: Option<f64>) -> String {
    show(minutes, |minutes| format!("{minutes:.1} min"), "not known")
}

fn times(unit: LengthUnit, sheet: &Sheet) -> String {
    let times = &sheet.times;
    let mut lines = vec![format!(
        "running time {}, {}",
        minutes(times.minutes),
        if sheet.planned_by_wood { "as the wood has it" } else { "as the job stands" }
    )];
    if !sheet.planned_by_wood {
        let passes = sheet.by_wood.passes.len();
        lines.push(format!(
            "left to the wood (plan = \"by-wood\"): {}, {passes} passes at {:.0} rev/min",
            minutes(times.by_wood_minutes),
            sheet.by_wood.rpm
        ));
    }
    if let Some(even) = times.even_minutes.filter(|_| times.even_keeps || sheet.by_wood.keeps()) {
        let like = if times.passes_fixed { " in as many passes, which the job fixes" } else { "" };
        let keeps = if times.even_keeps { "" } else { "; and chips burn" };
        lines.push(format!(
            "the best with equal steps of depth and one feed{like}: {even:.1} min, {} passes at {:.0} rev/min, {}{keeps}",
            times.even_passes,
            times.even_rpm,
            unit.show_speed(times.even_feed_mm_per_min)
        ));
    }
    lines.iter().map(|line| wrapped(line)).collect::<Vec<_>>().join("\n")
}

/// The wood's plan as it would be written by hand.
fn by_hand(unit: LengthUnit, sheet: &Sheet) -> Option<String> {
    let plan = &sheet.by_wood;
    let down = || plan.passes.iter().filter(|pass| pass.trip.kind == Kind::Depth);
    let list = |of: &dyn Fn(&crate::feeds::Planned) -> String| down().map(of).collect::<Vec<_>>().join(", ");
    let flank = plan.passes.iter().find(|pass| pass.trip.kind == Kind::Flank);
    let flank = flank
        .map_or(String::new(), |pass| format!("\n  flank_feed = {}", speed(unit, pass.trip.feed_mm_per_min)));
    (!plan.passes.is_empty()).then(|| {
        format!(
            "the wood's plan, to be written under [cutting] by hand:\n  rpm = {:.0}\n  depths = [{}]\n  feeds = [{}]{flank}",
            plan.rpm,
            list(&|pass| unit.number(pass.trip.depth_mm)),
            list(&|pass| speed(unit, pass.trip.feed_mm_per_min)),
        )
    })
}

fn grid(unit: LengthUnit, sheet: &Sheet) -> String {
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
            Some(cell) => {
                let heavy = if cell.heavy_last { "*" } else { "" };
                format!("{:.1} {}{heavy}", cell.minutes, cell.reason.short())
            }
        }));
        rows.push(row);
    }
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    format!(
        "{}\n\n{}\n\n{}",
        wrapped(
            "fastest plans over passes down the middle: minutes of one start, and what ends the feed of the slowest pass"
        ),
        plain(rows, 0, columns),
        wrapped(&format!(
            "A, X: the axis at its top speed; tears: thicker chips would; bends: the blank; cutter: it bends; burns/A: too thin \
             even at the feed that A ends; *: the last pass takes more than {} off a flank; -: so many do not fit, or one would \
             take too much",
            unit.show(LIGHT_MM[1])
        ))
    )
}

fn memory(sheet: &Sheet) -> String {
    let lines: Vec<String> = sheet.from_memory.iter().map(|words| wrapped(words)).collect();
    format!("from memory, to be taken as advice:\n{}", lines.join("\n"))
}
