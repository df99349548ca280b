//! A stroke made ready for the carve: what it cuts on any row, by tables where the cutter follows a helix and by a
//! search over the stroke where it does not. Lengths in mm, angles in radians.

use std::f64::consts::{FRAC_PI_2, TAU};
use std::sync::Arc;

use crate::rs274::Kind;

use super::courses::Course;
use super::cutter::{Meeting, Profile};
use super::envelope::{Helix, narrow};
use super::frame::{NO_TURN, Stand, Stroke};
use super::grid::Grid;
use super::phases::Phases;
use super::section::{Extent, MIXED, Seats, Section};

/// A stroke with its tables.
#[derive(Debug)]
pub(crate) struct Sweep {
    /// The strokes it joins.
    course: Course,
    /// The cutter.
    pub(crate) profile: Arc<Profile>,
    /// Angles of the blank during it, smaller first.
    pub(crate) angles: [f64; 2],
    /// How far a row may lie before the smaller angle, and beyond the larger, and still be cut.
    pub(crate) window: [f64; 2],
    /// The same for shank and collet, which are wider than the cutter.
    wide_window: f64,
    /// Greatest radius of the cutter inside the blank.
    pub(crate) wide: f64,
    /// Stations that can be cut, smaller first.
    pub(crate) stations: [f64; 2],
    /// How to find out what is cut.
    pub(crate) way: Way,
}

/// How to find out what a stroke cuts.
#[derive(Clone, Debug)]
pub(crate) enum Way {
    /// It cannot reach the blank.
    Clear,
    /// A helix at one depth: sections sampled at the grid step for several places between two grid lines.
    Level(Arc<Level>),
    /// A helix that climbs or dives: sections at equal steps of tip height, lowest first.
    Slope(Arc<Slope>),
    /// The blank stands still and one axis moves.
    Still,
    /// The blank stands still and several axes move.
    Ramp,
    /// Anything else.
    Search,
}

/// A helix that climbs or dives.
#[derive(Debug)]
pub(crate) struct Slope {
    /// The move.
    pub(crate) helix: Helix,
    /// Its sections, lowest first.
    pub(crate) sections: Vec<Section>,
    /// Greatest moment either way.
    pub(crate) spread: f64,
    /// Tip height at the crossing above which no wood is met.
    pub(crate) ceiling: f64,
    /// Where it goes round in one place: its sections as they lie on the grid.
    pub(crate) seats: Option<Seats>,
}

impl Slope {
    fn of(helix: Helix, sections: Vec<Section>, ceiling: f64) -> Slope {
        let spread = sections.iter().map(Section::moment_spread).fold(0.0, f64::max);
        Slope { helix, sections, spread, ceiling, seats: None }
    }
}

/// A helix at one depth, with what its rows need.
#[derive(Debug)]
pub(crate) struct Level {
    /// The move.
    pub(crate) helix: Helix,
    /// The section.
    pub(crate) section: Section,
    /// Samples of it between two ends; what lies beyond them is worked out column by column.
    pub(crate) phases: Phases,
    /// These ends.
    pub(crate) sampled: [f64; 2],
    /// Greatest moment either way.
    pub(crate) spread: f64,
}

/// Largest step of tip height between two sections of a slope, mm. The shape changes so little with depth that a cubic
/// through four of them stays within a ten-thousandth of a millimetre.
const SLOPE_STEP_MM: f64 = 0.75;
/// Largest way beside the axis that the tables serve, as a share of the height of the tip.
const LEAN_SHARE: f64 = 0.5;
/// Steepest helix the tables serve, as advance per radian over the radius of the blank; a steeper one is searched.
const STEEPEST: f64 = 1.0;
/// Share of a round end's half width within which its curve is gentle: at this place a tenth of a millimetre of grid
/// leaves some hundred-thousandths.
const GENTLE_SHARE: f64 = 0.95;
/// Differences this small leave the tables the same, mm and mm per radian.
const ALIKE_MM: f64 = 1e-9;
/// Lengths smaller than this are no move, mm.
const NO_MOVE: f64 = 1e-9;

