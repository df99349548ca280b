//! The virtual blank: carves the motions of a program out of a field of radii, one row of stations at a time, in the
//! order of the program. Knows the cutter, the wood and where the cutter goes; knows nothing of threads, of what was
//! wanted, or of how the program was made.

mod bench;
mod carve;
mod contact;
mod cutter;
mod engaged;
mod envelope;
mod frame;
mod grid;
mod history;
mod ledger;
mod looks;
pub mod nut;
mod phases;
mod ramp;
mod row;
mod section;
mod courses;
mod sweep;
mod wood;

pub use carve::{Carved, Cut, Earlier, Former, Row, Turn, carve, carve_all};
pub use contact::{Gap, Obstacle, gaps_to_obstacles};
pub use courses::{Course, courses, courses_in_wood};
pub use frame::{Stand, Stroke, corners, strokes};
pub use grid::{Cells, Grid};
pub use history::{History, Shaving};
pub use looks::Touch;
pub use wood::greatest_radius;

#[cfg(test)]
mod tests;
