//! From what was asked to sizes that fit together: the screw as the cutter really leaves it, and the plain data
//! (drawing, setup) that the rest of the crate works from. Plans no moves and writes no text.

mod again;
mod root;
pub mod form;
pub mod groove;
pub mod shape;
mod screw;
mod faults;
pub mod fit;
pub mod nut;
mod habits;
mod hand_over;
mod outline;
mod steps;
mod stick;
#[cfg(test)]
pub(crate) mod sample;
#[cfg(test)]
mod tests;

pub use again::{Touched, deeper, phase_deg, trial};
pub use fit::{Fit, fit};
pub use hand_over::{bench_setup, drawing, setup};
pub use nut::{Nut, nut};
pub use screw::{Screw, screw};
pub use steps::{Feature, Operation, Step, steps};
pub use stick::{Octagon, Stick, least_stick_mm, octagon};

use crate::job::BlankAsked;
use crate::setup::BlankShape;

/// Distance from the axis to the blank's farthest edge, mm: half the diameter of a round blank, the corner of
/// another.
pub fn blank_radius_mm(blank: &BlankAsked) -> f64 {
    let half = blank.size_mm / 2.0;
    match blank.shape {
        BlankShape::Round => half,
        BlankShape::Square => half * std::f64::consts::SQRT_2,
        BlankShape::Octagon => half / std::f64::consts::FRAC_PI_8.cos(),
    }
}
