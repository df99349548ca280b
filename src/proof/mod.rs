//! The proof: what a program would cut, touch and ask of the machine, measured and held against the drawing. It knows
//! program text, set-up and drawing as plain data, and nothing of how a program is made.

mod air;
mod bite;
mod contact;
mod endless;
mod feed_word;
mod heads;
mod kept;
mod length;
mod loads;
mod measured;
mod misread;
mod motions;
mod moves;
pub mod nut;
pub mod pair;
mod outside;
mod passes;
mod pause;
mod reading;
mod rows;
mod run_up;
mod sign;
mod sizes;
mod skyline;
mod spindle;
mod start;
mod story;
mod strain;
mod sure;
mod thread;
mod turned;
mod verdict;

use std::sync::Arc;

use rayon::prelude::*;

pub use heads::{PLACE_WORDS, heads};
pub use loads::{Load, Reckoned};
pub use measured::{Measured, Uncertainty};
pub use story::{Step, Story, Trip, section, surface};
pub use turned::Turned;

use crate::drawing::{Drawing, Threading};
use crate::finding::{Finding, Severity};
use crate::rs274::{self, Control, Meaning, Motion, Pose, Run};
use crate::setup::{Cutter, Machine, ModeWord, Setup, SpindleControl, UnitsWord};
use crate::source::Source;
use crate::stock::{self, Carved, Cells, Grid, Turn};

use rows::{Reader, RowSeen};
use turned::Outlines;

/// What a proof found out.
#[derive(Clone, Debug)]
pub struct Proof {
    /// Every finding: stops first, then what needs thought, then notes; each kind in the order of the program.
    pub findings: Vec<Finding>,
    /// The figures.
    pub measured: Measured,
    /// How sure they are.
    pub uncertainty: Uncertainty,
    /// What is turned or milled beside the thread.
    pub turned: Vec<Turned>,
    /// The load of every motion that cuts.
    pub loads: Vec<Load>,
    /// Number of motions in the program.
    pub motions: usize,
    /// The grid the blank was carved on.
    pub grid: Grid,
}

impl Proof {
    /// Whether nothing speaks against cutting it.
    pub fn proved(&self) -> bool {
        self.findings.iter().all(|finding| finding.severity < Severity::Stop)
    }

    /// Of a program that says of itself why it need not be carved.
    fn unjudged(run: &Run, amiss: Option<Finding>, grid: Grid) -> Proof {
        let findings = run.findings.iter().cloned().chain(amiss).collect();
        let mut proof = Proof {
            findings,
            measured: Measured::default(),
            uncertainty: Uncertainty::default(),
            turned: Vec::new(),
            loads: Vec::new(),
            motions: run.motions.len(),
            grid,
        };
        verdict::settle(&mut proof.findings, run.lost_at_line);
        proof
    }

    /// Puts more findings among its own, in their order.
    pub fn add(&mut self, more: Vec<Finding>) {
        self.findings.extend(more);
        verdict::settle(&mut self.findings, None);
    }
}

/// A program that ran before the one that is judged, in its own set-up: another cutter on the same blank.
#[derive(Clone, Copy, Debug)]
pub struct Before<'a> {
    /// Its text.
    pub program: &'a Arc<Source>,
    /// Its set-up.
    pub setup: &'a Setup,
}

/// One program of a series that is judged: its text with the shop and the drawing of its own.
#[derive(Clone, Copy, Debug)]
pub struct Judged<'a> {
    /// Its text.
    pub program: &'a Arc<Source>,
    /// Its set-up.
    pub setup: &'a Setup,
    /// What must stand after it.
    pub drawing: &'a Drawing,
}

/// Reads a program, carves it and holds the result against the drawing.
///
/// `cells` is how finely the blank is carved, [`Cells::usual`] if `None`. The program is taken to start with the
/// cutter above the nose at the top of Z's travel and A at zero, as the set-up sheet asks.
pub fn prove(program: &Arc<Source>, setup: &Setup, drawing: &Drawing, cells: Option<Cells>) -> Proof {
    prove_after(&[], program, setup, drawing, cells)
}

