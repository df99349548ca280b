//! A campaign of faults: good programs edited at random, by class, from a fixed seed. Every mutant must either raise a
//! stop or be harmless, and harmless is shown by comparing the wood it leaves with the wood the good program leaves,
//! never assumed.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use common::{Dice, Made};
use threadwright::finding::Severity;
use threadwright::proof;
use threadwright::rs274::{Motion, run};
use threadwright::source::Source;
use threadwright::stock::{Cells, Grid, carve};

/// Different mutants of each class and sample, where the program offers so many.
const EACH: usize = 48;
/// Edits tried for each of them.
const TRIES: usize = 3;
/// Grid of the campaign, mm: coarse, since faults are large and mutants many.
const CELLS: Cells = Cells { along_mm: 0.3, round_mm: 0.8 };

/// Turns of the whole thread that are looked at.
const QUARTERS: usize = 4;

/// Byte ranges of words that begin with one of `letters`, in lines that are no comments.
fn words(text: &str, letters: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let code = line.split(['(', ';']).next().unwrap_or("");
        let mut at = 0;
        for word in code.split([' ', '\n']) {
            if word.len() > 1 && letters.contains(&word[..1]) {
                found.push((start + at, start + at + word.len()));
            }
            at += word.len() + 1;
        }
        start += line.len();
    }
    found
}

/// Replaces a range.
fn spliced(text: &str, (from, to): (usize, usize), with: &str) -> String {
    format!("{}{with}{}", &text[..from], &text[to..])
}

/// Lines that are neither comments nor percent signs, by index.
fn code_lines(text: &str) -> Vec<usize> {
    let is_code = |line: &str| !line.is_empty() && !line.starts_with(['(', ';', '%']);
    text.lines().enumerate().filter(|(_, line)| is_code(line)).map(|(index, _)| index).collect()
}

fn joined(lines: &[&str]) -> String {
    lines.iter().fold(String::new(), |mut text, line| {
        let _ = writeln!(text, "{line}");
        text
    })
}

/// One edit of a class; `None` where the program offers nothing to edit.
fn mutate(class: &str, text: &str, dice: &mut Dice) -> Option<String> {
    match class {
        "sign" | "digit" | "point" | "word-dropped" | "word-doubled" => edit_word(class, text, dice),
        "line-dropped" | "lines-swapped" | "line-repeated" => Some(edit_lines(class, text, dice)),
        "index" | "pass-order" => edit_pass(class, text, dice),
        "truncated" => Some(text[..=dice.below(text.len() - 1)].to_owned()),
        _ => swap_word(SWAPS.iter().find(|(name, _)| *name == class)?.1, text, dice),
    }
}

type Pairs = &'static [(&'static str, &'static str)];

/// Words that stand for another of their kind, by class.
const SWAPS: [(&str, Pairs); 6] = [
    ("unit", &[("G21", "G20"), ("G20", "G21")]),
    ("distance", &[("G90", "G91")]),
    ("feed-mode", &[("G93", "G94"), ("G94", "G93")]),
    ("motion-word", &[("G1", "G0"), ("G0", "G1"), ("G1", "G2"), ("G1", "G3")]),
    (
        "plane-offset",
        &[
            ("G17", "G18"),
            ("G17", "G19"),
            ("G54", "G55"),
            ("G54", "G92 A90"),
            ("G54", "G92 X5"),
            ("G49", "G43 H1"),
        ],
    ),
    ("spindle", &[("M3", "M5"), ("M3", "M4"), ("M0", "M1"), ("M5", "M3")]),
];

fn swap_word(pairs: Pairs, text: &str, dice: &mut Dice) -> Option<String> {
    let (old, new) = *dice.pick(pairs);
    let ends = |at: &usize| text[at + old.len()..].starts_with(['\n', ' ']);
    let places: Vec<usize> = text.match_indices(old).map(|(at, _)| at).filter(ends).collect();
    (!places.is_empty()).then(|| {
        let at = *dice.pick(&places);
        spliced(text, (at, at + old.len()), new)
    })
}

