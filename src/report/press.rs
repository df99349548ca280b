//! What a screw will hold, as text, as a chart of terminal characters, and as data.

use comfy_table::{CellAlignment, Table, presets};
use serde_json::{Value as Json, json};

use super::lines::wrapped;
use crate::job::{Job, PressLoad, Quantity};
use crate::press::beam::End;
use crate::press::{Check, Choice, Figure, Held, Holds, Measure, Press, UNKNOWN, Value};
use crate::units::{LengthUnit, N_PER_POUND};

/// Columns of the chart from friction zero to its right end.
const CHART_COLUMNS: usize = 63;
/// Friction at the right end of the chart.
const CHART_TO: f64 = 0.9;

/// A load: `8.6 kN` or `1930 lb`.
fn load(unit: LengthUnit, n: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{:.1} kN", n / 1000.0),
        LengthUnit::Inch => format!("{:.0} lb", (n / N_PER_POUND / 10.0).round() * 10.0),
    }
}

/// A pull of the hand: `200 N` or `45 lb`.
fn pull(unit: LengthUnit, n: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{n:.0} N"),
        LengthUnit::Inch => format!("{:.0} lb", n / N_PER_POUND),
    }
}

/// A turning effort: `60 N m` or `45 lb ft`.
fn effort(unit: LengthUnit, n_mm: f64) -> String {
    match unit {
        LengthUnit::Mm => format!("{:.0} N m", n_mm / 1000.0),
        LengthUnit::Inch => format!("{:.0} lb ft", n_mm / N_PER_POUND / (12.0 * unit.mm())),
    }
}

/// A length without needless zeros: `50 mm`, `12 in`.
fn length(unit: LengthUnit, mm: f64) -> String {
    Quantity::Length.say(mm, unit)
}

/// `7.1 to 8.6 kN`: two figures with one unit, or one if they look alike.
fn range(low: String, high: &str) -> String {
    if low == high {
        return low;
    }
    let bare = low.split(' ').next().unwrap_or("").to_owned();
    format!("{bare} to {high}")
}

/// What is only usual says so.
fn usual(words: String, value: bool) -> String {
    if value { format!("{words} (usual)") } else { words }
}

/// Everything as text.
pub fn text(job: &Job, press: &Press) -> String {
    let mut parts = vec![head(job, press), held_table(job, press), chart(press)];
    parts.push(strength(job, press));
    parts.push(choices(job, press));
    parts.push(notes(job, press).join("\n"));
    format!("{}\n", parts.join("\n\n"))
}

fn head(job: &Job, press: &Press) -> String {
    let (unit, works) = (job.unit, &press.works);
    let given = |value: Value, words: String| usual(words, value.usual);
    let starts =
        if job.screw.starts == 1 { "1 start".to_owned() } else { format!("{} starts", job.screw.starts) };
    let mut lines = vec![
        format!(
            "{}: {} screw, {} over the crests, {starts}, lead {}; {} nut, {} long",
            job.title,
            job.wood,
            length(unit, job.screw.crest_diameter_mm),
            length(unit, job.screw.lead_mm),
            works.nut_wood,
            given(works.nut_mm, length(unit, works.nut_mm.value)),
        ),
        String::new(),
        format!(
            "{} at {} from the axis turn the screw with {}.",
            given(works.hand_n, pull(unit, works.hand_n.value)),
            given(works.handle_mm, length(unit, works.handle_mm.value)),
            effort(unit, works.hand_n_mm()),
        ),
    ];
    let rubs = if works.collar.hole_mm > 0.0 {
        format!(
            "a ring of {} with a hole of {}",
            length(unit, works.collar.outside_mm),
            length(unit, works.collar.hole_mm)
        )
    } else {
        format!("an end of {}", length(unit, works.collar.outside_mm))
    };
    let load_way = match works.load {
        PressLoad::Pushes => usual("it pushes".to_owned(), works.load_usual),
        PressLoad::Pulls => "it pulls".to_owned(),
    };
    lines.push(format!("Under the load {} rubs; {load_way}.", usual(rubs, works.collar_usual)));
    lines.push(format!(
        "One turn moves {}; from shut to open, {}, {:.1} turns.",
        length(unit, job.screw.lead_mm),
        given(works.opening_mm, length(unit, works.opening_mm.value)),
        works.opening_mm.value / job.screw.lead_mm
    ));
    if works.hand_n.usual
        || works.handle_mm.usual
        || works.collar_usual
        || works.nut_mm.usual
        || works.load_usual
    {
        lines.push("(usual) is common practice, no source: give your own in [press] and [nut].".to_owned());
    }
    lines.iter().map(|line| wrapped(line)).collect::<Vec<_>>().join("\n")
}

