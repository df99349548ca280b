//! The moves of a thread. The helix is theta = 360 · start / starts + hand · 360 · (s - aside) / lead, aside being how far a
//! pass runs beside the middle of its groove: start 1 passes the nose face at angle 0.

use super::frame::{Frame, a_limit_deg};
use super::{Move, Pace, Pass, Path, Place, Towards, What, faults, order};
use crate::design::Screw;
use crate::feeds::{self, Kind};
use crate::finding::Finding;
use crate::job::Job;

/// Share of the feed at which the cutter goes down beside the wood: it cuts nothing there, and the operator sees
/// where it is going.
const PLUNGE_SHARE: f64 = 1.0 / 3.0;

/// Rounding of an angle, as a share of a turn, that does not count as having passed a start.
const SAME_ANGLE: f64 = 1e-9;

/// Which passes of a thread are cut, and where round the blank. The usual choice is all of them, start 1 at A0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Choice {
    /// Passes left out at the beginning, in the order in which they are cut.
    pub skip: usize,
    /// Passes cut at most.
    pub most: Option<usize>,
    /// How far round the blank the whole thread is turned, degrees, the way theta counts.
    pub phase_deg: f64,
    /// Depth that stands already, mm: passes that would not go deeper are left out.
    pub stands_mm: f64,
}

/// Plans the cut of a thread.
///
/// Returns the moves, unless there is no way to make them, and everything that stands against them: places the
/// machine does not reach, things in the way, axes too slow for the feed. A path that comes with a finding of weight
/// `stop` is for showing, not for cutting.
pub fn plan(job: &Job, screw: &Screw) -> (Option<Path>, Vec<Finding>) {
    plan_choice(job, screw, &Choice::default())
}

/// Plans a part of the cut of a thread; otherwise as [`plan`].
pub fn plan_choice(job: &Job, screw: &Screw, choice: &Choice) -> (Option<Path>, Vec<Finding>) {
    let frame = Frame::new(job, screw);
    let (trips, note) = feeds::trips(job, screw);
    if trips.is_empty() {
        return (None, vec![faults::plan_open(job)]);
    }
    let mut findings: Vec<Finding> = note.into_iter().collect();
    findings.extend(faults::of(job, screw, &frame));
    let mut passes = order::passes(job, &trips);
    passes.retain(|pass| pass.depth_mm > choice.stands_mm);
    passes.drain(..choice.skip.min(passes.len()));
    passes.truncate(choice.most.unwrap_or(usize::MAX));
    let phase_deg = choice.phase_deg;
    let mut planner =
        Planner { job, screw, frame: &frame, phase_deg, at: None, feed_mm_per_min: 0.0, moves: Vec::new() };
    let mut from = None;
    for (index, pass) in passes.iter().enumerate() {
        let first = planner.first_place(&passes[index..]);
        let Some(first) = first else {
            findings.push(faults::turns_short(job, planner.span_deg(pass)));
            return (None, findings);
        };
        from.get_or_insert(Place { r_mm: frame.high_r_mm, ..first });
        planner.pass(index, pass, first, index + 1 == passes.len());
    }
    let moves = planner.moves;
    (from.map(|from| Path { from, moves, passes, trips }), findings)
}

struct Planner<'a> {
    job: &'a Job,
    screw: &'a Screw,
    frame: &'a Frame,
    /// Angle of start 1 at the nose face.
    phase_deg: f64,
    /// Where the cutter stands; `None` before the first pass.
    at: Option<Place>,
    /// Feed of the pass being planned.
    feed_mm_per_min: f64,
    moves: Vec<Move>,
}

