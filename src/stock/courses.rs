//! Strokes that continue each other, joined: a program may cut one groove in one move or in thousands, and the carve
//! should neither tell the difference nor take longer. Lengths in mm, angles in radians.

use crate::rs274::{Kind, Motion};
use crate::setup::Setup;

use super::frame::{NO_TURN, Stand, Stroke, strokes};
use super::wood;

/// Strokes along one straight line in station, angle and tip height, cut as one.
#[derive(Clone, Debug)]
pub struct Course {
    /// From the first start to the last end; its motion is the first.
    pub stroke: Stroke,
    /// For each motion in turn, the angle at which it ends, and its index; nothing where there is only one.
    ends: Vec<(f64, usize)>,
}

/// Greatest distance of a joint from the line it is taken to lie on, mm: what rounding to two decimals can do.
const JOINT_MM: f64 = 0.006;

impl Course {
    fn new(stroke: Stroke) -> Course {
        Course { stroke, ends: Vec::new() }
    }

    fn extend(&mut self, next: &Stroke) {
        if self.ends.is_empty() {
            self.ends.push((self.stroke.to.theta_rad, self.stroke.motion));
        }
        self.stroke.to = next.to;
        self.ends.push((next.to.theta_rad, next.motion));
    }

    /// Which motion cut at an angle of the blank, counted on; outside the course, the nearest.
    pub fn motion_at(&self, theta_rad: f64) -> usize {
        let onward = self.stroke.to.theta_rad >= self.stroke.from.theta_rad;
        let later =
            self.ends.partition_point(|&(end, _)| if onward { end < theta_rad } else { end > theta_rad });
        let end = self.ends.get(later).or(self.ends.last());
        end.map_or(self.stroke.motion, |&(_, motion)| motion)
    }

    /// The motions that were joined, in order.
    pub fn motions(&self) -> impl Iterator<Item = usize> {
        let only = self.ends.is_empty().then_some(self.stroke.motion);
        only.into_iter().chain(self.ends.iter().map(|&(_, motion)| motion))
    }
}

/// The slopes, per radian, that a line through the start of a course may have so that every joint lies near it.
#[derive(Clone, Copy)]
struct Fan {
    advance: [f64; 2],
    climb: [f64; 2],
}

impl Fan {
    const OPEN: Fan =
        Fan { advance: [f64::NEG_INFINITY, f64::INFINITY], climb: [f64::NEG_INFINITY, f64::INFINITY] };

    /// Whether the line from `start` to `end` lies in the fan.
    fn holds(&self, start: Stand, end: Stand) -> bool {
        let turn = end.theta_rad - start.theta_rad;
        let inside = |[low, high]: [f64; 2], way: f64| (low..=high).contains(&(way / turn));
        inside(self.advance, end.s_mm - start.s_mm) && inside(self.climb, end.tip_mm - start.tip_mm)
    }

    /// Narrowed so that the line passes near a joint.
    fn near(&self, start: Stand, joint: Stand) -> Fan {
        let turn = joint.theta_rad - start.theta_rad;
        let narrow = |[low, high]: [f64; 2], way: f64| {
            let (a, b) = ((way - JOINT_MM) / turn, (way + JOINT_MM) / turn);
            [low.max(a.min(b)), high.min(a.max(b))]
        };
        Fan {
            advance: narrow(self.advance, joint.s_mm - start.s_mm),
            climb: narrow(self.climb, joint.tip_mm - start.tip_mm),
        }
    }
}

/// The strokes of motions, joined where feed moves go on along the same helix.
pub fn courses(motions: &[Motion], setup: &Setup) -> Vec<Course> {
    let mut all: Vec<Course> = Vec::new();
    let mut fan = Fan::OPEN;
    for stroke in strokes(motions, setup) {
        if let Some(course) = all.last_mut()
            && goes_on(&course.stroke, &stroke)
        {
            let start = course.stroke.from;
            let narrowed = fan.near(start, stroke.from);
            if narrowed.holds(start, stroke.to) {
                fan = narrowed;
                course.extend(&stroke);
                continue;
            }
        }
        fan = Fan::OPEN;
        all.push(Course::new(stroke));
    }
    all
}

/// Number of courses that may meet wood, each of which is carved by itself: of those during which the blank turns, which
/// take tables, and of all.
pub fn courses_in_wood(motions: &[Motion], setup: &Setup) -> [usize; 2] {
    let wood_radius = wood::greatest_radius(&setup.blank);
    let low = |course: &&Course| course.stroke.from.tip_mm.min(course.stroke.to.tip_mm) < wood_radius;
    let turns =
        |course: &&Course| (course.stroke.to.theta_rad - course.stroke.from.theta_rad).abs() > NO_TURN;
    let all = courses(motions, setup);
    let in_wood = || all.iter().filter(low);
    [in_wood().filter(turns).count(), in_wood().count()]
}

/// Whether a stroke may continue another: both feed, both turning the same way over the axis.
fn goes_on(course: &Stroke, next: &Stroke) -> bool {
    let turn = |stroke: &Stroke| stroke.to.theta_rad - stroke.from.theta_rad;
    let over_axis = |stroke: &Stroke| stroke.from.beside_mm == 0.0 && stroke.to.beside_mm == 0.0;
    course.kind == Kind::Feed
        && next.kind == Kind::Feed
        && turn(course).abs() > NO_TURN
        && turn(next).abs() > NO_TURN
        && turn(course).signum() == turn(next).signum()
        && over_axis(course)
        && over_axis(next)
}
