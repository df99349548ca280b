//! The course of a cut, for whoever wants to show it: every motion with its place on the blank and its minutes, the
//! trips of the cutter through the wood, and the wood as it stands after each motion. Judges nothing.

use std::sync::Arc;

use crate::rs274::{self, Kind, Motion};
use crate::setup::Setup;
use crate::source::Source;
use crate::stock::{Grid, History, Stand, Stroke, strokes};

use super::control;
use super::motions::{at_top_minutes, minutes_of_each};

/// One motion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Line of the program.
    pub line: usize,
    /// Rapid or feed.
    pub kind: Kind,
    /// How long it takes, starting and stopping included.
    pub minutes: f64,
    /// How long it takes at least, some axis running at its top speed.
    pub least_minutes: f64,
    /// Spindle speed, rev/min.
    pub rpm: f64,
    /// Whether it takes off wood.
    pub cuts: bool,
}

/// Feed moves that follow each other without a rapid between them and take off wood.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trip {
    /// First and last motion.
    pub motions: [usize; 2],
    /// Least height of the tip above the axis, mm.
    pub tip_mm: f64,
    /// Where the cutter stands at the end of its longest move.
    pub longest_to: Stand,
}

/// The course of a cut.
#[derive(Clone, Debug)]
pub struct Story {
    /// Every motion, in order.
    pub steps: Vec<Step>,
    /// The straight moves they are made of, in the frame of the blank, in order.
    pub strokes: Vec<Stroke>,
    /// The trips through the wood, in order.
    pub trips: Vec<Trip>,
    /// The wood after each motion.
    pub history: History,
}

impl Story {
    /// Follows a program as [`super::prove`] does; none that moves so far that carving it would take for ever.
    pub fn of(program: &Arc<Source>, setup: &Setup) -> Option<Story> {
        let run = rs274::run(program, &control(setup));
        if super::motions::wound(program, &run).is_some() {
            return None;
        }
        let motions = &run.motions;
        let history = History::of(motions, setup);
        let mut cuts = vec![false; motions.len()];
        for shaving in &history.shavings {
            cuts[shaving.motion] = true;
        }
        let minutes = minutes_of_each(motions, &setup.machine);
        let step = |((motion, minutes), cuts): ((&Motion, f64), bool)| Step {
            line: motion.line,
            kind: motion.kind,
            minutes,
            least_minutes: at_top_minutes(motion, &setup.machine),
            rpm: motion.rpm,
            cuts,
        };
        let steps: Vec<Step> = motions.iter().zip(minutes).zip(cuts).map(step).collect();
        let strokes = strokes(motions, setup);
        let trips = trips(&steps, motions, setup);
        Some(Story { steps, strokes, trips, history })
    }
}

fn trips(steps: &[Step], motions: &[Motion], setup: &Setup) -> Vec<Trip> {
    let mut all = Vec::new();
    let mut first = 0;
    while first < steps.len() {
        let past = (first..steps.len()).find(|&i| steps[i].kind == Kind::Rapid).unwrap_or(steps.len());
        let cutting: Vec<usize> = (first..past).filter(|&i| steps[i].cuts).collect();
        let longest = cutting.iter().copied().max_by(|&a, &b| steps[a].minutes.total_cmp(&steps[b].minutes));
        if let (Some(&from), Some(&to), Some(longest)) = (cutting.first(), cutting.last(), longest) {
            let tip = |&i: &usize| motions[i].from.z_mm.min(motions[i].to.z_mm) - setup.z_axis_mm;
            let tip_mm = cutting.iter().map(tip).fold(f64::INFINITY, f64::min);
            all.push(Trip { motions: [from, to], tip_mm, longest_to: Stand::of(motions[longest].to, setup) });
        }
        first = past + 1;
    }
    all
}

/// Stations and radii of the wood that a program leaves at angle 0, from one station to another.
pub fn section(program: &Arc<Source>, setup: &Setup, [from_s_mm, to_s_mm]: [f64; 2]) -> Vec<[f64; 2]> {
    let stations = ((to_s_mm - from_s_mm) / SECTION_STEP_MM).ceil().max(1.0) as usize + 1;
    let grid = Grid { from_s_mm, step_mm: SECTION_STEP_MM, stations, rows: 1 };
    let wood = surface(program, setup, grid);
    wood[0].iter().enumerate().map(|(column, &radius)| [grid.station_mm(column), f64::from(radius)]).collect()
}

/// Distance between the stations of a section, mm: finer than a drawing shows.
const SECTION_STEP_MM: f64 = 0.02;

/// The radii that a program leaves on a grid of any part of the blank: rows of stations.
pub fn surface(program: &Arc<Source>, setup: &Setup, grid: Grid) -> Vec<Vec<f32>> {
    let run = rs274::run(program, &control(setup));
    History::on(&run.motions, setup, grid).wood_after(run.motions.len())
}
