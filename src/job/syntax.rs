//! Words for lines that are not TOML: what the slip most likely was, and what to write instead. Judges one line at a
//! time by its looks; the reader itself has already said that the line is faulty.

use std::ops::Range;

use super::amount::Amount;
use crate::source::Source;

/// What word processors write for a space.
const NO_BREAK_SPACE: char = '\u{a0}';

/// A slip of the pen.
pub(super) struct Slip {
    /// What is wrong.
    pub(super) message: String,
    /// What to write.
    pub(super) help: String,
    /// Where.
    pub(super) span: Range<usize>,
    /// Where a thing given twice was given first.
    pub(super) first: Option<Range<usize>>,
    /// What cannot be trusted because of it.
    pub(super) loses: Loses,
}

/// What a slip makes unusable.
pub(super) enum Loses {
    /// Nothing else.
    Nothing,
    /// The line, and with it the key of this path; an empty path for none.
    Line(Vec<String>),
    /// The whole file: it is open which table the next lines belong to.
    Rest,
}

/// Explains the fault that the TOML reader found at `span` in `line` (from 1) and called `error`.
pub(super) fn explain(source: &Source, line: usize, span: Range<usize>, error: &str) -> Slip {
    let line_span = source.line_span(line);
    let text = &source.text()[line_span.clone()];
    if error.contains("duplicate key") {
        return twice(source, line, span);
    }
    let trimmed = text.trim();
    if trimmed.is_empty() {
        return Slip {
            message: "a text or a list that begins further up is not closed".to_owned(),
            help: "look for an opening quote or bracket without its partner".to_owned(),
            span: line_span,
            first: None,
            loses: Loses::Rest,
        };
    }
    if trimmed.starts_with('[') {
        let name = trimmed.trim_start_matches(['[', ' ']).split(']').next().unwrap_or("").trim();
        return Slip {
            message: format!("{trimmed} is not a table name ({error})"),
            help: format!("write [{name}] on a line of its own"),
            span: line_span,
            first: None,
            loses: Loses::Rest,
        };
    }
    if trimmed.starts_with([';', '/', '\'', '*', '-']) {
        return Slip {
            message: "this line is neither a key with its value nor a comment".to_owned(),
            help: "a comment starts with #".to_owned(),
            span: line_span,
            first: None,
            loses: Loses::Line(Vec::new()),
        };
    }
    let Some((before, after)) = text.split_once('=') else {
        let (message, help) = no_equals(trimmed);
        // A word alone may be a table's name without its brackets.
        let loses = match first_word(trimmed) {
            Some(key) if key != trimmed => Loses::Line(path_of(source, line, key)),
            _ => Loses::Rest,
        };
        return Slip { message, help, span: line_span, first: None, loses };
    };
    let key = before.split_whitespace().collect::<Vec<_>>().join("_");
    let loses = first_word(&key).map_or(Loses::Rest, |_| Loses::Line(path_of(source, line, &key)));
    let value = without_comment(after).trim();
    let start = line_span.start + before.len() + 1 + (after.len() - after.trim_start().len());
    let value_span = if value.is_empty() { line_span } else { start..start + value.len() };
    if before.trim().contains(char::is_whitespace) {
        let message = format!("`{}` is not one word", before.trim());
        let help = format!("write {key} = {value}");
        return Slip { message, help, span: source.line_span(line), first: None, loses };
    }
    let (message, help) = if text.contains(NO_BREAK_SPACE) {
        (
            "a space in this line is none that can be read".to_owned(),
            format!("type it again: {key} = {value}"),
        )
    } else if first_word(&key).is_none() {
        let bare = key.trim_matches(['"', '\'']);
        let key = if bare.is_empty() { "pitch" } else { bare };
        (
            "there is no key before the =".to_owned(),
            format!("write a key without quotes, such as {key} = {value}"),
        )
    } else {
        value_slip(&key, value, error)
    };
    Slip { message, help, span: value_span, first: None, loses }
}

