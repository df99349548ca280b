//! The proof of a nut: what its program would cut, touch and ask of the machine, measured and held against the drawing.
//! It knows program text, set-up and drawing as plain data, and nothing of how a program is made.

mod blame;
mod contact;
mod faces;
mod follow;
mod measured;
mod motions;
mod rows;
mod sizes;

use std::sync::Arc;

pub use measured::{NutMeasured, NutUncertainty};

use crate::drawing::{NutDrawing, NutStage};
use crate::finding::{Finding, Severity};
use crate::rs274::{self, Control, Motion, Pose};
use crate::setup::NutSetup;
use crate::source::Source;
use crate::stock::Cells;
use crate::stock::nut::{NutCarved, NutFormer, NutGrid, carve};

use super::{control_of, verdict};

/// What a proof of a nut found out.
#[derive(Clone, Debug)]
pub struct NutProof {
    /// Every finding: stops first, then what needs thought, then notes; each kind in the order of the program.
    pub findings: Vec<Finding>,
    /// The figures.
    pub measured: NutMeasured,
    /// How sure they are.
    pub uncertainty: NutUncertainty,
    /// Number of motions in the program.
    pub motions: usize,
    /// The grid the block was carved on.
    pub grid: NutGrid,
}

impl NutProof {
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

/// A program that ran before the one that is judged, in its own set-up: another cutter in the same block.
#[derive(Clone, Copy, Debug)]
pub struct NutBefore<'a> {
    /// Its text.
    pub program: &'a Arc<Source>,
    /// Its set-up.
    pub setup: &'a NutSetup,
}

/// Everything that the checks of one proof look at.
struct NutCase<'a> {
    program: &'a Arc<Source>,
    setup: &'a NutSetup,
    drawing: &'a NutDrawing,
    motions: &'a [Motion],
    carved: &'a NutCarved<rows::RowSeen>,
}

/// Reads a program, carves it on the wood that `before` left, and holds the result against the drawing.
///
/// The texts of `before` are carved first, each with its own cutter; what they do wrong on the way is not looked at
/// again, what they leave in the wood is. `cells` is how finely the block is carved, [`NutGrid::usual`] if `None`. The
/// program is taken to start with the cutter on the axis of the nut at the top of Z's travel, as the set-up sheet asks.
pub fn prove(
    before: &[NutBefore<'_>],
    program: &Arc<Source>,
    setup: &NutSetup,
    drawing: &NutDrawing,
    cells: Option<Cells>,
) -> NutProof {
    let run = rs274::run(program, &control(setup));
    let radius = drawing.major_diameter_mm.max(drawing.bore_diameter_mm) / 2.0;
    let grid = NutGrid::over(&setup.block, radius, cells.unwrap_or_else(|| NutGrid::usual(&setup.tool)));
    let mut measured = NutMeasured::default();
    let mut uncertainty = NutUncertainty::default();
    if let Some(finding) = motions::unit(program, &run, setup, drawing) {
        // Everything else would be wrong for this one reason.
        let mut findings = run.findings;
        findings.push(finding);
        verdict::settle(&mut findings, run.lost_at_line);
        return NutProof { findings, measured, uncertainty, motions: run.motions.len(), grid };
    }
    let earlier: Vec<Vec<Motion>> =
        before.iter().map(|former| rs274::run(former.program, &control(former.setup)).motions).collect();
    let former: Vec<NutFormer<'_>> = before
        .iter()
        .zip(&earlier)
        .map(|(former, motions)| NutFormer { motions, setup: former.setup })
        .collect();
    let reader = rows::Reader::of(drawing, grid);
    let carved = carve(&former, &run.motions, setup, grid, |row| Some(reader.read(row)));
    let case = NutCase { program, setup, drawing, motions: &run.motions, carved: &carved };
    let mut findings = run.findings.clone();
    findings.extend(motions::check(&case, &run, &mut measured, &mut uncertainty));
    findings.extend(contact::check(&case, &mut measured));
    let symptoms = sizes::check(&case, &mut measured, &mut uncertainty);
    let stopped = symptoms.iter().any(|finding| finding.severity == Severity::Stop);
    if stopped && drawing.done == NutStage::Threaded {
        findings.extend(blame::explain(&case));
    }
    findings.extend(symptoms);
    verdict::settle(&mut findings, run.lost_at_line);
    NutProof { findings, measured, uncertainty, motions: run.motions.len(), grid }
}

/// What the interpreter has to know of the machine. The cutter is taken to start on the axis at the top of Z's travel.
pub fn control(setup: &NutSetup) -> Control {
    control_of(&setup.machine, setup.rpm, Pose { z_mm: setup.z_limits_mm[1], ..Pose::default() })
}
