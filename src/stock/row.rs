//! One row of the blank: cutting it with each sweep in turn, in the order of the program. Lengths in mm, angles in
//! radians; radii in single precision, which at these sizes keeps a hundred-thousandth of a millimetre.

use std::ops::Range;

use super::cutter::Meeting;
use super::envelope::Helix;
use super::grid::Grid;
use super::ramp::Ramp;
use super::section::{Mixed, Part, Seats};
use super::sweep::{Level, Sweep, Way, meeting, search_stroke, stations_at};

/// What one sweep did to one row.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Bite {
    /// Sum over the columns of the radius squared before less after, mm².
    pub(crate) squares: f64,
    /// Deepest bite, mm, and the column it was taken at.
    pub(crate) deepest: f32,
    /// Its column.
    pub(crate) column: usize,
}

impl Bite {
    fn take(&mut self, radius: &mut f32, cut: f32, column: usize) {
        if cut < *radius {
            let depth = *radius - cut;
            self.squares += f64::from(depth) * f64::from(*radius + cut);
            if depth > self.deepest {
                self.deepest = depth;
                self.column = column;
            }
            *radius = cut;
        }
    }

    /// Cuts some columns of a row all down to one radius; `place` is the column that stands for them all, the first that is
    /// cut deepest if none does.
    fn level(&mut self, row: &mut [f32], columns: &Range<usize>, cut: f32, place: Option<usize>) {
        for (nth, part) in row[columns.clone()].chunks_mut(LEVELLED).enumerate() {
            let highest = highest_of(part);
            if highest <= cut {
                continue;
            }
            if highest - cut > self.deepest {
                self.deepest = highest - cut;
                let first = || part.iter().position(|&radius| radius == highest);
                let found = || columns.start + nth * LEVELLED + first().unwrap_or(0);
                self.column = place.unwrap_or_else(found);
            }
            let mut sums = [0.0_f32; LANES];
            let one = |sum: &mut f32, radius: &mut f32| {
                let old = *radius;
                let new = if cut < old { cut } else { old };
                *sum += (old - new) * (old + new);
                *radius = new;
            };
            let mut whole = part.chunks_exact_mut(LANES);
            for lanes in whole.by_ref() {
                for lane in 0..LANES {
                    one(&mut sums[lane], &mut lanes[lane]);
                }
            }
            whole.into_remainder().iter_mut().for_each(|radius| one(&mut sums[0], radius));
            self.squares += sums.into_iter().map(f64::from).sum::<f64>();
        }
    }
}

/// The greatest of some radii.
fn highest_of(radii: &[f32]) -> f32 {
    let mut most = [0.0_f32; LANES];
    let whole = radii.chunks_exact(LANES);
    let rest = whole.remainder();
    for lanes in whole {
        for lane in 0..LANES {
            most[lane] = if lanes[lane] > most[lane] { lanes[lane] } else { most[lane] };
        }
    }
    most.iter().chain(rest).fold(0.0, |most, &radius| if radius > most { radius } else { most })
}

/// Columns that are levelled together, if any of them is too high.
const LEVELLED: usize = 256;

/// Cuts a row, `theta` being the row's angle counted on to the copy that is meant.
pub(crate) fn cut(row: &mut [f32], sweep: &Sweep, grid: &Grid, theta: f64) -> Bite {
    match &sweep.way {
        Way::Clear => Bite::default(),
        Way::Still => cut_still(row, sweep, grid, theta),
        Way::Ramp => cut_ramp(row, sweep, grid, theta),
        Way::Search => {
            let mut bite = Bite::default();
            let [from, to] = stations_at(sweep, theta);
            for column in grid.columns(from, to) {
                let s = grid.station_mm(column);
                let radius = search_stroke(sweep.stroke(), &sweep.profile, s, theta, sweep.wide);
                bite.take(&mut row[column], radius as f32, column);
            }
            bite
        }
        Way::Level(level) => {
            let crossing = Crossing::of(sweep, &level.helix, theta);
            if crossing.low <= -level.spread && crossing.high >= level.spread {
                cut_sampled(row, level, grid, &crossing)
            } else {
                cut_bounded(row, &level.helix, &Mixed::only(&level.section), grid, &crossing)
            }
        }
        Way::Slope(slope) => {
            let crossing = Crossing::of(sweep, &slope.helix, theta);
            if slope.ceiling < crossing.tip {
                return Bite::default();
            }
            let section = Mixed::at(&slope.sections, crossing.tip);
            let inside = crossing.low <= -slope.spread && crossing.high >= slope.spread;
            if inside {
                cut_whole(row, &section, slope.seats.as_ref(), grid, &crossing)
            } else {
                cut_bounded(row, &slope.helix, &section, grid, &crossing)
            }
        }
    }
}

