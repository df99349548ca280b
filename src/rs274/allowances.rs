//! What a program uses of the habits outside the standard that a machine file can allow: one note for each, at the
//! first line that has it.

use std::ops::Range;

use super::findings::Findings;
use super::slip::shortened;
use crate::finding::program as code;

/// How often an allowance was used, and where first.
#[derive(Default)]
pub(super) struct Use {
    lines: usize,
    first: Range<usize>,
}

impl Use {
    /// Counts a line that needs the allowance at this stretch of the text.
    pub(super) fn at(&mut self, span: &Range<usize>) {
        if self.lines == 0 {
            self.first = span.clone();
        }
        self.lines += 1;
    }
}

/// The uses of each allowance.
#[derive(Default)]
pub(super) struct Uses {
    pub(super) semicolon_comments: Use,
    pub(super) long_line_numbers: Use,
    pub(super) program_name: Use,
}

impl Uses {
    /// Tells each allowance that was used, once.
    pub(super) fn tell(&self, findings: &mut Findings) {
        tell(findings, &self.semicolon_comments, "semicolon_comments", |_, lines| {
            format!("comments begin with a semicolon {lines}: the standard puts them in parentheses")
        });
        tell(findings, &self.long_line_numbers, "long_line_numbers", |_, lines| {
            format!("line numbers have more than five digits {lines}: the standard has five at most")
        });
        tell(findings, &self.program_name, "program_name", |name, _| {
            format!("{name} is taken for the name of the program, which the standard does not have")
        });
    }
}

fn tell(findings: &mut Findings, used: &Use, switch: &str, words: impl FnOnce(&str, &str) -> String) {
    if used.lines == 0 {
        return;
    }
    let shown = shortened(findings.text(used.first.clone()).trim());
    let lines = match used.lines {
        1 => "in one line".to_owned(),
        more => format!("in {more} lines, here first"),
    };
    findings.say(&code::DIALECT_USED, used.first.clone(), || {
        (
            words(&shown, &lines),
            format!("this machine takes it (`{switch}` in its file); another control may not"),
        )
    });
}
