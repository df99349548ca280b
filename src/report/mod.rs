//! Words, tables and documents for people and for other programs. Shows what other rooms found out; computes nothing
//! and prints nothing: every function returns text.

pub mod draw;
pub mod feeds;
mod feeds_advice;
pub mod findings;
pub mod fit;
pub mod gears;
mod lines;
pub mod jig_sheet;
pub mod press;
pub mod json;
pub mod nut;
pub mod nut_proof;
pub mod pair;
pub mod page;
pub mod proof;
pub mod sheet;
pub mod size;
pub mod woods;
pub mod stick;
pub mod sketch;
pub mod solid;
pub mod svg;
