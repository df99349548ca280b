//! The heights and stations between which the passes run, worked out once for a cut. Makes no moves.

use crate::design::{self, Screw, blank_radius_mm};
use crate::drawing::Drawing;
use crate::job::{Job, Travel};
use crate::setup::{Machine, Setup};

/// Least air run before the wood, mm; longer where the play of the axes needs it.
const LEAST_AIR_MM: f64 = 2.0;

/// The air run is this many times the play it has to take up, so that a worn machine still has it behind it.
const PLAY_TAKEN_UP: f64 = 2.0;

/// How far above the blank's highest edge the run-out ends, mm: a cutter that leaves the wood and not just touches.
const ABOVE_BLANK_MM: f64 = 0.5;

/// Heights above the axis and stations of a cut, mm.
#[derive(Clone, Debug)]
pub(super) struct Frame {
    /// The shop.
    pub(super) setup: Setup,
    /// The screw.
    pub(super) drawing: Drawing,
    /// Height at which the run-out ends.
    pub(super) clear_r_mm: f64,
    /// Height of rapid moves above the blank.
    pub(super) safe_r_mm: f64,
    /// Height clear of chuck and centre too, as far as the machine goes.
    pub(super) high_r_mm: f64,
    /// Where passes towards the head begin: in the air beyond the tail end.
    pub(super) tail_air_s_mm: f64,
    /// Where the cutter is about to meet the blank's tail end.
    pub(super) tail_s_mm: f64,
    /// Where passes towards the nose begin, above the blank.
    pub(super) head_air_s_mm: f64,
}

impl Frame {
    pub(super) fn new(job: &Job, screw: &Screw) -> Self {
        let (setup, drawing) = (design::setup(job, screw), design::drawing(job, screw));
        let machine = &job.machine;
        let corner_r_mm = blank_radius_mm(&job.blank);
        // What the passes meet was rounded before; beside the chuck the corners still stand.
        let blank_r_mm = if job.operations.round.is_some() { screw.crest_radius_mm } else { corner_r_mm };
        let safe_r_mm = corner_r_mm + job.cutting.clearance_mm;
        let tallest = (machine.chuck.diameter_mm / 2.0)
            .max(machine.centre.map_or(0.0, |centre| centre.diameter_mm / 2.0))
            .max(corner_r_mm);
        let top = setup.z_limits_mm[1] - setup.z_axis_mm;
        let play = machine.x.backlash_mm + job.screw.lead_mm * machine.a.backlash_deg / 360.0;
        let air = (PLAY_TAKEN_UP * play).max(LEAST_AIR_MM);
        let tail_s_mm = setup.blank.from_s_mm - screw.groove().half_width_mm(blank_r_mm);
        Frame {
            clear_r_mm: blank_r_mm + ABOVE_BLANK_MM.min(job.cutting.clearance_mm),
            safe_r_mm,
            high_r_mm: (tallest + job.cutting.clearance_mm).min(top).max(safe_r_mm),
            tail_air_s_mm: tail_s_mm - air,
            tail_s_mm,
            head_air_s_mm: drawing.run_out_to_s_mm + air,
            setup,
            drawing,
        }
    }

    /// The station nearest to the chuck that the cut needs.
    pub(super) fn last_s_mm(&self, travel: Travel) -> f64 {
        match travel {
            Travel::OneWay => self.drawing.run_out_to_s_mm,
            Travel::BothWays => self.head_air_s_mm,
        }
    }
}

/// How far A may turn either way so that its words stay within its limits after they are rounded, degrees; `None` where it
/// counts on for ever.
pub(super) fn a_limit_deg(machine: &Machine) -> Option<f64> {
    let last_digit = machine.habits.a_unit.degrees() * 0.1_f64.powi(machine.style.decimals as i32);
    machine.a.limit_deg.map(|limit| limit - last_digit)
}