fn edit_word(class: &str, text: &str, dice: &mut Dice) -> Option<String> {
    let letters = match class {
        "sign" => "XZA",
        "word-dropped" => "GXZAFSPM",
        "word-doubled" => "GXZAF",
        _ => "XZAF",
    };
    let at = *dice.pick(&words(text, letters));
    let word = &text[at.0..at.1];
    let (letter, number) = word.split_at(1);
    let new = match class {
        "sign" => {
            number.strip_prefix('-').map_or(format!("{letter}-{number}"), |plain| format!("{letter}{plain}"))
        }
        "digit" => {
            let is_digit = |&(_, byte): &(usize, u8)| byte.is_ascii_digit();
            let (place, old) = *dice.pick(&word.bytes().enumerate().filter(is_digit).collect::<Vec<_>>());
            let digit = (old - b'0' + 1 + dice.below(9) as u8) % 10;
            format!("{}{digit}{}", &word[..place], &word[place + 1..])
        }
        "point" => {
            let number: f64 = number.parse().ok()?;
            let shifted = if dice.below(2) == 0 { number * 10.0 } else { number / 10.0 };
            format!("{letter}{shifted:.4}")
        }
        "word-dropped" => String::new(),
        _ => format!("{word} {word}"),
    };
    Some(spliced(text, at, &new))
}

fn edit_lines(class: &str, text: &str, dice: &mut Dice) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    let code = code_lines(text);
    match class {
        "line-dropped" => drop(lines.remove(*dice.pick(&code))),
        "lines-swapped" => {
            let at = dice.below(code.len() - 1);
            lines.swap(code[at], code[at + 1]);
        }
        _ => {
            let at = *dice.pick(&code);
            lines.insert(at, lines[at]);
        }
    }
    joined(&lines)
}

/// Turns all A words of one pass by some degrees, or lets two passes change places.
fn edit_pass(class: &str, text: &str, dice: &mut Dice) -> Option<String> {
    let lines: Vec<&str> = text.lines().collect();
    let begins_pass = |line: &str| line.contains("G0") && line.contains(" A");
    let passes: Vec<usize> = (0..lines.len()).filter(|&i| begins_pass(lines[i])).collect();
    if class == "pass-order" {
        let at = dice.below(passes.len().checked_sub(2)?);
        let (a, b, c) = (passes[at], passes[at + 1], passes[at + 2]);
        return Some(joined(&[&lines[..a], &lines[b..c], &lines[a..b], &lines[c..]].concat()));
    }
    let from = *dice.pick(&passes);
    let to = passes.iter().copied().find(|&i| i > from).unwrap_or(lines.len());
    let turn = *dice.pick(&[-180.0, -90.0, -2.0, -1.0, 1.0, 2.0, 90.0, 120.0, 180.0]);
    let edit = |(i, line): (usize, &&str)| {
        if (from..to).contains(&i) { turned(line, turn) } else { (*line).to_owned() }
    };
    let edited: Vec<String> = lines.iter().enumerate().map(edit).collect();
    Some(joined(&edited.iter().map(String::as_str).collect::<Vec<_>>()))
}

/// A line with its A word turned on.
fn turned(line: &str, by: f64) -> String {
    words(line, "A").first().map_or(line.to_owned(), |&(from, to)| {
        let value: f64 = line[from + 1..to].parse().unwrap_or(0.0);
        spliced(line, (from, to), &format!("A{:.4}", value + by))
    })
}

const CLASSES: [&str; 17] = [
    "sign",
    "digit",
    "point",
    "word-dropped",
    "word-doubled",
    "line-dropped",
    "lines-swapped",
    "line-repeated",
    "unit",
    "distance",
    "feed-mode",
    "motion-word",
    "plane-offset",
    "spindle",
    "index",
    "pass-order",
    "truncated",
];

