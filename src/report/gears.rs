//! Trains of gears for a hand jig, as text and as data.

use std::fmt::Write;

use comfy_table::{CellAlignment, Table, presets};
use serde_json::{Value, json};

use crate::gears;
use crate::gears::fraction::{self, words};
use crate::gears::{Answer, Found, IndexWay, Kind, LEAST_TEETH, Purchase, Refusal, Train, Wanted};
use crate::job::{Jig, Job};
use crate::units::{LengthUnit, MM_PER_INCH};

/// Length over which errors of a lead are told, whatever the screw: makers compare by it.
const TOLD_OVER_MM: f64 = 300.0;
/// The same for makers who think in inches: a foot.
const TOLD_OVER_FOOT_MM: f64 = 12.0 * MM_PER_INCH;

fn told_over(unit: LengthUnit) -> (f64, &'static str) {
    match unit {
        LengthUnit::Mm => (TOLD_OVER_MM, "300 mm"),
        LengthUnit::Inch => (TOLD_OVER_FOOT_MM, "12 in"),
    }
}

/// A train in one line: `->` meshes, `+` sits on the same stud, an idler stands in brackets.
pub fn train(train: &Train) -> String {
    let mut pairs = Vec::new();
    for (index, pair) in train.pairs.iter().enumerate() {
        let idlers = train.idlers.iter().filter(|idler| idler.pair == index);
        let mut line = pair.driver.to_string();
        for idler in idlers {
            let _ = write!(line, " -> ({})", idler.teeth);
        }
        pairs.push(format!("{line} -> {}", pair.driven));
    }
    pairs.join(" + ")
}

/// The advance of a lead screw as its owner calls it, exactly: `2.5 mm a turn`, `8 threads per inch`.
pub fn lead_screw(jig: &Jig) -> String {
    let per_inch = fraction::meant(MM_PER_INCH / jig.lead_screw_mm).filter(|count| *count.denom() <= 2);
    let advance = fraction::meant(jig.lead_screw_mm);
    match (advance, per_inch) {
        (Some(advance), Some(count)) if !is_short_decimal(advance) => {
            format!("{} threads per inch", words(count))
        }
        (Some(advance), _) if is_short_decimal(advance) => format!("{} mm a turn", fraction::float(advance)),
        (Some(advance), _) => format!("{} mm a turn", words(advance)),
        (None, _) => format!("{} mm a turn", jig.lead_screw_mm),
    }
}

/// Whether a fraction has at most two decimals.
fn is_short_decimal(fraction: crate::gears::Fraction) -> bool {
    100 % *fraction.denom() == 0
}

/// A step to the next start, as the sheet writes it and its proof reads it.
pub fn step(way: &IndexWay) -> String {
    match way {
        IndexWay::Wheel { marks, step } => format!("turn the blank by {step} marks of its {marks}"),
        IndexWay::BlankGear { teeth, step } => format!("turn the blank by {step} teeth of its {teeth}"),
        IndexWay::LeadScrew { turns, teeth } => {
            let times = if *turns == crate::gears::Fraction::from_integer(1) { "time" } else { "times" };
            let teeth = teeth.map_or(String::new(), |teeth| format!(", {teeth} teeth of its gear"));
            format!("turn the lead screw {} {times}{teeth}", words(*turns))
        }
        IndexWay::AlongTrain { shaft, step, .. } => {
            format!("turn the blank until {step} teeth of the driver on stud {shaft} have passed")
        }
        IndexWay::Strip { starts } => format!("turn the blank by 1 part of its {starts}"),
    }
}

/// The answer as lines of text.
pub fn text(job: &Job, jig: &Jig, wanted: &Wanted, answer: &Answer, fit_known: bool) -> String {
    let unit = job.unit;
    let mut lines = vec![
        format!(
            "{}: lead {}, {}-hand, {}; on {}",
            job.title,
            lead_words(wanted.lead, unit),
            wanted.hand.name(),
            if wanted.starts == 1 { "1 start".to_owned() } else { format!("{} starts", wanted.starts) },
            jig.title
        ),
        String::new(),
        format!(
            "One turn of the blank must turn the lead screw ({}) {}.",
            lead_screw(jig),
            times(answer.ratio)
        ),
        String::new(),
    ];
    if answer.kinds.iter().any(|kind| !kind.found.is_empty()) {
        lines.push("From the blank to the lead screw: -> meshes, + on the same stud, ( ) idler.".to_owned());
        lines.push(table(wanted, answer, unit));
        lines.push(String::new());
    }
    lines.extend(answer.kinds.iter().map(|kind| kind_line(kind, answer.exact)));
    if !answer.exact {
        if let Some(prime) = answer.missing_prime {
            let mut new = answer.purchases.iter().map(|purchase| &purchase.found);
            let found = new.any(|found| found.is_exact(wanted)) || answer.purchase_pair.is_some();
            let room = if found { "" } else { ", and no new one was found to have room on the jig" };
            lines.push(format!(
                "exact: only with a gear whose teeth divide by {prime}; none in the box does{room}"
            ));
        }
        lines.push(format!(
            "the fit bears {:.3} mm over the thread: {}",
            wanted.clearance_mm,
            if fit_known {
                "the clearance at a flank of the nut, which the seasons need too".to_owned()
            } else {
                format!(
                    "a nut {} free on the radius, common practice, from memory",
                    unit.show(gears::USUAL_GAP_MM)
                )
            }
        ));
    }
    lines.extend(notes(jig, answer));
    lines.push(String::new());
    lines.extend(purchases(wanted, answer, unit));
    format!("{}\n", lines.join("\n").trim_end())
}

