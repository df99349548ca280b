//! Every sample job under every habit that a machine file can name: posted, read back and proved under the same habit,
//! or refused with a reason. Nothing in between.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::fmt::Write;

use common::Dice;
use threadwright::design;
use threadwright::finding::Finding;
use threadwright::job::{self, Job};
use threadwright::post;
use threadwright::source::Source;
use threadwright::toolpath;

/// Table and key of the machine file, and the values that are tried.
const SWITCHES: &[(&str, &str, &[&str])] = &[
    ("headstock", "end", &["\"x-plus\"", "\"x-minus\""]),
    ("headstock", "a_plus", &["\"to-front\"", "\"to-back\""]),
    ("zero", "z", &["\"axis\"", "\"finished-surface\""]),
    ("feed", "convention", &["\"inverse-time\"", "\"linear\"", "\"combined\"", "\"radius-aware\""]),
    ("feed", "inverse_unit", &["\"per-minute\"", "\"per-second\"", "\"seconds\""]),
    ("feed", "whole_numbers", &["false", "true"]),
    ("a", "limit", &["7200", "100000"]),
    ("a", "range", &["\"counts-on\"", "\"shortest-way\"", "\"sign-is-direction\""]),
    ("a", "unit", &["\"degrees\"", "\"turns\"", "\"surface\""]),
    ("a", "honoured", &["true", "false"]),
    ("spindle", "control", &["\"program\"", "\"one-speed\"", "\"hand\""]),
    ("program", "units", &["\"mm\"", "\"inch\"", "\"job\""]),
    ("program", "decimals", &["3", "4", "6"]),
    ("program", "line_length", &["40", "70", "250"]),
    ("program", "comments", &["\"parentheses\"", "\"semicolon\"", "\"none\""]),
    ("program", "line_numbers", &["1", "10", "1000"]),
    ("program", "percent", &["false", "true"]),
    ("program", "name", &["\"O1001\"", "\"PRESS-SCREW\"", "\"a press (screw)\""]),
    ("program", "end", &["\"M2\"", "\"M30\"", "\"none\""]),
    ("program", "dwell", &["\"seconds\"", "\"milliseconds\"", "\"none\"", "\"x-word\""]),
    ("program", "pause", &["\"stop\"", "\"none\""]),
    ("program", "units_word", &["\"G20-G21\"", "\"G70-G71\"", "\"none\""]),
    ("program", "letters", &["\"capital\"", "\"small\""]),
    ("program", "blanks", &["true", "false"]),
    (
        "program",
        "leave_out",
        &["[]", "[\"G17\", \"G40\", \"G49\", \"G54\", \"G80\"]", "[\"G49\"]", "[\"G94\"]"],
    ),
    ("program", "corners", &["\"leave\"", "\"exact-path\"", "\"exact-stop\"", "\"continuous\""]),
    ("program", "rapids", &["\"together\"", "\"apart\""]),
    ("program", "numbers", &["\"double\"", "\"single\""]),
];

/// Cells of the carve: what a habit could spoil shows in tenths of a millimetre and more.
const CELLS_MM: f64 = 0.25;

/// What became of a cell.
enum Outcome {
    Proved,
    Refused(String),
    Failed(String),
}

/// A value of a machine file: its table, its key and what is written there.
type Switch<'a> = (&'a str, &'a str, &'a str);

