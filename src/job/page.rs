//! From the text of one file to its mirror structs, past every fault: what cannot be read is reported, taken out and
//! the rest read again. Also notes where each key was written. Knows nothing of what keys mean.

use std::ops::Range;
use std::sync::Arc;

use serde::de::DeserializeOwned;
use toml::Spanned;
use toml::de::{DeTable, DeValue, Deserializer};

use super::desk::{Desk, leaf};
use super::{amount, limits, syntax};
use crate::finding::{Finding, job as codes};
use crate::source::{Mark, Source};

/// Likeness of two keys (0 to 1) from which one is offered for the other; below it the offer is mostly wrong.
const LIKE_ENOUGH: f64 = 0.6;

/// Reads the text as TOML; reports what is not TOML and leaves those lines out. Nothing when a fault leaves open
/// which table later lines belong to.
pub(super) fn parse<'s>(source: &'s Arc<Source>, prefix: &str, desk: &mut Desk) -> Option<DeTable<'s>> {
    desk.own_file(prefix, source);
    let (table, errors) = DeTable::parse_recoverable(source.text());
    let mut table = table.into_inner();
    let mut sound = true;
    let mut lines = Vec::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let (line, _) = source.line_column(span.start);
        if lines.contains(&line) {
            continue;
        }
        lines.push(line);
        let slip = syntax::explain(source, line, span, error.message());
        let mut finding = Finding::new(&codes::FILE_SYNTAX, slip.message).at(Mark::new(source, slip.span));
        if let Some(first) = slip.first {
            finding = finding.also_at(Some(&Mark::new(source, first)), "first given here");
        }
        desk.find(finding.help(slip.help));
        match slip.loses {
            syntax::Loses::Nothing => {}
            syntax::Loses::Key(path) => {
                take_out(&mut table, &path);
                desk.spoil(dotted(prefix, &path));
            }
            syntax::Loses::Rest => sound = false,
        }
    }
    sound.then_some(table)
}

/// Notes where each key of a table was written, under its dotted key.
pub(super) fn note_marks(table: &DeTable, source: &Arc<Source>, prefix: &str, desk: &mut Desk) {
    for (key, value) in table {
        note_mark(value, source, &join(prefix, key.get_ref()), desk);
    }
}

fn note_mark(value: &Spanned<DeValue>, source: &Arc<Source>, key: &str, desk: &mut Desk) {
    desk.marks.0.insert(key.to_owned(), Mark::new(source, value.span()));
    match value.get_ref() {
        DeValue::Table(table) => note_marks(table, source, key, desk),
        DeValue::Array(list) => {
            for (index, element) in list.iter().enumerate() {
                note_mark(element, source, &join(key, &index.to_string()), desk);
            }
        }
        _ => {}
    }
}

/// Reads a table into its mirror struct. Every key that does not fit is reported and left out.
pub(super) fn fill<T: DeserializeOwned + Default>(
    mut table: DeTable,
    source: &Arc<Source>,
    prefix: &str,
    desk: &mut Desk,
) -> T {
    refuse_double_brackets(&mut table, source, prefix, desk);
    note_marks(&table, source, prefix, desk);
    loop {
        let error = match T::deserialize(Deserializer::from(Spanned::new(0..0, table.clone()))) {
            Ok(filled) => return filled,
            Err(error) => error,
        };
        let path = error.span().and_then(|span| path_to(&table, &span));
        let Some((span, path)) = error.span().zip(path) else {
            desk.find(Finding::new(&codes::KIND_WRONG, error.message()).at(Mark::line(source, 1)));
            return T::default();
        };
        // An enum given a number says only that it wants a word; given an empty word it lists its words.
        let wants_word = error.message().starts_with("wanted string or table");
        if wants_word && let Some(value) = find_value(&mut table, &path) {
            *value.get_mut() = DeValue::String("".into());
            continue;
        }
        report(error.message(), &span, &path, source, prefix, desk);
        take_out(&mut table, &path);
        let key = dotted(prefix, &path);
        desk.marks.0.retain(|mark, _| *mark != key && !mark.starts_with(&format!("{key}.")));
        desk.spoil(key);
    }
}

/// `[[screw]]` would be read as a list of tables.
fn refuse_double_brackets(table: &mut DeTable, source: &Arc<Source>, prefix: &str, desk: &mut Desk) {
    let is_list = |value: &DeValue| match value {
        DeValue::Array(list) => list.iter().any(|element| matches!(element.get_ref(), DeValue::Table(_))),
        _ => false,
    };
    let lists = table.iter().filter(|(_, value)| is_list(value.get_ref()));
    let names: Vec<_> = lists.map(|(key, value)| (key.get_ref().to_string(), value.span())).collect();
    for (name, span) in names {
        let finding = Finding::new(&codes::KIND_WRONG, format!("`{name}` is a single table"));
        desk.find(finding.at(Mark::new(source, span)).help(format!("write [{name}] with single brackets")));
        table.remove(name.as_str());
        desk.spoil(join(prefix, &name));
    }
}

