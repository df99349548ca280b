//! Printing: results on standard output, everything said about the run on standard error, one JSON document when that
//! was asked for.

use std::cell::Cell;
use std::io::{ErrorKind, IsTerminal, Write};

use anstream::{AutoStream, ColorChoice};

use super::Outcome;
use super::args::{Colour, Manner};
use super::files::FileError;
use crate::finding::{Finding, Severity};
use crate::report;
use crate::report::json::Document;
use crate::units::LengthUnit;

/// Prints in the manner that was asked for.
pub(crate) struct Teller {
    manner: Manner,
    /// Standard output could not be written.
    broken: Cell<bool>,
}

impl Teller {
    pub(crate) fn new(manner: Manner) -> Self {
        Teller { manner, broken: Cell::new(false) }
    }

    /// Whether one JSON document is wanted.
    pub(crate) fn json(&self) -> bool {
        self.manner.json
    }

    /// Whether signs of life are unwanted.
    pub(crate) fn silent(&self) -> bool {
        self.manner.quiet || self.manner.json || !std::io::stderr().is_terminal()
    }

    fn choice(&self) -> ColorChoice {
        match self.manner.color {
            Colour::Auto => ColorChoice::Auto,
            Colour::Always => ColorChoice::Always,
            Colour::Never => ColorChoice::Never,
        }
    }

    /// A result, on standard output. A reader that has gone away (`| head`) is no fault; anything else is.
    pub(crate) fn result(&self, text: &str) {
        let mut out = AutoStream::new(std::io::stdout().lock(), self.choice());
        if let Err(why) = out.write_all(text.as_bytes()).and_then(|()| out.flush())
            && why.kind() != ErrorKind::BrokenPipe
        {
            self.error_line(&format!("stop: standard output cannot be written: {why}"));
            self.broken.set(true);
        }
    }

    /// The outcome of a run whose work ended in `outcome`: a result that did not get out is no result.
    pub(crate) fn outcome(&self, outcome: Outcome) -> Outcome {
        if self.broken.get() { Outcome::System } else { outcome }
    }

    /// A wrong use of the command line that the argument parser cannot see.
    pub(crate) fn usage(&self, words: &str, document: Document) -> Outcome {
        if self.manner.json {
            self.document(&document.with("error", words).findings(&[]));
        } else {
            self.error_line(&format!("stop: {words}"));
        }
        Outcome::Usage
    }

    /// Figures, on standard output, unless `--quiet`, or one document is wanted there.
    pub(crate) fn figures(&self, text: &str) {
        if !self.manner.quiet && !self.manner.json {
            self.result(text);
        }
    }

    /// A remark about the run, on standard error, unless `--quiet`.
    pub(crate) fn remark(&self, text: &str) {
        if !self.manner.quiet && !self.manner.json {
            self.error_line(text);
        }
    }

    /// A remark that `--quiet` keeps too: something was not done.
    pub(crate) fn warning(&self, text: &str) {
        if !self.manner.json {
            self.error_line(text);
        }
    }

    fn error_line(&self, text: &str) {
        let mut err = AutoStream::new(std::io::stderr().lock(), self.choice());
        let _ = writeln!(err, "{text}");
    }

    /// Findings, on standard error; with `--quiet` no notes.
    pub(crate) fn findings(&self, findings: &[Finding], unit: LengthUnit) {
        if self.manner.json {
            return;
        }
        let least = if self.manner.quiet { Severity::Care } else { Severity::Note };
        let shown: Vec<Finding> = findings.iter().filter(|f| f.severity >= least).cloned().collect();
        if !shown.is_empty() {
            self.error_line(&report::findings::render(&shown, unit, true));
            self.error_line("");
        }
    }

    /// The one JSON document.
    pub(crate) fn document(&self, document: &Document) {
        if self.manner.json {
            self.result(&document.text());
        }
    }

    /// A document with what was proved, put together only where a document is wanted: the loads of a long program fill a
    /// long one.
    pub(crate) fn judged(&self, document: Document, finish: impl FnOnce(Document) -> Document) -> Document {
        if self.json() { finish(document) } else { document }
    }

    /// A file that cannot be read or written; the outcome that follows.
    pub(crate) fn file_error(&self, error: &FileError, document: Document) -> Outcome {
        if self.manner.json {
            self.document(&document.with("error", error.to_string()).findings(&[]));
        } else {
            self.error_line(&format!("stop: {error}"));
        }
        error.outcome()
    }
}