/// How often, as a person says it.
fn times(ratio: crate::gears::Fraction) -> String {
    if ratio == crate::gears::Fraction::from_integer(1) {
        return "once".to_owned();
    }
    let exact = words(ratio);
    let decimal = format!("{:.4}", fraction::float(ratio));
    if ratio.is_integer() { format!("{exact} times") } else { format!("{exact} times ({decimal})") }
}

fn lead_words(lead: crate::gears::Fraction, unit: LengthUnit) -> String {
    crate::job::Quantity::Length.say(fraction::float(lead), unit)
}

fn table(wanted: &Wanted, answer: &Answer, unit: LengthUnit) -> String {
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    let (over_mm, over) = told_over(unit);
    let over = format!("error in {over}");
    let next = if wanted.starts > 1 { "next start" } else { "" };
    table.set_header(["", "train", "studs", "air", &over, next]);
    for (number, found) in numbered(answer) {
        let error = found.error_over_mm(wanted, over_mm);
        let error = if found.is_exact(wanted) { "none".to_owned() } else { signed(error, unit) };
        let air =
            if found.layout.spare_mm.is_finite() { unit.show(found.layout.spare_mm) } else { String::new() };
        let next = found.index.first().map_or(String::new(), step);
        let studs = found.train.studs().to_string();
        table.add_row([number.to_string(), train(&found.train), studs, air, error, next]);
    }
    for column in [0, 2, 3, 4] {
        if let Some(column) = table.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    table.trim_fmt()
}

/// A small length with its sign.
fn signed(mm: f64, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Mm => format!("{mm:+.3} mm"),
        LengthUnit::Inch => format!("{:+.5} in", mm / MM_PER_INCH),
    }
}

/// The trains of an answer with the numbers that the table gives them.
pub fn numbered(answer: &Answer) -> impl Iterator<Item = (usize, &Found)> {
    answer.kinds.iter().flat_map(|kind| &kind.found).enumerate().map(|(index, found)| (index + 1, found))
}

fn kind_name(kind: &Kind) -> &'static str {
    match kind.pairs {
        1 => "simple",
        2 => "compound",
        _ => "double compound",
    }
}

/// What was looked through.
fn kind_line(kind: &Kind, exact_found: bool) -> String {
    let name = kind_name(kind);
    let sets = |count: usize| {
        if count == 1 { "1 set of gears".to_owned() } else { format!("{count} sets of gears") }
    };
    if kind.exact == 0 {
        return format!("{name}: no set of gears in the box cuts it exactly (all looked at)");
    }
    let at_least = if kind.exhaustive { "" } else { "at least " };
    let mut line = format!("{name}: {at_least}{} cut it exactly", sets(kind.exact));
    if kind.go_together < kind.exact {
        let _ = write!(line, ", {} of them go together on their shafts", kind.go_together);
    }
    for (why, count) in &kind.refused {
        let why = match why {
            Refusal::StudsFew => "want more studs than the jig has",
            Refusal::NoIdler => "leave no gear for the idler",
            Refusal::NoPlace => "find no place between the axes",
        };
        let _ = write!(line, "; {count} {why}");
    }
    if exact_found && !kind.all_tried {
        let _ = write!(line, "; {} listed, --all lists more", kind.found.len());
    }
    line
}

/// Trains that are named by their numbers in one line; more are counted.
const MOST_NUMBERS: usize = 12;

/// What a number rests on, where it rests on memory.
fn notes(jig: &Jig, answer: &Answer) -> Vec<String> {
    let mut notes = Vec::new();
    if answer.room.from_memory {
        notes.push(format!(
            "air beside shafts: by a rule of {:.0} teeth, from memory; give shaft_diameter to have it measured",
            answer.room.teeth()
        ));
    }
    if jig.axes_apart_mm.is_none() {
        notes.push("where the studs stand was not looked at: give axes_apart for that".to_owned());
    }
    let small = |found: &Found| found.train.teeth().any(|teeth| teeth < LEAST_TEETH);
    let numbers: Vec<String> =
        numbered(answer).filter(|(_, found)| small(found)).map(|(number, _)| number.to_string()).collect();
    if !numbers.is_empty() {
        let which = if numbers.len() <= MOST_NUMBERS {
            format!("train {}", numbers.join(", "))
        } else {
            format!("{} of these trains", numbers.len())
        };
        notes.push(format!(
            "gears under {LEAST_TEETH} teeth are weak at the root if cut at 20 degrees (from memory): {which}"
        ));
    }
    notes
}