fn figures(held: &Held) -> String {
    let (least, most) = (held.condition.least, held.condition.most);
    let mark = |figure: Figure| if figure.from_memory { "*" } else { "" };
    if least.value == most.value {
        return format!("{:.2}{}", least.value, mark(least));
    }
    format!("{:.2}{} to {:.2}{}", least.value, mark(least), most.value, mark(most))
}

fn held_table(job: &Job, press: &Press) -> String {
    let unit = job.unit;
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(["threads", "friction", "presses with", "to let go", "efficiency", ""]);
    for held in &press.held {
        let [low, high] = held.load_n;
        let [least, most] = held.let_go_n;
        let go = if most <= 0.0 {
            "goes by itself".to_owned()
        } else if least <= 0.0 {
            format!("0 to {}", pull(unit, most))
        } else {
            range(pull(unit, least), &pull(unit, most))
        };
        let [less, more] = held.efficiency.map(|share| format!("{:.0} %", 100.0 * share));
        let presses = range(load(unit, low), &load(unit, high));
        table.add_row([
            held.condition.name.to_owned(),
            figures(held),
            presses,
            go,
            range(less, &more),
            verdict(held),
        ]);
    }
    for column in [1, 2, 3, 4] {
        if let Some(column) = table.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let mut lines = vec![table.trim_fmt()];
    if press.held.iter().any(|held| held.with_collar < held.alone) {
        lines.push(wrapped(
            "By the collar: what rubs under the load helps to hold it; the threads alone are not so sure.",
        ));
    }
    let held = press.usually();
    let loose = held.let_go_n[1].max(0.0);
    let at_rest = match held.condition.stick {
        Some(_) => "",
        None => "\n(No source tells of its friction at rest, so it may be more.)",
    };
    lines.push(format!(
        "{}, it takes up to {} at the handle, {}, to break it loose.{at_rest}",
        capital(held.condition.name),
        pull(unit, loose),
        effort(unit, loose * press.works.handle_mm.value)
    ));
    lines.join("\n")
}

/// Whether it stays put, and what the collar has to do with it.
fn verdict(held: &Held) -> String {
    let by = if held.with_collar < held.alone { ", by the collar" } else { "" };
    format!("{}{by}", held.with_collar.words())
}

/// Friction from left to right: where the threads alone back off, and what each state may have.
fn chart(press: &Press) -> String {
    let column = |friction: f64| ((friction / CHART_TO) * CHART_COLUMNS as f64).round() as usize;
    let lock = column(press.lock_friction).min(CHART_COLUMNS);
    let mut scale = vec![' '; CHART_COLUMNS + 4];
    for tenth in 0..=9_u32 {
        let words = if tenth == 0 { "0".to_owned() } else { format!(".{tenth}") };
        for (offset, letter) in words.chars().enumerate() {
            scale[column(f64::from(tenth) / 10.0) + offset] = letter;
        }
    }
    let line = |name: &str, cells: Vec<char>| {
        format!("{name:<10}|{}", cells.into_iter().collect::<String>().trim_end())
    };
    let mut lines = vec![line("friction", scale)];
    let words =
        format!("{} the threads alone stay put from {:.3} on", "x".repeat(lock.max(1)), press.lock_friction);
    lines.push(line("backs off", words.chars().collect()));
    for held in &press.held {
        let (from, to) = (column(held.condition.least.value), column(held.condition.most.value));
        let cells = (0..=CHART_COLUMNS).map(|at| match at {
            _ if at < from.min(CHART_COLUMNS) || at > to => ' ',
            _ if at < lock => '-',
            _ => '=',
        });
        lines.push(line(held.condition.name, cells.collect()));
    }
    lines.join("\n")
}

fn strength(job: &Job, press: &Press) -> String {
    let (unit, held) = (job.unit, press.usually());
    let mut lines = vec![wrapped(&format!(
        "{}, at its greatest load of {} (friction {:.2}), the timber bears:",
        capital(&usual(
            held.condition.name.to_owned(),
            press.works.state_usual && job.press.friction.is_none()
        )),
        load(unit, held.load_n[1]),
        held.condition.least.value
    ))];
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(["place", "asked", "bears", "times", "weak piece", ""]);
    for check in press.checks.iter().filter(|check| !check.at_worst) {
        table.add_row(check_row(unit, check));
    }
    table.add_row(["if shared as in a metal nut:"]);
    for check in press.checks.iter().filter(|check| check.at_worst) {
        table.add_row(check_row(unit, check));
    }
    for column in [1, 2, 3, 4] {
        if let Some(column) = table.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    lines.push(table.trim_fmt());
    if let (Some(weakest), Some(most)) = (press.weakest(), press.pull_at_most_n()) {
        let open: Vec<&str> = press
            .checks
            .iter()
            .filter(|check| !check.at_worst && check.bears.is_none())
            .map(|check| check.place)
            .collect();
        lines.push(format!(
            "Weakest of what is known: {}. A weak piece gives at a pull of {}.",
            weakest.place,
            pull(unit, most.floor())
        ));
        if !open.is_empty() {
            lines.push(format!(
                "Not known, and perhaps weaker: {}. So what the screw really holds cannot be told.",
                open.join("; ")
            ));
        }
    }
    if let Some(twist) = press.twist_deg {
        lines.push(format!("The screw winds up by {twist:.1} degrees between handle and load."));
    }
    if let Some(gives) = press.handle_gives_mm {
        lines.push(format!("The end of the handle gives {}.", length(unit, gives)));
    }
    lines.join("\n")
}

fn check_row(unit: LengthUnit, check: &Check) -> [String; 6] {
    let say = |value: f64| match check.measure {
        Measure::ForceN => load(unit, value),
        Measure::StressMpa => stress(unit, value),
    };
    let times = |factor: Option<f64>| factor.map_or(String::new(), |factor| format!("{factor:.1}"));
    let bears = check.bears.map_or("not known".to_owned(), |bears| {
        format!("{}{}", say(bears), if check.from_memory { "*" } else { "" })
    });
    // Which wood screw and nut are of stands at the top.
    let of = if check.place.starts_with("handle") {
        format!("{}, {}", check.strength, check.wood)
    } else {
        check.strength.to_owned()
    };
    let words = match check.weak_factor() {
        None if check.in_tables => format!("no table has it; {of}"),
        None => of,
        Some(weak) => format!("{}; {of}", margin(weak, check.factor().unwrap_or(weak))),
    };
    [
        check.place.to_owned(),
        say(check.asked),
        bears,
        times(check.factor()),
        times(check.weak_factor()),
        words,
    ]
}

/// A stress in the unit of the job: MPa, or pounds per square inch.
fn stress(unit: LengthUnit, mpa: f64) -> String {
    /// Pounds per square inch in one MPa: 25.4² / 4.448 22.
    const PSI_PER_MPA: f64 = 25.4 * 25.4 / N_PER_POUND;
    match unit {
        LengthUnit::Mm => format!("{mpa:.1} MPa"),
        LengthUnit::Inch => format!("{:.0} psi", mpa * PSI_PER_MPA),
    }
}

/// A margin in words. Where words change is common practice, no source.
fn margin(weak: f64, average: f64) -> &'static str {
    const AMPLE: f64 = 3.0;
    const GOOD: f64 = 1.5;
    match (weak, average) {
        _ if weak >= AMPLE => "ample",
        _ if weak >= GOOD => "good",
        _ if weak >= 1.0 => "little to spare",
        _ if average >= 1.0 => "a weak piece gives",
        _ => "gives",
    }
}

fn choices(job: &Job, press: &Press) -> String {
    let unit = job.unit;
    let names: Vec<&str> = press.held.iter().map(|held| held.condition.name).collect();
    let mut header =
        vec!["", "starts", "pitch", "one turn", "to open", "presses with", "to let go", "weak piece"];
    header.extend(&names);
    let mut table = Table::new();
    table.load_style(presets::NOTHING);
    table.set_header(&header);
    for choice in &press.choices {
        table.add_row(choice_row(unit, choice, header.len()));
    }
    for index in 1..8 {
        if let Some(column) = table.column_mut(index) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    let of = press.usually().condition.name;
    format!("The same screw otherwise ({of}; > is yours), and whether it stays put:\n{}", table.trim_fmt())
}

fn choice_row(unit: LengthUnit, choice: &Choice, columns: usize) -> Vec<String> {
    let mark = if choice.own { ">" } else { "" };
    let mut row = vec![mark.to_owned(), choice.starts.to_string(), length(unit, choice.pitch_mm)];
    match &choice.outcome {
        Err(code) => row.extend(["cannot be made:".to_owned(), String::new(), (*code).to_owned()]),
        Ok(outcome) => {
            let [low, high] = outcome.load_n;
            row.extend([
                length(unit, outcome.lead_mm),
                format!("{:.1}", outcome.turns),
                range(load(unit, low), &load(unit, high)),
                pull(unit, outcome.let_go_n.max(0.0)),
                outcome.weak_factor.map_or(String::new(), |factor| format!("{factor:.1}")),
            ]);
            row.extend(outcome.holds.iter().map(|holds| short(*holds).to_owned()));
        }
    }
    row.resize(columns, String::new());
    row
}

fn short(holds: Holds) -> &'static str {
    match holds {
        Holds::Stays => "stays",
        Holds::Just => "just",
        Holds::Maybe => "may not",
        Holds::BacksOff => "no",
    }
}

fn notes(job: &Job, press: &Press) -> Vec<String> {
    let mut notes = vec![
        "* from memory. Times: how often an average small clear piece bears what is asked, under a short load; no \
         design value."
            .to_owned(),
        "Weak piece: one in twenty is weaker (scatter from memory). In a metal nut the first thread takes a third of the \
         load; threads of wood are soft beside their core and share more evenly (derived)."
            .to_owned(),
    ];
    let mut sources: Vec<String> = Vec::new();
    for held in &press.held {
        let condition = &held.condition;
        let mut texts = vec![condition.least.source];
        texts.extend([condition.most.source].into_iter().filter(|text| *text != condition.least.source));
        texts.extend(condition.stick.map(|stick| stick.source));
        sources.push(format!("{}: {}", condition.name, texts.join("; ")));
    }
    notes.push(format!("Friction: {}.", sources.join(". ")));
    notes.push(capital(UNKNOWN) + ".");
    let mut doubts: Vec<String> = press
        .checks
        .iter()
        .filter(|check| !check.note.is_empty())
        .map(|check| format!("{} of {} ({})", check.strength, check.wood, check.note))
        .collect();
    doubts.sort();
    doubts.dedup();
    if !doubts.is_empty() {
        notes.push(format!("What the table of woods adds: {}.", doubts.join("; ")));
    }
    let mut open = Vec::new();
    if job.press.tenon_diameter_mm.is_none() && job.operations.tenon.is_none() {
        open.push("tenon (tenon_diameter)");
    }
    if job.press.handle_diameter_mm.is_none() {
        open.push("handle (handle_diameter)");
    }
    open.push("the hole for the handle");
    notes.push(format!("Not looked at: {}.", open.join(", ")));
    notes.iter().map(|note| wrapped(note)).collect()
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().collect::<String>() + letters.as_str())
}

