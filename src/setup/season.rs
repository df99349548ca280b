//! What has become of a screw and its nut since they were cut, as plain shares of growth. One half works them out from
//! woods and air, the other lets carved wood grow by them.

use serde::Serialize;

/// How the screw has grown since it was cut, as shares of its sizes: 0.01 is a hundredth more.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct ScrewGrowth {
    /// Square to the rings.
    pub radial: f64,
    /// Along the rings.
    pub tangential: f64,
    /// Along the grain, which is its axis.
    pub along: f64,
}

/// How the nut has grown since it was cut, as shares of its sizes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct NutGrowth {
    /// Along the grain, which lies along X.
    pub along: f64,
    /// Across the grain, along Y.
    pub across: f64,
    /// Through the board, along the axis of the nut.
    pub through: f64,
}

/// One state of both woods.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Season {
    /// What it is called: `as cut`, `both wet`.
    pub name: String,
    /// The screw then.
    pub screw: ScrewGrowth,
    /// The nut then.
    pub nut: NutGrowth,
}