/// The wood that motions leave: every row, coarsely.
fn wood(made: &Made, motions: &[Motion]) -> (Grid, Vec<Vec<f32>>) {
    let mut grid = Grid::over(&made.setup.blank, CELLS);
    grid.rows = grid.rows.next_multiple_of(QUARTERS);
    (grid, carve(&[], motions, &made.setup, grid, |row| Some(row.radii_mm.to_vec())).rows)
}

/// Largest difference along a ray between two woods, on the stations that the drawing judges: the thread from the nose
/// to the end of the full thread, and the plain part behind the run-out. A thread that stands turned by a quarter as a
/// whole, as `G92 A90` at the head of a program makes it, is the same thread on a round blank.
fn difference(made: &Made, grid: &Grid, a: &[Vec<f32>], b: &[Vec<f32>]) -> f64 {
    let drawing = &made.drawing;
    let widest = drawing.section.last().map_or(0.0, |point| point.half_width_mm);
    let judged = |s: f64| {
        (drawing.full_from_s_mm..=drawing.full_to_s_mm - drawing.lead_mm / 90.0 - widest).contains(&s)
            || (drawing.run_out_to_s_mm + widest + 1.0..=drawing.head_s_mm).contains(&s)
    };
    let columns: Vec<usize> = (0..grid.stations).filter(|&column| judged(grid.station_mm(column))).collect();
    let turned = |quarter: usize| a.iter().cycle().skip(quarter * grid.rows / QUARTERS).zip(b);
    let largest = |quarter: usize| {
        let rows = turned(quarter);
        rows.flat_map(|(a, b)| columns.iter().map(move |&column| f64::from((a[column] - b[column]).abs())))
            .fold(0.0, f64::max)
    };
    (0..QUARTERS).map(largest).fold(f64::INFINITY, f64::min)
}

#[test]
fn every_mutant_is_stopped_or_harmless() {
    let mut dice = Dice(0x5EED_0F7A_DE00_0001);
    let mut counts: BTreeMap<&str, [usize; 3]> = BTreeMap::new();
    let mut survivors = Vec::new();
    for name in common::SAMPLES {
        let made = common::sample(name);
        let control = proof::control(&made.setup);
        let motions_of = |text: &str| run(&Source::new(name, text), &control).motions;
        let (grid, good) = wood(&made, &motions_of(&made.program));
        // What the drawing lets pass square to a flank shows larger along a ray.
        let half_angle = (made.setup.cutter.included_angle_deg / 2.0).to_radians();
        let lets_pass = made.drawing.passes.form_mm / half_angle.sin();
        for class in CLASSES {
            let mut seen = BTreeSet::from([made.program.clone()]);
            for _ in 0..TRIES * EACH {
                let Some(mutant) = mutate(class, &made.program, &mut dice) else { continue };
                if seen.len() > EACH || !seen.insert(mutant.clone()) {
                    continue;
                }
                let source = Source::new(name, mutant.as_str());
                let proof = proof::prove(&source, &made.setup, &made.drawing, Some(CELLS));
                let count = counts.entry(class).or_default();
                if proof.findings.iter().any(|finding| finding.severity == Severity::Stop) {
                    count[0] += 1;
                    continue;
                }
                let (_, left) = wood(&made, &motions_of(&mutant));
                let off = difference(&made, &grid, &good, &left);
                if off <= lets_pass {
                    count[1] += 1;
                } else {
                    count[2] += 1;
                    let changed = mutant.lines().zip(made.program.lines()).find(|(a, b)| a != b);
                    survivors.push(format!(
                        "{name} {class}: wood differs by {off:.3} mm, first change {changed:?}"
                    ));
                }
            }
        }
    }
    let made: usize = counts.values().flatten().sum();
    println!("{:16} {:>7} {:>8} {:>8}", "class", "stopped", "harmless", "survived");
    for (class, [stopped, harmless, survived]) in &counts {
        println!("{class:16} {stopped:7} {harmless:8} {survived:8}");
    }
    println!("{made} mutants");
    assert!(2000 <= made, "only {made} mutants were made");
    assert!(survivors.is_empty(), "{}", survivors.join("\n"));
}
