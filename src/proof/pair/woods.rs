//! The two pieces of a pair, carved from the texts of their programs. Lengths in mm.

use std::sync::Arc;

use crate::drawing::{Drawing, Hand, NutDrawing, SectionPoint};
use crate::proof::nut::NutBefore;
use crate::proof::{Before, control, nut};
use crate::rs274::{self, Motion};
use crate::stock::nut::{NutFormer, NutGrid};
use crate::stock::{self, Cells, Former, Grid};

use super::bumps::{Bumps, Surface};

/// What screw and nut must have in common.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Kind {
    pub(super) lead: f64,
    pub(super) starts: u32,
    pub(super) hand: Hand,
}

/// A carved screw, as far as a nut feels it.
#[derive(Clone, Debug)]
pub struct ScrewWood {
    pub(super) kind: Kind,
    pub(super) bumps: Bumps,
    /// From where to where its thread is full.
    pub(super) full: [f64; 2],
    pub(super) step: f64,
    pub(super) root: f64,
}

/// A carved nut, as far as a screw feels it.
#[derive(Clone, Debug)]
pub struct NutWood {
    pub(super) kind: Kind,
    pub(super) bumps: Bumps,
    pub(super) length: f64,
    pub(super) step: f64,
    pub(super) unit: crate::units::LengthUnit,
}

/// Flanks are kept from this share of a thread's depth above its foot to as much below its top.
const CORNER_SHARE: f64 = 0.01;
/// And at least so many steps of the grid, measured along the flank, from the corners: a flank that is read between two
/// heights with a corner between them is not a flank.
const CORNER_STEPS: f64 = 1.1;

/// The levels for a flank that runs from foot to top while the groove widens by `widens_mm`.
fn levels([foot_mm, top_mm]: [f64; 2], widens_mm: f64, step_mm: f64) -> [f64; 2] {
    let depth = top_mm - foot_mm;
    let slope = if widens_mm > 0.0 { depth / widens_mm } else { 0.0 };
    let inside = (CORNER_SHARE * depth).max(CORNER_STEPS * step_mm * slope).min(depth / 4.0);
    [foot_mm + inside, top_mm - inside]
}

/// By how much a groove is wider at its mouth than at its root, on either side.
fn widens(section: &[SectionPoint]) -> f64 {
    match (section.first(), section.last()) {
        (Some(a), Some(b)) => (a.half_width_mm - b.half_width_mm).abs(),
        _ => 0.0,
    }
}

/// Carves a screw with all programs of its job, in order, each in its own set-up. `drawing` is that of the finished screw.
/// `None` if there is no program.
pub fn screw_wood(programs: &[Before<'_>], drawing: &Drawing, cells: Option<Cells>) -> Option<ScrewWood> {
    let (last, earlier) = programs.split_last()?;
    let read = |one: &Before<'_>| rs274::run(one.program, &control(one.setup)).motions;
    let former_motions: Vec<Vec<Motion>> = earlier.iter().map(read).collect();
    let former: Vec<Former<'_>> = earlier
        .iter()
        .zip(&former_motions)
        .map(|(one, motions)| Former { motions, setup: one.setup })
        .collect();
    let conical = programs.iter().rev().find(|one| one.setup.cutter.included_angle_deg > 0.0).unwrap_or(last);
    let grid = Grid::over(&last.setup.blank, cells.unwrap_or_else(|| Cells::usual(&conical.setup.cutter)));
    let ends = [drawing.root_diameter_mm / 2.0, drawing.crest_diameter_mm / 2.0];
    let levels = levels(ends, widens(&drawing.section), grid.step_mm);
    let columns = grid.columns(drawing.full_from_s_mm, drawing.full_to_s_mm);
    let from = grid.station_mm(columns.start);
    let carved = stock::carve(&former, &read(last), last.setup, grid, |row| {
        let radii = row.radii_mm.get(columns.clone()).unwrap_or_default();
        Some(Surface { from, step: grid.step_mm, radii }.bumps(levels))
    });
    Some(ScrewWood {
        kind: Kind { lead: drawing.lead_mm, starts: drawing.starts, hand: drawing.hand },
        // The flanks of a ridge are straight up to the corner of its crest, and round beside the root.
        bumps: Bumps { levels, reach: [levels[0], ends[1]], rows: carved.rows },
        full: [drawing.full_from_s_mm, drawing.full_to_s_mm],
        step: grid.step_mm,
        root: drawing.root_diameter_mm / 2.0,
    })
}

/// Carves a nut with all its programs, in order, each in its own set-up. `None` if there is no program.
pub fn nut_wood(programs: &[NutBefore<'_>], drawing: &NutDrawing, cells: Option<Cells>) -> Option<NutWood> {
    let (last, earlier) = programs.split_last()?;
    let read = |one: &NutBefore<'_>| {
        let program: &Arc<_> = one.program;
        rs274::run(program, &nut::control(one.setup)).motions
    };
    let former_motions: Vec<Vec<Motion>> = earlier.iter().map(read).collect();
    let former: Vec<NutFormer<'_>> = earlier
        .iter()
        .zip(&former_motions)
        .map(|(one, motions)| NutFormer { motions, setup: one.setup })
        .collect();
    let radius = drawing.major_diameter_mm / 2.0;
    let cells = cells.unwrap_or_else(|| NutGrid::usual(&last.setup.tool));
    let grid = NutGrid::over(&last.setup.block, radius, cells);
    // Where grooves are wider than the pitch at the bore, they part farther out.
    let pitch = drawing.lead_mm / f64::from(drawing.starts.max(1));
    let parted = drawing.section.iter().find(|point| 2.0 * point.half_width_mm < pitch);
    let foot = parted.map_or(0.0, |point| point.r_mm).max(drawing.bore_diameter_mm / 2.0);
    let levels = levels([foot, radius], widens(&drawing.section), grid.step_mm);
    let carved = stock::nut::carve(&former, &read(last), last.setup, grid, |row| {
        Some(Surface { from: grid.from_z_mm, step: grid.step_mm, radii: row.radii_mm }.bumps(levels))
    });
    Some(NutWood {
        kind: Kind { lead: drawing.lead_mm, starts: drawing.starts, hand: drawing.hand },
        // Those of a groove are straight down to the bore, and round beside the root.
        bumps: Bumps { levels, reach: [foot, levels[1]], rows: carved.rows },
        length: drawing.length_mm,
        step: grid.step_mm,
        unit: drawing.unit,
    })
}
