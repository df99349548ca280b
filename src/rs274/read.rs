//! Reads program text into blocks. Each line is read on its own; a fault in one never hides a fault in another. What
//! the words mean is for the interpreter.

use std::ops::Range;
use std::sync::Arc;

use super::allowances::Uses;
use super::extent::{extent, typed_for};
use super::findings::Findings;
use super::formula::Formula;
use super::grammar::{Item, comment, head, item, message, plain_word};
use super::program::{Block, Counts, Program, Setting, Word, Wrapper};
use super::slip::{Slip, What};
use super::squeeze::Squeezed;
use crate::finding::program as code;
use crate::setup::Dialect;
use crate::source::Source;

/// Longest line in characters (NISTIR 6556 section 3.3). It also bounds how deep brackets can nest.
const LONGEST_LINE: usize = 256;

/// Most digits of a line number (NISTIR 6556 section 3.3.1).
const LINE_NUMBER_DIGITS: usize = 5;

/// Blocks that memory is asked for at once: more than the longest programs have, and not so many that asking fails.
const MOST_RESERVED: usize = 4_000_000;

/// Reads a program.
///
/// Never stops at a fault: the result holds every block that could be read and every finding about the writing.
/// What only `dialect` allows is noted once for each allowance, at its first line and with how many lines have it.
pub fn read(source: &Arc<Source>, dialect: Dialect) -> Program {
    let mut reader = Reader::new(source, dialect);
    // Lines past this many are read all the same; it only spares moving what was read.
    reader.program.blocks.reserve(source.line_count().min(MOST_RESERVED));
    while reader.next_line() {}
    reader.finish()
}

