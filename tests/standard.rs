//! Holds the reader and interpreter of programs against the standard, case by case. The cases are data: every file in
//! `tests/standard/accepted` and `tests/standard/refused` is run, and a new case needs no Rust.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::fs;
use std::path::PathBuf;

use serde::Deserialize;
use serde::de::DeserializeOwned;
use threadwright::finding::{Finding, Severity, program};
use threadwright::rs274::{self, Control, Kind, Motion, Path, Pose, Run, Turning};
use threadwright::setup::{Dialect, DwellUnit, FeedConvention};
use threadwright::source::{Mark, Source};
use threadwright::units::LengthUnit;

/// Numbers of motions agree within this share of their size: what a few binary roundings bring.
const AGREE: f64 = 1e-9;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Cases<T> {
    case: Vec<T>,
}

/// Texts that must each be refused with all of the codes and no other.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Refused {
    why: String,
    source: String,
    codes: Vec<String>,
    texts: Vec<String>,
    #[serde(default)]
    whole: bool,
    /// What each finding points at, text by text, where it matters.
    #[serde(default)]
    marks: Vec<String>,
    /// Words in the sentence of each first finding or in its way out, text by text, where they matter.
    #[serde(default)]
    said: Vec<String>,
}

/// A program that must be followed, or values that must come out as X.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Accepted {
    why: String,
    source: String,
    #[serde(default)]
    control: Options,
    #[serde(default)]
    before: String,
    #[serde(default)]
    text: String,
    #[serde(default)]
    values: Vec<(String, f64)>,
    #[serde(default)]
    whole: bool,
    moves: Option<Vec<Move>>,
    messages: Option<Vec<String>>,
    dwell_minutes: Option<f64>,
    #[serde(default)]
    notes: Vec<String>,
    /// Words in the sentence of each note, in the order of the text.
    #[serde(default)]
    said: Vec<String>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
struct Options {
    block_delete: bool,
    hand_spindle: bool,
    /// Allowances of the dialect, as the machine file names them.
    allows: Vec<String>,
    feed: Option<FeedConvention>,
    dwell: Option<DwellUnit>,
}

/// What is wanted of a motion; what is left out is not compared.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Move {
    line: Option<usize>,
    kind: Option<String>,
    x: Option<f64>,
    y: Option<f64>,
    z: Option<f64>,
    a: Option<f64>,
    minutes: Option<f64>,
    feed: Option<f64>,
    turning: Option<String>,
    rpm: Option<f64>,
    centre: Option<[f64; 2]>,
    radius: Option<f64>,
    sweep: Option<f64>,
}

/// Every case of a folder, with the name of its file.
fn cases<T: DeserializeOwned>(folder: &str) -> Vec<(String, T)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/standard").join(folder);
    let mut files: Vec<PathBuf> = fs::read_dir(&folder)
        .expect("the folder of cases can be listed")
        .map(|entry| entry.expect("its entries can be read").path())
        .collect();
    files.sort();
    let mut all = Vec::new();
    for file in files {
        let name = file.display().to_string();
        let text = fs::read_to_string(&file).expect("cases are text");
        let cases: Cases<T> = toml::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
        all.extend(cases.case.into_iter().map(|case| (name.clone(), case)));
    }
    all
}

fn follow(text: &str, whole: bool, options: &Options) -> Run {
    let allows = |name: &str| options.allows.iter().any(|allowed| allowed == name);
    let text = if whole { text.to_owned() } else { format!("{text}\nM2\n") };
    rs274::run(
        &Source::new("case.nc", text),
        &Control {
            dialect: Dialect {
                semicolon_comments: allows("semicolon_comments"),
                long_line_numbers: allows("long_line_numbers"),
                program_name: allows("program_name"),
            },
            feed: options.feed.unwrap_or(FeedConvention::Linear),
            unit: LengthUnit::Mm,
            dwell: options.dwell.unwrap_or(DwellUnit::Seconds),
            hand_spindle: options.hand_spindle,
            habits: rs274::Meaning::default(),
            block_delete: options.block_delete,
            start: Pose { z_mm: 10.0, ..Pose::default() },
        },
    )
}