impl Sweep {
    /// Makes a course ready for a blank that reaches `wood_radius` from the axis; `way` is how it cuts if it does.
    pub(crate) fn ready(
        course: Course,
        way: Way,
        profile: &Arc<Profile>,
        grid: &Grid,
        wood_radius: f64,
    ) -> Sweep {
        let stroke = course.stroke;
        let (from, to) = (stroke.from, stroke.to);
        let angles = [from.theta_rad.min(to.theta_rad), from.theta_rad.max(to.theta_rad)];
        let lowest = from.tip_mm.min(to.tip_mm);
        let wide = profile.radius_at((wood_radius - lowest).max(0.0));
        let stations = [from.s_mm.min(to.s_mm) - wide, from.s_mm.max(to.s_mm) + wide];
        let wood = [grid.from_s_mm, grid.station_mm(grid.stations - 1)];
        let reaches = lowest < wood_radius && stations[0] <= wood[1] && stations[1] >= wood[0];
        // Whatever is cut lies no lower than the lowest tip, and no farther beside the cutter's axis than it is wide.
        let wide_window = (lowest.max(0.0) / wood_radius).min(1.0).acos();
        let aside = wide + from.beside_mm.abs().max(to.beside_mm.abs());
        let window = [wide_window.min(aside.atan2(lowest.max(0.0))); 2];
        let way = if reaches { way } else { Way::Clear };
        let profile = Arc::clone(profile);
        Sweep { course, profile, angles, window, wide_window, wide, stations, way }
    }

    /// From the first start to the last end.
    pub(crate) fn stroke(&self) -> &Stroke {
        &self.course.stroke
    }

    /// Which motion cuts at an angle of the blank, counted on.
    pub(crate) fn motion_at(&self, theta_rad: f64) -> usize {
        self.course.motion_at(theta_rad)
    }

    /// Where two feed strokes join on their way round, each cuts what its own moments cut; what the cutter cuts standing
    /// at the joint, the other stroke cuts as well, and once is enough.
    pub(crate) fn join(earlier: &mut Sweep, later: &mut Sweep) {
        let (Some(one), Some(other)) = (earlier.way.spread(), later.way.spread()) else {
            return;
        };
        let turn = |sweep: &Sweep| sweep.stroke().to.theta_rad - sweep.stroke().from.theta_rad;
        let feed = earlier.stroke().kind == Kind::Feed && later.stroke().kind == Kind::Feed;
        let meet = earlier.stroke().to == later.stroke().from;
        if !feed || !meet || turn(earlier).signum() != turn(later).signum() {
            return;
        }
        let (end, start) = if turn(earlier) > 0.0 { (1, 0) } else { (0, 1) };
        earlier.window[end] = earlier.window[end].min(one);
        later.window[start] = later.window[start].min(other);
    }

    /// The angles of a row, counted on, at which this sweep may cut it.
    pub(crate) fn copies(&self, row_angle: f64) -> impl Iterator<Item = f64> + use<> {
        self.copies_within(row_angle, self.window)
    }

    /// The angles of a row, counted on, at which shank or collet may meet it.
    pub(crate) fn wide_copies(&self, row_angle: f64) -> impl Iterator<Item = f64> + use<> {
        self.copies_within(row_angle, [self.wide_window; 2])
    }

    fn copies_within(&self, row_angle: f64, window: [f64; 2]) -> impl Iterator<Item = f64> + use<> {
        let first = ((self.angles[0] - window[0] - row_angle) / TAU).ceil() as i64;
        let last = ((self.angles[1] + window[1] - row_angle) / TAU).floor() as i64;
        (first..=last).map(move |turn| row_angle + TAU * turn as f64)
    }

    /// Whether cutter, shank or collet may meet a row between two angles, smaller first: if not, the sweep has no copies
    /// on any of them.
    pub(crate) fn passes(&self, row_angles: [f64; 2]) -> bool {
        let wide = self.window.map(|window| window.max(self.wide_window) + NO_TURN);
        let first = ((self.angles[0] - wide[0] - row_angles[1]) / TAU).ceil();
        first <= ((self.angles[1] + wide[1] - row_angles[0]) / TAU).floor()
    }
}

impl Way {
    /// Whether it may reach the blank.
    pub(crate) fn cuts(&self) -> bool {
        !matches!(self, Way::Clear)
    }

    /// Greatest moment either way, where tables tell it.
    fn spread(&self) -> Option<f64> {
        match self {
            Way::Level(level) => Some(level.spread),
            Way::Slope(slope) => Some(slope.spread),
            _ => None,
        }
    }

