//! Job and sizes as the plain data that the rest of the crate works from: the finished screw, and the shop with the
//! program's zero on the blank. X0 is the nose face. Computes places, nothing about cutting.

use super::screw::Screw;
use crate::drawing::{Drawing, Threading, Tolerances};
use crate::job::{Bench, Job};
use crate::setup::{Blank, Cutter, Machine, Setup, Timber, ZZero};
use crate::wood::Species;

/// The finished screw, to measure a program against.
pub fn drawing(job: &Job, screw: &Screw) -> Drawing {
    let asked = &job.screw;
    let full_to_s_mm = asked.plain_nose_mm + asked.thread_length_mm;
    let run_out_to_s_mm = full_to_s_mm + job.cutting.run_out_turns * asked.lead_mm;
    Drawing {
        unit: job.unit,
        starts: asked.starts,
        hand: asked.hand,
        lead_mm: asked.lead_mm,
        crest_diameter_mm: 2.0 * screw.crest_radius_mm,
        root_diameter_mm: 2.0 * screw.root_radius_mm,
        crest_flat_mm: screw.crest_flat_mm,
        full_from_s_mm: asked.plain_nose_mm,
        full_to_s_mm,
        run_out_to_s_mm,
        head_s_mm: run_out_to_s_mm + asked.plain_head_mm,
        section: screw.section.clone(),
        passes: Tolerances::default(),
        thread: Threading::Here,
        // Where the run-out is short, the last groove reaches ahead of its end by half its width.
        read_s_mm: [f64::NEG_INFINITY, run_out_to_s_mm + screw.crest_width_mm / 2.0],
        ends_in_relief: false,
        stretches: Vec::new(),
        thin: Vec::new(),
    }
}

/// The shop, with X0 on the nose face and Z0 where the machine has it.
pub fn setup(job: &Job, screw: &Screw) -> Setup {
    let to_s_mm = drawing(job, screw).head_s_mm + job.blank.waste_head_mm;
    let blank = Blank {
        shape: job.blank.shape,
        size_mm: job.blank.size_mm,
        from_s_mm: -job.blank.waste_nose_mm,
        to_s_mm,
        chuck_face_s_mm: to_s_mm - job.machine.chuck.grip_mm,
    };
    Setup {
        timber: timber(job.species.as_ref(), &job.wood),
        rpm: job.cutting.rpm,
        feed_mm_per_min: job.cutting.feed_mm_per_min,
        feed_least_mm_per_min: least_feed(job),
        ..shop(&job.machine, &job.cutter, blank, screw.crest_radius_mm)
    }
}

/// The shop of a bench without a screw, with X0 where the file has it; the finished surface is that of the blank. Speeds are
/// the program's own affair.
pub fn bench_setup(bench: &Bench) -> Setup {
    let to_s_mm = bench.length_mm - bench.waste_nose_mm;
    let blank = Blank {
        shape: bench.shape,
        size_mm: bench.size_mm,
        from_s_mm: -bench.waste_nose_mm,
        to_s_mm,
        chuck_face_s_mm: to_s_mm - bench.machine.chuck.grip_mm,
    };
    let timber = timber(bench.species.as_ref(), &bench.wood);
    Setup { timber, ..shop(&bench.machine, &bench.cutter, blank, bench.size_mm / 2.0) }
}

/// Where a blank stands on a machine, and how far the axes reach; no wood and no speeds yet.
fn shop(machine: &Machine, cutter: &Cutter, blank: Blank, surface_mm: f64) -> Setup {
    let towards_head = machine.headstock.sign();
    let chuck_x = towards_head * blank.chuck_face_s_mm;
    let tail_end = chuck_x - towards_head * machine.x_reach_mm;
    let head_end = chuck_x + towards_head * machine.x_past_chuck_mm;
    let z_axis_mm = match machine.z_zero {
        ZZero::Axis => 0.0,
        ZZero::FinishedSurface => -surface_mm,
    };
    let [one, other] = machine.z_range_above_axis_mm;
    Setup {
        machine: machine.clone(),
        blank,
        timber: Timber::default(),
        cutter: cutter.clone(),
        x_nose_mm: 0.0,
        z_axis_mm,
        x_limits_mm: [tail_end.min(head_end), tail_end.max(head_end)],
        z_limits_mm: [z_axis_mm + one.min(other), z_axis_mm + one.max(other)],
        rpm: 0.0,
        feed_mm_per_min: 0.0,
        feed_least_mm_per_min: 0.0,
        feed_radius_mm: surface_mm,
        section_mm2: None,
        level_mm: None,
    }
}

/// The slowest feed of a job's passes.
pub(super) fn least_feed(job: &Job) -> f64 {
    let cutting = &job.cutting;
    cutting
        .feeds_mm_per_min
        .iter()
        .copied()
        .chain(cutting.flank_feed_mm_per_min)
        .fold(cutting.feed_mm_per_min, f64::min)
}

/// What is known of a wood; only its name when no table has it.
fn timber(species: Option<&Species>, wood: &str) -> Timber {
    match species {
        Some(species) => species.timber(wood),
        None => Timber { name: wood.to_owned(), ..Timber::default() },
    }
}
