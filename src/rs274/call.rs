//! One line with its values worked out: which codes it calls, which words it gives them. Repeats and values that no
//! state can make right are found here.

use std::ops::Range;

use super::codes::{G_GROUPS, GGroup, M_GROUPS, MGroup, Number, g_code, m_code};
use super::findings::Findings;
use super::formula::{Trouble, parameter_index, whole};
use super::parameters::Parameters;
use super::program::{Block, Program, Value};
use crate::finding::program as code;

/// Highest number of a tool, tool length or cutter radius. Common practice, no source; the standard leaves it to the
/// machine.
const LAST_SLOT: f64 = 999.0;

/// Most M words in a line (NISTIR 6556 section 3.3.5).
const MOST_M_WORDS: usize = 4;

/// A value and where it stands in the text.
#[derive(Clone, Debug)]
pub(super) struct Given<T> {
    pub(super) value: T,
    pub(super) span: Range<usize>,
}

/// What one line asks for.
pub(super) struct Call {
    pub(super) line: usize,
    pub(super) span: Range<usize>,
    g: [Option<Given<Number>>; G_GROUPS],
    m: [Option<Given<Number>>; M_GROUPS],
    words: [Option<Given<f64>>; 26],
    /// Where the machine stands, or how it reads the next lines, is not known after this line.
    pub(super) unsure: bool,
    /// It has an F word of no use, which was told.
    pub(super) feed_wrong: bool,
    /// It has an H or D word of no use, which was told.
    pub(super) slot_wrong: bool,
}

/// G70 and G71 of the EIA list as the G20 and G21 that the standard has for them.
fn plain_units(value: f64) -> f64 {
    match value {
        70.0 => 20.0,
        71.0 => 21.0,
        other => other,
    }
}

impl Call {
    /// Works out the values of a block, with the parameters as they were before it (NISTIR 6556 section 3.3.3), and
    /// then sets the parameters that it sets.
    pub(super) fn gather(
        program: &Program,
        block: &Block,
        g70: bool,
        parameters: &mut Parameters,
        findings: &mut Findings,
    ) -> Self {
        let mut call = Call {
            line: block.line,
            span: block.span.clone(),
            g: [const { None }; G_GROUPS],
            m: [const { None }; M_GROUPS],
            words: [const { None }; 26],
            unsure: block.broken,
            feed_wrong: false,
            slot_wrong: false,
        };
        let settings = call.settings(program, block, parameters, findings);
        let mut m_words = 0;
        for word in program.words_of(block) {
            let at = block.span.start + usize::from(word.at);
            let span = at..at + usize::from(word.length);
            let value = match word.value() {
                Value::Number(number) => number,
                Value::Formula(index) => match program.formulas[index as usize].value(parameters) {
                    Ok(value) => value,
                    Err(trouble) => {
                        call.trouble(&trouble, span, findings);
                        continue;
                    }
                },
            };
            match word.letter {
                b'G' => call.take_g(if g70 { plain_units(value) } else { value }, span, findings),
                b'M' => {
                    m_words += 1;
                    call.take_m(value, span, findings);
                }
                letter => call.take_word(letter, value, span, findings),
            }
        }
        if MOST_M_WORDS < m_words {
            findings.say(&code::M_WORDS_MANY, block.span.clone(), || {
                (
                    format!("the line has {m_words} M words, {MOST_M_WORDS} are allowed"),
                    "move some to a line of their own (NISTIR 6556 section 3.3.5)".to_owned(),
                )
            });
        }
        // A line that cannot be worked out changes nothing.
        if call.unsure {
            parameters.in_doubt = true;
        } else {
            for (index, value) in settings {
                parameters.set(index, value);
            }
        }
        call
    }

    /// The code of a group, if the line has one.
    pub(super) fn g(&self, group: GGroup) -> Option<Number> {
        self.g[group as usize].as_ref().map(|given| given.value)
    }

    /// The code of a group of M codes, if the line has one.
    pub(super) fn m(&self, group: MGroup) -> Option<Number> {
        self.m[group as usize].as_ref().map(|given| given.value)
    }

    /// Where the code of a group stands; the line where it has none.
    pub(super) fn g_span(&self, group: GGroup) -> Range<usize> {
        self.g[group as usize].as_ref().map_or(self.span.clone(), |given| given.span.clone())
    }

    /// The value of a letter, if the line has it.
    pub(super) fn word(&self, letter: u8) -> Option<f64> {
        self.given(letter).map(|given| given.value)
    }

    /// Value and place of a letter, if the line has it.
    pub(super) fn given(&self, letter: u8) -> Option<&Given<f64>> {
        self.words[usize::from(letter - b'A')].as_ref()
    }

    /// Whether the line has words of axes.
    pub(super) fn has_axes(&self) -> bool {
        b"XYZABC".iter().any(|letter| self.given(*letter).is_some())
    }

    /// The first axis word, if there is one.
    pub(super) fn first_axis(&self) -> Option<&Given<f64>> {
        b"XYZABC".iter().filter_map(|letter| self.given(*letter)).min_by_key(|given| given.span.start)
    }

    fn settings(
        &mut self,
        program: &Program,
        block: &Block,
        parameters: &Parameters,
        findings: &mut Findings,
    ) -> Vec<(usize, f64)> {
        let mut worked_out = Vec::new();
        for setting in program.settings_of(block) {
            let index = setting.index.value(parameters).and_then(parameter_index);
            match index.and_then(|index| Ok((index, setting.value.value(parameters)?))) {
                Ok(both) => worked_out.push(both),
                Err(trouble) => self.trouble(&trouble, setting.span.clone(), findings),
            }
        }
        worked_out
    }

