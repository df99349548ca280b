//! `new`: a starter job. On a terminal it asks for what no option told; elsewhere it asks nothing.

use std::io::IsTerminal;

use dialoguer::theme::SimpleTheme;
use dialoguer::{Error, Input};

use super::args::{New, Units};
use super::files::Written;
use super::tell::Teller;
use super::{Outcome, files};
use crate::drawing::Hand;
use crate::job::{Starter, length_mm, starter};
use crate::report::json::Document;
use crate::units::LengthUnit;
use crate::wood;

/// Writes the starter job.
pub(crate) fn run(new: &New, teller: &Teller) -> Outcome {
    let document = Document::new("new").with("job", files::shown(&new.file, files::STANDARD_OUTPUT));
    // A question must be seen and its answer typed.
    let ask =
        !new.unasked && !teller.silent() && std::io::stdin().is_terminal() && !files::is_dash(&new.file);
    let answers = match answers(new, ask) {
        Ok(answers) => answers,
        Err(Refusal::Wrong(words)) => return teller.usage(&words, document),
        Err(Refusal::Terminal(why)) => {
            teller.warning(&format!("stop: the questions were broken off ({why}); nothing was written"));
            return Outcome::System;
        }
    };
    // Files that the job would name have to be there, or it could not be read.
    let beside = new.file.parent().unwrap_or(std::path::Path::new(""));
    let named = [&answers.machine, &answers.cutter].into_iter().flatten();
    for path in named.filter(|_| !files::is_dash(&new.file)) {
        if let Err(error) = files::read(&beside.join(path)) {
            return teller.file_error(&error, document);
        }
    }
    let text = starter(&answers);
    if files::is_dash(&new.file) {
        if teller.json() {
            teller.document(&document.with("written", false).with("text", text).findings(&[]));
        } else {
            teller.result(&text);
        }
        return Outcome::Done;
    }
    match files::write(&new.file, &text, new.replace) {
        Ok(Written::New) => {
            teller.remark(&format!(
                "wrote {0}: put the numbers of your cutter and machine in, then try `threadwright size {0}`",
                new.file.display()
            ));
        }
        Ok(Written::Same) => teller.remark(&format!("{} was up to date", new.file.display())),
        Err(error) => return teller.file_error(&error, document),
    }
    teller.document(&document.with("written", true).findings(&[]));
    Outcome::Done
}

/// Why there are no answers.
enum Refusal {
    /// An option says what cannot be.
    Wrong(String),
    /// The terminal gave no answer.
    Terminal(String),
}

/// One question: what is asked, the option that answers it, and what is taken when nothing is said.
struct Question<'a> {
    words: &'a str,
    option: &'static str,
    told: Option<&'a str>,
    usual: &'a str,
}

impl Question<'_> {
    /// The answer, read by `read`, which says what would be right; asked for where `ask` and no option tells it.
    fn answer<T>(&self, ask: bool, read: impl Fn(&str) -> Result<T, String>) -> Result<T, Refusal> {
        if let Some(told) = self.told {
            return read(told).map_err(|why| Refusal::Wrong(format!("{} {told}: {why}", self.option)));
        }
        let line = if ask {
            Input::with_theme(&SimpleTheme)
                .with_prompt(self.words)
                .default(self.usual.to_owned())
                .validate_with(|line: &String| read(line).map(drop))
                .interact_text()
                .map_err(|Error::IO(why)| Refusal::Terminal(why.to_string()))?
        } else {
            self.usual.to_owned()
        };
        read(&line).map_err(Refusal::Wrong)
    }
}

