//! Takes the blanks out of a line, outside comments only, and remembers where every byte stood. In RS-274 a blank
//! means nothing, even inside a number: `X1 2` is X12 and `G1 0` is G10 (NISTIR 6556 section 3.3).

use std::ops::Range;

/// A line without blanks, in capitals, and the way back to its columns. Keeps its memory from line to line.
#[derive(Default)]
pub(super) struct Squeezed {
    text: Vec<u8>,
    columns: Vec<usize>,
}

impl Squeezed {
    /// Squeezes a line. What stands in parentheses stays as it is, an unclosed comment to the end of the line.
    pub(super) fn fill(&mut self, line: &[u8]) {
        self.text.clear();
        self.columns.clear();
        let mut in_comment = false;
        for (column, &byte) in line.iter().enumerate() {
            match byte {
                b'(' => in_comment = true,
                b')' => in_comment = false,
                b' ' | b'\t' if !in_comment => continue,
                _ => {}
            }
            self.text.push(if in_comment { byte } else { byte.to_ascii_uppercase() });
            self.columns.push(column);
        }
    }

    /// The squeezed bytes.
    pub(super) fn text(&self) -> &[u8] {
        &self.text
    }

    /// Where a stretch of the squeezed bytes stood in the line.
    pub(super) fn columns(&self, span: Range<usize>) -> Range<usize> {
        let past = self.columns.last().map_or(0, |last| last + 1);
        let start = self.columns.get(span.start).copied().unwrap_or(past);
        let end =
            span.end.checked_sub(1).and_then(|last| self.columns.get(last)).map_or(past, |last| last + 1);
        start..end.max(start)
    }

    /// Whether a blank stood before this byte: most likely the place where its writer began something new.
    pub(super) fn blank_before(&self, at: usize) -> bool {
        match at.checked_sub(1).and_then(|before| self.columns.get(before)) {
            Some(before) => self.columns.get(at).is_some_and(|here| before + 1 < *here),
            None => true,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_go_and_columns_stay() {
        let mut line = Squeezed::default();
        line.fill(b"g 0\tx - 1 2 (a b) y3");
        assert_eq!(line.text(), b"G0X-12(a b)Y3");
        assert_eq!(line.columns(2..6), 4..11);
        assert_eq!(line.columns(11..13), 18..20);
        assert_eq!(line.columns(13..14), 20..20);
        assert!(line.blank_before(2) && !line.blank_before(7) && line.blank_before(0));
    }
}
