//! A program as its text says it, line by line: words, settings and messages with their places. Nothing is worked
//! out here.

use std::ops::Range;
use std::sync::Arc;

use super::formula::Formula;
use crate::finding::Finding;
use crate::source::Source;

/// A program that was read: its blocks and what was wrong with their writing.
#[derive(Debug)]
pub struct Program {
    pub(super) source: Arc<Source>,
    pub(super) blocks: Vec<Block>,
    pub(super) words: Vec<Word>,
    pub(super) formulas: Vec<Formula>,
    pub(super) settings: Vec<Setting>,
    pub(super) findings: Vec<Finding>,
    pub(super) wrapper: Wrapper,
}

impl Program {
    /// A program of which nothing was read yet.
    pub(super) fn empty(source: &Arc<Source>) -> Self {
        Program {
            source: Arc::clone(source),
            blocks: Vec::new(),
            words: Vec::new(),
            formulas: Vec::new(),
            settings: Vec::new(),
            findings: Vec::new(),
            wrapper: Wrapper::None,
        }
    }

    /// Lets go of the blocks and keeps their memory for the next ones.
    pub(super) fn forget_blocks(&mut self) {
        self.blocks.clear();
        self.words.clear();
        self.formulas.clear();
        self.settings.clear();
    }

    /// What was wrong with the writing.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Number of lines that hold words, settings or messages, or that could not be read.
    pub fn block_count(&self) -> usize {
        self.blocks.len()
    }
}

/// One line with something to do.
#[derive(Debug)]
pub(super) struct Block {
    /// Line, from 1.
    pub(super) line: usize,
    /// Its bytes in the text, without the line end.
    pub(super) span: Range<usize>,
    /// Its part of the words.
    pub(super) words: Range<usize>,
    /// Its part of the settings.
    pub(super) settings: Range<usize>,
    /// What it shows the operator, as bytes in the text.
    pub(super) message: Option<Range<usize>>,
    /// It begins with a slash.
    pub(super) slash: bool,
    /// Part of it could not be read.
    pub(super) broken: bool,
}

/// A letter and its value.
#[derive(Clone, Copy, Debug)]
pub(super) struct Word {
    pub(super) value: Value,
    /// Where it stands in its line; lines are short, a longer one is not read.
    pub(super) at: u16,
    /// Bytes it takes.
    pub(super) length: u16,
    /// In capitals.
    pub(super) letter: u8,
}

/// The value of a word.
#[derive(Clone, Copy, Debug)]
pub(super) enum Value {
    /// A plain number.
    Number(f64),
    /// Index of a formula of the program.
    Formula(u32),
}

/// The setting of a parameter.
#[derive(Debug)]
pub(super) struct Setting {
    pub(super) index: Formula,
    pub(super) value: Formula,
    /// Its bytes in the text.
    pub(super) span: Range<usize>,
}

/// The percent lines round a program (NISTIR 6556 section 3.1).
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Wrapper {
    /// There are none.
    None,
    /// Both are there.
    Closed,
    /// The closing one is missing; where the opening one stands.
    Open(Range<usize>),
    /// Something is wrong with them, which was told.
    Told,
}