/// Reads the lines of a program one after the other, for those who do not want to keep them all.
pub(super) struct Reader<'a> {
    source: &'a Source,
    dialect: Dialect,
    findings: Findings,
    squeezed: Squeezed,
    uses: Uses,
    /// The line to be read next, from 1.
    next: usize,
    /// No line with anything on it was read yet.
    first: bool,
    /// The line before was the opening percent sign alone.
    name_may_follow: bool,
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
    message: Option<(u16, u16)>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(source: &'a Arc<Source>, dialect: Dialect) -> Self {
        Reader {
            source,
            dialect,
            findings: Findings::new(source),
            squeezed: Squeezed::default(),
            uses: Uses::default(),
            next: 1,
            first: true,
            name_may_follow: false,
            program: Program::empty(source),
        }
    }

    /// What was read so far and not forgotten.
    pub(super) fn program(&self) -> &Program {
        &self.program
    }

    /// Forgets the blocks that were read; what was found in them stays.
    pub(super) fn forget_blocks(&mut self) {
        self.program.forget_blocks();
    }

    /// The program with all that was found in its writing.
    pub(super) fn finish(mut self) -> Program {
        self.uses.tell(&mut self.findings);
        self.program.findings = self.findings.into_list();
        self.program
    }

    /// Reads the next line, which may hold a block; false when there is none.
    pub(super) fn next_line(&mut self) -> bool {
        let source = self.source;
        let number = self.next;
        if source.line_count() < number {
            return false;
        }
        self.next += 1;
        let span = source.line_span(number);
        let line = Line { number, text: &source.text().as_bytes()[span.clone()], span };
        let trimmed = without_outer_blanks(line.text);
        if trimmed.is_empty() {
            return true;
        }
        let first = std::mem::replace(&mut self.first, false);
        let name_may_follow = std::mem::replace(&mut self.name_may_follow, false);
        if trimmed[0] == b'%' {
            let named = first && trimmed != b"%" && self.dialect.program_name;
            if named || trimmed == b"%" {
                if named {
                    self.uses.program_name.at(&line.span);
                }
                if self.percent_line(&line, first) {
                    self.note_rest(source, number);
                    self.next = usize::MAX;
                }
                self.name_may_follow = first && !named;
                return true;
            }
            if first {
                self.program.wrapper = Wrapper::Told;
            }
        }
        if name_may_follow && self.dialect.program_name && self.is_name(&line) {
            self.uses.program_name.at(&line.span);
        } else {
            self.read_line(&line);
        }
        true
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

    fn read_line(&mut self, line: &Line<'_>) {
        let first = Counts { words: self.program.words.len(), settings: self.program.settings.len() };
        let found = if self.too_long(line) {
            Found { broken: true, slash: line.text[0] == b'/', message: None }
        } else if let Some(found) = self.read_plain(line) {
            found
        } else {
            self.program.words.truncate(first.words);
            self.read_any(line)
        };
        let count = Counts {
            words: (self.program.words.len() - first.words) as u16,
            settings: (self.program.settings.len() - first.settings) as u16,
        };
        let Found { slash, broken, message } = found;
        if broken || 0 < count.words || 0 < count.settings || message.is_some() {
            let (line, span) = (line.number, line.span.clone());
            self.program.blocks.push(Block { line, span, first, count, message, slash, broken });
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
        let mut at = 0;
        if matches!(line.text.first(), Some(b'/' | b'N' | b'n')) {
            let (rest, start) = head(line.text).ok()?;
            if LINE_NUMBER_DIGITS < start.number_digits {
                return None;
            }
            found.slash = start.slash;
            at = line.text.len() - rest.len();
        }
        while let Some(byte) = line.text.get(at) {
            let rest = &line.text[at..];
            match byte {
                b' ' | b'\t' => at += 1,
                b'(' => {
                    let (after, inside) = comment(rest).ok()?;
                    found.message = message_columns(line.text, inside);
                    at = line.text.len() - after.len();
                }
                _ => {
                    let (letter, number, length) = plain_word(rest)?;
                    self.program.words.push(Word::plain(letter, number, at as u16, length as u16));
                    at += length;
                }
            }
        }
        Some(found)
    }

    /// Reads any line, with every rule of the grammar, and goes on after a fault where the next word seems to begin.
    fn read_any(&mut self, line: &Line<'_>) -> Found {
        let mut found = Found::default();
        let text = self.without_semicolon_comment(line);
        let cut = text.len() < line.text.len();
        let mut squeezed = std::mem::take(&mut self.squeezed);
        squeezed.fill(text);
        let bytes = squeezed.text();
        // Where the item before begins: a fault may be part of it.
        let mut before = 0;
        let mut at = match head(bytes) {
            Ok((rest, start)) => {
                found.slash = start.slash;
                let at = bytes.len() - rest.len();
                self.check_line_number(line, &squeezed, at - start.number_digits..at, &mut found);
                at
            }
            Err(error) => {
                found.slash = bytes.starts_with(b"/");
                self.slip(line, &squeezed, 0..0, &error, &mut found)
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
                        Item::Comment(inside) => found.message = message_columns(line.text, inside),
                    }
                    (before, at) = (at, end);
                }
                Err(error) => {
                    let go_on = self.slip(line, &squeezed, before..at, &error, &mut found);
                    (before, at) = (at, go_on);
                }
            }
        }
        if cut {
            found.message = None;
        }
        self.squeezed = squeezed;
        found
    }

    fn push_word(&mut self, letter: u8, value: Formula, columns: &Range<usize>) {
        let (at, length) = (columns.start as u16, columns.len() as u16);
        let word = match value {
            Formula::Number(number) => Word::plain(letter, number, at, length),
            formula => {
                self.program.formulas.push(formula);
                Word::formula(letter, (self.program.formulas.len() - 1) as u32, at, length)
            }
        };
        self.program.words.push(word);
    }

    /// The part of a line before a semicolon comment, where the dialect has them.
    fn without_semicolon_comment<'l>(&mut self, line: &Line<'l>) -> &'l [u8] {
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
        self.uses.semicolon_comments.at(&line.part(start..line.text.len()));
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
        if self.dialect.long_line_numbers {
            self.uses.long_line_numbers.at(&span);
        } else {
            found.broken = true;
            self.say_slip(What::LineNumberBad, span);
        }
    }

    fn say_slip(&mut self, what: What, span: Range<usize>) {
        let source = self.source;
        self.findings.say(what.code(), span.clone(), || {
            (what.message(source.text().get(span).unwrap_or("")), what.help().to_owned())
        });
    }

    /// Tells a fault in an item; `items` is where the item before it and it itself begin. The result is where to go
    /// on reading.
    fn slip(
        &mut self,
        line: &Line<'_>,
        squeezed: &Squeezed,
        items: Range<usize>,
        error: &nom::Err<Slip>,
        found: &mut Found,
    ) -> usize {
        let bytes = squeezed.text();
        let slip = match error {
            nom::Err::Error(slip) | nom::Err::Failure(slip) => *slip,
            // The rules read whole lines and never ask for more.
            nom::Err::Incomplete(_) => Slip::at(What::NoRule, &bytes[items.end..]),
        };
        let at = bytes.len() - slip.bytes_left;
        let (what, item_at) = typed_for(squeezed, slip.what, items, at);
        let in_comment = matches!(
            what,
            What::CommentOpen | What::CommentNested | What::CommentCharacter | What::CommentStray
        );
        found.broken |= !in_comment;
        let (span, go_on) = extent(squeezed, what, item_at, at);
        self.say_slip(what, line.part(squeezed.columns(span)));
        go_on
    }
}

/// Where the message of a comment stands in its line; `inside` are bytes of the line.
fn message_columns(line: &[u8], inside: &[u8]) -> Option<(u16, u16)> {
    let text = message(inside)?;
    let end = memchr::memmem::find(line, inside)? + inside.len();
    Some(((end - text.len()) as u16, end as u16))
}

/// A line without blanks and tabs at its ends.
fn without_outer_blanks(mut text: &[u8]) -> &[u8] {
    while let [b' ' | b'\t', rest @ ..] | [rest @ .., b' ' | b'\t'] = text {
        text = rest;
    }
    text
}
