//! A sequence of moves being put together for turned and milled features: where the cutter stands, which way the blank
//! turns next, and how fast. Knows the heights that are clear of the wood, not what is being made.

use std::f64::consts::TAU;

use super::frame::{Frame, a_limit_deg};
use super::work::Work;
use super::{Move, Pace, Place, What};
use crate::design::{Operation, Step};
use crate::job::Job;

/// A ring goes on past a whole turn by this, degrees, so that play in A leaves no gap.
pub(super) const PAST_A_TURN_DEG: f64 = 5.0;
/// Share of the feed at which the cutter goes down beside the wood.
const PLUNGE_SHARE: f64 = 1.0 / 3.0;
/// Share of an axis's top speed that is asked of it.
const TOP_SHARE: f64 = 0.95;
/// Air beyond the tail end, mm.
const AIR_MM: f64 = 2.0;

/// The sequence.
pub(super) struct Lathe<'a> {
    pub(super) job: &'a Job,
    pub(super) step: &'a Step,
    /// Height of rapid moves above everything that may still have corners.
    pub(super) safe_r_mm: f64,
    high_r_mm: f64,
    from: Option<Place>,
    at: Place,
    /// Which way the blank turns next: +1 or -1.
    sign: f64,
    moves: Vec<Move>,
    notes: Vec<String>,
    wound_back_turns: Vec<f64>,
}

impl<'a> Lathe<'a> {
    pub(super) fn new(job: &'a Job, step: &'a Step, frame: &Frame) -> Self {
        let at = Place { s_mm: 0.0, theta_deg: 0.0, r_mm: frame.high_r_mm };
        Lathe {
            job,
            step,
            safe_r_mm: frame.safe_r_mm,
            high_r_mm: frame.high_r_mm,
            from: None,
            at,
            sign: 1.0,
            moves: Vec::new(),
            notes: Vec::new(),
            wound_back_turns: Vec::new(),
        }
    }

    /// Radius of a straight cutter.
    pub(super) fn cutter_radius_mm(&self) -> f64 {
        self.step.setup.cutter.cutting_diameter_mm / 2.0
    }

    /// Advance along the blank in one turn.
    pub(super) fn advance_mm(&self) -> f64 {
        self.step.tooling.advance * self.step.setup.cutter.cutting_diameter_mm
    }

    /// Where a straight cutter stands in the air beyond the tail end.
    pub(super) fn beyond_tail_mm(&self) -> f64 {
        self.step.setup.blank.from_s_mm - self.cutter_radius_mm() - AIR_MM
    }

    pub(super) fn at(&self) -> Place {
        self.at
    }

    /// Begins a new note; the moves that follow belong to it.
    pub(super) fn note(&mut self, operation: Operation, words: &str) {
        self.notes.push(format!("{}: {words}", operation.name()));
    }

    fn push(&mut self, pace: Pace, what: What, to: Place) {
        if to != self.at {
            self.moves.push(Move { pace, what, to, pass: self.notes.len().saturating_sub(1) });
            self.at = to;
        }
    }

    /// Up and over to a station at the height of rapid moves. The first call says where the program begins.
    pub(super) fn over(&mut self, s_mm: f64) {
        if self.from.is_none() {
            let from = Place { s_mm, theta_deg: self.at.theta_deg, r_mm: self.high_r_mm };
            (self.from, self.at) = (Some(from), from);
        }
        if self.at.r_mm < self.safe_r_mm {
            self.push(Pace::Rapid, What::Retract, Place { r_mm: self.safe_r_mm, ..self.at });
        }
        self.push(Pace::Rapid, What::Return, Place { s_mm, ..self.at });
    }

    /// Turns the blank in the air.
    pub(super) fn index(&mut self, theta_deg: f64) {
        self.push(Pace::Rapid, What::Index, Place { theta_deg, ..self.at });
    }

    /// Down in the air, fast.
    pub(super) fn down_fast(&mut self, r_mm: f64) {
        self.push(Pace::Rapid, What::Approach, Place { r_mm, ..self.at });
    }

    /// Down in the air, at a share of the feed.
    pub(super) fn down(&mut self, r_mm: f64) {
        let way = (self.at.r_mm - r_mm).abs();
        let minutes = (way / (PLUNGE_SHARE * self.step.setup.feed_mm_per_min))
            .max(way / self.job.machine.z.top_mm_per_min);
        self.push(Pace::Feed { minutes }, What::Approach, Place { r_mm, ..self.at });
    }

    /// Clear of the wood.
    pub(super) fn up(&mut self) {
        self.push(Pace::Rapid, What::Retract, Place { r_mm: self.safe_r_mm, ..self.at });
    }

    /// Along the blank without turning it.
    pub(super) fn along(&mut self, s_mm: f64, r_mm: f64) {
        let to = Place { s_mm, r_mm, ..self.at };
        self.feed(to);
    }

