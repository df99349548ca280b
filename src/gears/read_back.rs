//! The proof of a set-up sheet: reads the written list of gears back and works out anew what it cuts. Takes the text of
//! the sheet, the jig and the drawing, and nothing from the search.
//!
//! What it reads are the lines under `GEARS` and `NEXT START`, as a person does:
//!
//! ```text
//! GEARS
//!   lead screw    2.5 mm a turn
//!   blank         40
//!   stud 1        10 + 20
//!   lead screw    10
//!
//! NEXT START
//!   turn the blank by 20 teeth of its 40
//! ```

use std::fmt::Write;

use num_rational::Ratio;

use crate::drawing::{Drawing, Hand};
use crate::job::Jig;

type Exact = Ratio<i128>;

/// A lead that differs by a smaller share than this is the drawing's: it is the rounding of f64 in the drawing.
const SAME_SHARE: f64 = 1e-12;

/// More shafts than this are no train of a hand jig.
const MOST_SHAFTS: usize = 6;

/// Longest number that is read, in characters: a lead screw of many decimals.
const LONGEST_NUMBER: usize = 16;

/// What a sheet says, worked out anew.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadBack {
    /// Lead that the listed gears cut, mm.
    pub lead_mm: f64,
    /// Whether that is the drawing's lead exactly.
    pub exact: bool,
    /// Error over the threaded length of the drawing, mm; positive when the thread comes out long.
    pub error_mm: f64,
    /// Hand that the listed gears cut.
    pub hand: Hand,
    /// The lead as it was reckoned: `2.5 x 40/10 x 20/10`.
    pub sum: String,
}

/// Reads a sheet back. `within_mm` is what the lead may be off over the threaded length.
///
/// # Errors
/// Everything that is wrong with the sheet, a sentence each: a line that cannot be read, a gear that is not in the box,
/// a lead, hand or step to the next start that is not the drawing's.
pub fn read_back(sheet: &str, jig: &Jig, drawing: &Drawing, within_mm: f64) -> Result<ReadBack, Vec<String>> {
    let mut wrong = Vec::new();
    let Some(list) = List::read(sheet) else {
        return Err(vec!["the list of gears cannot be read back".to_owned()]);
    };
    wrong.extend(not_in_box(&list, jig));
    let thread_mm = drawing.full_to_s_mm - drawing.full_from_s_mm;
    let lead_mm = float(list.lead());
    let share = lead_mm / drawing.lead_mm - 1.0;
    let exact = share.abs() <= SAME_SHARE;
    let error_mm = if exact { 0.0 } else { share * thread_mm };
    if error_mm.abs() > within_mm {
        wrong.push(format!(
            "the listed gears cut a lead of {lead_mm:.4} mm, the drawing has {:.4} mm",
            drawing.lead_mm
        ));
    }
    let hand = if list.meshes().is_multiple_of(2) == (jig.alike_cuts == Hand::Right) {
        Hand::Right
    } else {
        Hand::Left
    };
    if hand != drawing.hand {
        wrong.push(format!(
            "the listed gears cut a {}-hand thread, the drawing is {}-hand",
            hand.name(),
            drawing.hand.name()
        ));
    }
    for step in &list.steps {
        if let Some(words) = step_is_wrong(step, &list, drawing, jig) {
            wrong.push(words);
        }
    }
    if drawing.starts > 1 && list.steps.is_empty() {
        wrong.push("the sheet does not say how to get from start to start".to_owned());
    }
    if wrong.is_empty() {
        Ok(ReadBack { lead_mm, exact, error_mm, hand, sum: list.sum() })
    } else {
        Err(wrong)
    }
}

/// The list of gears as it stands on a sheet.
struct List {
    /// Advance of the lead screw in mm, and as written.
    screw: (Exact, String),
    /// Gears by shaft, from the blank to the lead screw; two on one stud are the driven and the driver.
    shafts: Vec<Vec<i128>>,
    /// Steps to the next start.
    steps: Vec<Step>,
}

/// A step to the next start.
enum Step {
    /// So many of the teeth, marks or parts round the blank.
    Blank { parts: i128, what: String, of: i128 },
    /// Turns of the lead screw.
    LeadScrew { turns: Exact },
    /// Teeth of the driver on a stud.
    Stud { stud: usize, teeth: i128 },
    /// A line that says nothing that can be reckoned.
    Unknown(String),
}