    fn trouble(&mut self, trouble: &Trouble, span: Range<usize>, findings: &mut Findings) {
        self.unsure = true;
        match trouble {
            Trouble::Told => None,
            Trouble::Index(index) => findings.say(&code::PARAMETER_BAD, span, || {
                (
                    format!("there is no parameter {index}"),
                    "parameters have whole numbers from 1 to 5399 (NISTIR 6556 section 3.3.2.2)".to_owned(),
                )
            }),
            Trouble::Unset(index) => findings.say(&code::PARAMETER_UNSET, span, || {
                (
                    format!("parameter #{index} is used before the program sets it"),
                    format!(
                        "set it first, such as #{index}=12.5: otherwise it holds what the last program left"
                    ),
                )
            }),
            Trouble::NoAnswer(sum) => findings.say(&code::VALUE_IMPOSSIBLE, span, || {
                (format!("{sum} has no answer"), "change the values that it is worked out from".to_owned())
            }),
        };
    }

    fn take_g(&mut self, value: f64, span: Range<usize>, findings: &mut Findings) {
        let Some((number, group)) = g_code(value) else {
            self.unsure = true;
            findings.say(&code::CODE_UNKNOWN, span, || {
                let help = match value {
                    _ if value == 70.0 => "inches are G20 (NISTIR 6556 table 5)",
                    _ if value == 71.0 => "millimetres are G21 (NISTIR 6556 table 5)",
                    _ if value == 95.0 => "feed per turn is not in the standard; use G93 or G94",
                    _ => "write the move with codes that the standard has (NISTIR 6556 table 5)",
                };
                (format!("the standard has no G{value}"), help.to_owned())
            });
            return;
        };
        let slot = &mut self.g[group as usize];
        if let Some(first) = slot {
            self.unsure = true;
            twice(findings, first, span, group.choice());
        } else {
            *slot = Some(Given { value: number, span });
        }
    }

    fn take_m(&mut self, value: f64, span: Range<usize>, findings: &mut Findings) {
        let Some((number, group)) = m_code(value) else {
            // It may call a subprogram, for all that is known.
            self.unsure = true;
            findings.say(&code::CODE_UNKNOWN, span, || {
                (
                    format!("the standard has no M{value}"),
                    "it has M0 to M9, M30, M48, M49 and M60 (NISTIR 6556 table 7)".to_owned(),
                )
            });
            return;
        };
        let slot = &mut self.m[group as usize];
        if let Some(first) = slot {
            twice(findings, first, span, group.choice());
        } else {
            *slot = Some(Given { value: number, span });
        }
    }

    fn take_word(&mut self, letter: u8, value: f64, span: Range<usize>, findings: &mut Findings) {
        let slot = &mut self.words[usize::from(letter - b'A')];
        let name = char::from(letter);
        if let Some(first) = slot {
            // A second F, S or T leaves the place of the axes known.
            self.unsure |= !matches!(letter, b'F' | b'S' | b'T');
            let first = findings.mark(first.span.clone());
            let finding = findings.say(&code::WORD_TWICE, span, || {
                (
                    format!("{name} is given twice in one line"),
                    format!("keep one {name} word, or split the line in two (NISTIR 6556 section 3.3.5)"),
                )
            });
            if let Some(finding) = finding {
                finding.also.push((first, format!("the first {name} word")));
            }
            return;
        }
        *slot = Some(Given { value, span: span.clone() });
        let wanted = match letter {
            b'F' if value < 0.0 => "zero or more (NISTIR 6556 section 4.3.5.1)",
            b'S' if value < 0.0 => "zero or more (NISTIR 6556 section 3.7.2)",
            b'T' if !is_slot(value) => {
                "a whole number from 0 to 999 (NISTIR 6556 section 3.7.3; 999 is ours)"
            }
            b'H' if !is_slot(value) => {
                "a whole number from 0 to 999 (NISTIR 6556 section 3.5.11; 999 is ours)"
            }
            b'D' if !is_slot(value) => {
                "a whole number from 0 to 999 (NISTIR 6556 section 3.5.10; 999 is ours)"
            }
            _ => return,
        };
        out_of_range(findings, letter, value, span, wanted);
        self.words[usize::from(letter - b'A')] = None;
        self.feed_wrong |= letter == b'F';
        self.slot_wrong |= matches!(letter, b'H' | b'D');
    }
}

fn is_slot(value: f64) -> bool {
    whole(value).is_some_and(|slot| (0.0..=LAST_SLOT).contains(&slot))
}

/// Tells a value outside what its letter may have.
pub(super) fn out_of_range(
    findings: &mut Findings,
    letter: u8,
    value: f64,
    span: Range<usize>,
    wanted: &str,
) {
    let name = char::from(letter);
    findings.say(&code::WORD_OUT_OF_RANGE, span, || {
        (format!("{name}{value} is out of range"), format!("{name} is {wanted}"))
    });
}

fn twice(findings: &mut Findings, first: &Given<Number>, span: Range<usize>, choice: &str) {
    let (one, other) = (findings.text(first.span.clone()).to_owned(), findings.text(span.clone()).to_owned());
    let first = findings.mark(first.span.clone());
    let finding = findings.say(&code::GROUP_TWICE, span, || {
        (
            format!("{one} and {other} stand in one line and both choose {choice}"),
            "keep one of them, or put them on lines of their own (NISTIR 6556 section 3.3.5 and table 4)"
                .to_owned(),
        )
    });
    if let Some(finding) = finding {
        finding.also.push((first, format!("{one} stands here")));
    }
}
