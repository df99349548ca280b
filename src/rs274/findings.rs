//! Collects findings without drowning in them: a file that is no program at all must still be answered in bounded
//! time and memory.

use std::ops::Range;
use std::sync::Arc;

use crate::finding::{Code, Finding, program};
use crate::source::{Mark, Source};

/// Findings of one kind that are listed; more are counted. Nobody mends more than this before the next run.
const LISTED_ALIKE: usize = 100;

/// How often a kind was found, and the first place that is not listed.
struct Count {
    code: &'static Code,
    times: usize,
    unlisted: Range<usize>,
}

/// A growing list of findings in one text.
pub(super) struct Findings {
    source: Arc<Source>,
    list: Vec<Finding>,
    counts: Vec<Count>,
}

impl Findings {
    pub(super) fn new(source: &Arc<Source>) -> Self {
        Findings { source: Arc::clone(source), list: Vec::new(), counts: Vec::new() }
    }

    /// Adds a finding at a stretch of the text; `told` gives its sentence and its way out.
    pub(super) fn say(
        &mut self,
        code: &'static Code,
        span: Range<usize>,
        told: impl FnOnce() -> (String, String),
    ) -> Option<&mut Finding> {
        let count = self.count(code);
        count.times += 1;
        if LISTED_ALIKE < count.times {
            if count.times == LISTED_ALIKE + 1 {
                count.unlisted = span;
            }
            return None;
        }
        let (message, help) = told();
        self.list.push(Finding::new(code, message).help(help).at(Mark::new(&self.source, span)));
        self.list.last_mut()
    }

    /// Adds a finding unless one of its kind is there already.
    pub(super) fn say_once(
        &mut self,
        code: &'static Code,
        span: Range<usize>,
        told: impl FnOnce() -> (String, String),
    ) {
        if self.count(code).times == 0 {
            self.say(code, span, told);
        }
    }

    /// A stretch of the text as a mark.
    pub(super) fn mark(&self, span: Range<usize>) -> Mark {
        Mark::new(&self.source, span)
    }

    /// The marked text of a stretch.
    pub(super) fn text(&self, span: Range<usize>) -> &str {
        self.source.text().get(span).unwrap_or("")
    }

    /// The list, with a note for each kind that has more than are listed.
    pub(super) fn into_list(mut self) -> Vec<Finding> {
        for Count { code, times, unlisted } in self.counts {
            if LISTED_ALIKE < times {
                let more = times - LISTED_ALIKE;
                self.list.push(
                    Finding::new(
                        &program::MORE_ALIKE,
                        format!("{more} more findings of the kind {} from here on", code.name),
                    )
                    .help("mend the listed ones first: they often explain the rest")
                    .at(Mark::new(&self.source, unlisted)),
                );
            }
        }
        self.list
    }

    fn count(&mut self, code: &'static Code) -> &mut Count {
        let at = self.counts.iter().position(|count| count.code == code).unwrap_or_else(|| {
            self.counts.push(Count { code, times: 0, unlisted: 0..0 });
            self.counts.len() - 1
        });
        &mut self.counts[at]
    }
}
