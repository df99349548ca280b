//! From the text of one file to its mirror structs, past every fault: what cannot be read is reported, taken out and
//! the rest read again. Also notes where each key was written. Knows nothing of what keys mean.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use serde::de::DeserializeOwned;
use toml::Spanned;
use toml::de::{DeTable, DeValue, Deserializer};

use super::amount::{self, NO_LENGTH, NOT_MEASURABLE};
use super::desk::{Desk, leaf};
use super::limits::{self, LIMITS, Quantity, tidy};
use super::{cutting, read, screw, syntax};
use crate::finding::{Finding, job as codes};
use crate::source::{Mark, Source};

/// Likeness of two keys (0 to 1) from which one is offered for the other; below it the offer is mostly wrong.
const LIKE_ENOUGH: f64 = 0.6;

/// More slips than this in one file are not listed: it is then hardly a job file at all, and each costs a reading.
const MOST_SLIPS: usize = 30;

/// The feed modes of RS-274 in words of a machine file.
const FEED_MODES: &str = "G93 is \"inverse-time\"; G94 is \"linear\" if F counts millimetres along X and Z only, \
     \"combined\" if it counts degrees as well: the manual tells";

/// The text with every line that is not TOML blanked out, so that the rest can be read; reports those lines. Offsets
/// stay what they were. Nothing when a slip leaves open which table later lines belong to.
pub(super) fn mend(source: &Arc<Source>, prefix: &str, desk: &mut Desk) -> Option<String> {
    desk.own_file(prefix, source);
    let mut text = source.text().to_owned();
    let mut seen = BTreeSet::new();
    loop {
        let (_, errors) = DeTable::parse_recoverable(&text);
        let line_of = |span: &Range<usize>| source.line_column(span.start).0;
        // One error at a time: the reader may have lost its way behind the first.
        let slips = errors.iter().map(|error| (error.span().unwrap_or(0..0), error.message()));
        let Some((span, message)) = slips.into_iter().find(|(span, _)| !seen.contains(&line_of(span))) else {
            return Some(text);
        };
        let line = line_of(&span);
        seen.insert(line);
        let slip = syntax::explain(source, line, span, message);
        let mut finding = Finding::new(&codes::FILE_SYNTAX, slip.message).at(Mark::new(source, slip.span));
        if let Some(first) = slip.first {
            finding = finding.also_at(Some(&Mark::new(source, first)), "first given here");
        }
        desk.find(finding.help(slip.help));
        match slip.loses {
            syntax::Loses::Nothing => {}
            syntax::Loses::Line(path) => {
                let line = source.line_span(line);
                text.replace_range(line.clone(), &" ".repeat(line.len()));
                if !path.is_empty() {
                    desk.spoil(dotted(prefix, &path));
                }
            }
            syntax::Loses::Rest => return None,
        }
        if seen.len() >= MOST_SLIPS {
            return None;
        }
    }
}

/// Reads a mended text. What it still holds of slips (keys given twice) has been reported and is passed over.
pub(super) fn parse(mended: &str) -> DeTable<'_> {
    DeTable::parse_recoverable(mended).0.into_inner()
}

/// Whether the file is of another kind, told by keys that only that kind has; reports it.
pub(super) fn is_other(
    table: &DeTable,
    source: &Arc<Source>,
    wanted: &str,
    others: &[(&str, &str)],
    desk: &mut Desk,
) -> bool {
    let found = others.iter().find_map(|(key, kind)| Some((table.get_key_value(*key)?.0.span(), *kind)));
    let Some((span, kind)) = found else {
        return false;
    };
    let finding = Finding::new(&codes::KIND_WRONG, format!("this is a {kind} file, not a {wanted} file"));
    let help = if wanted == "job" {
        format!("give the job file; it names this one with {kind} = \"...\"")
    } else {
        format!("name a {wanted} file")
    };
    desk.find(finding.at(Mark::new(source, span)).help(help));
    true
}

