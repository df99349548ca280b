//! `explain`, `completions`, `schema`, `manual`: what the tool tells about itself.

use std::fmt::Write;
use std::path::PathBuf;

use clap::CommandFactory;

use super::args::{Arguments, Completions, Explain, Manual, Schema};
use super::tell::Teller;
use super::{Outcome, cut};
use crate::finding::{Code, Severity, example, registry, rooms};
use crate::job::{self, FILES_VERSION, FileKind};
use crate::report::json::Document;

/// Likeness of two codes from which one is offered for the other.
const LIKE_ENOUGH: f64 = 0.7;

/// Tells what a code means, with an example; or lists all.
pub(crate) fn explain(explain: &Explain, teller: &Teller) -> Outcome {
    let document = Document::new("explain");
    let Some(asked) = &explain.code else {
        let codes: Vec<_> = registry().map(told).collect();
        teller.document(&document.with("codes", codes).findings(&[]));
        if !teller.json() {
            teller.result(&list());
        }
        return Outcome::Done;
    };
    // As people copy it: `stop[lead-off]:`.
    let bare = asked.rsplit('[').next().unwrap_or(asked).trim_end_matches([']', ':']).to_lowercase();
    let Some(code) = registry().find(|code| code.name == bare) else {
        let near = registry()
            .map(|code| (strsim::jaro_winkler(code.name, &bare), code.name))
            .max_by(|a, b| a.0.total_cmp(&b.0))
            .filter(|(likeness, _)| *likeness >= LIKE_ENOUGH);
        let offer = near.map_or(String::new(), |(_, name)| format!(" did you mean {name}?"));
        let words = format!("there is no code {bare};{offer} `threadwright explain` lists them all");
        return teller.usage(&words, document);
    };
    teller.document(&document.with("codes", [told(code)]).findings(&[]));
    if !teller.json() {
        let example = example(code.name).unwrap_or_default();
        let text = format!("{}\n{}\n{}\n\nfor example\n\n{example}", code.name, code.meaning, weight(code));
        teller.result(&text);
    }
    Outcome::Done
}

fn told(code: &Code) -> serde_json::Value {
    serde_json::json!({
        "code": code.name, "severity": code.severity, "meaning": code.meaning, "example": example(code.name),
    })
}

/// What a weight asks of whoever reads it.
fn weight(code: &Code) -> &'static str {
    match code.severity {
        Severity::Stop => "stop: do not cut before it is mended; the run ends with 1, or with 3 for a job",
        Severity::Care => "care: think before you cut; the run may end with 0 all the same",
        Severity::Note => "note: worth knowing, nothing to do",
    }
}

/// All codes, by what they speak of.
fn list() -> String {
    let wide = registry().map(|code| code.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for (room, codes) in rooms() {
        let _ = writeln!(text, "{room}");
        for code in codes {
            let weight = format!("{:?}", code.severity).to_lowercase();
            let _ = writeln!(text, "  {:wide$}  {weight:4}  {}", code.name, code.meaning);
        }
        text.push('\n');
    }
    text + "`threadwright explain CODE` shows an example\n"
}

/// Prints the completions for a shell.
pub(crate) fn completions(asked: &Completions, teller: &Teller) -> Outcome {
    let mut text = Vec::new();
    clap_complete::generate(asked.shell, &mut Arguments::command(), "threadwright", &mut text);
    let text = String::from_utf8_lossy(&text).into_owned();
    let document = Document::new("completions");
    if teller.json() {
        teller.document(&document.with("shell", asked.shell.to_string()).with("text", text).findings(&[]));
    } else {
        teller.result(&text);
    }
    Outcome::Done
}

/// Prints the schema of a kind of file.
pub(crate) fn schema(asked: &Schema, teller: &Teller) -> Outcome {
    let Some(kind) = FileKind::ALL.into_iter().find(|kind| kind.name() == asked.kind) else {
        let words = format!("there is no kind of file called {}", asked.kind);
        return teller.usage(&words, Document::new("schema"));
    };
    let schema = job::schema(kind);
    if teller.json() {
        let document = Document::new("schema").with("kind", kind.name()).with("version", FILES_VERSION);
        teller.document(&document.with("text", schema).findings(&[]));
    } else {
        teller.result(&(serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"));
    }
    Outcome::Done
}

/// Writes the manual pages, one for the tool and one for each verb.
pub(crate) fn manual(asked: &Manual, teller: &Teller) -> Outcome {
    let document = Document::new("manual").findings(&[]);
    let mut command = Arguments::command();
    command.build();
    let verbs: Vec<clap::Command> =
        command.get_subcommands().filter(|verb| verb.get_name() != "help").cloned().collect();
    let (mut targets, mut texts): (Vec<PathBuf>, Vec<String>) = (Vec::new(), Vec::new());
    for page in std::iter::once(command).chain(verbs) {
        let name = format!("{}.1", page.get_display_name().unwrap_or(page.get_name()));
        let mut text = Vec::new();
        // Writing into memory does not fail.
        let _ = clap_mangen::Man::new(page).render(&mut text);
        targets.push(asked.out.join(name));
        texts.push(String::from_utf8_lossy(&text).into_owned());
    }
    cut::put(&targets, &texts, asked.replace, document, Outcome::Done, teller)
}