    pub(crate) fn choose(stroke: &Stroke, profile: Profile, grid: &Grid, wood_radius: f64) -> Way {
        let (from, to) = (stroke.from, stroke.to);
        let turn = to.theta_rad - from.theta_rad;
        if wood_radius <= lowest_of(from, to) {
            return Way::Clear;
        }
        if turn.abs() < NO_TURN {
            let moves_s = (to.s_mm - from.s_mm).abs() > NO_MOVE;
            let moves_tip = (to.tip_mm - from.tip_mm).abs() > NO_MOVE;
            let moves_beside = (to.beside_mm - from.beside_mm).abs() > NO_MOVE;
            let several = moves_beside || (moves_s && moves_tip);
            return match several {
                false => Way::Still,
                true if lowest_of(from, to) > 0.0 => Way::Ramp,
                true => Way::Search,
            };
        }
        let helix = Helix {
            profile,
            advance: (to.s_mm - from.s_mm) / turn,
            climb: (to.tip_mm - from.tip_mm) / turn,
            beside: from.beside_mm,
            lean: from.beside_mm.atan2(lowest_of(from, to)),
        };
        let lowest = lowest_of(from, to);
        // Leaning more than this, the cutter may miss the row at moment zero.
        let upright = from.beside_mm.abs() <= LEAN_SHARE * lowest;
        let steady = from.beside_mm == to.beside_mm && upright && lowest > 0.0;
        let gentle = helix.advance.abs() <= STEEPEST * wood_radius && helix.climb.abs() <= lowest;
        if !steady || !gentle {
            return Way::Search;
        }
        let Some(extent) = extent_of(&helix, lowest, wood_radius) else {
            return Way::Search;
        };
        let level = (to.tip_mm - from.tip_mm).abs() < NO_MOVE;
        if level && from.beside_mm != 0.0 {
            // Beside the axis a flat tip leaves no level floor.
            let sections = vec![Section::search(&helix, lowest, extent)];
            return Way::Slope(Arc::new(Slope::of(helix, sections, wood_radius)));
        }
        if level {
            let section = Section::level(&helix, lowest, extent);
            // Where a round end runs into its wall it is too steep to be mixed from samples at the grid step.
            let steep = extent.reach.is_none() && profile.has_ball();
            let sampled = section.ends().map(|end| if steep { GENTLE_SHARE * end } else { end });
            let phases = Phases::sample(&section, sampled, grid.step_mm);
            let spread = section.moment_spread();
            return Way::Level(Arc::new(Level { helix, section, phases, sampled, spread }));
        }
        // A row is cut deepest a little before or after the crossing, where the tip is lower, though it leans then: the
        // plane of the tip, T - c phi high at the moment phi, lies above the wood at every moment if T exceeds it by
        // half of c squared over T, and twice that is safe.
        let ceiling = wood_radius + helix.climb.powi(2) / lowest;
        // Rows just past the ends of the stroke are cut by its ends; where, tells the crossing it would have there.
        let past = helix.climb.abs() * profile.radius_at(wood_radius - lowest).atan2(lowest);
        let highest = (from.tip_mm.max(to.tip_mm) + past).min(ceiling);
        let bottom = lowest - past.min(lowest / 2.0);
        let steps = ((highest - bottom) / SLOPE_STEP_MM).ceil().max((MIXED - 1) as f64) as usize;
        let tip = |i: usize| bottom + (highest - bottom) * i as f64 / steps as f64;
        let sections: Vec<Section> = (0..=steps).map(|i| Section::search(&helix, tip(i), extent)).collect();
        let seats = (helix.advance == 0.0).then(|| Seats::of(&sections, grid, from.s_mm));
        Way::Slope(Arc::new(Slope { seats, ..Slope::of(helix, sections, ceiling) }))
    }
}

/// What strokes have in common whose tables are the same: a thread's starts cut the same section at the same depth, each
/// in its own place. Strokes that need no tables share nothing.
pub(crate) fn likeness(stroke: &Stroke, index: usize) -> [i64; 6] {
    let (from, to) = (stroke.from, stroke.to);
    let turn = to.theta_rad - from.theta_rad;
    if turn.abs() < NO_TURN || from.beside_mm != to.beside_mm {
        return [i64::MAX, index as i64, 0, 0, 0, 0];
    }
    let advance = (to.s_mm - from.s_mm) / turn;
    let climb = (to.tip_mm - from.tip_mm) / turn;
    let highest = from.tip_mm.max(to.tip_mm);
    // What goes round in one place is read at the columns there.
    let place = if from.s_mm == to.s_mm { from.s_mm } else { 0.0 };
    [advance, climb, lowest_of(from, to), highest, from.beside_mm, place]
        .map(|value| (value / ALIKE_MM).round() as i64)
}

fn lowest_of(from: Stand, to: Stand) -> f64 {
    from.tip_mm.min(to.tip_mm)
}

/// A cutter that is no wider this much higher up is taken for one that leaves walls: a groove is a little wider than the
/// cutter.
const WIDER: f64 = 1.05;

/// Half the width of what a helix cuts at the wood's surface; `None` where no tables serve.
fn extent_of(helix: &Helix, tip: f64, wood_radius: f64) -> Option<Extent> {
    let height = wood_radius - tip;
    let at_surface = helix.profile.radius_at(height);
    if helix.profile.radius_at(height * WIDER) <= at_surface {
        // A ray that passes beside the cutter's axis may enter it by its wall.
        return (helix.beside == 0.0).then_some(Extent { reach: None, wood_radius });
    }
    let helix = Helix { profile: helix.profile.without_rim(), ..*helix };
    let mut reach = at_surface;
    // Each round widens by a hundredth; a helix no steeper than the tables serve widens a groove by less than half.
    for _ in 0..60 {
        reach *= 1.01;
        let cut = |v: f64| narrow(&|phi| helix.entry(v, phi, tip), -0.5, 0.5, 0.0).1;
        if cut(reach) >= wood_radius && cut(-reach) >= wood_radius {
            return Some(Extent { reach: Some(reach), wood_radius });
        }
    }
    None
}