/// A key or table given twice.
fn twice(source: &Source, line: usize, span: Range<usize>) -> Slip {
    let name = source.text().get(span.clone()).unwrap_or("").to_owned();
    let is_header = source.text()[source.line_span(line)].trim_start().starts_with('[');
    let first = if is_header {
        (1..line).find(|&earlier| header(source, earlier) == Some(name.as_str()))
    } else {
        let table = table_of(source, line);
        let names_it = |text: &str| text.split_once('=').is_some_and(|(key, _)| key.trim() == name);
        (1..line).find(|&l| names_it(&source.text()[source.line_span(l)]) && table_of(source, l) == table)
    };
    let top = |line: usize| source.text()[source.line_span(line)].split_once('=');
    let as_key = is_header
        .then(|| {
            (1..line)
                .find(|&l| top(l).is_some_and(|(key, _)| key.trim() == name) && table_of(source, l).is_none())
        })
        .flatten();
    let first = first.or(as_key);
    let (message, help) = if as_key.is_some() {
        (
            format!("`{name}` is a line at the top and a table here"),
            format!("keep one of them: the line {name} = ..., or the table [{name}] with all its lines"),
        )
    } else if is_header {
        (format!("[{name}] stands twice"), format!("bring all its lines together below one [{name}]"))
    } else {
        (format!("`{name}` is given twice"), "keep one of the two lines".to_owned())
    };
    Slip { message, help, span, first: first.map(|line| source.line_span(line)), loses: Loses::Nothing }
}

fn no_equals(line: &str) -> (String, String) {
    let message = format!("there is no = in {line}");
    let help = match line.split_once(':').or_else(|| line.split_once(char::is_whitespace)) {
        Some((key, value)) => format!("write {} = {}", key.trim(), value.trim()),
        None => format!("write [{line}] for a table, or {line} = and its value"),
    };
    (message, help)
}

/// The slip in a value.
fn value_slip(key: &str, value: &str, error: &str) -> (String, String) {
    let curly = |c| matches!(c, '“' | '”' | '„' | '‘' | '’' | '«' | '»');
    let bare = value.trim_matches(|c| curly(c) || matches!(c, '"' | '\''));
    if value.is_empty() {
        return (
            format!("`{key}` has no value"),
            format!("write {key} = and its value, or take the line out"),
        );
    }
    if value.contains(curly) {
        return (format!("{value} is not in plain quotes"), format!("write {key} = \"{bare}\""));
    }
    if value.starts_with(['"', '\'']) && value.contains('\\') {
        return (
            "a \\ has a meaning of its own between these quotes".to_owned(),
            format!("write {key} = \"{}\"", bare.replace('\\', "/")),
        );
    }
    if let Some((kept, _)) = value.split_once(';').filter(|_| !value.starts_with(['"', '\''])) {
        return (
            format!("the ; in {value} starts no comment"),
            format!("write {key} = {}  and begin a comment with #", kept.trim()),
        );
    }
    if let Some(rest) = value.strip_prefix('=') {
        return ("one = too many".to_owned(), format!("write {key} = {}", rest.trim()));
    }
    if let Some((kept, "")) = value.split_once(',') {
        return (format!("a comma stands behind {kept}"), format!("write {key} = {kept}"));
    }
    if value.starts_with('[') && !value.contains(']') {
        return (format!("the brackets of {value} are not closed"), format!("write {key} = {value}]"));
    }
    if let Some((whole, part)) = decimal_comma(value) {
        let help = if part.len() == 3 {
            format!("write {whole}{part} if thousands are meant, {whole}.{part} if a decimal is")
        } else {
            format!("write {whole}.{part}, not {value}")
        };
        return (format!("{value} is written with a comma"), help);
    }
    if value.contains(' ') && value.bytes().all(|b| b.is_ascii_digit() || b == b' ') {
        return (
            format!("{value} is written with a space"),
            format!("write {key} = {}", value.replace(' ', "")),
        );
    }
    if !value.starts_with(['[', '"', '\'']) && value.contains(',') {
        return (format!("{value} is not a list"), format!("write {key} = [{value}]"));
    }
    let number = bare.trim_end_matches("degrees").trim_end_matches("deg").trim_end_matches(['°', ' ']);
    if number != value && number.parse::<f64>().is_ok() && !value.contains(['"', '\'']) {
        return (format!("{value} is not a plain number"), format!("write {key} = {number}"));
    }
    if let Ok(plain) = value.parse::<f64>()
        && plain.is_finite()
        && value.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '+' | '-'))
    {
        return (
            format!("{value} is not written as a number is"),
            format!("write {key} = {plain:?}").replace(".0", ""),
        );
    }
    if let Some(amount) = Amount::parse(value) {
        let unit = amount.unit.map_or(String::new(), |unit| format!(" {}", unit.name()));
        let number: String =
            value.chars().take_while(|c| c.is_ascii_digit() || matches!(c, ' ' | '/' | '.' | '-')).collect();
        let help = format!("write {key} = \"{}{unit}\"", number.trim());
        return (format!("{value} is not in quotes"), help);
    }
    let quoted = value.starts_with(['"', '\'']);
    if quoted && value.matches(['"', '\'']).count() == 1 {
        return (format!("the quotes of {value} are not closed"), format!("write {key} = \"{bare}\""));
    }
    let unquoted = value.replace(['"', '\''], "");
    if Amount::parse(&unquoted).is_some_and(|amount| amount.unit.is_some()) {
        return (
            format!("the unit of {value} stands outside the quotes"),
            format!("write {key} = \"{unquoted}\""),
        );
    }
    match value.to_lowercase().as_str() {
        "yes" | "true" | "on" => {
            return (format!("{value} is neither true nor false"), format!("write {key} = true"));
        }
        "no" | "false" | "off" => {
            return (format!("{value} is neither true nor false"), format!("write {key} = false"));
        }
        _ => {}
    }
    if value.chars().all(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '_' | '/' | '.' | '\\' | ':')) {
        return (format!("{value} is not in quotes"), format!("write {key} = \"{value}\""));
    }
    (format!("{value} is not readable ({error})"), "write a number, or words in plain quotes".to_owned())
}