/// Columns that [`cut`] may change.
pub(crate) fn touched(sweep: &Sweep, grid: &Grid, theta: f64) -> Range<usize> {
    let about = |station: f64, [from, to]: [f64; 2]| {
        grid.columns(station + from - grid.step_mm, station + to + grid.step_mm)
    };
    match &sweep.way {
        Way::Clear => 0..0,
        Way::Still | Way::Ramp => grid.columns(sweep.stations[0], sweep.stations[1]),
        Way::Search => {
            let [from, to] = stations_at(sweep, theta);
            grid.columns(from, to)
        }
        Way::Level(level) => about(Crossing::of(sweep, &level.helix, theta).station, level.section.ends()),
        Way::Slope(slope) => {
            let crossing = Crossing::of(sweep, &slope.helix, theta);
            if slope.ceiling < crossing.tip {
                return 0..0;
            }
            about(crossing.station, Mixed::at(&slope.sections, crossing.tip).ends())
        }
    }
}

/// Where a helix crosses a row, and which moments of it are really run.
struct Crossing {
    station: f64,
    tip: f64,
    low: f64,
    high: f64,
}

impl Crossing {
    fn of(sweep: &Sweep, helix: &Helix, theta: f64) -> Crossing {
        let from = sweep.stroke().from;
        // A leaning cutter passes the row when the upright is that much past it.
        let theta = theta - helix.lean;
        Crossing {
            station: from.s_mm + helix.advance * (theta - from.theta_rad),
            tip: from.tip_mm + helix.climb * (theta - from.theta_rad),
            low: theta - sweep.angles[1],
            high: theta - sweep.angles[0],
        }
    }
}

/// Lanes summed side by side, so that the compiler can use vector units.
const LANES: usize = 8;

/// Cuts with the samples of a section, all of whose moments were run.
fn cut_sampled(row: &mut [f32], level: &Level, grid: &Grid, at: &Crossing) -> Bite {
    let column = |s: f64| (s - grid.from_s_mm) / grid.step_mm;
    let mut bite = Bite::default();
    // The deepest bite of a groove is taken under the middle of the cutter.
    let middle = (column(at.station).round().max(0.0) as usize).min(row.len() - 1);
    for stretch in level.phases.stretches() {
        let (from, to) = (column(at.station + stretch.from), column(at.station + stretch.to));
        let first = from.ceil();
        let start = first.max(0.0) as usize;
        let past = if stretch.keeps_end { to.floor() + 1.0 } else { to.ceil() };
        let past = (past.max(0.0) as usize).min(row.len());
        if start >= past {
            continue;
        }
        let skip = (start as f64 - first) as usize;
        let (near, next, share) = stretch.near(first - from);
        let count = (past - start).min(near.len().saturating_sub(skip));
        let samples = Samples { near: &near[skip..skip + count], next: &next[skip..skip + count], share };
        let (squares, deepest) = cut_slice(&mut row[start..start + count], &samples, level.phases.floor);
        bite.squares += squares;
        if deepest > bite.deepest {
            bite.deepest = deepest;
            bite.column = middle;
        }
    }
    if let Some([from, to]) = level.phases.flat {
        let columns = grid.columns(at.station + from, at.station + to);
        bite.level(row, &columns, level.phases.floor, Some(middle));
    }
    let ends = level.section.ends();
    if level.sampled != ends {
        let section = Mixed::only(&level.section);
        let [nose, head] = [[ends[0], level.sampled[0]], [level.sampled[1], ends[1]]];
        for [from, to] in [nose, head] {
            for column in grid.columns(at.station + from, at.station + to) {
                let v = grid.station_mm(column) - at.station;
                bite.take(&mut row[column], section.radius(v) as f32, column);
            }
        }
    }
    bite
}

/// Two samples of a section to be mixed.
struct Samples<'a> {
    near: &'a [f32],
    next: &'a [f32],
    share: f32,
}

/// Cuts a slice of a row; the sum of squares and the deepest bite.
fn cut_slice(row: &mut [f32], samples: &Samples<'_>, floor: f32) -> (f64, f32) {
    let share = samples.share;
    let mut sums = [0.0_f32; LANES];
    let mut most = [0.0_f32; LANES];
    let mut one = |lane: usize, radius: &mut f32, a: f32, b: f32| {
        let mixed = a + (b - a) * share;
        let cut = if mixed > floor { mixed } else { floor };
        let old = *radius;
        let new = if cut < old { cut } else { old };
        let depth = old - new;
        sums[lane] += depth * (old + new);
        most[lane] = if depth > most[lane] { depth } else { most[lane] };
        *radius = new;
    };
    let whole = row.len() - row.len() % LANES;
    let (near, next) = (samples.near, samples.next);
    for ((radii, a), b) in row[..whole]
        .chunks_exact_mut(LANES)
        .zip(near[..whole].chunks_exact(LANES))
        .zip(next[..whole].chunks_exact(LANES))
    {
        for lane in 0..LANES {
            one(lane, &mut radii[lane], a[lane], b[lane]);
        }
    }
    for i in whole..row.len() {
        one(0, &mut row[i], near[i], next[i]);
    }
    let [a, b, c, d, e, f, g, h] = sums;
    let squares = f64::from((a + e) + (b + f)) + f64::from((c + g) + (d + h));
    (squares, most.iter().fold(0.0_f32, |so_far, &depth| if depth > so_far { depth } else { so_far }))
}

