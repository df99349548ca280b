//! Nuts: the carve against outside values, programs altered one way each, and the pair of screw and nut. The programs are
//! written by a small generator of the tests' own (`nut_proof/oracle.rs`), which shares nothing with the one that is sold.

#[allow(dead_code, reason = "each test binary uses its own part of it")]
mod common;

#[path = "nut_proof/carve.rs"]
mod carve;
#[path = "nut_proof/faults.rs"]
mod faults;
#[path = "nut_proof/oracle.rs"]
mod oracle;
#[path = "nut_proof/pair.rs"]
mod pair;
#[path = "nut_proof/samples.rs"]
mod samples;
