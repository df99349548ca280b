//! How much wood a pass takes: the depths of the passes. Plans no moves.

mod depth;

pub use depth::{depths, equal_area};
