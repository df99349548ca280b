//! The same screw with one, two or three starts and with finer or coarser threads: what a maker chooses between. Each is
//! designed in full, with the cutter of the job and its crest flat in proportion.

use super::friction::Holds;
use super::works::Works;
use super::{Held, held, usual, weakest};
use crate::design;
use crate::finding::Severity;
use crate::job::{DepthAsked, Job, Passes};
use crate::units::LengthUnit;

/// Starts that are compared, besides the job's own.
const STARTS: [u32; 3] = [1, 2, 3];
/// Pitches that are compared, as shares of the job's own.
const PITCHES: [f64; 3] = [0.75, 1.0, 1.25];
/// Other pitches are rounded to whole ones of these: half a millimetre, a sixteenth of an inch.
const STEP_MM: f64 = 0.5;
const STEP_INCH_MM: f64 = 25.4 / 16.0;
/// Passes do not matter here; a list of depths would not fit another pitch.
const ANY_PASSES: u32 = 4;

/// One choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// Threads side by side.
    pub starts: u32,
    /// Crest to crest, mm.
    pub pitch_mm: f64,
    /// Whether it is the job's own.
    pub own: bool,
    /// What comes of it; the code of what forbids it otherwise.
    pub outcome: Result<Outcome, &'static str>,
}

/// What comes of a choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Advance per turn, mm.
    pub lead_mm: f64,
    /// Turns from shut to wide open.
    pub turns: f64,
    /// Diameter of the core, mm.
    pub core_mm: f64,
    /// Load that the hand raises in the usual state, least and most, N.
    pub load_n: [f64; 2],
    /// Pull of the hand that lets the most of it go, N.
    pub let_go_n: f64,
    /// Whether it stays put, by what is on the threads, as in [`super::Press::held`].
    pub holds: Vec<Holds>,
    /// How many times a weak piece bears the load at the weakest place that is known.
    pub weak_factor: Option<f64>,
}

/// Every choice, by pitch and starts.
pub(super) fn choices(job: &Job) -> Vec<Choice> {
    let mut starts: Vec<u32> = STARTS.to_vec();
    if !starts.contains(&job.screw.starts) {
        starts.push(job.screw.starts);
    }
    let step = if job.unit == LengthUnit::Mm { STEP_MM } else { STEP_INCH_MM };
    let mut all = Vec::new();
    for share in PITCHES {
        let own_pitch = share == 1.0;
        let pitch_mm = job.screw.pitch_mm * share;
        let pitch_mm = if own_pitch { pitch_mm } else { ((pitch_mm / step).round() * step).max(step) };
        // A fine thread may round back to itself.
        if !own_pitch && (pitch_mm - job.screw.pitch_mm).abs() < step / 2.0 {
            continue;
        }
        for &starts in &starts {
            let own = own_pitch && starts == job.screw.starts;
            all.push(Choice { starts, pitch_mm, own, outcome: outcome(job, pitch_mm, starts) });
        }
    }
    all
}

fn outcome(job: &Job, pitch_mm: f64, starts: u32) -> Result<Outcome, &'static str> {
    let own_flat = design::screw(job).0.map_or(0.0, |screw| screw.crest_flat_mm);
    let mut other = job.clone();
    other.screw.pitch_mm = pitch_mm;
    other.screw.starts = starts;
    other.screw.lead_mm = pitch_mm * f64::from(starts);
    other.cutting.passes = Passes::EqualArea(ANY_PASSES);
    let flat_mm = own_flat * pitch_mm / job.screw.pitch_mm;
    other.screw.depth = DepthAsked::CrestFlat { flat_mm, depth_too_mm: None };
    let (screw, findings) = design::screw(&other);
    if let Some(stop) = findings.iter().find(|finding| finding.severity == Severity::Stop) {
        return Err(stop.code.name);
    }
    let screw = screw.ok_or("core-thin")?;
    let works = Works::of(&other, &screw);
    let rows = held(&other, &works);
    let usual = &rows[usual(job, &works, &rows)];
    let let_go_n = usual.let_go_n[1];
    Ok(Outcome {
        lead_mm: other.screw.lead_mm,
        turns: works.opening_mm.value / other.screw.lead_mm,
        core_mm: 2.0 * screw.root_radius_mm,
        load_n: usual.load_n,
        let_go_n,
        holds: rows.iter().map(|row: &Held| row.with_collar).collect(),
        weak_factor: weakest(&super::strength::checks(&other, &screw, &works, usual.load_n[1]))
            .and_then(super::strength::Check::weak_factor),
    })
}
