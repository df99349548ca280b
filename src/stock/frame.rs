//! From the words of a program to where the cutter stands on the blank. Knows the machine's zeros and signs and
//! nothing of cutters or wood.

use crate::rs274::{Arc, Kind, Motion, Path, Plane, Pose};
use crate::setup::Setup;

/// Where the cutter stands in the frame of the blank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Station of its axis, from the nose towards the head, mm.
    pub s_mm: f64,
    /// Angle of the blank under it, right-handed about the direction of the stations, radians; counts on.
    pub theta_rad: f64,
    /// Height of its tip above the axis of the blank, mm.
    pub tip_mm: f64,
    /// How far its axis stands beside the axis of the blank, mm, counted the way `sin theta` counts.
    pub beside_mm: f64,
}

impl Stand {
    /// Turns axis words into a stand. With `d` = +1 when the headstock is at the X+ end and `k` = +1 when A counting
    /// up brings the top of the blank to the front: `s = d (X - X_nose)`, `theta = -d k A`.
    pub fn of(pose: Pose, setup: &Setup) -> Self {
        let d = setup.machine.headstock.sign();
        let k = setup.machine.a_plus.sign();
        Stand {
            s_mm: d * (pose.x_mm - setup.x_nose_mm),
            theta_rad: (-d * k * pose.a_deg).to_radians(),
            tip_mm: pose.z_mm - setup.z_axis_mm,
            beside_mm: -d * pose.y_mm,
        }
    }

    /// The stand a share of the way to another.
    #[must_use]
    pub fn towards(self, to: Stand, share: f64) -> Stand {
        let mix = |a: f64, b: f64| a + (b - a) * share;
        Stand {
            s_mm: mix(self.s_mm, to.s_mm),
            theta_rad: mix(self.theta_rad, to.theta_rad),
            tip_mm: mix(self.tip_mm, to.tip_mm),
            beside_mm: mix(self.beside_mm, to.beside_mm),
        }
    }
}

/// Angles that turn less than this do not turn, radians.
pub(crate) const NO_TURN: f64 = 1e-9;

/// One straight move of the cutter over the blank, every axis in step.
#[derive(Clone, Copy, Debug)]
pub struct Stroke {
    /// Which motion of the program it belongs to.
    pub motion: usize,
    /// Rapid or feed.
    pub kind: Kind,
    /// Start.
    pub from: Stand,
    /// End.
    pub to: Stand,
}

/// The strokes of motions, in order. An arc becomes chords that leave it by at most a thousandth of a millimetre.
pub fn strokes<'a>(motions: &'a [Motion], setup: &'a Setup) -> impl Iterator<Item = Stroke> + 'a {
    motions.iter().enumerate().flat_map(move |(index, motion)| {
        let mut from = motion.from;
        corners(motion).map(move |to| {
            let (start, end) = (Stand::of(from, setup), Stand::of(to, setup));
            from = to;
            Stroke { motion: index, kind: motion.kind, from: start, to: end }
        })
    })
}

/// Greatest distance between an arc and its chords, mm: far below what the proof reports.
const CHORD_MM: f64 = 1e-3;

/// Most chords of one arc: a circle of some kilometres, so that a slip of the pen does not fill the memory.
const MOST_CHORDS: f64 = 50_000.0;

/// Where the chords of a motion end; a straight motion is its own chord.
pub fn corners(motion: &Motion) -> impl Iterator<Item = Pose> + use<> {
    let chords = match motion.path {
        Path::Straight => None,
        Path::Arc(arc) => Some(Chords::of(arc, motion.from, motion.to)),
    };
    let (count, end) = (chords.as_ref().map_or(1, |chords| chords.count), motion.to);
    let along = move |i| chords.as_ref().map_or(end, |chords| chords.end(i));
    (1..count).map(along).chain([end])
}

/// An arc cut into chords.
struct Chords {
    arc: Arc,
    from: Pose,
    to: Pose,
    begin_rad: f64,
    count: usize,
}

impl Chords {
    fn of(arc: Arc, from: Pose, to: Pose) -> Chords {
        // A chord over a small angle h leaves the arc by r h^2 / 8.
        let widest = (8.0 * CHORD_MM / arc.radius_mm.max(CHORD_MM)).sqrt();
        let count = (arc.sweep_deg.to_radians().abs() / widest).ceil().clamp(1.0, MOST_CHORDS) as usize;
        let first = in_plane(from, arc.plane);
        let begin_rad = (first[1] - arc.centre_mm[1]).atan2(first[0] - arc.centre_mm[0]);
        Chords { arc, from, to, begin_rad, count }
    }

    /// Where a chord ends, counted from one; the last ends where the arc does.
    fn end(&self, i: usize) -> Pose {
        let Chords { arc, from, to, .. } = self;
        let share = i as f64 / self.count as f64;
        let angle = self.begin_rad + arc.sweep_deg.to_radians() * share;
        let on_arc =
            [arc.centre_mm[0] + arc.radius_mm * angle.cos(), arc.centre_mm[1] + arc.radius_mm * angle.sin()];
        let mix = |a: f64, b: f64| a + (b - a) * share;
        let mut pose = Pose {
            x_mm: mix(from.x_mm, to.x_mm),
            y_mm: mix(from.y_mm, to.y_mm),
            z_mm: mix(from.z_mm, to.z_mm),
            a_deg: mix(from.a_deg, to.a_deg),
        };
        match arc.plane {
            Plane::Xy => (pose.x_mm, pose.y_mm) = (on_arc[0], on_arc[1]),
            Plane::Zx => (pose.z_mm, pose.x_mm) = (on_arc[0], on_arc[1]),
            Plane::Yz => (pose.y_mm, pose.z_mm) = (on_arc[0], on_arc[1]),
        }
        pose
    }
}

fn in_plane(pose: Pose, plane: Plane) -> [f64; 2] {
    match plane {
        Plane::Xy => [pose.x_mm, pose.y_mm],
        Plane::Zx => [pose.z_mm, pose.x_mm],
        Plane::Yz => [pose.y_mm, pose.z_mm],
    }
}