/// A sample with some values of its machine file set to others.
fn read_with(name: &str, switches: &[Switch<'_>]) -> (Option<Job>, Vec<Finding>) {
    let samples = common::root().join("samples");
    let job = common::read(&samples.join(format!("{name}.toml")));
    job::read(&job, &mut |path| {
        let text = common::read(&samples.join(path));
        if !path.starts_with("machines/") {
            return Ok(text);
        }
        let mut machine: toml::Table = toml::from_str(text.text()).expect("a machine file is TOML");
        for (table, key, value) in switches {
            let set: toml::Table = toml::from_str(&format!("{key} = {value}")).expect("a value is TOML");
            let part = machine.entry(*table).or_insert_with(|| toml::Table::new().into());
            let part = part.as_table_mut().expect("a table");
            if *key == "control" {
                part.insert("start_seconds".to_owned(), 5.into());
            }
            part.extend(set);
        }
        Ok(Source::new(path, toml::to_string(&machine).expect("a table can be written")))
    })
}

fn outcome(name: &str, switches: &[Switch<'_>]) -> Outcome {
    let (job, findings) = read_with(name, switches);
    let refusal = findings.iter().find(|finding| finding.code.name == "habit-refused");
    if let Some(refusal) = refusal {
        assert!(job.is_none() && refusal.help.is_some(), "{name} {switches:?}: refused without a way out");
        return Outcome::Refused(refusal.message.clone());
    }
    // Three decimals of an inch do not place a fine thread: that is told with the job.
    if let Some(coarse) = findings.iter().find(|finding| finding.code.name == "decimals-few") {
        return Outcome::Refused(coarse.message.clone());
    }
    match job {
        Some(job) => match common::prove_steps(&job, CELLS_MM) {
            Ok(()) => Outcome::Proved,
            Err(why) => Outcome::Failed(why),
        },
        // A number that belongs to one sample's machine may be wrong on another.
        None => Outcome::Failed(format!("{:?}", findings.first().map(|f| (f.code.name, &f.message)))),
    }
}

#[test]
fn every_sample_proves_under_every_habit_or_is_refused_with_a_reason() {
    let (mut proved, mut told, mut refused, mut failed) = (0, String::new(), 0, Vec::new());
    for &(table, key, values) in SWITCHES {
        for value in values {
            for name in common::ALL_SAMPLES {
                match outcome(name, &[(table, key, value)]) {
                    Outcome::Proved => proved += 1,
                    Outcome::Refused(why) => {
                        refused += 1;
                        let _ = writeln!(told, "[{table}] {key} = {value}, {name}: {why}");
                    }
                    Outcome::Failed(why) => failed.push(format!("[{table}] {key} = {value}, {name}: {why}")),
                }
            }
        }
    }
    println!("{proved} cells proved, {refused} refused, {} failed\n{told}", failed.len());
    assert!(failed.is_empty(), "{} cells failed:\n{}", failed.len(), failed.join("\n"));
    assert!(proved > 300 && refused > 20, "{proved} proved, {refused} refused");
}

/// Habits keep house together: several at once, drawn by lot, are proved or refused as one alone is.
#[test]
fn habits_go_together() {
    let mut dice = Dice(0x0000_5EED_0F5A_1700);
    let (mut proved, mut failed) = (0, Vec::new());
    // Numbers in single precision and A in turns once stood in each other's way.
    let single = ("program", "numbers", "\"single\"");
    for lot in 0..160 {
        let mut switches: Vec<Switch<'_>> = (0..2 + dice.below(3))
            .map(|_| {
                let &(table, key, values) = dice.pick(SWITCHES);
                (table, key, *dice.pick(values))
            })
            .collect();
        if lot % 20 == 0 {
            switches = vec![single, ("a", "unit", "\"turns\"")];
        }
        let name = dice.pick(&common::SAMPLES);
        match outcome(name, &switches) {
            Outcome::Proved => proved += 1,
            Outcome::Refused(_) => {}
            Outcome::Failed(why) => failed.push(format!("{switches:?}, {name}: {why}")),
        }
    }
    assert!(failed.is_empty(), "{} of 160 failed:\n{}", failed.len(), failed.join("\n"));
    assert!(proved > 80, "only {proved} proved");
}

/// What is written follows the habit: the words that a control wants are there, the others are not.
#[test]
fn the_text_follows_the_habit() {
    let text = |key: &str, table: &str, value: &str| {
        let job = read_with("nipping-press", &[(table, key, value)]).0.expect("a habit that is taken");
        let screw = design::screw(&job).0.expect("sizes");
        let path = toolpath::plan(&job, &screw).0.expect("a plan");
        post::program(&job, &screw, &path)
    };
    let plain = text("letters", "program", "\"capital\"");
    assert!(plain.contains("\nG21\n") && plain.contains("M3 S9500") && plain.contains("G4 P6.0"), "{plain}");
    assert!(text("units_word", "program", "\"G70-G71\"").contains("\nG71\n"));
    assert!(!text("units_word", "program", "\"none\"").contains("\nG21\n"));
    assert!(text("control", "spindle", "\"one-speed\"").contains("\nM3\n"));
    assert!(!text("dwell", "program", "\"none\"").contains("G4 P"));
    assert!(text("corners", "program", "\"continuous\"").contains("\nG64\n"));
    assert!(text("letters", "program", "\"small\"").contains("\nm3 s9500\n"));
    assert!(text("blanks", "program", "false").contains("\nM3S9500\n"));
    assert!(!text("leave_out", "program", "[\"G49\"]").contains("G49"));
    // 360 degrees are one turn, and a block of one minute lasts sixty seconds.
    let turns = text("unit", "a", "\"turns\"");
    assert!(turns.contains("\n(A -1.2") || turns.contains("turns)"), "{turns}");
    let f_of = |text: &str| {
        let line =
            text.lines().find(|line| line.starts_with("G1") && line.contains(" A")).expect("a turning move");
        line.rsplit(" F").next().and_then(|number| number.parse::<f64>().ok()).expect("an F word")
    };
    let (minutes, seconds) = (f_of(&plain), f_of(&text("inverse_unit", "feed", "\"seconds\"")));
    assert!((minutes * seconds / 60.0 - 1.0).abs() < 1e-4, "{minutes} and {seconds}");
}