/// Everything for `--json`.
pub fn json(job: &Job, press: &Press) -> Json {
    let works = &press.works;
    let value = |value: Value| json!({"value": value.value, "usual": value.usual});
    let figure = |figure: Figure| json!({"friction": figure.value, "source": figure.source, "from_memory": figure.from_memory});
    json!({
        "handle_length_mm": value(works.handle_mm),
        "hand_force_n": value(works.hand_n),
        "turning_n_mm": works.hand_n_mm(),
        "collar_outside_mm": works.collar.outside_mm,
        "collar_hole_mm": works.collar.hole_mm,
        "collar_usual": works.collar_usual,
        "load": match works.load { PressLoad::Pushes => "pushes", PressLoad::Pulls => "pulls" },
        "load_usual": works.load_usual,
        "guided": works.end == End::Guided,
        "free_length_mm": value(works.free_mm),
        "opening_mm": value(works.opening_mm),
        "nut_length_mm": value(works.nut_mm),
        "nut_bore_mm": works.bore_mm,
        "mean_diameter_mm": works.thread.mean_diameter_mm,
        "lead_mm": job.screw.lead_mm,
        "turns_to_open": works.opening_mm.value / job.screw.lead_mm,
        "lock_friction": press.lock_friction,
        "break_loose_n_mm": press.usually().let_go_n[1] * works.handle_mm.value,
        "usual_state": press.usually().condition.name,
        "states": press.held.iter().map(|held| json!({
            "name": held.condition.name,
            "least": figure(held.condition.least),
            "most": figure(held.condition.most),
            "stick": held.condition.stick.map(figure),
            "load_n": held.load_n,
            "efficiency": held.efficiency,
            "let_go_n": held.let_go_n,
            "threads_alone": held.alone.words(),
            "with_collar": held.with_collar.words(),
        })).collect::<Vec<_>>(),
        "checks": press.checks.iter().map(|check| json!({
            "place": check.place,
            "wood": check.wood,
            "strength": check.strength,
            "unit": match check.measure { Measure::ForceN => "N", Measure::StressMpa => "MPa" },
            "asked": check.asked,
            "bears": check.bears,
            "bears_weak": check.weak,
            "from_memory": check.from_memory,
            "source": check.source,
            "note": check.note,
            "at_worst": check.at_worst,
            "factor": check.factor(),
            "factor_weak": check.weak_factor(),
        })).collect::<Vec<_>>(),
        "weakest": press.weakest().map(|check| check.place),
        "pull_at_most_n": press.pull_at_most_n(),
        "twist_deg": press.twist_deg,
        "handle_gives_mm": press.handle_gives_mm,
        "choices": press.choices.iter().map(choice_json).collect::<Vec<_>>(),
    })
}

fn choice_json(choice: &Choice) -> Json {
    let mut value = json!({
        "starts": choice.starts,
        "pitch_mm": choice.pitch_mm,
        "own": choice.own,
        "cannot_be_made": choice.outcome.as_ref().err(),
    });
    if let Ok(outcome) = &choice.outcome {
        value["lead_mm"] = json!(outcome.lead_mm);
        value["turns_to_open"] = json!(outcome.turns);
        value["core_mm"] = json!(outcome.core_mm);
        value["load_n"] = json!(outcome.load_n);
        value["let_go_n"] = json!(outcome.let_go_n);
        value["factor_weak"] = json!(outcome.weak_factor);
        value["holds"] = json!(outcome.holds.iter().map(|holds| holds.words()).collect::<Vec<_>>());
    }
    value
}
