//! What a feeds sheet shows: the passes of a job held against its limits, and the fastest plans over spindle speeds and
//! numbers of passes. Numbers only; the words are the report's.

use serde::Serialize;

use super::bounds::{Bounds, Loads, Reason};
use super::plan::{Ask, Plan, Search};
use super::trip::{Kind, Trip};
use crate::setup::Timber;

/// A feed past a limit by less than this share is on it.
const ON_LIMIT: f64 = 0.02;
/// Share by which a pass is thought deeper to see what would stop it: a step finer than a shop would trouble with.
const DEEPER_SHARE: f64 = 0.05;

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
    /// The limit that a slightly deeper pass would pass at this feed, where that is another one: what keeps the depth from
    /// being greater.
    pub deeper: Option<Reason>,
    /// How the pass stands.
    pub verdict: Verdict,
}

/// The passes of one start against the limits of a job.
pub fn rows(bounds: &Bounds, trips: &[Trip], rpm: f64) -> Vec<Row> {
    let mut before = 0.0;
    let ends = trips.iter().filter(|trip| trip.kind != Kind::Spring).count();
    let full_mm = trips.last().map_or(0.0, |trip| trip.depth_mm);
    let row = |(index, trip): (usize, &Trip)| {
        let (met, from_mm) = (bounds.met(trip, before), before);
        before = trip.depth_mm;
        if trip.kind == Kind::Spring {
            let feed = trip.feed_mm_per_min;
            let (least_mm_per_min, most_mm_per_min, reason) = (0.0, feed, Reason::Given);
            let verdict = Verdict::Spring;
            return Row {
                trip: *trip,
                loads: None,
                least_mm_per_min,
                most_mm_per_min,
                reason,
                deeper: None,
                verdict,
            };
        }
        let flanked = trips.iter().any(|trip| trip.kind == Kind::Flank);
        let last = index + 1 == ends || (flanked && trip.kind == Kind::Flank);
        let reach = bounds.reach(trip.depth_mm, &met, last);
        let (most_mm_per_min, reason) = reach.most(rpm);
        let least_mm_per_min = reach.least(rpm);
        let feed = trip.feed_mm_per_min;
        let verdict = if feed < least_mm_per_min * (1.0 - ON_LIMIT) {
            Verdict::Thin
        } else if feed > most_mm_per_min * (1.0 + ON_LIMIT) {
            Verdict::Past(reason)
        } else {
            Verdict::Fine
        };
        let loads = Some(bounds.loads(trip.depth_mm, &met, rpm, feed));
        let deeper_mm = trip.depth_mm + DEEPER_SHARE * (trip.depth_mm - from_mm);
        let deeper = (trip.kind == Kind::Depth && deeper_mm < full_mm)
            .then(|| {
                let deeper = Trip { depth_mm: deeper_mm, ..*trip };
                bounds.reach(deeper_mm, &bounds.met(&deeper, from_mm), false).most(rpm)
            })
            .and_then(|(most, stops)| (feed > most && stops != reason).then_some(stops));
        Row { trip: *trip, loads, least_mm_per_min, most_mm_per_min, reason, deeper, verdict }
    };
    trips.iter().enumerate().map(row).collect()
}

/// The top speed of an axis that ends the feed of every pass, so that the wood has no say in them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AxisBinds {
    /// Which axis.
    pub axis: Reason,
    /// Whether the same passes keep every limit in the hardest wood there is, and so in any.
    pub in_any_wood: bool,
}

/// Whether an axis alone ends the feeds of these passes; `hardest` is as dense as any wood that is known, and as
/// limp as any.
pub fn axis_binds(
    bounds: &Bounds,
    trips: &[Trip],
    rows: &[Row],
    rpm: f64,
    hardest: &Timber,
) -> Option<AxisBinds> {
    let axis = bounds.axes.1;
    let all = |rows: &[Row]| {
        let mut cuts = rows.iter().filter(|row| row.loads.is_some()).peekable();
        cuts.peek().is_some() && cuts.all(|row| row.verdict == Verdict::Fine && row.reason == axis)
    };
    let in_any_wood = all(&self::rows(&bounds.clone().in_wood(hardest), trips, rpm));
    all(rows).then_some(AxisBinds { axis, in_any_wood })
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
    /// Whether the last of several passes down the middle takes more than a light pass.
    pub heavy_last: bool,
}

/// Fastest plans over spindle speeds (rows) and numbers of passes down the middle (columns).
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Table {
    /// Spindle speeds.
    pub rpm: Vec<f64>,
    /// Numbers of passes.
    pub passes: Vec<usize>,
    /// A row for each spindle speed; `None` where so many passes do not fit into the depth, or one would take too much.
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
    let cell = |plan: &Option<Plan>| {
        let plan = plan.as_ref()?;
        let burns = !plan.keeps();
        let slowest =
            plan.passes.iter().min_by(|a, b| a.trip.feed_mm_per_min.total_cmp(&b.trip.feed_mm_per_min));
        let telling = if burns { plan.tightest() } else { slowest }?;
        Some(Cell { minutes: plan.minutes, reason: telling.reason, burns, heavy_last: plan.is_heavy() })
    };
    let cells = shown.iter().map(|&rpm| search.at_speed(rpm, &passes).iter().map(cell).collect()).collect();
    Table { rpm: shown, passes, cells }
}
