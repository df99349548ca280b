//! Reads program text into blocks. Each line is read on its own; a fault in one never hides a fault in another. What
//! the words mean is for the interpreter.

use std::ops::Range;
use std::sync::Arc;

use nom::Parser;

use super::extent::extent;
use super::findings::Findings;
use super::formula::Formula;
use super::grammar::{Item, comment, head, item, message, plain_word};
use super::program::{Block, Message, Program, Setting, Value, Word, Wrapper};
use super::slip::{Slip, What, shortened};
use super::squeeze::Squeezed;
use crate::finding::program as code;
use crate::setup::Dialect;
use crate::source::Source;

/// Longest line in characters (NISTIR 6556 section 3.3). It also bounds how deep brackets can nest.
const LONGEST_LINE: usize = 256;

/// Most digits of a line number (NISTIR 6556 section 3.3.1).
const LINE_NUMBER_DIGITS: usize = 5;

/// Reads a program.
///
/// Never stops at a fault: the result holds every block that could be read and every finding about the writing.
/// Line numbers and names that only `dialect` allows are noted once each.
pub fn read(source: &Arc<Source>, dialect: Dialect) -> Program {
    let mut reader = Reader {
        dialect,
        findings: Findings::new(source),
        squeezed: Squeezed::default(),
        used: Dialect::default(),
        program: Program {
            source: Arc::clone(source),
            blocks: Vec::new(),
            words: Vec::new(),
            formulas: Vec::new(),
            settings: Vec::new(),
            messages: Vec::new(),
            findings: Vec::new(),
            wrapper: Wrapper::None,
        },
    };
    reader.read_lines(source);
    let Reader { findings, mut program, .. } = reader;
    program.findings = findings.into_list();
    program
}

struct Reader {
    dialect: Dialect,
    findings: Findings,
    squeezed: Squeezed,
    /// Allowances that were used and noted.
    used: Dialect,
    program: Program,
}

/// A line being read.
struct Line<'a> {
    number: usize,
    span: Range<usize>,
    text: &'a [u8],
}

impl Line<'_> {
    fn part(&self, columns: Range<usize>) -> Range<usize> {
        self.span.start + columns.start..self.span.start + columns.end
    }
}

/// What one line added.
#[derive(Default)]
struct Found {
    slash: bool,
    broken: bool,
    message: Option<Range<usize>>,
}

impl Reader {
    fn read_lines(&mut self, source: &Arc<Source>) {
        let mut first = true;
        let mut name_may_follow = false;
        for number in 1..=source.line_count() {
            let span = source.line_span(number);
            let line = Line { number, text: &source.text().as_bytes()[span.clone()], span };
            let trimmed = without_outer_blanks(line.text);
            if trimmed.is_empty() {
                continue;
            }
            if trimmed[0] == b'%' {
                let named = first && trimmed != b"%" && self.dialect.program_name;
                if named || trimmed == b"%" {
                    if named {
                        self.note_name(&line);
                    }
                    if self.percent_line(&line, first) {
                        self.note_rest(source, number);
                        return;
                    }
                    name_may_follow = first && !named;
                    first = false;
                    continue;
                }
            }
            if first && trimmed[0] == b'%' {
                self.program.wrapper = Wrapper::Told;
            }
            first = false;
            if std::mem::take(&mut name_may_follow) && self.dialect.program_name && self.is_name(&line) {
                self.note_name(&line);
                continue;
            }
            self.read_line(&line);
        }
    }

    /// Takes a percent line; true when it closes the program.
    fn percent_line(&mut self, line: &Line<'_>, first: bool) -> bool {
        if first {
            self.program.wrapper = Wrapper::Open(line.span.clone());
            return false;
        }
        match self.program.wrapper {
            Wrapper::Open(_) => {
                self.program.wrapper = Wrapper::Closed;
                return true;
            }
            Wrapper::Told => return true,
            Wrapper::None | Wrapper::Closed => self.program.wrapper = Wrapper::Told,
        }
        self.findings.say(&code::PERCENT_STRAY, line.span.clone(), || {
            (
                "this percent line closes a program that no percent line opened".to_owned(),
                "put % alone on the first line too, or take this one out and end with M2 (NISTIR 6556 section 3.1)"
                    .to_owned(),
            )
        });
        false
    }

    /// Notes text after the closing percent line.
    fn note_rest(&mut self, source: &Source, closing_line: usize) {
        let rest = (closing_line + 1..=source.line_count())
            .map(|number| source.line_span(number))
            .find(|span| !source.text()[span.clone()].trim().is_empty());
        if let Some(span) = rest {
            self.findings.say(&code::TEXT_AFTER_END, span, || {
                (
                    "text after the closing percent line is never read".to_owned(),
                    "take it out, or move the percent line to the end".to_owned(),
                )
            });
        }
    }

