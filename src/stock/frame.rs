//! From the words of a program to where the cutter stands on the blank. Knows the machine's zeros and signs and
//! nothing of cutters or wood.

use crate::rs274::{Kind, Motion, Path, Plane, Pose};
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
pub fn strokes(motions: &[Motion], setup: &Setup) -> Vec<Stroke> {
    let mut all = Vec::with_capacity(motions.len());
    for (index, motion) in motions.iter().enumerate() {
        let mut from = motion.from;
        for to in corners(motion) {
            let (start, end) = (Stand::of(from, setup), Stand::of(to, setup));
            all.push(Stroke { motion: index, kind: motion.kind, from: start, to: end });
            from = to;
        }
    }
    all
}

/// Greatest distance between an arc and its chords, mm: far below what the proof reports.
const CHORD_MM: f64 = 1e-3;

/// Most chords of one arc: a circle of some kilometres, so that a slip of the pen does not fill the memory.
const MOST_CHORDS: f64 = 50_000.0;

/// Where the chords of a motion end; a straight motion is its own chord.
pub fn corners(motion: &Motion) -> Vec<Pose> {
    let Path::Arc(arc) = motion.path else {
        return vec![motion.to];
    };
    let sweep = arc.sweep_deg.to_radians();
    // A chord over a small angle h leaves the arc by r h^2 / 8.
    let widest = (8.0 * CHORD_MM / arc.radius_mm.max(CHORD_MM)).sqrt();
    let count = (sweep.abs() / widest).ceil().clamp(1.0, MOST_CHORDS) as usize;
    let first = in_plane(motion.from, arc.plane);
    let begin = (first[1] - arc.centre_mm[1]).atan2(first[0] - arc.centre_mm[0]);
    (1..=count)
        .map(|i| {
            if i == count {
                return motion.to;
            }
            let share = i as f64 / count as f64;
            let angle = begin + sweep * share;
            let on_arc = [
                arc.centre_mm[0] + arc.radius_mm * angle.cos(),
                arc.centre_mm[1] + arc.radius_mm * angle.sin(),
            ];
            let mix = |a: f64, b: f64| a + (b - a) * share;
            let (from, to) = (motion.from, motion.to);
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
        })
        .collect()
}

fn in_plane(pose: Pose, plane: Plane) -> [f64; 2] {
    match plane {
        Plane::Xy => [pose.x_mm, pose.y_mm],
        Plane::Zx => [pose.z_mm, pose.x_mm],
        Plane::Yz => [pose.y_mm, pose.z_mm],
    }
}
