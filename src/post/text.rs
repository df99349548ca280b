//! Lines of a program as a machine wants them: comment marks, line numbers, line length, the percent wrapper. Knows
//! nothing of what the lines do.

use crate::setup::{CommentStyle, Habits, TextStyle};

/// Largest line number: five digits (NISTIR 6556 section 3.3.1). Numbers may repeat, so counting starts over.
const LAST_LINE_NUMBER: u32 = 99_999;

/// A program being written.
pub(super) struct Text {
    style: TextStyle,
    name: Option<String>,
    small_letters: bool,
    no_blanks: bool,
    lines: String,
    number: u32,
}

impl Text {
    pub(super) fn new(style: TextStyle) -> Self {
        Text::with_habits(style, &Habits::default())
    }

    pub(super) fn with_habits(style: TextStyle, habits: &Habits) -> Self {
        Text {
            style,
            name: habits.name.clone(),
            small_letters: habits.small_letters,
            no_blanks: habits.no_blanks,
            lines: String::new(),
            number: 0,
        }
    }

    /// The name behind the opening percent line, if the machine wants one.
    pub(super) fn name(&mut self) {
        if let Some(name) = self.name.clone() {
            self.line(&name);
        }
    }

    /// A percent line, if the machine wants its programs between two of them.
    pub(super) fn wrapper(&mut self) {
        if self.style.percent {
            self.line("%");
        }
    }

    /// Words, in one line. A line that would be too long for the machine goes without its number and then without
    /// blanks, which mean nothing (NISTIR 6556 section 3.3); it is never broken, because half a move is another move.
    pub(super) fn code(&mut self, words: &str) {
        let mut line = words.to_owned();
        if let Some(step) = self.style.line_numbers {
            self.number = match self.number.saturating_add(step) {
                next if next > LAST_LINE_NUMBER => step.min(LAST_LINE_NUMBER),
                next => next,
            };
            let numbered = format!("N{} {words}", self.number);
            if numbered.len() <= self.style.line_length {
                line = numbered;
            }
        }
        if self.no_blanks || line.len() > self.style.line_length {
            line.retain(|c| c != ' ');
        }
        if self.small_letters {
            line.make_ascii_lowercase();
        }
        self.line(&line);
    }

    /// A comment, in as many lines as it takes; nothing when the machine takes none.
    pub(super) fn comment(&mut self, words: &str) {
        let (open, close) = match self.style.comments {
            CommentStyle::Parentheses => ("(", ")"),
            CommentStyle::Semicolon => ("; ", ""),
            CommentStyle::None => return,
        };
        let room = self.style.line_length.saturating_sub(open.len() + close.len()).max(1);
        for piece in wrapped(&plain(words), room) {
            self.line(&format!("{open}{piece}{close}"));
        }
    }

    /// Lines written so far.
    pub(super) fn line_count(&self) -> usize {
        self.lines.matches('\n').count()
    }

    /// The program.
    pub(super) fn finish(self) -> String {
        self.lines
    }

    fn line(&mut self, line: &str) {
        self.lines.push_str(line);
        self.lines.push('\n');
    }
}

/// Words that may stand in a comment: printable ASCII without the characters that end or begin one, or that a reader
/// may take for the end of the program.
fn plain(words: &str) -> String {
    words
        .chars()
        .map(|c| match c {
            '(' | ')' | ';' | '%' => ' ',
            ' '..='~' => c,
            _ if c.is_whitespace() || c.is_control() => ' ',
            _ => '?',
        })
        .collect()
}

/// Breaks ASCII words into lines of at most `room` characters, between words where it can.
fn wrapped(words: &str, room: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        if !line.is_empty() && line.len() + 1 + word.len() > room {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
        while line.len() > room {
            let rest = line.split_off(room);
            lines.push(std::mem::replace(&mut line, rest));
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::{DwellUnit, EndWord};
    use crate::units::LengthUnit;

    fn style() -> TextStyle {
        TextStyle {
            unit: LengthUnit::Mm,
            decimals: 4,
            line_length: 40,
            comments: CommentStyle::Parentheses,
            line_numbers: None,
            percent: false,
            end: EndWord::M2,
            dwell: DwellUnit::Seconds,
        }
    }

    #[test]
    fn comments_are_wrapped_and_harmless() {
        let mut text = Text::new(style());
        text.comment("job: presse (gro\u{df}) 100 % beech; see the \n sheet that hangs beside the machine");
        let text = text.finish();
        assert!(text.lines().all(|line| line.len() <= 40), "{text}");
        let inside = text.lines().all(|line| {
            line.starts_with('(')
                && line.ends_with(')')
                && !line[1..line.len() - 1].contains(['(', ')', ';', '%'])
        });
        assert!(inside && text.is_ascii(), "{text}");
        assert!(text.starts_with("(job: presse gro? 100 beech see the)\n"), "{text}");
    }

    #[test]
    fn a_word_longer_than_the_line_is_broken_and_none_is_lost() {
        let word = "x".repeat(95);
        let mut text = Text::new(style());
        text.comment(&word);
        let kept: usize = text.finish().matches('x').count();
        assert_eq!(kept, 95);
    }

    #[test]
    fn no_comments_means_none() {
        let mut text = Text::new(TextStyle { comments: CommentStyle::None, ..style() });
        text.comment("anything");
        assert_eq!(text.finish(), "");
    }

    #[test]
    fn line_numbers_start_over_before_six_digits() {
        let mut text = Text::new(TextStyle { line_numbers: Some(40_000), ..style() });
        (0..4).for_each(|_| text.code("M0"));
        assert_eq!(text.finish(), "N40000 M0\nN80000 M0\nN40000 M0\nN80000 M0\n");
    }

    #[test]
    fn a_long_line_goes_without_blanks_and_stays_whole() {
        let mut text = Text::new(TextStyle { line_numbers: Some(10), ..style() });
        text.code("G1 X-123.4567 Z-12.3456 A12345.6789 F123.4");
        assert_eq!(text.finish(), "G1X-123.4567Z-12.3456A12345.6789F123.4\n");
    }
}