    /// Turns the blank by so many degrees while going to a station and a height, the way it turns now. A rotary with
    /// limits turns back before it reaches one, with a whole turn on the spot so that nothing is left standing.
    pub(super) fn turn(&mut self, degrees: f64, s_mm: f64, r_mm: f64) {
        let mut left = degrees;
        while left > 0.0 {
            let room = self.room_deg();
            if room >= left {
                self.feed(Place { s_mm, theta_deg: self.at.theta_deg + self.sign * left, r_mm });
                return;
            }
            let share = room / left;
            let mix = |a: f64, b: f64| a + (b - a) * share;
            let (s, r) = (mix(self.at.s_mm, s_mm), mix(self.at.r_mm, r_mm));
            self.feed(Place { s_mm: s, theta_deg: self.at.theta_deg + self.sign * room, r_mm: r });
            self.turn_back();
            left -= room;
            let ring = Place { theta_deg: self.at.theta_deg + self.sign * 360.0, ..self.at };
            self.feed(ring);
        }
    }

    /// The next turning goes the other way.
    pub(super) fn turn_back(&mut self) {
        self.sign = -self.sign;
    }

    /// A whole turn on the spot.
    pub(super) fn ring(&mut self) {
        self.turn(360.0 + PAST_A_TURN_DEG, self.at.s_mm, self.at.r_mm);
    }

    /// Degrees before a limit of A, the way the blank turns now.
    fn room_deg(&self) -> f64 {
        let Some(limit) = a_limit_deg(&self.job.machine) else { return f64::INFINITY };
        (limit - self.sign * self.at.theta_deg).max(0.0)
    }

    /// A move at the feed of the step, or as fast as the axes go.
    fn feed(&mut self, to: Place) {
        let machine = &self.job.machine;
        let (along, down) = (to.s_mm - self.at.s_mm, to.r_mm - self.at.r_mm);
        let turn = to.theta_deg - self.at.theta_deg;
        let radius = f64::midpoint(self.at.r_mm, to.r_mm).max(self.step.setup.feed_radius_mm);
        let round = TAU * radius * turn / 360.0;
        let way = round.hypot(along).hypot(down);
        let minutes = (way / self.step.setup.feed_mm_per_min)
            .max(turn.abs() / (TOP_SHARE * machine.a.top_deg_per_min))
            .max(along.abs() / (TOP_SHARE * machine.x.top_mm_per_min))
            .max(down.abs() / (TOP_SHARE * machine.z.top_mm_per_min));
        self.push(Pace::Feed { minutes }, What::Cut, to);
    }

    /// Puts another plan behind what is there.
    pub(super) fn take_over(&mut self, work: Work) {
        if self.from.is_none() {
            (self.from, self.at) = (Some(work.from), work.from);
        } else {
            self.over(work.from.s_mm);
            self.index(work.from.theta_deg);
        }
        let shift = self.notes.len();
        self.moves.extend(work.moves.iter().map(|step| Move { pass: step.pass + shift, ..*step }));
        self.notes.extend(work.notes);
        self.wound_back_turns.extend(work.wound_back_turns);
        if let Some(last) = self.moves.last() {
            self.at = last.to;
        }
    }

    /// The plan, ending clear of everything.
    pub(super) fn finish(mut self) -> Option<Work> {
        self.push(Pace::Rapid, What::Retract, Place { r_mm: self.high_r_mm, ..self.at });
        let from = self.from?;
        Some(Work { from, moves: self.moves, notes: self.notes, wound_back_turns: self.wound_back_turns })
    }
}

/// Heights above the axis from `from_r_mm` down to `to_r_mm`, each at most `step_mm` lower, the last by `finish_mm`.
pub(super) fn levels(from_r_mm: f64, to_r_mm: f64, step_mm: f64, finish_mm: f64) -> Vec<f64> {
    let rough = from_r_mm - to_r_mm - finish_mm;
    let count = (rough / step_mm).ceil().max(0.0);
    let mut levels: Vec<f64> = (1..=count as usize).map(|i| from_r_mm - rough * i as f64 / count).collect();
    levels.push(to_r_mm);
    levels
}

#[cfg(test)]
mod tests {
    use super::levels;

    #[test]
    fn levels_are_even_and_the_last_is_thin() {
        assert_eq!(levels(30.0, 20.0, 3.0, 1.0), vec![27.0, 24.0, 21.0, 20.0]);
        assert_eq!(levels(20.4, 20.0, 3.0, 0.5), vec![20.0]);
        let odd = levels(30.0, 20.0, 4.0, 0.5);
        assert!(odd.windows(2).all(|pair| pair[0] - pair[1] <= 4.0), "{odd:?}");
    }
}