/// Whether a job file holds nothing, or nothing that can be read: what is missing in it is then no news. Reports a file
/// without a slip, which holds at most comments.
pub(super) fn is_empty(table: &DeTable, source: &Arc<Source>, desk: &mut Desk) -> bool {
    if table.is_empty() && desk.findings.is_empty() {
        let finding = Finding::new(&codes::KEY_MISSING, "the file is empty").at(Mark::line(source, 1));
        desk.find(finding.help("run `threadwright new press.toml` for a job to fill in"));
    }
    table.is_empty()
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
    for _ in 0..MOST_SLIPS {
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
        if let Some(word) = in_other_letters(error.message(), source, &span)
            && let Some(value) = find_value(&mut table, &path)
        {
            *value.get_mut() = DeValue::String(word.into());
            continue;
        }
        let in_list = find_value(&mut table, &path).is_some_and(|value| holds_inside(value, &span));
        report(error.message(), &span, &path, in_list, source, prefix, desk);
        take_out(&mut table, &path);
        let key = dotted(prefix, &path);
        desk.marks.0.retain(|mark, _| *mark != key && !mark.starts_with(&format!("{key}.")));
        desk.spoil(key);
    }
    desk.spoil(prefix);
    T::default()
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

/// The names that an error of the deserializer expected.
fn expected(error: &str) -> Vec<&str> {
    let names = error.split_once("expected ").map_or("", |(_, names)| names);
    names.split('`').skip(1).step_by(2).collect()
}

/// The word that was meant when one differs from what its key takes only in small and capital letters.
fn in_other_letters(error: &str, source: &Arc<Source>, span: &Range<usize>) -> Option<String> {
    if !error.starts_with("unknown variant") {
        return None;
    }
    let mark = Mark::new(source, span.clone());
    let written = mark.text().trim().trim_matches(['"', '\'']);
    expected(error).into_iter().find(|word| word.eq_ignore_ascii_case(written)).map(str::to_owned)
}

/// Whether a place lies inside a list.
fn holds_inside(value: &Spanned<DeValue>, span: &Range<usize>) -> bool {
    let outer = value.span();
    matches!(value.get_ref(), DeValue::Array(_)) && outer.start < span.start && span.end < outer.end
}

/// Words for an error of the deserializer. Its own texts are parsed for the names it expected; the snapshots of the
/// tests guard against a change in them.
fn report(
    error: &str,
    span: &Range<usize>,
    path: &[String],
    in_list: bool,
    source: &Arc<Source>,
    prefix: &str,
    desk: &mut Desk,
) {
    let mark = Mark::new(source, span.clone());
    let key = path.last().map_or("", String::as_str);
    let written = mark.text().trim();
    let expected = expected(error);
    let mut finding = if error.starts_with("unknown field") {
        unknown_key(key, &dotted(prefix, path), expected, desk)
    } else if error.starts_with("unknown variant") {
        unknown_word(key, written, &expected)
    } else {
        wrong_kind(error, key, &dotted(prefix, path), written)
    };
    // One of a list is mended where it stands.
    if in_list && let Some((_, value)) = finding.help.as_deref().and_then(|help| help.split_once(" = ")) {
        finding.help = Some(format!("write {value} there"));
    }
    desk.find(finding.at(mark));
}

/// A key that is not known where it stands. What it most likely means counts as given.
fn unknown_key(key: &str, dotted_key: &str, mut expected: Vec<&str>, desk: &mut Desk) -> Finding {
    let (table, _) = dotted_key.rsplit_once('.').unwrap_or(("", dotted_key));
    if table.is_empty() {
        // These are read apart from the rest.
        expected.extend(["machine", "cutter", "jig"]);
    }
    let known = format!("known here: {}", expected.join(", "));
    let (meant, help) = if let Some(offer) = likest(key, &expected) {
        (Some(join(table, offer)), format!("did you mean `{offer}`? {known}"))
    } else if let Some(home) = home_of(key) {
        let place = match home.rsplit_once('.') {
            Some((table, _)) => format!("below {}", desk.table_name(table)),
            None => "at the top of the file, above the first [table]".to_owned(),
        };
        (Some(home), format!("`{key}` belongs {place}; {known}"))
    } else if LIMITS.iter().any(|row| row.key.split('.').next() == Some(key)) {
        (Some(key.to_owned()), format!("write [{key}] for the table; {known}"))
    } else {
        (None, known)
    };
    if let Some(meant) = meant {
        desk.spoil(meant);
    }
    let shown = desk.table_name(table);
    let place = if shown.is_empty() { "at the top of the file".to_owned() } else { format!("in {shown}") };
    Finding::new(&codes::KEY_UNKNOWN, format!("`{key}` means nothing {place}")).help(help)
}

/// A word that its key does not know.
fn unknown_word(key: &str, written: &str, expected: &[&str]) -> Finding {
    let words = expected.iter().map(|word| format!("\"{word}\"")).collect::<Vec<_>>().join(" or ");
    let help = match likest(written.trim_matches(['"', '\'']), expected) {
        _ if expected.contains(&"inverse-time") && is_feed_mode(written) => FEED_MODES.to_owned(),
        Some(offer) if expected.len() > 1 => format!("did you mean \"{offer}\"? {key} takes {words}"),
        _ => format!("{key} takes {words}"),
    };
    Finding::new(&codes::KIND_WRONG, format!("`{key}` does not know {written}")).help(help)
}

/// Whether a word speaks of the feed modes of RS-274, in which manuals tell how a machine takes F.
fn is_feed_mode(written: &str) -> bool {
    let written = written.to_lowercase();
    ["g93", "g94"].iter().any(|mode| written.contains(mode))
}

/// The dotted key that a key has where it belongs, if it has a place at all.
fn home_of(key: &str) -> Option<String> {
    let needed = [read::REQUIRED, screw::REQUIRED, cutting::REQUIRED].into_iter().flatten().map(|row| row.0);
    // The keys of a file of woods or of a thread mill have their place in that file only.
    let own_file = |key: &str| key.starts_with("wood.") || key.starts_with("thread_mill.");
    let limited = LIMITS.iter().map(|row| row.key).filter(|key| !own_file(key));
    let known = needed.chain(limited);
    known.into_iter().find(|home| leaf(home) == key).map(str::to_owned)
}

/// A value of the wrong kind. `error` is the reader's sentence, which names the kind it wanted.
fn wrong_kind(error: &str, key: &str, dotted_key: &str, written: &str) -> Finding {
    let bare = written.trim_matches(['"', '\'']);
    let wanted = error.rsplit_once("expected ").map_or(error, |(_, wanted)| wanted);
    let (message, help) = match wanted {
        NOT_MEASURABLE => (format!("`{key}` is {written}, which cannot be measured"), amount::way_out("")),
        amount::NO_TEMPERATURE => (
            format!("`{key}` takes a temperature, and {written} is none"),
            "write a number such as 20, or a text such as \"20 C\" or \"68 F\"".to_owned(),
        ),
        NO_LENGTH | "a length" => {
            (format!("`{key}` takes a length, and {written} is none"), amount::way_out(bare))
        }
        "u32" => {
            let whole = bare.parse::<f64>().map_or(1.0, f64::floor);
            // Whoever writes 1e300 threads means nothing that could be offered back.
            let whole = if (1.0..1e6).contains(&whole) { whole } else { 1.0 };
            (
                format!("`{key}` takes a whole number, not {written}"),
                format!("write for example {key} = {}", tidy(whole, 0)),
            )
        }
        "a boolean" => {
            let likely = matches!(bare.to_lowercase().as_str(), "yes" | "on" | "true" | "1");
            (
                format!("`{key}` takes true or false, not {written}"),
                format!("write {key} = {likely} or {key} = {}", !likely),
            )
        }
        "a string" if key == "woods" => (
            "`woods` names a file, and this is none".to_owned(),
            "write woods = \"my-woods.toml\" above the first [table], and the woods into that file"
                .to_owned(),
        ),
        "a string" => {
            (format!("`{key}` takes words in quotes, not {written}"), format!("write {key} = \"{written}\""))
        }
        "a sequence" => {
            (format!("`{key}` takes a list, not {written}"), format!("write {key} = [{written}]"))
        }
        "a table" if matches!(key, "dry" | "wet" | "cutting") && bare.parse::<f64>().is_ok() => (
            format!("`{key}` takes the air of that time, not {written}"),
            format!(
                "write {key}_moisture = {bare} if that is the moisture of the wood, or {key} = {{ temperature = 20, \
                 humidity = {bare} }} if it is the humidity of the air"
            ),
        ),
        "a table" => (
            format!("`{key}` takes a table, not {written}"),
            format!("write [{key}] on a line of its own and its keys below"),
        ),
        _ if unit_of(dotted_key).is_some() => (
            format!("`{key}` takes a plain number, without quotes and unit, not {written}"),
            format!("write it in {}", unit_of(dotted_key).unwrap_or_default()),
        ),
        _ if error.ends_with("overflowed") => {
            (format!("{written} is too large a number"), amount::way_out(""))
        }
        _ => {
            let digits: String = bare.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
            let number =
                digits.parse::<f64>().map_or("followed by a number".to_owned(), |number| tidy(number, 4));
            (
                format!("`{key}` takes a plain number, without quotes and unit, not {written}"),
                format!("write {key} = {number}"),
            )
        }
    };
    Finding::new(&codes::KIND_WRONG, message).help(help)
}

/// The unit of what is known of a wood, which it has whatever the unit of the job, and how to come to it.
fn unit_of(dotted_key: &str) -> Option<&'static str> {
    match limits::limit(dotted_key)?.quantity {
        Quantity::Density => Some("kg/m3; 1 lb/ft3 is 16.02 kg/m3"),
        Quantity::Stress => Some("MPa; 1000 psi are 6.895 MPa"),
        Quantity::Stiffness => Some("GPa; a million psi are 6.895 GPa"),
        Quantity::Force => Some("N; 1 lbf is 4.448 N"),
        _ => None,
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