impl List {
    fn read(sheet: &str) -> Option<List> {
        let mut screw = None;
        let mut shafts = Vec::new();
        for line in section(sheet, "GEARS") {
            let (name, value) = line.split_once("  ").map(|(name, value)| (name.trim(), value.trim()))?;
            if name == "lead screw" && screw.is_none() {
                screw = Some((advance(value)?, value.trim_end_matches(" a turn").to_owned()));
                continue;
            }
            let known = name == "blank" || name == "lead screw" || name.starts_with("stud ");
            let gears: Option<Vec<i128>> = value.split(" + ").map(|teeth| teeth_of(teeth.trim())).collect();
            shafts.push(gears.filter(|_| known)?);
        }
        let ends = |shaft: Option<&Vec<i128>>| shaft.is_some_and(|gears| gears.len() == 1);
        let middle = shafts.get(1..shafts.len().max(1) - 1)?.iter().all(|gears| gears.len() <= 2);
        let readable = (2..=MOST_SHAFTS).contains(&shafts.len())
            && ends(shafts.first())
            && ends(shafts.last())
            && middle;
        let steps = section(sheet, "NEXT START").map(step).collect();
        readable.then_some(List { screw: screw?, shafts, steps })
    }

    fn meshes(&self) -> usize {
        self.shafts.len() - 1
    }

    /// Turns of each shaft's gears for a turn of the blank, up to the shaft with this number.
    fn turns(&self, shaft: usize) -> Exact {
        let meshes = self.shafts.windows(2).take(shaft);
        meshes.fold(Exact::from_integer(1), |turns, pair| turns * pair[0][pair[0].len() - 1] / pair[1][0])
    }

    fn lead(&self) -> Exact {
        self.screw.0 * self.turns(self.meshes())
    }

    /// The lead as a sum; idlers stand in it as what they are, once below and once above the line.
    fn sum(&self) -> String {
        let mut words = self.screw.1.clone();
        for pair in self.shafts.windows(2) {
            let _ = write!(words, " x {}/{}", pair[0][pair[0].len() - 1], pair[1][0]);
        }
        words
    }
}

/// The lines of a section, without their indent.
fn section<'s>(sheet: &'s str, name: &str) -> impl Iterator<Item = &'s str> {
    let lines = sheet.lines().skip_while(move |line| line.trim() != name).skip(1);
    let name_found = sheet.lines().any(|line| line.trim() == name);
    lines.take_while(move |line| name_found && line.starts_with("  ")).map(str::trim)
}

/// `2.5 mm a turn`, `2 1/2 mm a turn`, `8 threads per inch`.
fn advance(words: &str) -> Option<Exact> {
    let inch = Exact::new(127, 5);
    let positive = |number: Exact| (number > Exact::from_integer(0)).then_some(number);
    if let Some(number) = words.strip_suffix(" mm a turn") {
        return positive(number_of(number)?);
    }
    Some(inch / positive(number_of(words.strip_suffix(" threads per inch")?)?)?)
}

/// A whole number of teeth, marks or turns. So few digits that sums of them cannot run over.
fn teeth_of(word: &str) -> Option<i128> {
    let plain = (1..=4).contains(&word.len()) && word.bytes().all(|b| b.is_ascii_digit());
    word.parse().ok().filter(|&teeth| plain && teeth > 0)
}

/// `3`, `2.5`, `5/2` or `2 1/2`, of so few digits that sums of them cannot run over.
fn number_of(words: &str) -> Option<Exact> {
    if words.len() > LONGEST_NUMBER || !words.bytes().all(|b| b.is_ascii_digit() || b" ./".contains(&b)) {
        return None;
    }
    let mut sum = Exact::from_integer(0);
    for part in words.split_whitespace() {
        let value = if let Some((top, bottom)) = part.split_once('/') {
            let (top, bottom): (i128, i128) = (top.parse().ok()?, bottom.parse().ok()?);
            (bottom > 0).then(|| Exact::new(top, bottom))?
        } else if let Some((whole, decimals)) = part.split_once('.') {
            let scale = 10_i128.checked_pow(u32::try_from(decimals.len()).ok()?)?;
            Exact::new(format!("{whole}{decimals}").parse().ok()?, scale)
        } else {
            Exact::from_integer(part.parse().ok()?)
        };
        sum += value;
    }
    words.contains(|c: char| c.is_ascii_digit()).then_some(sum)
}

