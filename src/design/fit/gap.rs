//! How the gaps between screw and nut change when both move. The screw's grain runs along its axis, so its section
//! becomes an ellipse between the radial and the tangential movement; the nut's grain runs across, so its hole keeps its
//! size along the grain and moves like its board across it. As the screw turns, each of its directions meets each of the
//! nut's. Derived for free, even movement in proportion to moisture; nothing here knows sizes to cut.

use serde::Serialize;

use crate::wood::{Board, Movement};

/// Points of moisture by which nut and screw are wetter than when cut.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Points {
    /// Of the screw.
    pub screw: f64,
    /// Of the nut.
    pub nut: f64,
}

/// Growth of the gap on the radius, as a share of the radius. Where the screw's directions meet the nut's it lies
/// within `mean` plus or minus an amplitude that depends on how far the screw is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Growth {
    mean: f64,
    /// With the screw turned so that its oval stands most across the hole's.
    most_oval: f64,
    /// With the screw turned so that its oval lies most along the hole's.
    least_oval: f64,
}

impl Growth {
    /// Of a screw and a nut with these movements. With p from the nut's grain and f from the screw's radial direction the
    /// gap grows by `dM_n (C_L cos² p + C_x sin² p) - dM_s (C_R cos² f + C_T sin² f)`; each bracket is a mean and a
    /// cosine of the double angle.
    pub fn of(screw: &Movement, nut: &Movement, board: Board, points: Points) -> Growth {
        let across = nut.across(board);
        let hole_mean = points.nut * f64::midpoint(nut.along, across);
        let hole_oval = (points.nut * (across - nut.along) / 2.0).abs();
        let screw_mean = points.screw * f64::midpoint(screw.radial, screw.tangential);
        let screw_oval = (points.screw * (screw.tangential - screw.radial) / 2.0).abs();
        Growth {
            mean: hole_mean - screw_mean,
            most_oval: hole_oval + screw_oval,
            least_oval: (hole_oval - screw_oval).abs(),
        }
    }

    /// At the tightest place, the screw turned as badly as it can.
    pub fn tightest(&self) -> f64 {
        self.mean - self.most_oval
    }

    /// At the widest place, the screw turned as it likes.
    pub fn widest(&self) -> f64 {
        self.mean + self.most_oval
    }

    /// At the tightest place, the screw turned as well as it can.
    pub fn tightest_turned_well(&self) -> f64 {
        self.mean - self.least_oval
    }
}

/// How much longer the nut's thread grows than the screw's, as a share of the engaged length: the nut's board moves
/// through its thickness, the screw along its grain.
pub fn drift(screw: &Movement, nut: &Movement, board: Board, points: Points) -> f64 {
    nut.through(board) * points.nut - screw.along * points.screw
}

/// A gap's growth on the radius at the crest and in the root, mm; what decides about a flank that reaches from one to
/// the other is the tighter of both.
pub(super) fn tighter_mm(growth: f64, crest_mm: f64, root_mm: f64) -> f64 {
    (growth * crest_mm).min(growth * root_mm)
}