/// The blank stands still and several axes move.
fn cut_ramp(row: &mut [f32], sweep: &Sweep, grid: &Grid, theta: f64) -> Bite {
    let ramp = Ramp::of(sweep.stroke(), &sweep.profile, theta);
    let mut bite = Bite::default();
    let mut cuts = [0.0_f64; CUTS];
    let columns = grid.columns(sweep.stations[0], sweep.stations[1]);
    for first in columns.clone().step_by(CUTS) {
        let part = first..columns.end.min(first + CUTS);
        let stations = [grid.station_mm(first), grid.step_mm];
        let cuts = &mut cuts[..part.len()];
        let surely = ramp.least_of_end(stations, cuts);
        for (column, &cut) in part.zip(&*cuts) {
            if surely && cut.is_finite() {
                bite.take(&mut row[column], cut as f32, column);
                continue;
            }
            let s = grid.station_mm(column);
            if ramp.bound(s, sweep.wide) < f64::from(row[column]) {
                bite.take(&mut row[column], ramp.least(s) as f32, column);
            }
        }
    }
    bite
}

/// Cuts that are worked out together.
const CUTS: usize = 64;
/// Cuts for which it does not pay to mix a whole piece first.
const FEW: usize = 4;

/// Cuts with a section all of whose moments were run.
fn cut_whole(
    row: &mut [f32],
    section: &Mixed<'_>,
    seats: Option<&Seats>,
    grid: &Grid,
    at: &Crossing,
) -> Bite {
    // Radii first and cuts after, since the one waits for nothing and the other for what it finds.
    let mut cuts = [0.0_f32; CUTS];
    let mut bite = Bite::default();
    let parts = section.parts(grid, at.station);
    for (nth, Part { columns, piece, sill }) in parts.into_iter().enumerate() {
        if let Some(read) = seats.and_then(|seats| seats.mixed(nth, section, &columns)) {
            for (column, cut) in columns.zip(read) {
                bite.take(&mut row[column], cut.max(sill) as f32, column);
            }
            continue;
        }
        if columns.len() <= FEW {
            for column in columns {
                let v = grid.station_mm(column) - at.station;
                bite.take(&mut row[column], piece.radius(v).max(sill) as f32, column);
            }
            continue;
        }
        let radii = piece.radii();
        for first in columns.clone().step_by(CUTS) {
            let count = CUTS.min(columns.end - first);
            for (i, cut) in cuts[..count].iter_mut().enumerate() {
                let v = grid.station_mm(first + i) - at.station;
                *cut = piece.read(&radii, v).max(sill) as f32;
            }
            for (i, &cut) in cuts[..count].iter().enumerate() {
                bite.take(&mut row[first + i], cut, first + i);
            }
        }
    }
    bite
}

/// Cuts with the part of a helix that was really run. What a ray loses falls to one least value as the cutter
/// passes; where that moment was not run, the nearest end of the run is what cut deepest.
fn cut_bounded(row: &mut [f32], helix: &Helix, section: &Mixed<'_>, grid: &Grid, at: &Crossing) -> Bite {
    let mut bite = Bite::default();
    let ends = [at.low, at.high].map(|moment| helix.meeting(0.0, moment, at.tip));
    for Part { columns, piece, sill } in section.parts(grid, at.station) {
        if columns.is_empty() {
            continue;
        }
        let (radii, moments) = (piece.radii(), piece.moments());
        for column in columns {
            let v = grid.station_mm(column) - at.station;
            let [radius, moment] = piece.read_each([&radii, &moments], v);
            let end = if moment < at.low { ends[0] } else { ends[1] };
            let cut = if (at.low..=at.high).contains(&moment) {
                radius.max(sill)
            } else {
                helix.profile.entry(Meeting { u: v + end.u, ..end })
            };
            bite.take(&mut row[column], cut as f32, column);
        }
    }
    bite
}

/// The blank stands still and one axis moves: the cutter is deepest at its lowest, or when it stands nearest.
fn cut_still(row: &mut [f32], sweep: &Sweep, grid: &Grid, theta: f64) -> Bite {
    let (from, to) = (sweep.stroke().from, sweep.stroke().to);
    let lowest = if from.tip_mm <= to.tip_mm { from } else { to };
    let [near, far] = [from.s_mm.min(to.s_mm), from.s_mm.max(to.s_mm)];
    let under = meeting(lowest, lowest.s_mm, theta);
    let beside = |column: usize| {
        let s = grid.station_mm(column);
        sweep.profile.entry(Meeting { u: s - s.clamp(near, far), ..under }) as f32
    };
    let columns = grid.columns(sweep.stations[0], sweep.stations[1]);
    // Between its ends the cutter stands right over every station once, and cuts all of them alike.
    let passed = grid.columns(near, far);
    let passed = passed.start.clamp(columns.start, columns.end)..passed.end.clamp(columns.start, columns.end);
    let middle = sweep.profile.entry(under) as f32;
    let mut bite = Bite::default();
    bite.level(row, &passed, middle, None);
    for column in (columns.start..passed.start).chain(passed.end..columns.end) {
        // Beside its way the cutter is nowhere lower than on it.
        if row[column] > middle {
            bite.take(&mut row[column], beside(column), column);
        }
    }
    bite
}