/// `turn the blank by 20 teeth of its 40`, `turn the blank by 12 marks of its 24`, `turn the blank by 1 part of its 3`,
/// `turn the lead screw 2 1/2 times`, `turn the blank until 40 teeth of the driver on stud 1 have passed`.
fn step(line: &str) -> Step {
    let read = || {
        if let Some(rest) = line.strip_prefix("turn the lead screw ") {
            let (turns, _) = rest.split_once(" time")?;
            return Some(Step::LeadScrew { turns: number_of(turns)? });
        }
        if let Some(rest) = line.strip_prefix("turn the blank until ") {
            let (teeth, rest) = rest.split_once(" teeth of the driver on stud ")?;
            let stud = usize::try_from(teeth_of(rest.split(' ').next()?)?).ok()?;
            return Some(Step::Stud { stud, teeth: teeth_of(teeth)? });
        }
        let rest = line.strip_prefix("turn the blank by ")?;
        let (parts, of) = rest.split_once(" of its ")?;
        let of = teeth_of(of.split(|c: char| !c.is_ascii_digit()).next()?)?;
        let (parts, what) = parts.split_once(' ')?;
        Some(Step::Blank { parts: teeth_of(parts)?, what: what.to_owned(), of })
    };
    read().unwrap_or_else(|| Step::Unknown(line.to_owned()))
}

/// What is wrong with a step to the next start, if anything is: a step, taken as often as there are starts, must come
/// to a whole turn of the blank, or to a whole lead of the lead screw.
fn step_is_wrong(step: &Step, list: &List, drawing: &Drawing, jig: &Jig) -> Option<String> {
    let starts = i128::from(drawing.starts);
    let one = Exact::from_integer(1);
    let turn = match step {
        Step::Blank { parts, what, of } => {
            let there = match what.as_str() {
                "teeth" => list.shafts[0][0] == *of,
                "marks" => jig.index_marks.map(i128::from) == Some(*of),
                _ => what == "part" && *of == starts,
            };
            if !there {
                return Some(format!("the blank has no {of} {what} to turn by"));
            }
            Exact::new(*parts, *of)
        }
        // In whole leads: it need not be the train's own lead, if that is a hair off.
        Step::LeadScrew { turns } => {
            let share = float(*turns * starts * list.screw.0) / drawing.lead_mm - 1.0;
            return (share.abs() > SAME_SHARE)
                .then(|| format!("{starts} times {turns} turns of the lead screw are not the lead"));
        }
        Step::Stud { stud, teeth } => {
            let gears = list.shafts.get(*stud).filter(|_| *stud < list.meshes());
            let Some(driver) = gears.and_then(|gears| gears.last()) else {
                return Some(format!("there is no stud {stud} to count teeth on"));
            };
            Exact::new(*teeth, *driver) / list.turns(*stud)
        }
        Step::Unknown(line) => {
            return Some(format!("the step to the next start cannot be read back: {line}"));
        }
    };
    (turn * starts != one)
        .then(|| format!("{starts} times the step to the next start are {} of a turn", turn * starts))
}

/// Gears on the list that the box does not hold, or not so many of.
fn not_in_box(list: &List, jig: &Jig) -> Vec<String> {
    let mut listed: Vec<i128> = list.shafts.concat();
    listed.sort_unstable();
    listed
        .chunk_by(|a, b| a == b)
        .filter_map(|alike| {
            let held = jig.gears.iter().filter(|&&teeth| i128::from(teeth) == alike[0]).count();
            (held < alike.len()).then(|| {
                format!(
                    "the sheet takes {} of the {}-tooth gears, the box holds {held}",
                    alike.len(),
                    alike[0]
                )
            })
        })
        .collect()
}

fn float(exact: Exact) -> f64 {
    *exact.numer() as f64 / *exact.denom() as f64
}
