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

    /// The words of a block.
    pub(super) fn words_of(&self, block: &Block) -> &[Word] {
        &self.words[block.first.words..][..usize::from(block.count.words)]
    }

    /// The settings of a block.
    pub(super) fn settings_of(&self, block: &Block) -> &[Setting] {
        &self.settings[block.first.settings..][..usize::from(block.count.settings)]
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
    /// Where its part of the words begins, and of the settings.
    pub(super) first: Counts<usize>,
    /// How many it has of each; lines are short, a longer one is not read.
    pub(super) count: Counts<u16>,
    /// What it shows the operator, as bytes of the line.
    pub(super) message: Option<(u16, u16)>,
    /// It begins with a slash.
    pub(super) slash: bool,
    /// Part of it could not be read.
    pub(super) broken: bool,
}

/// A number for the words and one for the settings.
#[derive(Clone, Copy, Debug)]
pub(super) struct Counts<T> {
    pub(super) words: T,
    pub(super) settings: T,
}

impl Block {
    /// What it shows the operator, as bytes of the text.
    pub(super) fn message_span(&self) -> Option<Range<usize>> {
        let (from, to) = self.message?;
        Some(self.span.start + usize::from(from)..self.span.start + usize::from(to))
    }
}

/// A letter and its value. Programs have millions, so it is kept small.
#[derive(Clone, Copy, Debug)]
pub(super) struct Word {
    /// The number, or the index of a formula as its bits.
    number: f64,
    /// Where it stands in its line; lines are short, a longer one is not read.
    pub(super) at: u16,
    /// Bytes it takes.
    pub(super) length: u16,
    /// In capitals.
    pub(super) letter: u8,
    is_formula: bool,
}

impl Word {
    /// A word whose value is a plain number.
    pub(super) fn plain(letter: u8, number: f64, at: u16, length: u16) -> Self {
        Word { number, at, length, letter, is_formula: false }
    }

    /// A word whose value is a formula of the program.
    pub(super) fn formula(letter: u8, index: u32, at: u16, length: u16) -> Self {
        Word { number: f64::from_bits(u64::from(index)), at, length, letter, is_formula: true }
    }

    /// Its value.
    pub(super) fn value(&self) -> Value {
        if self.is_formula {
            Value::Formula(self.number.to_bits() as u32)
        } else {
            Value::Number(self.number)
        }
    }
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
