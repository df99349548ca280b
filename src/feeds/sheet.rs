//! What a feeds sheet shows: the passes of a job held against its limits, and the fastest plans over spindle speeds and
//! numbers of passes. Numbers only; the words are the report's.

use serde::Serialize;

use super::bounds::{Bounds, Loads, Reason};
use super::plan::{Ask, Search};
use super::trip::{Kind, Trip};

/// A feed past a limit by less than this share is on it.
const ON_LIMIT: f64 = 0.02;

/// How a pass stands to its limits.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "is", content = "by")]
pub enum Verdict {
    /// Between burning and every other limit.
    Fine,
    /// Its chips are thinner than what does not burn.
    Thin,
    /// It runs past a limit.
    Past(Reason),
    /// It cuts what the passes before left standing: nothing, where nothing bends.
    Spring,
}

/// One pass of a job.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Row {
    /// The pass.
    pub trip: Trip,
    /// What it asks for at its feed; nothing for a spring pass.
    pub loads: Option<Loads>,
    /// Least feed whose chips do not burn.
    pub least_mm_per_min: f64,
    /// Greatest feed within every limit.
    pub most_mm_per_min: f64,
    /// The limit that it meets.
    pub reason: Reason,
    /// How the pass stands.
    pub verdict: Verdict,
}

/// The passes of one start against the limits of a job.
pub fn rows(bounds: &Bounds, trips: &[Trip], rpm: f64) -> Vec<Row> {
    let mut before = 0.0;
    let ends = trips.iter().filter(|trip| trip.kind != Kind::Spring).count();
    let row = |(index, trip): (usize, &Trip)| {
        let met = bounds.met(trip, before);
        before = trip.depth_mm;
        if trip.kind == Kind::Spring {
            let feed = trip.feed_mm_per_min;
            let (least_mm_per_min, most_mm_per_min, reason) = (0.0, feed, Reason::Given);
            let verdict = Verdict::Spring;
            return Row { trip: *trip, loads: None, least_mm_per_min, most_mm_per_min, reason, verdict };
        }
        let flanked = trips.iter().any(|trip| trip.kind == Kind::Flank);
        let last = index + 1 == ends || (flanked && trip.kind == Kind::Flank);
        let (most_mm_per_min, reason) = bounds.most_feed(trip.depth_mm, &met, rpm, last);
        let least_mm_per_min = bounds.least_feed(trip.depth_mm, &met, rpm);
        let feed = trip.feed_mm_per_min;
        let verdict = if feed < least_mm_per_min * (1.0 - ON_LIMIT) {
            Verdict::Thin
        } else if feed > most_mm_per_min * (1.0 + ON_LIMIT) {
            Verdict::Past(reason)
        } else {
            Verdict::Fine
        };
        let loads = Some(bounds.loads(trip.depth_mm, &met, rpm, feed));
        Row { trip: *trip, loads, least_mm_per_min, most_mm_per_min, reason, verdict }
    };
    trips.iter().enumerate().map(row).collect()
}

/// The fastest plan at one spindle speed with one number of passes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Cell {
    /// Minutes of one start, about.
    pub minutes: f64,
    /// What keeps its slowest pass from running faster.
    pub reason: Reason,
    /// Whether the chips of some pass burn even so.
    pub burns: bool,
}

/// Fastest plans over spindle speeds (rows) and numbers of passes down the middle (columns).
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Table {
    /// Spindle speeds.
    pub rpm: Vec<f64>,
    /// Numbers of passes.
    pub passes: Vec<usize>,
    /// A row for each spindle speed; `None` where so many passes do not fit into the depth.
    pub cells: Vec<Vec<Option<Cell>>>,
}

/// Spindle speeds that a table shows besides the job's own.
const SPEEDS_SHOWN: usize = 8;
/// Most passes that it shows.
const PASSES_SHOWN: usize = 6;

/// Works out the table of a job; `rpm` is the job's own spindle speed.
pub fn table(bounds: &Bounds, ask: &Ask, rpm: f64) -> Table {
    let search = Search::new(bounds, ask);
    let all = search.speeds();
    let every = all.len().div_ceil(SPEEDS_SHOWN).max(1);
    let mut shown: Vec<f64> =
        all.iter().copied().step_by(every).chain(all.last().copied()).chain([rpm]).collect();
    shown.sort_by(f64::total_cmp);
    shown.dedup();
    let passes: Vec<usize> = (1..=PASSES_SHOWN).collect();
    let cell = |rpm: f64, count: usize| {
        let plan = search.lightest_at(rpm, count)?;
        let burns = !plan.keeps();
        let slowest =
            plan.passes.iter().min_by(|a, b| a.trip.feed_mm_per_min.total_cmp(&b.trip.feed_mm_per_min));
        let telling = if burns { plan.tightest() } else { slowest }?;
        Some(Cell { minutes: plan.minutes, reason: telling.reason, burns })
    };
    let cells = shown.iter().map(|&rpm| passes.iter().map(|&count| cell(rpm, count)).collect()).collect();
    Table { rpm: shown, passes, cells }
}