/// The same on the wood that other programs left. Their texts are read and carved first, each with its own cutter; what
/// they do wrong on the way is not looked at again, what they leave in the wood is.
pub fn prove_after(
    before: &[Before<'_>],
    program: &Arc<Source>,
    setup: &Setup,
    drawing: &Drawing,
    cells: Option<Cells>,
) -> Proof {
    prove_all(before, &[Judged { program, setup, drawing }], cells).remove(0)
}

/// Proves programs that are run one after the other, each on the wood that all before it left; one proof for each.
///
/// The blank, that of the last program, is carved once for all of them, on one grid: of [`Cells::usual`] the finest that
/// any of them asks for, unless `cells` are given.
pub fn prove_all(before: &[Before<'_>], judged: &[Judged<'_>], cells: Option<Cells>) -> Vec<Proof> {
    let Some(last) = judged.last() else { return Vec::new() };
    let setups = before.iter().map(|one| one.setup).chain(judged.iter().map(|one| one.setup));
    let cutters: Vec<&Cutter> = setups.map(|setup| &setup.cutter).collect();
    let threaders: Vec<&Cutter> =
        (before.len()..cutters.len()).map(|own| threader(&cutters[..own], cutters[own])).collect();
    let grid = Grid::over(&last.setup.blank, cells.unwrap_or_else(|| finest(&threaders)));
    let earlier: Vec<Run> = before.iter().map(|one| rs274::run(one.program, &control(one.setup))).collect();
    let runs: Vec<Run> = judged.iter().map(|one| rs274::run(one.program, &control(one.setup))).collect();
    let endless: Vec<Option<Finding>> =
        judged.iter().zip(&runs).map(|(one, run)| endless::check(one.program, run, one.setup)).collect();
    let former = before
        .iter()
        .zip(&earlier)
        .map(|(one, run)| turn(run, one.setup, endless::check(one.program, run, one.setup).is_some(), false));
    let mut turns: Vec<Turn<'_>> = former.collect();
    let mut amiss = Vec::with_capacity(judged.len());
    for ((one, run), endless) in judged.iter().zip(&runs).zip(endless) {
        let left_out = endless.is_some();
        let finding = misread::distance(one.program, run, one.setup, one.drawing)
            .or_else(|| misread::unit(one.program, run, one.setup, one.drawing))
            .or(endless);
        turns.push(turn(run, one.setup, left_out, finding.is_none()));
        amiss.push(finding);
    }
    let readers: Vec<Reader<'_>> = threaders
        .iter()
        .zip(judged)
        .map(|(threader, one)| sizes::reader(threader, one.drawing, grid))
        .collect();
    let carved = stock::carve_all(&turns, grid, |turn, row, earlier| {
        let nth = sizes::nth_seen(row.index, grid)?;
        let own = turn - before.len();
        // The program before is the one that was looked at last, unless that one was not looked at.
        let earlier = earlier.zip(own.checked_sub(1).filter(|&one| turns[before.len() + one].looked_at));
        let known = earlier.map(|(earlier, one)| (earlier, &readers[one]));
        Some(readers[own].read(row, nth % sizes::FORM_EVERY == 0, known))
    });
    let carved: Vec<_> = carved.into_iter().skip(before.len()).zip(amiss).collect();
    let proof = |(nth, (carved, amiss)): (usize, (Option<Carved<RowSeen>>, Option<Finding>))| {
        let (Judged { program, setup, drawing }, run) = (judged[nth], &runs[nth]);
        let (threader, motions) = (threaders[nth], &run.motions);
        match carved {
            Some(carved) => {
                let outlines = &readers[nth].outlines;
                judge(&Case { program, setup, drawing, threader, motions, carved: &carved, outlines }, run)
            }
            // Everything else would be wrong for this one reason.
            None => Proof::unjudged(run, amiss, grid),
        }
    };
    carved.into_par_iter().enumerate().map(proof).collect()
}

/// A program's turn on the blank. What would take for ever is not carved; its own proof says so.
fn turn<'a>(run: &'a Run, setup: &'a Setup, endless: bool, looked_at: bool) -> Turn<'a> {
    Turn { motions: if endless { &[] } else { &run.motions }, setup, looked_at }
}

/// Cells fine enough for every one of these cutters.
fn finest(cutters: &[&Cutter]) -> Cells {
    let usual = cutters.iter().map(|cutter| Cells::usual(cutter));
    usual.fold(Cells::square(f64::INFINITY), |a, b| Cells {
        along_mm: a.along_mm.min(b.along_mm),
        round_mm: a.round_mm.min(b.round_mm),
    })
}

/// Holds carved wood and motions against the drawing.
fn judge(case: &Case<'_>, run: &Run) -> Proof {
    let mut measured = Measured::default();
    let mut uncertainty = Uncertainty::default();
    let mut findings = run.findings.clone();
    findings.extend(motions::check(case, run, &mut measured, &mut uncertainty));
    let mut symptoms = sizes::check(case, &mut measured, &mut uncertainty);
    let (turned, more) = turned::check(case);
    symptoms.extend(more);
    let wrong = symptoms.iter().any(|finding| finding.severity == Severity::Stop);
    if case.drawing.thread == Threading::Here && wrong {
        findings.extend(passes::explain(case));
    }
    findings.extend(symptoms);
    let loads = loads::of(case);
    findings.extend(strain::check(case, &loads, &mut measured));
    sign::lost_z(case, &mut findings);
    verdict::settle(&mut findings, run.lost_at_line);
    Proof {
        findings,
        measured,
        uncertainty,
        turned,
        loads,
        motions: run.motions.len(),
        grid: case.carved.grid,
    }
}

/// Everything that the checks of one proof look at.
struct Case<'a> {
    program: &'a Arc<Source>,
    setup: &'a Setup,
    drawing: &'a Drawing,
    /// The cutter that made the thread, here or before.
    threader: &'a Cutter,
    motions: &'a [Motion],
    carved: &'a Carved<RowSeen>,
    /// The outlines beside the thread, with what the rows showed of them together.
    outlines: &'a Outlines,
}