/// The ray at station `s` and angle `theta` (counted on, so that the right turn of the blank is meant) as the cutter
/// at `stand` meets it.
pub(crate) fn meeting(stand: Stand, s: f64, theta: f64) -> Meeting {
    let (sin, cos) = (theta - stand.theta_rad).sin_cos();
    Meeting { u: s - stand.s_mm, sin, cos, tip: stand.tip_mm, beside: stand.beside_mm }
}

/// Shares of a stroke, first and last, in which the cutter can meet a ray: its axis is within `wide` of it along the
/// blank, and it stands on the same half of the blank. `None` if there are none.
fn shares_within_reach(stroke: &Stroke, s: f64, theta: f64, wide: f64) -> Option<[f64; 2]> {
    let within = |from: f64, to: f64, value: f64, reach: f64, still: f64| {
        let way = to - from;
        if way.abs() < still {
            return ((value - from).abs() <= reach).then_some([0.0, 1.0]);
        }
        let (a, b) = ((value - reach - from) / way, (value + reach - from) / way);
        Some([a.min(b), a.max(b)])
    };
    let (from, to) = (stroke.from, stroke.to);
    let along = within(from.s_mm, to.s_mm, s, wide, NO_MOVE)?;
    let round = within(from.theta_rad, to.theta_rad, theta, FRAC_PI_2, NO_TURN)?;
    let first = along[0].max(round[0]).max(0.0);
    let last = along[1].min(round[1]).min(1.0);
    (first <= last).then_some([first, last])
}

/// Stations between which a searched stroke may cut a row whose angle, counted on, is `theta`.
pub(crate) fn stations_at(sweep: &Sweep, theta: f64) -> [f64; 2] {
    let (from, to) = (sweep.stroke().from, sweep.stroke().to);
    let turn = to.theta_rad - from.theta_rad;
    if turn.abs() < NO_TURN {
        return sweep.stations;
    }
    // The way along the blank while it turns by a quarter to either side of the row.
    let at = |angle: f64| {
        let share = ((angle - from.theta_rad) / turn).clamp(0.0, 1.0);
        from.s_mm + (to.s_mm - from.s_mm) * share
    };
    let (a, b) = (at(theta - FRAC_PI_2), at(theta + FRAC_PI_2));
    [a.min(b) - sweep.wide, a.max(b) + sweep.wide]
}

/// Moments of a stroke that are looked at before the best of them is refined.
const LOOKS: usize = 48;

/// Least radius that a profile reaches on a ray over a whole stroke, by looking along it. Infinity if it misses.
pub(crate) fn search_stroke(stroke: &Stroke, profile: &Profile, s: f64, theta: f64, wide: f64) -> f64 {
    let (from, to) = (stroke.from, stroke.to);
    let entry = |share: f64| profile.entry(meeting(from.towards(to, share), s, theta));
    let Some([first, last]) = shares_within_reach(stroke, s, theta, wide) else {
        return f64::INFINITY;
    };
    let step = (last - first) / LOOKS as f64;
    let looks = (0..=LOOKS).map(|i| first + step * i as f64);
    // A narrow cutter may pass between two looks: the moment at which its axis comes nearest is looked at too.
    let nearest = nearest_share(stroke, s, theta).clamp(first, last);
    let mut best = (f64::INFINITY, nearest);
    for share in looks.chain([nearest]) {
        let radius = entry(share);
        if radius < best.0 {
            best = (radius, share);
        }
    }
    if best.0.is_infinite() {
        return f64::INFINITY;
    }
    let (low, high) = ((best.1 - step).max(first), (best.1 + step).min(last));
    narrow(&entry, low, high, best.1).1.min(best.0)
}

/// Share of a stroke at which the cutter's axis comes nearest to a ray, measured at the height of the tip.
fn nearest_share(stroke: &Stroke, s: f64, theta: f64) -> f64 {
    let (from, to) = (stroke.from, stroke.to);
    let radius = f64::midpoint(from.tip_mm, to.tip_mm).abs();
    let off = [from.s_mm - s, radius * (from.theta_rad - theta)];
    let way = [to.s_mm - from.s_mm, radius * (to.theta_rad - from.theta_rad)];
    let way2 = way[0] * way[0] + way[1] * way[1];
    if way2 > 0.0 { -(off[0] * way[0] + off[1] * way[1]) / way2 } else { 0.0 }
}
