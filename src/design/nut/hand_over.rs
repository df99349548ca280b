//! Job and nut as the plain data that programs are written by and proved against: one set-up and one drawing for each
//! program. X0 Y0 on the axis, Z0 on the top face. Computes places, nothing about cutting.

use super::judge::BED_CLEAR_MM;
use super::{CHAMFER_MARGIN_MM, Nut};
use crate::drawing::{Cone, NutDrawing, NutStage, NutTolerances};
use crate::job::{Job, NutMilled};
use crate::setup::{Block, Mill, NutSetup, NutTool, Timber};

/// How far the bore goes past the bottom of the block, mm, so that no skin is left.
pub const BORE_THROUGH_MM: f64 = 1.0;

/// One program of a nut: the shop as it is then, and what must stand after it.
#[derive(Clone, Debug, PartialEq)]
pub struct NutStep {
    /// What it leaves behind.
    pub stage: NutStage,
    /// The shop before it.
    pub setup: NutSetup,
    /// The nut after it.
    pub drawing: NutDrawing,
}

impl NutStep {
    /// Its name in a file's name: `bore` or `thread`.
    pub fn name(&self) -> &'static str {
        match self.stage {
            NutStage::Bored => "bore",
            NutStage::Threaded => "thread",
        }
    }
}

/// The set-up of one program.
pub(super) struct Stage {
    pub(super) stage: NutStage,
    pub(super) setup: NutSetup,
}

/// The programs of a nut in their order; empty when the job names no cutter, its machine does not mill, or the cutter makes
/// no groove.
pub fn nut_steps(job: &Job, nut: &Nut) -> Vec<NutStep> {
    let milled = job.nut.as_ref().and_then(|asked| asked.milled.as_ref());
    let (Some(milled), Some(mill), Some(_)) = (milled, &job.mill, &nut.mating) else {
        return Vec::new();
    };
    setups(job, nut, milled, mill)
        .into_iter()
        .map(|Stage { stage, setup }| NutStep { stage, setup, drawing: drawing(job, nut, stage) })
        .collect()
}

/// Diameter of the free room that the cutter needs below the block, mm.
pub(super) fn packing_hole_mm(nut: &Nut) -> f64 {
    let chamfer_mm = if nut.chamfers_below() { nut.mouth_radius_mm() + CHAMFER_MARGIN_MM } else { 0.0 };
    2.0 * (nut.major_radius_mm.max(chamfer_mm) + BED_CLEAR_MM)
}

/// Height of the cutter's end in moves beside the axis of the nut, mm above the top face: over every clamp.
pub fn safe_z_mm(job: &Job, milled: &NutMilled) -> f64 {
    milled.clamps.height_mm + job.cutting.clearance_mm
}

pub(super) fn setups(job: &Job, nut: &Nut, milled: &NutMilled, mill: &Mill) -> Vec<Stage> {
    let bore = 2.0 * nut.bore_radius_mm;
    let thread = Stage {
        stage: NutStage::Threaded,
        setup: setup(job, nut, milled, mill, NutTool::Thread(milled.cutter.clone()), Some(bore)),
    };
    let boring = milled.boring.as_ref().map(|borer| Stage {
        stage: NutStage::Bored,
        setup: setup(job, nut, milled, mill, NutTool::Boring(borer.clone()), None),
    });
    boring.into_iter().chain([thread]).collect()
}

fn setup(
    job: &Job,
    nut: &Nut,
    milled: &NutMilled,
    mill: &Mill,
    tool: NutTool,
    hole_diameter_mm: Option<f64>,
) -> NutSetup {
    let stick_out_mm = match &tool {
        NutTool::Thread(cutter) => cutter.stick_out_mm,
        NutTool::Boring(cutter) => cutter.stick_out_mm,
    };
    // The face of the collet nut above the bed, as the end of the cutter above the top face of the block.
    let end_mm = |collet: f64| collet - stick_out_mm - milled.below_mm - nut.length_mm;
    NutSetup {
        machine: job.machine.clone(),
        mill: *mill,
        block: Block {
            along_grain_mm: nut.block.along_grain_mm,
            across_grain_mm: nut.block.across_grain_mm,
            thickness_mm: nut.length_mm,
            hole_diameter_mm,
            below_mm: milled.below_mm,
            below_diameter_mm: milled.below_diameter_mm.unwrap_or_else(|| packing_hole_mm(nut)),
            clamps: milled.clamps,
        },
        timber: timber(job),
        tool,
        // The block is clamped with its hole in the middle of the travel.
        x_limits_mm: [-mill.x_travel_mm / 2.0, mill.x_travel_mm / 2.0],
        y_limits_mm: [-mill.y_travel_mm / 2.0, mill.y_travel_mm / 2.0],
        z_limits_mm: mill.collet_above_bed_mm.map(end_mm),
        rpm: milled.rpm,
        edge_feed_mm_per_min: milled.feed_mm_per_min,
    }
}

/// What is known of the nut's wood; only its name when no table has it.
fn timber(job: &Job) -> Timber {
    let Some(nut) = &job.nut else { return Timber::default() };
    match &nut.species {
        Some(species) => species.timber(&nut.wood),
        None => Timber { name: nut.wood.clone(), ..Timber::default() },
    }
}

fn drawing(job: &Job, nut: &Nut, stage: NutStage) -> NutDrawing {
    let tan_half =
        nut.mating.as_ref().map_or(0.0, |mating| (mating.tooth.included_angle_deg / 2.0).to_radians().tan());
    let cone = Cone { face_diameter_mm: 2.0 * nut.mouth_radius_mm(), depth_mm: nut.chamfer_mm * tan_half };
    NutDrawing {
        unit: job.unit,
        starts: job.screw.starts,
        hand: job.screw.hand,
        lead_mm: job.screw.lead_mm,
        length_mm: nut.length_mm,
        bore_diameter_mm: 2.0 * nut.bore_radius_mm,
        major_diameter_mm: 2.0 * nut.major_radius_mm,
        start_angle_deg: job.nut.as_ref().map_or(0.0, |asked| asked.start_angle_deg),
        section: nut.section(),
        chamfer_top: (nut.chamfer_mm > 0.0).then_some(cone),
        chamfer_bottom: nut.chamfers_below().then_some(cone),
        done: stage,
        passes: NutTolerances::default(),
    }
}
