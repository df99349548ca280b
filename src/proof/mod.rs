//! The proof: what a program would cut, touch and ask of the machine, measured and held against the drawing. It knows
//! program text, set-up and drawing as plain data, and nothing of how a program is made.

mod contact;
mod length;
mod loads;
mod measured;
mod motions;
mod outside;
mod passes;
mod rows;
mod sizes;
mod spindle;
mod start;
mod story;
mod strain;
mod sure;
mod thread;
mod verdict;

use std::sync::Arc;

pub use loads::{Load, Reckoned};
pub use measured::{Measured, Uncertainty};
pub use story::{Step, Story, Trip, section, surface};

use crate::drawing::Drawing;
use crate::finding::{Finding, Severity};
use crate::rs274::{self, Control, Motion, Pose};
use crate::setup::{Setup, SpindleControl};
use crate::source::Source;
use crate::stock::{self, Carved, Cells, Grid};

/// What a proof found out.
#[derive(Clone, Debug)]
pub struct Proof {
    /// Every finding: stops first, then what needs thought, then notes; each kind in the order of the program.
    pub findings: Vec<Finding>,
    /// The figures.
    pub measured: Measured,
    /// How sure they are.
    pub uncertainty: Uncertainty,
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
}

/// Reads a program, carves it and holds the result against the drawing.
///
/// `cells` is how finely the blank is carved, [`Cells::usual`] if `None`. The program is taken to start with the
/// cutter above the nose at the top of Z's travel and A at zero, as the set-up sheet asks.
pub fn prove(program: &Arc<Source>, setup: &Setup, drawing: &Drawing, cells: Option<Cells>) -> Proof {
    let run = rs274::run(program, &control(setup));
    let grid = Grid::over(&setup.blank, cells.unwrap_or_else(|| Cells::usual(&setup.cutter)));
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
            loads: Vec::new(),
            motions: run.motions.len(),
            grid,
        };
    }
    let reader = sizes::reader(setup, drawing, grid);
    let seen_step = (grid.rows / sizes::ROWS_SEEN).max(1);
    let carved: Carved<_> = stock::carve(&run.motions, setup, grid, |row| {
        (row.index % seen_step == 0)
            .then(|| reader.read(row, row.index % (seen_step * sizes::FORM_EVERY) == 0))
    });
    let case = Case { program, setup, drawing, motions: &run.motions, carved: &carved };
    let mut measured = Measured::default();
    let mut uncertainty = Uncertainty::default();
    let mut findings = run.findings.clone();
    findings.extend(motions::check(&case, &run, &mut measured, &mut uncertainty));
    let symptoms = sizes::check(&case, &mut measured, &mut uncertainty);
    if symptoms.iter().any(|finding| finding.severity == Severity::Stop) {
        findings.extend(passes::explain(&case));
    }
    findings.extend(symptoms);
    let loads = loads::of(&case);
    findings.extend(strain::check(&case, &loads, &mut measured));
    verdict::settle(&mut findings, run.lost_at_line);
    Proof { findings, measured, uncertainty, loads, motions: run.motions.len(), grid }
}

/// Everything that the checks of one proof look at.
struct Case<'a> {
    program: &'a Arc<Source>,
    setup: &'a Setup,
    drawing: &'a Drawing,
    motions: &'a [Motion],
    carved: &'a Carved<rows::RowSeen>,
}

/// Depth of the drawn thread, crest to root, mm.
fn depth_mm(drawing: &Drawing) -> f64 {
    (drawing.crest_diameter_mm - drawing.root_diameter_mm) / 2.0
}

/// What the interpreter has to know of the machine in a set-up. The axes are taken to start above the nose, at the top
/// of Z's travel, with A at zero.
pub fn control(setup: &Setup) -> Control {
    let machine = &setup.machine;
    Control {
        dialect: machine.dialect,
        feed: machine.feed,
        unit: machine.style.unit,
        dwell: machine.style.dwell,
        hand_spindle: machine.spindle.control == SpindleControl::Hand,
        block_delete: false,
        start: Pose { x_mm: setup.x_nose_mm, y_mm: 0.0, z_mm: setup.z_limits_mm[1], a_deg: 0.0 },
    }
}
