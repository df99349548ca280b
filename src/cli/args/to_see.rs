//! Arguments of the verbs whose results are looked at: show, draw, carve.

use std::path::PathBuf;

use clap::Args;

use super::{Fineness, fineness};

/// What all of them take.
#[derive(Debug, Args)]
pub(crate) struct Seen {
    /// Job file
    pub(crate) job: PathBuf,
    /// Program files in the order in which they are run, or - for standard input [default: the programs that cut would
    /// write]
    pub(crate) programs: Vec<PathBuf>,
    /// Operations that follow each other with the same cutter are in one program
    #[arg(long)]
    pub(crate) join: bool,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
}

/// `show`
#[derive(Debug, Args)]
pub(crate) struct Show {
    #[command(flatten)]
    pub(crate) seen: Seen,
    /// Page to write, or - for standard output [default: the name of the program or the job with .html, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
}

/// `draw`
#[derive(Debug, Args)]
pub(crate) struct Draw {
    #[command(flatten)]
    pub(crate) seen: Seen,
    /// Drawing to write, or - for standard output [default: the name of the program or the job with .svg, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
}

/// `carve`
#[derive(Debug, Args)]
pub(crate) struct Carve {
    #[command(flatten)]
    pub(crate) seen: Seen,
    /// Solid to write, ending in .stl or .3mf [default: the name of the program or the job with .stl, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Width of the solid's cells along the screw, in mm; round it they are twice as wide
    #[arg(long, value_name = "MM", value_parser = fineness, default_value_t = 0.5)]
    pub(crate) fine: f64,
}