fn answers(new: &New, ask: bool) -> Result<Starter, Refusal> {
    let usual = Starter::default();
    let units = new.units.map(|units| if units == Units::Mm { "mm" } else { "inch" });
    let unit = Question { words: "Units, mm or inch", option: "--units", told: units, usual: "mm" }
        .answer(ask, unit_of)?;
    let wood = Question {
        words: "Wood of the screw",
        option: "--wood",
        told: new.wood.as_deref(),
        usual: &usual.wood,
    }
    .answer(ask, known_wood)?;
    let [diameter, length] = if unit == LengthUnit::Mm { ["50", "250"] } else { ["2", "10"] };
    let crest_diameter_mm = Question {
        words: "Diameter over the crests",
        option: "--diameter",
        told: new.diameter.as_deref(),
        usual: diameter,
    }
    .answer(ask, |text| between(text, unit, DIAMETERS_MM))?;
    let thread_length_mm = Question {
        words: "Length of the full thread",
        option: "--length",
        told: new.length.as_deref(),
        usual: length,
    }
    .answer(ask, |text| between(text, unit, LENGTHS_MM))?;
    let starts = Question {
        words: "Starts: threads side by side, for more travel in a turn",
        option: "--starts",
        told: new.starts.as_deref(),
        usual: "1",
    }
    .answer(ask, starts_of)?;
    let pitch_mm = pitch_of(new, unit, starts)?;
    let hand = Question {
        words: "Hand, right or left",
        option: "--hand",
        told: new.hand.as_deref(),
        usual: "right",
    }
    .answer(ask, hand_of)?;
    Ok(Starter {
        unit,
        wood,
        crest_diameter_mm: Some(crest_diameter_mm),
        pitch_mm,
        thread_length_mm: Some(thread_length_mm),
        starts,
        hand,
        machine: new.machine.clone(),
        cutter: new.cutter.clone(),
        ..usual
    })
}

/// Crest diameters that a starter is made for, mm; the job file itself takes more.
const DIAMETERS_MM: [f64; 2] = [12.0, 150.0];
/// Pitches that a starter is made for, mm.
const PITCHES_MM: [f64; 2] = [3.0, 50.0];
/// Lengths of thread that a starter is made for, mm.
const LENGTHS_MM: [f64; 2] = [40.0, 1500.0];
/// Starts that a starter is made for.
const STARTS: std::ops::RangeInclusive<u32> = 1..=12;

fn unit_of(text: &str) -> Result<LengthUnit, String> {
    match text.trim().to_lowercase().as_str() {
        "mm" => Ok(LengthUnit::Mm),
        "inch" | "in" | "inches" => Ok(LengthUnit::Inch),
        _ => Err("say mm or inch".to_owned()),
    }
}

fn hand_of(text: &str) -> Result<Hand, String> {
    match text.trim().to_lowercase().as_str() {
        "right" | "r" => Ok(Hand::Right),
        "left" | "l" => Ok(Hand::Left),
        _ => Err("say right or left".to_owned()),
    }
}

/// The pitch that is given, or that follows from the lead.
fn pitch_of(new: &New, unit: LengthUnit, starts: u32) -> Result<Option<f64>, Refusal> {
    let asked = [("--pitch", &new.pitch, 1), ("--lead", &new.lead, starts)];
    let Some((option, told, share)) =
        asked.iter().find_map(|&(option, told, share)| Some((option, told.as_ref()?, share)))
    else {
        return Ok(None);
    };
    let share = f64::from(share);
    between(told, unit, PITCHES_MM.map(|pitch| pitch * share))
        .map(|length| Some(length / share))
        .map_err(|why| Refusal::Wrong(format!("{option} {told}: {why}")))
}

fn starts_of(text: &str) -> Result<u32, String> {
    let count = text.trim().parse().ok().filter(|count| STARTS.contains(count));
    count.ok_or_else(|| format!("say a whole number from {} to {}", STARTS.start(), STARTS.end()))
}

fn known_wood(text: &str) -> Result<String, String> {
    wood::find(text, &[]).map(|species| species.name.clone()).map_err(|near| {
        let offer = near.words().map_or(String::new(), |words| format!(": did you mean {words}?"));
        format!("no table has this wood{offer}; `threadwright woods` lists them")
    })
}

fn between(text: &str, unit: LengthUnit, [least, most]: [f64; 2]) -> Result<f64, String> {
    let length = length_mm(text, unit)?;
    if (least..=most).contains(&length) {
        return Ok(length);
    }
    let other = if unit == LengthUnit::Mm { LengthUnit::Inch } else { LengthUnit::Mm };
    let meant = length_mm(text, other).is_ok_and(|length| (least..=most).contains(&length));
    let hint = if meant {
        format!("; for {} write \"{} {}\"", other.plural(), text.trim(), other.name())
    } else {
        String::new()
    };
    Err(format!("say a length between {} and {}{hint}", unit.show(least), unit.show(most)))
}