    /// Whether a line after the opening percent line is a name: an O number, or text that is no line of a program.
    fn is_name(&mut self, line: &Line<'_>) -> bool {
        if LONGEST_LINE < line.text.len() {
            return false;
        }
        self.squeezed.fill(line.text);
        let mut rest = self.squeezed.text();
        if matches!(rest.first(), Some(b'O' | b':')) {
            return true;
        }
        match head(rest) {
            Ok((after, _)) => rest = after,
            Err(_) => return true,
        }
        while !rest.is_empty() {
            match item(rest) {
                Ok((after, _)) => rest = after,
                Err(_) => return true,
            }
        }
        false
    }

    fn note_name(&mut self, line: &Line<'_>) {
        if !std::mem::replace(&mut self.used.program_name, true) {
            let name = shortened(self.findings.text(line.span.clone()).trim());
            self.note(line.span.clone(), format!("{name} is taken for the name of the program"));
        }
    }

    fn note(&mut self, span: Range<usize>, message: String) {
        self.findings.say(&code::DIALECT_USED, span, || {
            (message, "the machine file allows this; other controls may refuse it".to_owned())
        });
    }

    fn read_line(&mut self, line: &Line<'_>) {
        let (words, settings) = (self.program.words.len(), self.program.settings.len());
        let found = if self.too_long(line) {
            Found { broken: true, slash: line.text[0] == b'/', message: None }
        } else if let Some(found) = self.read_plain(line) {
            found
        } else {
            self.program.words.truncate(words);
            self.read_any(line)
        };
        let (words, settings) = (words..self.program.words.len(), settings..self.program.settings.len());
        let block = self.program.blocks.len();
        if let Some(text) = found.message.clone() {
            self.program.messages.push(Message { block, text });
        }
        if found.broken || !words.is_empty() || !settings.is_empty() || found.message.is_some() {
            let Found { slash, broken, .. } = found;
            let span = line.span.clone();
            self.program.blocks.push(Block { line: line.number, span, words, settings, slash, broken });
        }
    }

    fn too_long(&mut self, line: &Line<'_>) -> bool {
        if line.text.len() <= LONGEST_LINE {
            return false;
        }
        let text = self.findings.text(line.span.clone());
        let Some((past, _)) = text.char_indices().nth(LONGEST_LINE) else { return false };
        let characters = text.chars().count();
        self.findings.say(&code::LINE_LONG, line.part(past..line.text.len()), || {
            (
                format!("the line has {characters} characters, {LONGEST_LINE} are allowed"),
                "split it in two; a control may cut it off in the middle of a number (NISTIR 6556 section 3.3)"
                    .to_owned(),
            )
        });
        true
    }

    /// Reads a line of plain words and comments without blanks inside words; `None` for any other line.
    fn read_plain(&mut self, line: &Line<'_>) -> Option<Found> {
        let mut found = Found::default();
        let (mut rest, start) = head(line.text).ok()?;
        if LINE_NUMBER_DIGITS < start.number_digits {
            return None;
        }
        found.slash = start.slash;
        loop {
            while let [b' ' | b'\t', after @ ..] = rest {
                rest = after;
            }
            let at = line.text.len() - rest.len();
            match rest.first() {
                None => return Some(found),
                Some(b'(') => {
                    let (after, inside) = comment(rest).ok()?;
                    found.message = self.message_span(line, inside);
                    rest = after;
                }
                Some(_) => {
                    let (after, (letter, number)) = plain_word.parse(rest).ok()?;
                    let length = rest.len() - after.len();
                    self.program.words.push(Word {
                        value: Value::Number(number),
                        at: at as u16,
                        length: length as u16,
                        letter,
                    });
                    rest = after;
                }
            }
        }
    }

    /// Where the message of a comment stands in the text; `inside` is part of the line's own bytes.
    fn message_span(&self, line: &Line<'_>, inside: &[u8]) -> Option<Range<usize>> {
        let text = message(inside)?;
        let whole = &self.program.source.text().as_bytes()[line.span.clone()];
        let at = memchr::memmem::find(whole, inside)? + inside.len() - text.len();
        Some(line.part(at..at + text.len()))
    }

