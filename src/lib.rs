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
//! One job from end to end:
//!
//! ```
//! use threadwright::{design, job, post, proof, source::Source, toolpath};
//!
//! let read = |path: String| Source::new(path.clone(), std::fs::read_to_string(path).expect("it can be read"));
//! let samples = concat!(env!("CARGO_MANIFEST_DIR"), "/samples");
//! // A job names its machine and its cutter by their paths beside it.
//! let text = read(format!("{samples}/nipping-press.toml"));
//! let (job, findings) = job::read(&text, &mut |name| Ok(read(format!("{samples}/{name}"))));
//! assert!(findings.is_empty());
//! let job = job.expect("nothing was found");
//! let (screw, _) = design::screw(&job);
//! let screw = screw.expect("it can be made");
//! let (path, _) = toolpath::plan(&job, &screw);
//! let program = post::program(&job, &screw, &path.expect("it can be cut"));
//! // The proof sees the text, the shop and the drawing, and nothing of how the text came to be.
//! let text = Source::new("press.nc", program);
//! let proof = proof::prove(&text, &design::setup(&job, &screw), &design::drawing(&job, &screw), None);
//! assert!(proof.proved());
//! assert_eq!(proof.measured.starts, Some(2));
//! ```
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
pub mod gears;
pub mod press;
pub mod toolpath;
pub mod post;

pub mod rs274;
pub mod stock;
pub mod proof;

pub mod report;
pub mod cli;
