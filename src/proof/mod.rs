//! The proof: what a program would cut, touch and ask of the machine, measured and held against the drawing. It knows
//! program text, set-up and drawing as plain data, and nothing of how a program is made.

mod air;
mod contact;
mod heads;
mod length;
mod loads;
mod measured;
mod motions;
mod moves;
pub mod nut;
pub mod pair;
mod outside;
mod passes;
mod reading;
mod rows;
mod run_up;
mod sign;
mod sizes;
mod skyline;
mod spindle;
mod start;
mod strain;
mod sure;
mod thread;
mod turned;
mod verdict;

use std::sync::Arc;

pub use heads::{PLACE_WORDS, heads};
pub use loads::Load;
pub use measured::{Measured, Uncertainty};
pub use turned::Turned;

use crate::drawing::{Drawing, Threading};
use crate::finding::{Finding, Severity};
use crate::rs274::{self, Control, Meaning, Motion, Pose};
use crate::setup::{Cutter, Machine, ModeWord, Setup, SpindleControl, UnitsWord};
use crate::source::Source;
use crate::stock::{self, Carved, Cells, Former, Grid};

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
    let run = rs274::run(program, &control(setup));
    let threader = threader(before, setup);
    let grid = Grid::over(&setup.blank, cells.unwrap_or_else(|| Cells::usual(threader)));
    if let Some(finding) =
        motions::unit(program, &run, setup, drawing).or_else(|| motions::wound(program, &run))
    {
        // Everything else would be wrong for this one reason, and carving it would take for ever for nothing.
        let mut findings = run.findings;
        findings.push(finding);
        verdict::settle(&mut findings, run.lost_at_line);
        let (measured, uncertainty) = (Measured::default(), Uncertainty::default());
        return Proof {
            findings,
            measured,
            uncertainty,
            turned: Vec::new(),
            loads: Vec::new(),
            motions: run.motions.len(),
            grid,
        };
    }
    let reader = sizes::reader(threader, drawing, grid);
    let earlier: Vec<Vec<Motion>> =
        before.iter().map(|former| rs274::run(former.program, &control(former.setup)).motions).collect();
    let former: Vec<Former<'_>> = before
        .iter()
        .zip(&earlier)
        .map(|(former, motions)| Former { motions, setup: former.setup })
        .collect();
    let carved: Carved<_> = stock::carve(&former, &run.motions, setup, grid, |row| {
        let nth = sizes::nth_seen(row.index, grid)?;
        Some(reader.read(row, nth % sizes::FORM_EVERY == 0))
    });
    let case = Case { program, setup, drawing, threader, motions: &run.motions, carved: &carved };
    let mut measured = Measured::default();
    let mut uncertainty = Uncertainty::default();
    let mut findings = run.findings.clone();
    findings.extend(motions::check(&case, &run, &mut measured, &mut uncertainty));
    let mut symptoms = sizes::check(&case, &mut measured, &mut uncertainty);
    let (turned, more) = turned::check(&case);
    symptoms.extend(more);
    if drawing.thread == Threading::Here && symptoms.iter().any(|finding| finding.severity == Severity::Stop)
    {
        findings.extend(passes::explain(&case));
    }
    findings.extend(symptoms);
    let loads = loads::of(&case);
    findings.extend(strain::check(&case, &loads, &mut measured));
    verdict::settle(&mut findings, run.lost_at_line);
    Proof { findings, measured, uncertainty, turned, loads, motions: run.motions.len(), grid }
}

/// Everything that the checks of one proof look at.
struct Case<'a> {
    program: &'a Arc<Source>,
    setup: &'a Setup,
    drawing: &'a Drawing,
    /// The cutter that made the thread, here or before.
    threader: &'a Cutter,
    motions: &'a [Motion],
    carved: &'a Carved<rows::RowSeen>,
}

/// The cutter that makes the thread: this program's, unless it is straight and an earlier one was not.
fn threader<'a>(before: &[Before<'a>], setup: &'a Setup) -> &'a Cutter {
    let conical = |cutter: &&Cutter| cutter.included_angle_deg > 0.0;
    let earlier = || before.iter().rev().map(|former| &former.setup.cutter).find(conical);
    Some(&setup.cutter).filter(conical).or_else(earlier).unwrap_or(&setup.cutter)
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
