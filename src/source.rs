//! A text somebody wrote, with its name, so that anything found in it can be shown at its line and column.
//! Knows nothing of what the text means and never opens a file itself.

use std::ops::Range;
use std::sync::Arc;

/// A file's text and name. Cheap to share: keep it in an [`Arc`].
#[derive(Debug)]
pub struct Source {
    name: String,
    text: String,
    line_starts: Vec<usize>,
}

impl Source {
    /// Takes a name to show (usually the path as the user typed it) and the text.
    ///
    /// Lines end at LF, at CR LF or at a lone CR, as RS-274 allows (NISTIR 6556 section 3.3).
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Self> {
        let text = text.into();
        let bytes = text.as_bytes();
        let mut line_starts = vec![0];
        for at in memchr::memchr2_iter(b'\n', b'\r', bytes) {
            let crlf_follows = bytes[at] == b'\r' && bytes.get(at + 1) == Some(&b'\n');
            if !crlf_follows {
                line_starts.push(at + 1);
            }
        }
        Arc::new(Source { name: name.into(), text, line_starts })
    }

    /// The name to show.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Number of lines; a last line without line end counts, an empty rest after the last line end does not.
    pub fn line_count(&self) -> usize {
        match self.line_starts.last() {
            Some(&start) if start == self.text.len() => self.line_starts.len() - 1,
            _ => self.line_starts.len(),
        }
    }

    /// Line and column of a byte offset, both counted from 1; the column counts characters, not bytes.
    /// An offset past the end answers for the end.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let offset = offset.min(self.text.len());
        let line = self.line_starts.partition_point(|&start| start <= offset);
        let start = self.line_starts[line - 1];
        let column = self.text.get(start..offset).map_or(offset - start, |head| head.chars().count());
        (line, column + 1)
    }

    /// Byte range of a line counted from 1, without its line end; empty past the last line.
    pub fn line_span(&self, line: usize) -> Range<usize> {
        let Some(&start) = line.checked_sub(1).and_then(|index| self.line_starts.get(index)) else {
            return self.text.len()..self.text.len();
        };
        let bytes = self.text.as_bytes();
        let mut end = self.line_starts.get(line).copied().unwrap_or(bytes.len());
        while start < end && matches!(bytes[end - 1], b'\n' | b'\r') {
            end -= 1;
        }
        start..end
    }
}

/// A stretch of a source: what a finding points at.
#[derive(Clone, Debug)]
pub struct Mark {
    /// The text the stretch lies in.
    pub source: Arc<Source>,
    /// Byte offsets, start and end.
    pub span: Range<usize>,
}

impl Mark {
    /// A stretch of `source` by byte offsets.
    pub fn new(source: &Arc<Source>, span: Range<usize>) -> Self {
        Mark { source: Arc::clone(source), span }
    }

    /// A whole line, counted from 1.
    pub fn line(source: &Arc<Source>, line: usize) -> Self {
        Mark::new(source, source.line_span(line))
    }

    /// The marked text.
    pub fn text(&self) -> &str {
        self.source.text().get(self.span.clone()).unwrap_or("")
    }

    /// Line and column where the stretch starts, both from 1.
    pub fn line_column(&self) -> (usize, usize) {
        self.source.line_column(self.span.start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_at_lf_crlf_and_cr() {
        let source = Source::new("t", "a\r\nbc\rd\n");
        assert_eq!(source.line_count(), 3);
        assert_eq!(source.line_column(3), (2, 1));
        assert_eq!(source.line_column(4), (2, 2));
        assert_eq!(source.line_column(6), (3, 1));
        assert_eq!(&source.text()[source.line_span(2)], "bc");
        assert_eq!(source.line_span(9), 8..8);
    }

    #[test]
    fn columns_count_characters() {
        let source = Source::new("t", "å b");
        assert_eq!(source.line_column(3), (1, 3));
    }
}
