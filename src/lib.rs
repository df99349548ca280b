//! Works out sizes for a large wooden screw, writes the RS-274 program that cuts it with a router over a rotary
//! axis, and proves that program by reading its text back and carving a virtual blank.
//!
//! ```text
//! job file --job--> Job --design--> Screw --toolpath--> Path --post--> program text
//!                                                                          |  text only
//! program text --rs274--> Blocks --rs274--> Motions --stock--> carved wood --proof--> Proof --report--> words
//! ```
//!
//! Two halves meet only in the text of a program. [`wood`], [`job`], [`design`], [`feeds`], [`toolpath`] and [`post`] make it;
//! [`rs274`], [`stock`] and [`proof`] judge it. They share plain data ([`units`], [`source`], [`finding`], [`setup`],
//! [`drawing`]), arithmetic without shapes ([`pressure`], [`stiffness`]) and no geometry: a helix used by both would prove itself.
//!
//! Inside, lengths are millimetres and angles degrees unless a name says otherwise.

pub mod units;
pub mod source;
pub mod finding;
pub mod setup;
pub mod drawing;
pub mod pressure;
pub mod stiffness;

pub mod wood;
pub mod job;
pub mod design;
pub mod feeds;
pub mod toolpath;
pub mod post;

pub mod rs274;
pub mod stock;
pub mod proof;

pub mod report;
pub mod cli;
