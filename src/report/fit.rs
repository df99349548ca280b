//! A fit in words first, then as tables: gaps and sizes through the year, what each way of sawing the nut asks for, what
//! to cut, and how sure all that is.

use std::fmt::Write;

use comfy_table::{CellAlignment, Table};

use super::lines::{plain, unwrapped, wrapped};
use crate::design::Screw;
use crate::design::fit::{Fit, LEAST_FLANK_MM, Verdict};
use crate::job::{Job, NutAsked, Quantity};
use crate::report::page::Panel;
use crate::units::{LengthUnit, tidy_zero};
use crate::wood::{Moisture, Property, SCATTER, Species};

/// Differences between boards below this are not worth choosing for, mm.
const WORTH_CHOOSING_MM: f64 = 0.05;

/// The whole report of a fit, lengths in the unit of the job.
pub fn text(job: &Job, screw: &Screw, nut: &NutAsked, fit: &Fit) -> String {
    let mut text = String::new();
    let head = format!("{}: {} screw in a {} {} nut", job.title, job.wood, fit.board.name(), nut.wood);
    let _ = writeln!(text, "{}\n", wrapped(&head));
    for line in verdict(job, fit).lines() {
        let _ = writeln!(text, "{}", wrapped(line));
    }
    let _ = writeln!(text, "\n{}\n", moistures(job.unit, fit));
    let _ = writeln!(text, "{}\n", gaps(job, fit));
    let _ = writeln!(text, "{}\n", sizes(job, fit));
    let _ = writeln!(text, "{}\n", boards(job, fit));
    let _ = writeln!(text, "{}\n", to_cut(job, screw, fit));
    let _ = write!(text, "{}", how_sure(job, nut));
    text
}

/// The answer in one line.
pub fn verdict(job: &Job, fit: &Fit) -> String {
    let show = |mm: f64| job.unit.show(mm);
    let (flank, crest, loose) = (fit.tightest(), fit.crest_least(), fit.loosest());
    let gap = |gap_mm: f64, place: &str| {
        if gap_mm < 0.0 {
            format!("{} too little {place}", job.unit.show_at_least(-gap_mm))
        } else {
            format!("{} left {place}", job.unit.show_at_most(gap_mm))
        }
    };
    let least = format!(
        "at worst {} ({}), {} ({})",
        gap(flank.flank_least_mm, "at the flanks"),
        flank.when.words(),
        gap(crest.crest_least_mm, "at the crests"),
        crest.when.words()
    );
    let play = format!("play along the screw up to {} ({})", show(loose.play_most_mm), loose.when.words());
    let answer = match fit.verdict {
        Verdict::Free => "stays free",
        Verdict::Tight => "stays free on usual boards and may bind on lively ones",
        Verdict::Binds => "binds",
    };
    format!("{answer}: {least}\n{play}")
}

fn moistures(unit: LengthUnit, fit: &Fit) -> String {
    let season = &fit.season;
    let one = |then: &Moisture| {
        let air = then.air.map_or(String::new(), |air| {
            let warm = Quantity::Temperature.say(air.temperature_c, unit);
            format!(" (air of {warm} and {:.0} %)", air.humidity_percent)
        });
        format!("{:.1} %{air}", then.percent)
    };
    let assumed = if season.cutting_assumed {
        " (assumed, half-way between dry and wet: name cutting_moisture)"
    } else {
        ""
    };
    let mut text = wrapped(&format!(
        "moisture of the wood: cut at {}{assumed}, dry season {}, wet season {}",
        one(&season.cutting),
        one(&season.dry),
        one(&season.wet)
    ));
    if [season.cutting, season.dry, season.wet].iter().any(|then| then.air.is_some()) {
        text.push('\n');
        text.push_str(&wrapped(FROM_AIR));
    }
    text
}

/// How well a moisture follows from the air. Sources: Wood Handbook FPL-GTR-282 p. 4-4, as quoted; a Swedish trade guide.
const FROM_AIR: &str = "from the air by a table made mainly for Sitka spruce, half-way between drying and wetting: other woods \
                        differ, mostly in damp air (Wood Handbook), and at 50 % humidity drying and wetting wood lie 1 to 4 \
                        points apart (a Swedish trade guide)";

