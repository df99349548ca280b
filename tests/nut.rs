//! Nuts: the carve against outside values, programs altered one way each, and the pair of screw and nut. The programs are
//! written by a small generator of the tests' own (`nut/oracle.rs`), which shares nothing with the one that is sold.

#[path = "nut/carve.rs"]
mod carve;
#[path = "nut/oracle.rs"]
mod oracle;
