//! What a screw will hold: the load that a hand raises, whether it stays where it is left, what it takes to let go, and
//! what the timber bears of it. Sizes come from design, strengths from the table of woods; makes no words.

pub mod beam;
pub mod engaged;
mod faults;
pub mod friction;
mod options;
mod strength;
pub mod thread;
mod works;

pub use friction::{Condition, Figure, Holds, UNKNOWN};
pub use options::{Choice, Outcome};
pub use strength::{Check, Measure};
pub use works::{Value, Works};

use crate::design::Screw;
use crate::finding::Finding;
use crate::job::Job;

/// What the screw does in one state of its threads. Pairs are at the most and at the least friction, so that the first
/// of a load is the smallest.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The state.
    pub condition: Condition,
    /// Load that the hand raises, N, least and most.
    pub load_n: [f64; 2],
    /// Share of the work that reaches it, least and most.
    pub efficiency: [f64; 2],
    /// Pull at the handle that lets it go, N, least and most: the load raised at some friction and let go at the same;
    /// the most also when it has to be broken loose. Negative when it goes by itself.
    pub let_go_n: [f64; 2],
    /// Whether the threads alone stay put.
    pub alone: Holds,
    /// Whether they do with the friction of the collar.
    pub with_collar: Holds,
}

/// Everything about a press.
#[derive(Clone, Debug, PartialEq)]
pub struct Press {
    /// How it is worked.
    pub works: Works,
    /// Friction from which the threads alone stay put.
    pub lock_friction: f64,
    /// What it does, by state.
    pub held: Vec<Held>,
    /// The state whose greatest load the strength is looked at for; an index into `held`.
    pub usual: usize,
    /// Every place that this load passes.
    pub checks: Vec<Check>,
    /// Twist of the core, degrees.
    pub twist_deg: Option<f64>,
    /// How far the end of the handle gives, mm.
    pub handle_gives_mm: Option<f64>,
    /// Choices of starts and pitch.
    pub choices: Vec<Choice>,
}

impl Press {
    /// What it does in the usual state.
    pub fn usually(&self) -> &Held {
        &self.held[self.usual]
    }

    /// The weakest place of those whose strength is known.
    pub fn weakest(&self) -> Option<&Check> {
        weakest(&self.checks)
    }

    /// Pull of the hand at which the weakest known place of a weak piece is at its end, N: everything grows with the pull.
    pub fn pull_at_most_n(&self) -> Option<f64> {
        Some(self.works.hand_n.value * self.weakest()?.weak_factor()?)
    }
}

/// Works out what the screw of a job will hold.
pub fn press(job: &Job, screw: &Screw) -> (Press, Vec<Finding>) {
    let works = Works::of(job, screw);
    let held = held(job, &works);
    let usual = usual(job, &works, &held);
    let checks = strength::checks(job, screw, &works, held[usual].load_n[1]);
    let press = Press {
        lock_friction: works.thread.lock_friction(),
        twist_deg: strength::twist_deg(job, screw, &works),
        handle_gives_mm: strength::handle_gives_mm(job, &works),
        choices: options::choices(job),
        works,
        held,
        usual,
        checks,
    };
    let findings = faults::of(job, &press);
    (press, findings)
}

/// The row that holds as a rule: the user's own friction goes before any listed state, and is the last row.
fn usual(job: &Job, works: &Works, held: &[Held]) -> usize {
    match job.press.friction {
        Some(_) => held.len() - 1,
        None => held.iter().position(|row| row.condition.state == Some(works.state)).unwrap_or(0),
    }
}

/// What a screw does, by state.
fn held(job: &Job, works: &Works) -> Vec<Held> {
    friction::conditions(&job.press).into_iter().map(|condition| row(condition, works)).collect()
}

fn row(condition: Condition, works: &Works) -> Held {
    let (least, most) = (condition.least.value, condition.most.value);
    let stick = condition.stick.map_or(most, |stick| stick.value.max(most));
    let load_n = [works.load_n(most), works.load_n(least)];
    let effort = works.hand_n_mm();
    let pull = |load: f64, friction: f64| works.lower_n_mm(load, friction) / works.handle_mm.value;
    let gone = [pull(load_n[1], least), pull(load_n[0], most), pull(load_n[1], stick)];
    let fold = |start: f64, better: fn(f64, f64) -> f64| gone.into_iter().fold(start, better);
    let lock = works.thread.lock_friction();
    Held {
        load_n,
        efficiency: load_n.map(|load| works.thread.efficiency(load, effort)),
        let_go_n: [fold(f64::INFINITY, f64::min), fold(f64::NEG_INFINITY, f64::max)],
        alone: Holds::of(least, most, lock),
        with_collar: Holds::of(least, most, lock_with_collar(works)),
        condition,
    }
}

/// Friction from which threads and collar together stay put: where the effort to let go changes its sign. It grows with
/// friction, so halving finds it.
fn lock_with_collar(works: &Works) -> f64 {
    /// Halvings: far past what shows.
    const HALVINGS: u32 = 60;
    let (mut low, mut high) = (0.0, works.thread.lock_friction());
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if works.lower_n_mm(1.0, middle) < 0.0 { low = middle } else { high = middle }
    }
    high
}

/// The check with the least margin of those whose strength is known and that decide.
fn weakest(checks: &[Check]) -> Option<&Check> {
    let known =
        checks.iter().filter(|check| !check.at_worst).filter_map(|check| Some((check.weak_factor()?, check)));
    known.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, check)| check)
}