/// A table without lines whose columns but the first are numbers.
fn table(header: Vec<String>, rows: Vec<Vec<String>>) -> String {
    let mut table = Table::new();
    table.set_header(header);
    table.add_rows(rows);
    for column in table.column_iter_mut().skip(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    plain(table, false)
}

fn words<const N: usize>(words: [&str; N]) -> Vec<String> {
    words.map(str::to_owned).to_vec()
}

fn gaps(job: &Job, fit: &Fit) -> String {
    let (heads, rows) = gap_cells(job, fit);
    format!("{}\n\n{}", table(heads, rows), wrapped(&gap_notes()))
}

/// What the columns of the gaps mean.
fn gap_notes() -> String {
    format!(
        "play: along the screw, by how the screw is turned. lively: the least if the boards move {:.0} % more or less than usual \
         (from memory). * bound: one part a whole season behind the other, which is not to be expected.",
        100.0 * SCATTER
    )
}

/// The gaps through the year: heads of two lines, and rows.
fn gap_cells(job: &Job, fit: &Fit) -> (Vec<String>, Vec<Vec<String>>) {
    let number = |mm: f64| job.unit.number(mm);
    let rows = fit.gaps.iter().chain(&fit.bounds).map(|gaps| {
        let play = if gaps.play_most_mm < 0.0 {
            "none".to_owned()
        } else {
            let [least, most] = [gaps.play_least_mm.max(0.0), gaps.play_most_mm].map(number);
            if least == most { least } else { format!("{least}-{most}") }
        };
        let when = gaps.when.words();
        vec![
            when.strip_prefix("bound: ").map_or_else(|| when.to_owned(), |when| format!("{when} *")),
            number(gaps.crest_least_mm),
            number(gaps.crest_most_mm),
            number(gaps.flank_least_mm),
            play,
            number(gaps.crest_least_lively_mm),
            number(gaps.flank_least_lively_mm),
        ]
    });
    let mut heads = words([
        "\ngaps, ",
        "crest,\nleast",
        "\nmost",
        "flank,\nleast",
        "\nplay",
        "lively\ncrest",
        "lively\nflank",
    ]);
    heads[0].push_str(job.unit.name());
    (heads, rows.collect())
}

/// The fit through the year for a page.
pub fn panel(job: &Job, nut: &NutAsked, fit: &Fit) -> Panel {
    let (heads, rows) = gap_cells(job, fit);
    let what = format!("{} screw in a {} {} nut", job.wood, fit.board.name(), nut.wood);
    let says = format!("{what}\n{}\n{}", verdict(job, fit), moistures(job.unit, fit));
    Panel {
        title: "Through the year".to_owned(),
        says: unwrapped(&says),
        heads: heads.iter().map(|head| head.trim_start().replace('\n', " ")).collect(),
        rows,
        notes: vec![gap_notes()],
        ..Panel::default()
    }
}

fn sizes(job: &Job, fit: &Fit) -> String {
    type Of = fn(&crate::design::fit::SizesThen) -> f64;
    let rows: [(&str, Of); 5] = [
        ("screw over the crests, square to its rings", |sizes| sizes.screw_radial_mm),
        ("screw over the crests, along its rings", |sizes| sizes.screw_tangential_mm),
        ("nut over its grooves, along its grain", |sizes| sizes.nut_along_mm),
        ("nut over its grooves, across its grain", |sizes| sizes.nut_across_mm),
        ("length of the thread in the nut", |sizes| sizes.nut_length_mm),
    ];
    let mut header = words(["sizes, ", "as cut", "dry", "wet"]);
    header[0].push_str(job.unit.name());
    let row = |(what, of): (&str, Of)| {
        let numbers = fit.sizes.iter().map(|sizes| job.unit.number(of(sizes)));
        std::iter::once(what.to_owned()).chain(numbers).collect()
    };
    table(header, rows.into_iter().map(row).collect())
}

fn boards(job: &Job, fit: &Fit) -> String {
    let number = |mm: f64| job.unit.number(mm);
    let rows = fit.boards.iter().map(|need| {
        let this = if need.board == fit.board { " (this one)" } else { "" };
        vec![
            format!("{}{this}", need.board.name()),
            job.unit.show_at_least(need.needed.flank_mm),
            job.unit.show_at_least(need.needed.radial_mm),
            number(need.drift_mm),
            number(need.hole_oval_mm),
        ]
    });
    let header =
        words(["\nboard of the nut", "flank\nneeded", "radial\nneeded", "grows\nlonger", "out of\nround"]);
    let more = format!(
        "needed: leaves {} at the tightest on lively boards, and the crests off until the flanks touch. grows longer: the nut's \
         thread against the screw's, from the dry to the wet season.",
        job.unit.show(LEAST_FLANK_MM)
    );
    format!("{}\n\n{}\n{}", table(header, rows.collect()), wrapped(&more), wrapped(&board_advice(job, fit)))
}

/// Which board is better, and by how much.
fn board_advice(job: &Job, fit: &Fit) -> String {
    let (best, worst) = (&fit.boards[0], &fit.boards[fit.boards.len() - 1]);
    let gain = worst.needed.flank_mm - best.needed.flank_mm;
    if gain < WORTH_CHOOSING_MM {
        return format!(
            "how the board is sawn hardly matters here: {} at each flank either way",
            job.unit.show_at_least(worst.needed.flank_mm)
        );
    }
    format!(
        "best is a {} board: {} less clearance at each flank than {}{}",
        best.board.name(),
        job.unit.show(gain),
        worst.board.name(),
        if best.board == fit.board { ", and that is what the job has" } else { "" }
    )
}

fn to_cut(job: &Job, screw: &Screw, fit: &Fit) -> String {
    let show = |mm: f64| job.unit.show(mm);
    let chosen = |chosen: bool| if chosen { "chosen" } else { "as the job has it" };
    let relief = fit.clearance.flank_mm / screw.flank_axial_deg.to_radians().tan();
    let rows = [
        ("nut over its grooves", show(fit.nut_major_diameter_mm), "diameter".to_owned()),
        ("bore of the nut", show(fit.nut_bore_diameter_mm), "diameter".to_owned()),
        (
            "radial clearance",
            show(fit.clearance.radial_mm),
            format!(
                "{}; below {} the crests touch before the flanks",
                chosen(fit.radial_chosen),
                show(relief)
            ),
        ),
        (
            "flank clearance",
            show(fit.clearance.flank_mm),
            format!("{}; at each flank, along the axis", chosen(fit.flank_chosen)),
        ),
        (
            "groove of the nut",
            show(fit.nut_groove_mm),
            format!("wide on the diameter of {}", show(screw.pitch_line_diameter_mm)),
        ),
        (
            "threads overlap by",
            show(fit.overlap_least_mm.max(0.0)),
            format!("at the loosest, of a depth of {}", show(screw.depth_mm)),
        ),
    ];
    let rows = rows.into_iter().map(|(what, value, more)| vec![what.to_owned(), value, more]);
    let mut table = Table::new();
    table.add_rows(rows);
    if let Some(column) = table.column_mut(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    format!("to cut, both at the same moisture\n{}", plain(table, true))
}

/// Where the movements come from, and what was taken for granted.
fn how_sure(job: &Job, nut: &NutAsked) -> String {
    let mut woods: Vec<&Species> =
        [job.species.as_ref(), nut.species.as_ref()].into_iter().flatten().collect();
    woods.dedup_by(|a, b| a.name == b.name);
    let mut text = String::new();
    for species in woods {
        for property in [Property::MoveRadial, Property::MoveTangential] {
            if let Some(known) = species.get(property) {
                let note = if known.note.is_empty() { String::new() } else { format!(" ({})", known.note) };
                let line = format!(
                    "{}, {}: {}, {}: {}{note}",
                    species.name,
                    property.words(),
                    property.show(known.value),
                    known.origin.words(),
                    known.source
                );
                let _ = writeln!(text, "{}", wrapped(&line));
            }
        }
    }
    for line in [
        "taken for granted: both parts move freely, evenly moist, in proportion; the screw's grain runs along it, the nut's \
         across. thick parts see only what stays for weeks: give the air of a season, not of a day.",
        "a film of wax or oil slows the wood down, it does not stop it; let both parts stand where they will be used before they \
         are cut.",
    ] {
        let _ = writeln!(text, "{}", wrapped(line));
    }
    tidy_zero(text)
}