impl Planner<'_> {
    /// First and last station of a pass.
    fn stations(&self, pass: &Pass) -> (f64, f64) {
        match pass.towards {
            Towards::Head => (self.frame.tail_air_s_mm, self.frame.drawing.run_out_to_s_mm),
            Towards::Nose => (self.frame.head_air_s_mm, self.frame.tail_air_s_mm),
        }
    }

    /// How far the blank turns along a stretch of the helix, degrees.
    fn turn_deg(&self, from_s_mm: f64, to_s_mm: f64) -> f64 {
        self.job.screw.hand.sign() * 360.0 * (to_s_mm - from_s_mm) / self.job.screw.lead_mm
    }

    /// How far the blank turns in a pass, degrees.
    fn span_deg(&self, pass: &Pass) -> f64 {
        let (from, to) = self.stations(pass);
        self.turn_deg(from, to).abs()
    }

    /// Where the first of the passes still to come begins, at the height of rapid moves. `None` when no angle leaves
    /// it enough turns.
    fn first_place(&self, left: &[Pass]) -> Option<Place> {
        let pass = left.first()?;
        let next_deg = self.next_deg(pass, self.at.map(|at| at.theta_deg));
        let theta_deg = next_deg + 360.0 * self.turns_aside(left)?;
        Some(Place { s_mm: self.stations(pass).0, theta_deg, r_mm: self.frame.safe_r_mm })
    }

    /// The next angle that belongs to the start of a pass, ahead of where A stands in the direction in which the pass
    /// turns the blank. For the first pass of all, the angle from which it runs through A0 at the nose face.
    fn next_deg(&self, pass: &Pass, at_deg: Option<f64>) -> f64 {
        let (s_mm, to_s_mm) = self.stations(pass);
        let ahead = self.turn_deg(s_mm, to_s_mm).signum();
        let start_deg = self.phase_deg + 360.0 * f64::from(pass.start) / f64::from(self.job.screw.starts);
        let helix = start_deg + self.turn_deg(pass.aside_mm, s_mm);
        at_deg.map_or(helix, |at| {
            let turns = (ahead * (at - helix) / 360.0 - SAME_ANGLE).ceil();
            ahead * (ahead * helix + 360.0 * turns).max(ahead * at)
        })
    }

    /// How many whole turns aside of the next angle the first of the passes still to come begins, so that a limited
    /// rotary never passes its limits. `None` when the pass does not fit between them.
    ///
    /// A pass goes on from the next angle ahead as long as it fits. When it does not, A winds back just so far that
    /// every pass still to come fits before the limit, or else as many of them as can fit: turns wound back beyond
    /// that would never be used, and the spindle runs meanwhile. The first pass of all keeps to the same rule, A
    /// standing at A0: if all passes fit from somewhere, it begins there. That way is about as long as the winding
    /// back that it saves, since the passes need the same turns wherever they begin; but the spindle still stands.
    fn turns_aside(&self, left: &[Pass]) -> Option<f64> {
        let Some(limit) = a_limit_deg(&self.job.machine) else { return Some(0.0) };
        let mut at_deg = self.at.map(|at| at.theta_deg);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let mut fitting = None;
        for pass in left {
            let from = self.next_deg(pass, at_deg);
            let (s_mm, to_s_mm) = self.stations(pass);
            let to = from + self.turn_deg(s_mm, to_s_mm);
            (low, high) = (low.min(from).min(to), high.max(from).max(to));
            let (least, most) = (((-limit - low) / 360.0).ceil(), ((limit - high) / 360.0).floor());
            if least > most {
                break;
            }
            if self.at.is_some() && fitting.is_none() && least <= 0.0 && 0.0 <= most {
                return Some(0.0);
            }
            fitting = Some((least, most));
            at_deg = Some(to);
        }
        fitting.map(|(least, most)| 0.0_f64.clamp(least, most))
    }

    /// The moves of one pass.
    fn pass(&mut self, index: usize, pass: &Pass, first: Place, last: bool) {
        let frame = self.frame;
        // A pass beside the middle begins to climb beside it too, so that the groove is as wide up to its end.
        let full_to = frame.drawing.full_to_s_mm + pass.aside_mm;
        let run_out_to = frame.drawing.run_out_to_s_mm;
        let depth_r = self.screw.crest_radius_mm - pass.depth_mm;
        self.feed_mm_per_min = pass.feed_mm_per_min;
        let at = self.at.unwrap_or(Place { r_mm: frame.high_r_mm, ..first });
        self.at = Some(at);
        self.rapid(index, What::Return, Place { s_mm: first.s_mm, ..at });
        self.rapid(index, What::Index, Place { r_mm: at.r_mm, ..first });
        self.rapid(index, What::Approach, first);
        match pass.towards {
            Towards::Head => {
                self.feed(index, What::Approach, first.s_mm, depth_r);
                self.feed(index, What::LeadIn, frame.tail_s_mm, depth_r);
                self.feed(index, What::Cut, full_to, depth_r);
                self.feed(index, What::RunOut, run_out_to, frame.clear_r_mm);
            }
            Towards::Nose => {
                self.feed(index, What::Approach, first.s_mm, frame.clear_r_mm);
                self.feed(index, What::LeadIn, run_out_to, frame.clear_r_mm);
                self.feed(index, What::RunOut, full_to, depth_r);
                self.feed(index, What::Cut, frame.tail_air_s_mm, depth_r);
            }
        }
        let r_mm = if last { frame.high_r_mm } else { frame.safe_r_mm };
        if let Some(at) = self.at {
            self.rapid(index, What::Retract, Place { r_mm, ..at });
        }
    }

    /// A rapid move, unless the cutter is there already.
    fn rapid(&mut self, pass: usize, what: What, to: Place) {
        if self.at != Some(to) {
            self.moves.push(Move { pace: Pace::Rapid, what, to, pass });
            self.at = Some(to);
        }
    }

    /// A move along the helix to a station and a radius, or straight down when the station is the same.
    fn feed(&mut self, pass: usize, what: What, s_mm: f64, r_mm: f64) {
        let Some(at) = self.at else { return };
        let to = Place { s_mm, theta_deg: at.theta_deg + self.turn_deg(at.s_mm, s_mm), r_mm };
        let share = if what == What::Approach { PLUNGE_SHARE } else { 1.0 };
        let speed = share * self.feed_mm_per_min;
        // Time follows the way of the cutter through the wood at the crest, unless Z cannot climb as fast.
        let round = (to.theta_deg - at.theta_deg).to_radians() * self.screw.crest_radius_mm;
        let (along, down) = (to.s_mm - at.s_mm, to.r_mm - at.r_mm);
        let way = along.hypot(round).hypot(down);
        let minutes = (way / speed).max(down.abs() / self.job.machine.z.top_mm_per_min);
        self.moves.push(Move { pace: Pace::Feed { minutes }, what, to, pass });
        self.at = Some(to);
    }
}