/// The cutter that makes the thread: this program's, unless it is straight and an earlier one was not.
fn threader<'a>(before: &[&'a Cutter], own: &'a Cutter) -> &'a Cutter {
    let conical = |cutter: &&Cutter| cutter.included_angle_deg > 0.0;
    let earlier = || before.iter().copied().rev().find(conical);
    Some(own).filter(conical).or_else(earlier).unwrap_or(own)
}

/// Depth of the drawn thread, crest to root, mm.
fn depth_mm(drawing: &Drawing) -> f64 {
    (drawing.crest_diameter_mm - drawing.root_diameter_mm) / 2.0
}

/// What the interpreter has to know of the machine in a set-up. The axes are taken to start above the nose, at the top
/// of Z's travel, with A at zero.
pub fn control(setup: &Setup) -> Control {
    let start = Pose { x_mm: setup.x_nose_mm, y_mm: 0.0, z_mm: setup.z_limits_mm[1], a_deg: 0.0 };
    control_of(&setup.machine, setup.rpm, start)
}

/// The same for any work on a machine.
fn control_of(machine: &Machine, rpm: f64, start: Pose) -> Control {
    Control {
        dialect: machine.dialect,
        feed: machine.feed,
        unit: machine.style.unit,
        dwell: machine.style.dwell,
        hand_spindle: machine.spindle.control == SpindleControl::Hand,
        habits: Meaning {
            inverse: machine.habits.inverse,
            a_unit: machine.habits.a_unit,
            g70: machine.habits.units_word == UnitsWord::G70,
            one_unit: machine.habits.units_word == UnitsWord::None,
            one_feed_mode: machine.habits.left_out.contains(&ModeWord::G94),
            one_speed_rpm: machine.habits.one_speed.then_some(rpm),
        },
        block_delete: false,
        start,
    }
}