fn purchases(wanted: &Wanted, answer: &Answer, unit: LengthUnit) -> Vec<String> {
    let mut lines = Vec::new();
    let effect = |found: &Found| {
        if found.is_exact(wanted) {
            "exact".to_owned()
        } else {
            let (over_mm, over) = told_over(unit);
            format!("{} in {over}", signed(found.error_over_mm(wanted, over_mm), unit))
        }
    };
    for (index, Purchase { teeth, found }) in answer.purchases.iter().enumerate() {
        let lead = if index == 0 { "a new gear that helps most:" } else { "or:" };
        lines.push(format!("{lead} {teeth} teeth, for {}: {}", train(&found.train), effect(found)));
    }
    if let Some(([one, other], found)) = &answer.purchase_pair {
        lines.push(format!(
            "two new gears: {one} and {other} teeth, for {}: {}",
            train(&found.train),
            effect(found)
        ));
    }
    if lines.is_empty() {
        lines.push("no new gear would better this".to_owned());
    }
    lines
}

/// The answer for `--json`.
pub fn json(jig: &Jig, wanted: &Wanted, answer: &Answer) -> Value {
    let best = answer.best(wanted);
    json!({
        "jig": jig.title,
        "lead_screw_mm": jig.lead_screw_mm,
        "lead_mm": fraction::float(wanted.lead),
        "hand": wanted.hand.name(),
        "starts": wanted.starts,
        "turns_of_lead_screw": fraction::float(answer.ratio),
        "turns_of_lead_screw_exactly": answer.ratio.to_string(),
        "exact": answer.exact,
        "flank_clearance_mm": wanted.clearance_mm,
        "missing_prime": answer.missing_prime.map(|prime| prime.to_string()),
        "clear_teeth": answer.room.teeth(),
        "clear_teeth_from_memory": answer.room.from_memory,
        "best": best.and_then(|best| numbered(answer).find(|(_, found)| *found == best)).map(|(number, _)| number),
        "kinds": answer.kinds.iter().map(|kind| json!({
            "pairs": kind.pairs,
            "exact_sets": kind.exact,
            "go_together": kind.go_together,
            "exhaustive": kind.exhaustive,
            "all_tried": kind.all_tried,
            "refused_studs_few": kind.refused.get(&Refusal::StudsFew).unwrap_or(&0),
            "refused_no_idler": kind.refused.get(&Refusal::NoIdler).unwrap_or(&0),
            "refused_no_place": kind.refused.get(&Refusal::NoPlace).unwrap_or(&0),
        })).collect::<Vec<_>>(),
        "trains": numbered(answer).map(|(number, found)| {
            let mut value = found_json(wanted, found);
            value["number"] = json!(number);
            value
        }).collect::<Vec<_>>(),
        "purchases": answer.purchases.iter().map(|purchase| json!({
            "teeth": [purchase.teeth],
            "train": found_json(wanted, &purchase.found),
        })).chain(answer.purchase_pair.iter().map(|(teeth, found)| json!({
            "teeth": teeth,
            "train": found_json(wanted, found),
        }))).collect::<Vec<_>>(),
    })
}

fn found_json(wanted: &Wanted, found: &Found) -> Value {
    json!({
        "pairs": found.train.pairs.iter().map(|pair| [pair.driver, pair.driven]).collect::<Vec<_>>(),
        "idlers": found.train.idlers.iter().map(|idler| json!({"pair": idler.pair + 1, "teeth": idler.teeth})).collect::<Vec<_>>(),
        "words": train(&found.train),
        "exact": found.is_exact(wanted),
        "lead_mm": fraction::float(found.lead),
        "lead_exactly": found.lead.to_string(),
        "error_over_thread_mm": found.error_over_mm(wanted, wanted.thread_mm),
        "error_over_300_mm": found.error_over_mm(wanted, TOLD_OVER_MM),
        "studs": found.train.studs(),
        "stud_places": found.layout.studs.iter().map(|stud| json!({
            "from_blank_mm": stud.from_blank_mm,
            "from_lead_screw_mm": stud.from_lead_screw_mm,
        })).collect::<Vec<_>>(),
        "air_mm": found.layout.spare_mm,
        "next_start": found.index.iter().map(step).collect::<Vec<_>>(),
        "smallest_gear": found.train.teeth().min(),
    })
}
