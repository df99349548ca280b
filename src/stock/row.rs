//! One row of the blank: cutting it with each sweep in turn, in the order of the program. Lengths in mm, angles in
//! radians; radii in single precision, which at these sizes keeps a hundred-thousandth of a millimetre.

use super::cutter::Profile;
use super::envelope::{Helix, Section};
use super::grid::Grid;
use super::sweep::{Phases, Sweep, Way, meeting, search_stroke, stations_at};

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
}

/// Cuts a row, `theta` being the row's angle counted on to the copy that is meant.
pub(crate) fn cut(row: &mut [f32], sweep: &Sweep, profile: &Profile, grid: &Grid, theta: f64) -> Bite {
    match &sweep.way {
        Way::Clear => Bite::default(),
        Way::Still => cut_still(row, sweep, profile, grid, theta),
        Way::Search => {
            let mut bite = Bite::default();
            let [from, to] = stations_at(sweep, theta);
            for column in grid.columns(from, to) {
                let radius =
                    search_stroke(&sweep.stroke, profile, grid.station_mm(column), theta, sweep.wide);
                bite.take(&mut row[column], radius as f32, column);
            }
            bite
        }
        Way::Level(level) => {
            let crossing = Crossing::of(sweep, &level.helix, theta);
            if crossing.low <= -level.spread && crossing.high >= level.spread {
                cut_sampled(row, &level.phases, &level.section, grid, crossing.station)
            } else {
                cut_bounded(row, &level.helix, &level.section, grid, &crossing)
            }
        }
        Way::Slope(slope) => {
            let crossing = Crossing::of(sweep, &slope.helix, theta);
            let section = section_at(&slope.sections, crossing.tip);
            let inside = crossing.low <= -slope.spread && crossing.high >= slope.spread;
            if inside {
                cut_whole(row, &section, grid, &crossing)
            } else {
                cut_bounded(row, &slope.helix, &section, grid, &crossing)
            }
        }
    }
}

/// Columns that [`cut`] may change.
pub(crate) fn touched(sweep: &Sweep, grid: &Grid, theta: f64) -> std::ops::Range<usize> {
    let about = |station: f64, reach: f64| grid.columns(station - reach, station + reach);
    match &sweep.way {
        Way::Clear => 0..0,
        Way::Still => grid.columns(sweep.stations[0], sweep.stations[1]),
        Way::Search => {
            let [from, to] = stations_at(sweep, theta);
            grid.columns(from, to)
        }
        Way::Level(level) => {
            about(Crossing::of(sweep, &level.helix, theta).station, level.section.reach() + grid.step_mm)
        }
        Way::Slope(slope) => {
            let crossing = Crossing::of(sweep, &slope.helix, theta);
            about(crossing.station, section_at(&slope.sections, crossing.tip).reach() + grid.step_mm)
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
        let from = sweep.stroke.from;
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

/// The section of a slope for any tip height: mixed between its neighbours, or the nearest outside them.
fn section_at(sections: &[Section], tip: f64) -> Section {
    if let [only] = sections {
        return only.clone();
    }
    let (lowest, highest) = (sections[0].tip(), sections[sections.len() - 1].tip());
    let at = (tip - lowest) / (highest - lowest) * (sections.len() - 1) as f64;
    let below = (at.floor().max(0.0) as usize).min(sections.len() - 2);
    // Mixing goes on past the ends in a straight line: there only the ends of the stroke are cut.
    sections[below].mix(&sections[below + 1], at - below as f64)
}

/// Lanes summed side by side, so that the compiler can use vector units.
const LANES: usize = 8;

/// Cuts a whole section, left half then right half.
fn cut_sampled(row: &mut [f32], phases: &Phases, section: &Section, grid: &Grid, station: f64) -> Bite {
    let column = |s: f64| (s - grid.from_s_mm) / grid.step_mm;
    let (left, middle, right) =
        (column(station - section.reach()), column(station), column(station + section.reach()));
    let mut bite = Bite::default();
    for (is_left, from, to) in [(true, left, middle), (false, middle, right)] {
        let first = from.ceil();
        let start = first.max(0.0) as usize;
        // The left half ends before the middle, the right half with the last column inside the section.
        let past = if is_left { to.ceil() } else { to.floor() + 1.0 };
        let past = (past.max(0.0) as usize).min(row.len());
        if start >= past {
            continue;
        }
        let skip = (start as f64 - first) as usize;
        let (near, next, share) = phases.near(is_left, first - from);
        let count = (past - start).min(near.len().saturating_sub(skip));
        let samples = Samples { near: &near[skip..skip + count], next: &next[skip..skip + count], share };
        let (squares, deepest) = cut_slice(&mut row[start..start + count], &samples, phases.floor);
        bite.squares += squares;
        if deepest > bite.deepest {
            bite.deepest = deepest;
            // The deepest bite of a groove is taken under the middle of the cutter.
            bite.column = (middle.round().max(0.0) as usize).min(row.len() - 1);
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
    let squares = sums.iter().map(|&sum| f64::from(sum)).sum();
    (squares, most.iter().fold(0.0_f32, |a, &b| a.max(b)))
}

/// Cuts with a section all of whose moments were run.
fn cut_whole(row: &mut [f32], section: &Section, grid: &Grid, at: &Crossing) -> Bite {
    let mut bite = Bite::default();
    for column in grid.columns(at.station - section.reach(), at.station + section.reach()) {
        bite.take(&mut row[column], section.radius(grid.station_mm(column) - at.station) as f32, column);
    }
    bite
}

/// Cuts with the part of a helix that was really run. What a ray loses falls to one least value as the cutter
/// passes; where that moment was not run, the nearest end of the run is what cut deepest.
fn cut_bounded(row: &mut [f32], helix: &Helix, section: &Section, grid: &Grid, at: &Crossing) -> Bite {
    let mut bite = Bite::default();
    for column in grid.columns(at.station - section.reach(), at.station + section.reach()) {
        let v = grid.station_mm(column) - at.station;
        let moment = section.moment(v);
        let run = moment.clamp(at.low, at.high);
        let radius = if run == moment { section.radius(v) } else { helix.entry(v, run, at.tip) };
        bite.take(&mut row[column], radius as f32, column);
    }
    bite
}

/// The blank stands still and one axis moves: the cutter is deepest at its lowest, or when it stands nearest.
fn cut_still(row: &mut [f32], sweep: &Sweep, profile: &Profile, grid: &Grid, theta: f64) -> Bite {
    let (from, to) = (sweep.stroke.from, sweep.stroke.to);
    let lowest = if from.tip_mm <= to.tip_mm { from } else { to };
    let [near, far] = [from.s_mm.min(to.s_mm), from.s_mm.max(to.s_mm)];
    let mut bite = Bite::default();
    for column in grid.columns(sweep.stations[0], sweep.stations[1]) {
        let s = grid.station_mm(column);
        let mut stand = lowest;
        stand.s_mm = s.clamp(near, far);
        let radius = profile.entry(meeting(stand, s, theta));
        bite.take(&mut row[column], radius as f32, column);
    }
    bite
}