/// The digits before and behind the comma of `12,5` or `1.200,5`, if that is what the value looks like.
fn decimal_comma(value: &str) -> Option<(String, &str)> {
    let (whole, part) = value.split_once(',')?;
    let whole = whole.replace('.', "");
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    (digits(whole.strip_prefix(['+', '-']).unwrap_or(&whole)) && digits(part)).then_some((whole, part))
}

/// The value without a comment behind it; `#` or `;` inside quotes stays.
fn without_comment(value: &str) -> &str {
    let mut quote = None;
    for (at, c) in value.char_indices() {
        match (quote, c) {
            (None, '"' | '\'') => quote = Some(c),
            (Some(open), _) if open == c => quote = None,
            (None, '#') => return &value[..at],
            _ => {}
        }
    }
    value
}

fn first_word(text: &str) -> Option<&str> {
    let word = text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).next().unwrap_or("");
    (!word.is_empty() && !word.bytes().all(|b| b.is_ascii_digit())).then_some(word)
}

fn path_of(source: &Source, line: usize, key: &str) -> Vec<String> {
    let table =
        table_of(source, line).map_or(Vec::new(), |table| table.split('.').map(str::to_owned).collect());
    table.into_iter().chain(key.split('.').map(|part| part.trim().to_owned())).collect()
}

/// The table a line stands in: the nearest header above it. One of a list has its place in the list behind its name.
fn table_of(source: &Source, line: usize) -> Option<String> {
    let (above, name) = (1..line).rev().find_map(|above| Some((above, header_text(source, above)?)))?;
    if name.starts_with('[') {
        let before = (1..above).filter(|&above| header_text(source, above) == Some(name)).count();
        return Some(format!("{}.{before}", name.trim_matches(['[', ']', ' '])));
    }
    Some(name.to_owned())
}

/// The name between the brackets of a table, unless it heads a list.
fn header(source: &Source, line: usize) -> Option<&str> {
    header_text(source, line).filter(|name| !name.contains('['))
}

/// What stands between the outer brackets of a header.
fn header_text(source: &Source, line: usize) -> Option<&str> {
    let text = without_comment(&source.text()[source.line_span(line)]).trim();
    let name = text.strip_prefix('[')?.strip_suffix(']')?;
    Some(name.trim()).filter(|name| !name.contains([',', '"']))
}
