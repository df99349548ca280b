//! The course of a cut, for whoever wants to show it: every motion of all its programs with its place on the blank and its
//! minutes, the trips of the cutter through the wood, and the wood as it stands after each motion. Judges nothing.

use std::ops::Range;

use crate::rs274::{self, Kind, Motion};
use crate::setup::Setup;
use crate::stock::{Former, Grid, History, Stand, Stroke, strokes};

use super::motions::{at_top_minutes, minutes_of_each};
use super::{Before, control};

/// One motion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Line of its program.
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

/// The course of a cut. Motions are counted on from one program to the next.
#[derive(Clone, Debug)]
pub struct Story {
    /// The motions of each program.
    pub parts: Vec<Range<usize>>,
    /// Every motion, in order.
    pub steps: Vec<Step>,
    /// The straight moves they are made of, in the frame of the blank, in order.
    pub strokes: Vec<Stroke>,
    /// The trips through the wood, in order; none goes on from one program to the next.
    pub trips: Vec<Trip>,
    /// The wood after each motion.
    pub history: History,
}

impl Story {
    /// Follows programs, each on the wood that the ones before it leave, as [`super::prove_after`] does; none when there are
    /// no programs, or when one of them moves so far that carving it would take for ever.
    pub fn of(programs: &[Before<'_>]) -> Option<Story> {
        let mut runs = Vec::new();
        for one in programs {
            let run = rs274::run(one.program, &control(one.setup));
            if super::endless::check(one.program, &run, one.setup).is_some() {
                return None;
            }
            runs.push(run.motions);
        }
        let history = History::of(&formers(programs, &runs))?;
        let mut cuts = vec![false; runs.iter().map(Vec::len).sum()];
        for shaving in &history.shavings {
            cuts[shaving.motion] = true;
        }
        let mut story =
            Story { parts: Vec::new(), steps: Vec::new(), strokes: Vec::new(), trips: Vec::new(), history };
        for (motions, one) in runs.iter().zip(programs) {
            story.go_on(motions, one.setup, &cuts);
        }
        Some(story)
    }

    fn go_on(&mut self, motions: &[Motion], setup: &Setup, cuts: &[bool]) {
        let first = self.steps.len();
        let minutes = minutes_of_each(motions, &setup.machine);
        self.steps.extend(motions.iter().zip(minutes).zip(&cuts[first..]).map(
            |((motion, minutes), &cuts)| Step {
                line: motion.line,
                kind: motion.kind,
                minutes,
                least_minutes: at_top_minutes(motion, &setup.machine),
                rpm: motion.rpm,
                cuts,
            },
        ));
        let own = strokes(motions, setup);
        self.strokes.extend(own.map(|stroke| Stroke { motion: first + stroke.motion, ..stroke }));
        let own = trips(&self.steps[first..], motions, setup).into_iter();
        self.trips
            .extend(own.map(|trip| Trip { motions: trip.motions.map(|motion| first + motion), ..trip }));
        self.parts.push(first..self.steps.len());
    }

    /// The wood when all is done: rows of stations.
    pub fn wood(&self) -> Vec<Vec<f32>> {
        self.history.wood_after(self.steps.len())
    }
}

fn formers<'a>(programs: &[Before<'a>], runs: &'a [Vec<Motion>]) -> Vec<Former<'a>> {
    programs.iter().zip(runs).map(|(one, motions)| Former { motions, setup: one.setup }).collect()
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

/// Stations and radii of the wood that programs leave at angle 0, from one station to another.
pub fn section(programs: &[Before<'_>], [from_s_mm, to_s_mm]: [f64; 2]) -> Vec<[f64; 2]> {
    let stations = ((to_s_mm - from_s_mm) / SECTION_STEP_MM).ceil().max(1.0) as usize + 1;
    let grid = Grid { from_s_mm, step_mm: SECTION_STEP_MM, stations, rows: 1 };
    let wood = surface(programs, grid);
    let first = wood.first().map_or(&[][..], Vec::as_slice);
    first.iter().enumerate().map(|(column, &radius)| [grid.station_mm(column), f64::from(radius)]).collect()
}

/// Distance between the stations of a section, mm: finer than a drawing shows.
const SECTION_STEP_MM: f64 = 0.02;

/// The radii that programs leave on a grid of any part of the blank: rows of stations; none without a program.
pub fn surface(programs: &[Before<'_>], grid: Grid) -> Vec<Vec<f32>> {
    let Some(last) = programs.last() else { return Vec::new() };
    let runs: Vec<Vec<Motion>> =
        programs.iter().map(|one| rs274::run(one.program, &control(one.setup)).motions).collect();
    let history = History::on(&formers(programs, &runs), &last.setup.blank, grid);
    history.wood_after(runs.iter().map(Vec::len).sum())
}