/// Words for an error of the deserializer. Its own texts are parsed for the names it expected; the snapshots of the
/// tests guard against a change in them.
fn report(
    error: &str,
    span: &Range<usize>,
    path: &[String],
    source: &Arc<Source>,
    prefix: &str,
    desk: &mut Desk,
) {
    let mark = Mark::new(source, span.clone());
    let key = path.last().map_or("", String::as_str);
    let written = source.text().get(span.clone()).unwrap_or("").trim();
    let expected: Vec<&str> =
        error.split_once("expected ").map_or("", |(_, names)| names).split('`').skip(1).step_by(2).collect();
    let finding = if error.starts_with("unknown field") {
        let full = dotted(prefix, path);
        let (table, _) = full.rsplit_once('.').unwrap_or(("", &full));
        let shown = desk.table_name(table);
        let place =
            if shown.is_empty() { "at the top of the file".to_owned() } else { format!("in {shown}") };
        let offer = likest(key, &expected);
        if let Some(offer) = offer {
            desk.spoil(join(table, offer));
        }
        Finding::new(&codes::KEY_UNKNOWN, format!("`{key}` means nothing {place}"))
            .help(unknown_key_help(key, offer, &expected, desk))
    } else if error.starts_with("unknown variant") {
        let offer = likest(written.trim_matches(['"', '\'']), &expected);
        let words = expected.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(" or ");
        let help = match offer {
            Some(offer) if expected.len() > 1 => format!("did you mean \"{offer}\"? {key} takes {words}"),
            _ => format!("{key} takes {words}"),
        };
        Finding::new(&codes::KIND_WRONG, format!("`{key}` does not know {written}")).help(help)
    } else {
        wrong_kind(error, key, written)
    };
    desk.find(finding.at(mark));
}

fn unknown_key_help(key: &str, offer: Option<&str>, expected: &[&str], desk: &Desk) -> String {
    let known = format!("known here: {}", expected.join(", "));
    if let Some(offer) = offer {
        return format!("did you mean `{offer}`? {known}");
    }
    match limits::LIMITS.iter().find(|row| leaf(row.key) == key).and_then(|row| row.key.rsplit_once('.')) {
        Some((table, _)) => format!("`{key}` belongs below {}; {known}", desk.table_name(table)),
        None => known,
    }
}

fn wrong_kind(error: &str, key: &str, written: &str) -> Finding {
    let takes = match error.rsplit_once("expected ").map_or("", |(_, kind)| kind) {
        "u32" => "a whole number, without quotes",
        "a boolean" => "true or false, without quotes",
        "a string" => "words in quotes",
        "a sequence" => "a list in square brackets",
        "a table" => "a table: lines below its name in square brackets",
        "a length" => "a length",
        _ => "a plain number, without quotes and without a unit",
    };
    let help = match takes {
        "a length" => amount::way_out(written.trim_matches(['"', '\''])),
        _ if error.starts_with("not a length") => amount::way_out(written.trim_matches(['"', '\''])),
        "a list in square brackets" => format!("write {key} = [{written}]"),
        "words in quotes" => format!("write {key} = \"{written}\""),
        _ => number_help(key, written),
    };
    let message = if error.starts_with("not a length") {
        format!("`{key}` takes a length, and {written} is none")
    } else {
        format!("`{key}` takes {takes}, not {written}")
    };
    Finding::new(&codes::KIND_WRONG, message).help(help)
}

/// What to write for a number or a truth that came as something else.
fn number_help(key: &str, written: &str) -> String {
    let bare = written.trim_matches(['"', '\'']);
    match bare.to_lowercase().as_str() {
        "yes" | "on" | "true" | "1" => format!("write {key} = true or {key} = false"),
        "no" | "off" | "false" | "0" => format!("write {key} = false or {key} = true"),
        _ => {
            let digits: String = bare.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
            match digits.parse::<f64>() {
                Ok(number) => format!("write {key} = {}", limits::tidy(number, 4)),
                Err(_) => format!("write {key} = and a number"),
            }
        }
    }
}

/// The expected word that is most like the written one, if it is like enough or one holds the other.
fn likest<'w>(written: &str, expected: &[&'w str]) -> Option<&'w str> {
    let written = written.to_lowercase().replace('-', "_");
    let likeness = |word: &str| {
        let word = word.replace('-', "_");
        let parts_fit = written.len() > 1
            && (word.split('_').any(|part| part == written) || written.split('_').any(|part| part == word));
        let alike = strsim::normalized_damerau_levenshtein(&written, &word);
        if parts_fit { alike.max(LIKE_ENOUGH) } else { alike }
    };
    let best = expected.iter().map(|word| (likeness(word), *word)).max_by(|a, b| a.0.total_cmp(&b.0))?;
    (best.0 >= LIKE_ENOUGH).then_some(best.1)
}

/// The keys that lead to the innermost entry whose key or value covers a place.
fn path_to(table: &DeTable, span: &Range<usize>) -> Option<Vec<String>> {
    let covers = |outer: Range<usize>| outer.start <= span.start && span.end <= outer.end;
    for (key, value) in table {
        let name = key.get_ref().to_string();
        if let DeValue::Table(inner) = value.get_ref()
            && let Some(mut path) = path_to(inner, span)
        {
            path.insert(0, name);
            return Some(path);
        }
        if covers(key.span()) || covers(value.span()) {
            return Some(vec![name]);
        }
    }
    None
}

fn find_value<'t, 's>(table: &'t mut DeTable<'s>, path: &[String]) -> Option<&'t mut Spanned<DeValue<'s>>> {
    let (first, rest) = path.split_first()?;
    let value = table.get_mut(first.as_str())?;
    if rest.is_empty() {
        return Some(value);
    }
    match value.get_mut() {
        DeValue::Table(inner) => find_value(inner, rest),
        _ => None,
    }
}

fn take_out(table: &mut DeTable, path: &[String]) {
    match path {
        [] => {}
        [key] => {
            table.remove(key.as_str());
        }
        [key, rest @ ..] => {
            if let Some(DeValue::Table(inner)) = table.get_mut(key.as_str()).map(Spanned::get_mut) {
                take_out(inner, rest);
            }
        }
    }
}

fn join(prefix: &str, key: &str) -> String {
    if prefix.is_empty() { key.to_owned() } else { format!("{prefix}.{key}") }
}

fn dotted(prefix: &str, path: &[String]) -> String {
    join(prefix, &path.join("."))
}
