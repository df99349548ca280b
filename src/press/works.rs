//! How the screw is worked, with what is usual put in for what the job leaves open, and marked so.

use super::beam::End;
use super::thread::{Collar, Thread};
use crate::design::{self, Screw};
use crate::job::{Job, PressLoad, State};
use crate::units::{LengthUnit, MM_PER_INCH, N_PER_POUND};
use crate::wood::Species;

/// From the axis to the hand: common practice, no source. In mm jobs, and in inch jobs.
const USUAL_HANDLE_MM: [f64; 2] = [300.0, 12.0 * MM_PER_INCH];
/// What one hand pulls without strain, N: common practice, no source. In mm jobs, and in inch jobs (45 pounds).
const USUAL_HAND_N: [f64; 2] = [200.0, 45.0 * N_PER_POUND];
/// A wooden nut is as long as the screw is thick, or half as long again: common practice, from memory; the safe end.
const USUAL_NUT_LENGTHS: f64 = 1.0;
/// Gap between core and bore when no fit is known: the small end of .2 to .5 mm on the radius, common practice for a dry
/// nut, from memory.
const USUAL_GAP_MM: f64 = 0.2;

/// A value, and whether it is only the usual one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// In the unit of its name.
    pub value: f64,
    /// The job does not give it.
    pub usual: bool,
}

impl Value {
    fn or(given: Option<f64>, usual: f64) -> Self {
        Value { value: given.unwrap_or(usual), usual: given.is_none() }
    }
}

/// How the screw is worked.
#[derive(Clone, Debug, PartialEq)]
pub struct Works {
    /// From the axis to the hand, mm.
    pub handle_mm: Value,
    /// Pull of the hand, N.
    pub hand_n: Value,
    /// What rubs under the load.
    pub collar: Collar,
    /// Whether that is only the end of the screw, as is usual.
    pub collar_usual: bool,
    /// Friction of the collar where it is not that of the threads.
    pub collar_friction: Option<f64>,
    /// What is on the threads, as a rule.
    pub state: State,
    /// Whether that is only what is usual.
    pub state_usual: bool,
    /// Which way the load acts.
    pub load: PressLoad,
    /// Whether that is only assumed, being the harder case.
    pub load_usual: bool,
    /// How the pressing end is held.
    pub end: End,
    /// Screw that stands free between nut and load, mm.
    pub free_mm: Value,
    /// From shut to wide open, mm.
    pub opening_mm: Value,
    /// Length of the nut, mm.
    pub nut_mm: Value,
    /// Name of the nut's wood.
    pub nut_wood: String,
    /// What is known of it.
    pub nut_species: Option<Species>,
    /// Bore of the nut, mm.
    pub bore_mm: f64,
    /// The thread.
    pub thread: Thread,
}

impl Works {
    /// How the screw of a job is worked.
    pub fn of(job: &Job, screw: &Screw) -> Self {
        let asked = &job.press;
        let by_unit = |values: [f64; 2]| values[usize::from(job.unit == LengthUnit::Inch)];
        let crest = 2.0 * screw.crest_radius_mm;
        let nut = job.nut.as_ref();
        let nut_mm = Value::or(
            nut.map(|nut| nut.length_mm),
            (USUAL_NUT_LENGTHS * crest).min(job.screw.thread_length_mm),
        );
        let travel = job.screw.thread_length_mm - nut_mm.value;
        let root = 2.0 * screw.root_radius_mm;
        let bore =
            design::fit(job, screw).0.map_or(root + 2.0 * USUAL_GAP_MM, |fit| fit.nut_bore_diameter_mm);
        Works {
            handle_mm: Value::or(asked.handle_length_mm, by_unit(USUAL_HANDLE_MM)),
            hand_n: Value::or(asked.hand_force_n, by_unit(USUAL_HAND_N)),
            collar: Collar {
                outside_mm: asked.collar_diameter_mm.unwrap_or(crest),
                hole_mm: asked.collar_hole_mm.unwrap_or(0.0).min(asked.collar_diameter_mm.unwrap_or(crest)),
            },
            collar_usual: asked.collar_diameter_mm.is_none(),
            collar_friction: asked.collar_friction,
            state: asked.state.unwrap_or(State::Waxed),
            state_usual: asked.state.is_none(),
            load: asked.load.unwrap_or(PressLoad::Pushes),
            load_usual: asked.load.is_none(),
            end: if asked.guided.unwrap_or(true) { End::Guided } else { End::Free },
            free_mm: Value::or(asked.free_length_mm, job.screw.plain_nose_mm + travel.max(0.0)),
            opening_mm: Value::or(asked.opening_mm, travel.max(0.0)),
            nut_mm,
            nut_wood: nut.map_or(&job.wood, |nut| &nut.wood).clone(),
            nut_species: nut.map_or(&job.species, |nut| &nut.species).clone(),
            bore_mm: bore,
            thread: Thread {
                mean_diameter_mm: screw.crest_radius_mm + screw.root_radius_mm,
                lead_mm: job.screw.lead_mm,
                cos_flank: screw.flank_normal_deg.to_radians().cos(),
            },
        }
    }

    /// Turning effort of the hand, N mm.
    pub fn hand_n_mm(&self) -> f64 {
        self.hand_n.value * self.handle_mm.value
    }

    /// Turning effort that raises a load against threads and collar, N mm.
    pub fn raise_n_mm(&self, load_n: f64, friction: f64) -> f64 {
        self.thread.raise_n_mm(load_n, friction) + self.collar_n_mm(load_n, friction)
    }

    /// Turning effort that lets a load go, N mm; negative when it goes by itself.
    pub fn lower_n_mm(&self, load_n: f64, friction: f64) -> f64 {
        self.thread.lower_n_mm(load_n, friction) + self.collar_n_mm(load_n, friction)
    }

    /// Load that the hand raises, N: the effort grows in proportion to it.
    pub fn load_n(&self, friction: f64) -> f64 {
        self.hand_n_mm() / self.raise_n_mm(1.0, friction)
    }

    fn collar_n_mm(&self, load_n: f64, friction: f64) -> f64 {
        self.collar.n_mm(load_n, self.collar_friction.unwrap_or(friction))
    }
}
