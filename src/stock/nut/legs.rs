//! From motions to where the cutter's axis goes in the frame of the nut: straight lines and arcs about any centre, both
//! with the height in step. Arcs stay arcs. Lengths in mm, angles in radians.

use crate::rs274::{Kind, Motion, Path, Plane};
use crate::stock::corners;

/// One leg of the cutter's way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Which motion of the program it belongs to.
    pub motion: usize,
    /// Rapid or feed.
    pub kind: Kind,
    /// Where the cutter's axis and its end stand at the start: X, Y, Z.
    pub from: [f64; 3],
    /// The same at the end.
    pub to: [f64; 3],
    /// What it turns about, if it is an arc.
    pub turn: Option<Turn>,
}

/// What makes a leg an arc.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Centre: X, Y.
    pub centre: [f64; 2],
    /// Distance from the centre at the start and at the end; the rounding of words lets them differ a little.
    pub radii: [f64; 2],
    /// Direction of the start as seen from the centre.
    pub begin: f64,
    /// Angle run through, anticlockwise positive.
    pub sweep: f64,
}

/// Where a leg is at a moment, and how it goes on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    pub(crate) at: [f64; 3],
    pub(crate) going: [f64; 3],
}

impl Leg {
    /// Where it is when a share of it is done.
    #[inline]
    pub(crate) fn place(&self, share: f64) -> Place {
        let way = [self.to[0] - self.from[0], self.to[1] - self.from[1], self.to[2] - self.from[2]];
        let z = self.from[2] + way[2] * share;
        match self.turn {
            None => {
                Place { at: [self.from[0] + way[0] * share, self.from[1] + way[1] * share, z], going: way }
            }
            Some(turn) => {
                let grows = turn.radii[1] - turn.radii[0];
                let radius = turn.radii[0] + grows * share;
                let (sin, cos) = (turn.begin + turn.sweep * share).sin_cos();
                Place {
                    at: [turn.centre[0] + radius * cos, turn.centre[1] + radius * sin, z],
                    going: [
                        grows * cos - radius * turn.sweep * sin,
                        grows * sin + radius * turn.sweep * cos,
                        way[2],
                    ],
                }
            }
        }
    }

    /// The cutter's farthest distance from the axis of the nut on the leg, or a little more.
    pub fn farthest(&self) -> f64 {
        let ends = self.from[0].hypot(self.from[1]).max(self.to[0].hypot(self.to[1]));
        match self.turn {
            None => ends,
            Some(turn) => {
                let most = turn.centre[0].hypot(turn.centre[1]) + turn.radii[0].max(turn.radii[1]);
                // The far side of the circle counts only if the leg passes it.
                let far = turn.centre[1].atan2(turn.centre[0]);
                if turn.passes(far) { most } else { ends }
            }
        }
    }

    /// Lowest and highest place of its end.
    pub fn heights(&self) -> [f64; 2] {
        [self.from[2].min(self.to[2]), self.from[2].max(self.to[2])]
    }

    /// Length of its way in the plane of X and Y.
    pub fn planar_mm(&self) -> f64 {
        match self.turn {
            None => (self.to[0] - self.from[0]).hypot(self.to[1] - self.from[1]),
            Some(turn) => turn.sweep.abs() * f64::midpoint(turn.radii[0], turn.radii[1]),
        }
    }

    /// How far it goes round the axis of the nut, radians, anticlockwise positive. Of an arc about another centre, and of
    /// a line: as seen from the axis, between its ends.
    pub fn round(&self) -> f64 {
        match self.turn {
            Some(turn)
                if turn.centre[0].hypot(turn.centre[1]) < f64::midpoint(turn.radii[0], turn.radii[1]) =>
            {
                turn.sweep
            }
            _ => {
                let cross = self.from[0] * self.to[1] - self.from[1] * self.to[0];
                let dot = self.from[0] * self.to[0] + self.from[1] * self.to[1];
                cross.atan2(dot)
            }
        }
    }
}

impl Turn {
    /// Whether it runs through a direction.
    fn passes(&self, direction: f64) -> bool {
        let ahead = (direction - self.begin) * self.sweep.signum();
        ahead.rem_euclid(std::f64::consts::TAU) <= self.sweep.abs()
    }
}

/// The legs of motions, in order. Arcs in the plane of X and Y stay arcs; those in other planes become chords that leave
/// them by a thousandth of a millimetre at most: no nut is cut with them.
pub fn legs(motions: &[Motion]) -> Vec<Leg> {
    let mut all = Vec::with_capacity(motions.len());
    for (index, motion) in motions.iter().enumerate() {
        let point = |pose: &crate::rs274::Pose| [pose.x_mm, pose.y_mm, pose.z_mm];
        let (from, to) = (point(&motion.from), point(&motion.to));
        let leg = |from, to, turn| Leg { motion: index, kind: motion.kind, from, to, turn };
        match motion.path {
            Path::Straight => all.push(leg(from, to, None)),
            Path::Arc(arc) if arc.plane == Plane::Xy => {
                let centre = arc.centre_mm;
                let radius = |p: [f64; 3]| (p[0] - centre[0]).hypot(p[1] - centre[1]);
                let turn = Turn {
                    centre,
                    radii: [radius(from), radius(to)],
                    begin: (from[1] - centre[1]).atan2(from[0] - centre[0]),
                    sweep: arc.sweep_deg.to_radians(),
                };
                all.push(leg(from, to, Some(turn)));
            }
            Path::Arc(_) => {
                let mut start = from;
                for corner in corners(motion) {
                    let end = point(&corner);
                    all.push(leg(start, end, None));
                    start = end;
                }
            }
        }
    }
    all
}