/// A pass in words.
pub(super) fn words(job: &Job, pass: &Pass) -> String {
    let mut words = format!(
        "start {} of {}, pass {} of {}, depth {}",
        pass.start + 1,
        job.screw.starts,
        pass.number,
        pass.of,
        job.unit.show(pass.depth_mm)
    );
    match pass.kind {
        Kind::Depth => {}
        Kind::Spring => words.push_str(", spring pass"),
        Kind::Flank if pass.aside_mm > 0.0 => words.push_str(", flank towards the head"),
        Kind::Flank => words.push_str(", flank towards the nose"),
    }
    if pass.towards == Towards::Nose {
        words.push_str(", from head to nose");
    }
    words
}

/// Turns of each move of A against the way in which the pass that follows turns the blank.
pub(super) fn wound_back_turns(job: &Job, path: &Path) -> Vec<f64> {
    let from = std::iter::once(path.from).chain(path.moves.iter().map(|step| step.to));
    let back = |from: Place, step: &Move| {
        let towards = path.passes.get(step.pass)?.towards;
        let ahead = if towards == Towards::Head { 1.0 } else { -1.0 } * job.screw.hand.sign();
        let turns = ahead * (from.theta_deg - step.to.theta_deg) / 360.0;
        (step.what == What::Index && turns > 0.0).then_some(turns)
    };
    from.zip(&path.moves).filter_map(|(from, step)| back(from, step)).collect()
}