    /// Reads any line, with every rule of the grammar, and goes on after a fault where the next word seems to begin.
    fn read_any(&mut self, line: &Line<'_>) -> Found {
        let mut found = Found::default();
        let text = self.without_semicolon_comment(line);
        let cut = text.len() < line.text.len();
        let mut squeezed = std::mem::take(&mut self.squeezed);
        squeezed.fill(text);
        let bytes = squeezed.text();
        let mut at = match head(bytes) {
            Ok((rest, start)) => {
                found.slash = start.slash;
                let at = bytes.len() - rest.len();
                self.check_line_number(line, &squeezed, at - start.number_digits..at, &mut found);
                at
            }
            Err(error) => {
                found.slash = bytes.starts_with(b"/");
                self.slip(line, &squeezed, 0, &error, &mut found)
            }
        };
        while at < bytes.len() {
            match item(&bytes[at..]) {
                Ok((rest, read)) => {
                    let end = bytes.len() - rest.len();
                    let columns = squeezed.columns(at..end);
                    match read {
                        Item::Word(letter, value) => self.push_word(letter, value, &columns),
                        Item::Setting(index, value) => {
                            let span = line.part(columns);
                            self.program.settings.push(Setting { index, value, span });
                        }
                        Item::Comment(inside) => found.message = self.message_span(line, inside),
                    }
                    at = end;
                }
                Err(error) => at = self.slip(line, &squeezed, at, &error, &mut found),
            }
        }
        if cut {
            found.message = None;
        }
        self.squeezed = squeezed;
        found
    }

    fn push_word(&mut self, letter: u8, value: Formula, columns: &Range<usize>) {
        let value = match value {
            Formula::Number(number) => Value::Number(number),
            formula => {
                self.program.formulas.push(formula);
                Value::Formula((self.program.formulas.len() - 1) as u32)
            }
        };
        let (at, length) = (columns.start as u16, columns.len() as u16);
        self.program.words.push(Word { value, at, length, letter });
    }

    /// The part of a line before a semicolon comment, where the dialect has them. They are not noted: a machine file
    /// that allows them has programs full of them, and they change nothing.
    fn without_semicolon_comment<'a>(&self, line: &Line<'a>) -> &'a [u8] {
        if !self.dialect.semicolon_comments {
            return line.text;
        }
        let mut in_comment = false;
        let start = line.text.iter().position(|byte| {
            match byte {
                b'(' => in_comment = true,
                b')' => in_comment = false,
                _ => {}
            }
            *byte == b';' && !in_comment
        });
        let Some(start) = start else { return line.text };
        &line.text[..start]
    }

    fn check_line_number(
        &mut self,
        line: &Line<'_>,
        squeezed: &Squeezed,
        digits: Range<usize>,
        found: &mut Found,
    ) {
        if digits.len() <= LINE_NUMBER_DIGITS {
            return;
        }
        let span = line.part(squeezed.columns(digits.start - 1..digits.end));
        if !self.dialect.long_line_numbers {
            found.broken = true;
            self.say_slip(What::LineNumberBad, span);
        } else if !std::mem::replace(&mut self.used.long_line_numbers, true) {
            let count = digits.len();
            self.note(
                span,
                format!("this line number has {count} digits, the standard has {LINE_NUMBER_DIGITS}"),
            );
        }
    }

    fn say_slip(&mut self, what: What, span: Range<usize>) {
        let message = what.message(self.findings.text(span.clone()));
        self.findings.say(what.code(), span, || (message, what.help().to_owned()));
    }

    /// Tells a fault in the item that starts at `item_at`; the result is where to go on reading.
    fn slip(
        &mut self,
        line: &Line<'_>,
        squeezed: &Squeezed,
        item_at: usize,
        error: &nom::Err<Slip>,
        found: &mut Found,
    ) -> usize {
        let bytes = squeezed.text();
        let slip = match error {
            nom::Err::Error(slip) | nom::Err::Failure(slip) => *slip,
            // The rules read whole lines and never ask for more.
            nom::Err::Incomplete(_) => Slip::at(What::NoRule, &bytes[item_at..]),
        };
        let at = bytes.len() - slip.bytes_left;
        let in_comment = matches!(
            slip.what,
            What::CommentOpen | What::CommentNested | What::CommentCharacter | What::CommentStray
        );
        found.broken |= !in_comment;
        let (span, go_on) = extent(squeezed, slip.what, item_at, at);
        self.say_slip(slip.what, line.part(squeezed.columns(span)));
        go_on
    }
}

/// A line without blanks and tabs at its ends.
fn without_outer_blanks(mut text: &[u8]) -> &[u8] {
    while let [b' ' | b'\t', rest @ ..] | [rest @ .., b' ' | b'\t'] = text {
        text = rest;
    }
    text
}