fn codes(run: &Run, from: Severity, to: Severity) -> Vec<&'static str> {
    let mut codes: Vec<&str> = run
        .findings
        .iter()
        .filter(|finding| (from..=to).contains(&finding.severity))
        .map(|finding| finding.code.name)
        .collect();
    codes.dedup();
    codes
}

/// The sentence of a finding and its way out.
fn said_in_full(finding: &Finding) -> String {
    format!("{}: {}", finding.message, finding.help.as_deref().unwrap_or_default())
}

fn is_of_program(code: &str) -> bool {
    program::ALL.iter().any(|one| one.name == code)
}

#[test]
fn what_the_standard_refuses_is_refused_for_that_reason() {
    let (mut wrong, mut raised) = (Vec::new(), Vec::new());
    for (file, case) in cases::<Refused>("refused") {
        assert!(!case.source.is_empty() && !case.why.is_empty(), "{file}: a case has no source");
        for (index, text) in case.texts.iter().enumerate() {
            let run = follow(text, case.whole, &Options::default());
            let found = codes(&run, Severity::Care, Severity::Stop);
            let place = format!("{file}: {:?}", text.chars().take(60).collect::<String>());
            if found != case.codes {
                wrong.push(format!("{place}: wanted {:?}, got {found:?}", case.codes));
            }
            raised.extend(run.findings.iter().cloned());
            for finding in &run.findings {
                let told = finding.mark.is_some() && finding.help.is_some();
                if !told || finding.message.ends_with('.') || finding.message.is_empty() {
                    wrong.push(format!("{place}: not told in full: {finding:?}"));
                }
            }
            if let Some(mark) = case.marks.get(index) {
                let pointed = run.findings.first().and_then(|finding| finding.mark.as_ref());
                if pointed.is_none_or(|pointed| pointed.text() != mark) {
                    let pointed = pointed.map(Mark::text);
                    wrong.push(format!("{place}: wanted the mark {mark:?}, got {pointed:?}"));
                }
            }
            if let Some(words) = case.said.get(index) {
                let said = run.findings.first().map(said_in_full).unwrap_or_default();
                if !said.contains(words) {
                    wrong.push(format!("{place}: wanted {words:?}, got {said:?}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    common::examples::hold(is_of_program, &raised);
}

#[test]
fn what_the_standard_accepts_does_what_it_says() {
    let (mut wrong, mut raised) = (Vec::new(), Vec::new());
    for (file, case) in cases::<Accepted>("accepted") {
        assert!(!case.source.is_empty() && !case.why.is_empty(), "{file}: a case has no source");
        for (value, x) in &case.values {
            let run = follow(&format!("{}\nG0 X{value}", case.before), false, &case.control);
            let got = run.motions.first().map(|motion| motion.to.x_mm);
            if !run.findings.is_empty() || !got.is_some_and(|got| agree(got, *x)) {
                wrong.push(format!(
                    "{file}: {value}: wanted {x}, got {got:?} {:?}",
                    codes(&run, Severity::Note, Severity::Stop)
                ));
            }
        }
        let run = follow(&case.text, case.whole, &case.control);
        let place = format!("{file}: {:?}", case.text);
        let complaints: Vec<&str> = run
            .findings
            .iter()
            .filter(|finding| finding.severity == Severity::Stop)
            .map(|finding| finding.message.as_str())
            .collect();
        if !complaints.is_empty() || !run.ended || run.lost_at_line.is_some() {
            wrong.push(format!("{place}: {complaints:?} {:?}", run.lost_at_line));
        }
        let notes = codes(&run, Severity::Note, Severity::Care);
        if notes != case.notes {
            wrong.push(format!("{place}: wanted the notes {:?}, got {notes:?}", case.notes));
        }
        raised.extend(run.findings.iter().cloned());
        let said: Vec<String> = run.findings.iter().map(said_in_full).collect();
        let told = |(said, words): (&String, &String)| said.contains(words);
        if !case.said.is_empty() && (said.len() != case.said.len() || !said.iter().zip(&case.said).all(told))
        {
            wrong.push(format!("{place}: wanted {:?}, got {said:?}", case.said));
        }
        if let Some(moves) = &case.moves {
            if moves.len() != run.motions.len() {
                wrong.push(format!("{place}: wanted {} moves, got {:?}", moves.len(), run.motions));
            }
            for (index, (wanted, got)) in moves.iter().zip(&run.motions).enumerate() {
                wrong.extend(
                    wanted.unlike(got).map(|what| format!("{place}: move {}: {what}: {got:?}", index + 1)),
                );
            }
        }
        let messages: Vec<&str> = run.messages.iter().map(|(_, text)| text.as_str()).collect();
        if case.messages.as_ref().is_some_and(|wanted| *wanted != messages) {
            wrong.push(format!("{place}: messages {messages:?}"));
        }
        if case.dwell_minutes.is_some_and(|wanted| !agree(wanted, run.dwell_minutes)) {
            wrong.push(format!("{place}: dwells {} minutes", run.dwell_minutes));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    common::examples::hold(
        |code| {
            [&program::DIALECT_USED, &program::DWELL_LONG, &program::SPINDLE_LEFT]
                .iter()
                .any(|own| own.name == code)
        },
        &raised,
    );
}

/// A slip that a program has in every line is told a few times, and then how many more there are.
#[test]
fn a_slip_in_every_line_is_told_a_few_times() {
    let text = "G1 X1,5 F100\n".repeat(400);
    let run = follow(&text, false, &Options::default());
    assert!(run.findings.len() < 110, "{} findings", run.findings.len());
    assert!(codes(&run, Severity::Note, Severity::Stop).contains(&program::MORE_ALIKE.name));
    common::examples::hold(|code| code == program::MORE_ALIKE.name, &run.findings);
}

/// A code that no case raises may be one that nothing raises.
#[test]
fn every_code_has_a_case() {
    let mut raised: Vec<String> =
        cases::<Refused>("refused").into_iter().flat_map(|(_, case)| case.codes).collect();
    raised.extend(cases::<Accepted>("accepted").into_iter().flat_map(|(_, case)| case.notes));
    let missing: Vec<&str> = program::ALL
        .iter()
        .map(|code| code.name)
        // It takes a hundred faults of one kind; the room's own tests have them.
        .filter(|name| *name != program::MORE_ALIKE.name && !raised.iter().any(|code| code == name))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
}

fn agree(one: f64, other: f64) -> bool {
    (one - other).abs() <= AGREE * one.abs().max(other.abs()).max(1.0)
}

impl Move {
    /// The first thing in which a motion is not what was wanted.
    fn unlike(&self, motion: &Motion) -> Option<&'static str> {
        let kind = match motion.kind {
            Kind::Rapid => "rapid",
            Kind::Feed => "feed",
        };
        let turning = match motion.turning {
            Turning::Stopped => "stopped",
            Turning::Clockwise => "clockwise",
            Turning::CounterClockwise => "counter-clockwise",
        };
        let arc = match &motion.path {
            Path::Straight => None,
            Path::Arc(arc) => Some(*arc),
        };
        let far = |wanted: Option<f64>, got: Option<f64>| match (wanted, got) {
            (None, _) => false,
            (Some(wanted), Some(got)) => !agree(wanted, got),
            (Some(_), None) => true,
        };
        let to = motion.to;
        [
            ("line", self.line.is_some_and(|line| line != motion.line)),
            ("kind", self.kind.as_ref().is_some_and(|wanted| wanted != kind)),
            ("x", far(self.x, Some(to.x_mm))),
            ("y", far(self.y, Some(to.y_mm))),
            ("z", far(self.z, Some(to.z_mm))),
            ("a", far(self.a, Some(to.a_deg))),
            ("minutes", far(self.minutes, motion.minutes)),
            ("feed", far(self.feed, Some(motion.feed))),
            ("turning", self.turning.as_ref().is_some_and(|wanted| wanted != turning)),
            ("rpm", far(self.rpm, Some(motion.rpm))),
            ("centre", (0..2).any(|at| far(self.centre.map(|c| c[at]), arc.map(|arc| arc.centre_mm[at])))),
            ("radius", far(self.radius, arc.map(|arc| arc.radius_mm))),
            ("sweep", far(self.sweep, arc.map(|arc| arc.sweep_deg))),
        ]
        .into_iter()
        .find_map(|(what, unlike)| unlike.then_some(what))
    }
}
