//! Words, tables and documents for people and for other programs. Shows what other rooms found out; computes nothing
//! and prints nothing: every function returns text.

pub mod draw;
pub mod feeds;
pub mod findings;
pub mod json;
pub mod page;
pub mod proof;
pub mod size;
pub mod sketch;
pub mod solid;
pub mod svg;
