//! The command line as it is typed. Declares, computes nothing.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::setup::Edge;

/// Works out, writes and proves RS-274 programs for large wooden screws cut with a router
///
/// A job file says what screw is wanted and what shop it is made in. `size` shows what follows from it, `cut` writes
/// the program and proves it, `prove` proves any program against the job.
#[derive(Debug, Parser)]
#[command(name = "threadwright", version, arg_required_else_help = true, after_help = EXIT_CODES)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) verb: Verb,
    #[command(flatten)]
    pub(crate) manner: Manner,
}

const EXIT_CODES: &str = "\
Exit codes:
  0  done, and proved where there is a proof
  1  proved wrong: at least one stop
  2  wrong usage
  3  an input file that cannot be read or does not check
  4  the system failed: disk, permissions

A proof looks at geometry, travel and speed. It does not see clamps, grain, knots or a dull cutter: read safety.md.";

/// How results are told.
#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct Manner {
    /// Print one JSON document on standard output, also on failure
    #[arg(long, global = true)]
    pub(crate) json: bool,
    /// Say only what stops or needs thought: no figures, notes or remarks
    #[arg(long, short, global = true)]
    pub(crate) quiet: bool,
    /// Colours on the terminal
    #[arg(long, global = true, value_enum, default_value_t = Colour::Auto, value_name = "WHEN")]
    pub(crate) color: Colour,
}

/// When to use colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Colour {
    /// On a terminal, unless `NO_COLOR` is set
    Auto,
    /// Always
    Always,
    /// Never
    Never,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Write a starter job to fill in
    ///
    /// Example: threadwright new press.toml --units inch
    New(New),
    /// Show every size that follows from a job
    ///
    /// Example: threadwright size samples/nipping-press.toml
    Size(Size),
    /// Write the program of a job and prove it
    ///
    /// The program is written only if its proof finds nothing against it. An existing file is kept unless it holds
    /// the same bytes or --replace is given.
    ///
    /// Example: threadwright cut samples/nipping-press.toml
    Cut(Cut),
    /// Prove a program against a job
    ///
    /// Reads the program's text, carves a virtual blank, measures it, and says what would go wrong. The program may
    /// come from anywhere.
    ///
    /// Example: threadwright prove samples/nipping-press.toml nipping-press.nc
    Prove(Prove),
    /// Write the inspection page of a program
    ///
    /// One HTML file to open in any browser: the wood as it stands after every line, section, program, loads and
    /// findings, linked by one cursor. Without a program it shows the one that `cut` would write.
    ///
    /// Example: threadwright show samples/nipping-press.toml
    Show(Show),
    /// Draw the screw: one sheet in SVG
    ///
    /// The screw as thread symbol and in true form, its section enlarged with what the program carves laid over it, the
    /// starts, the steps of depth and the path. Without a program it draws with the one that `cut` would write.
    ///
    /// Example: threadwright draw samples/nipping-press.toml
    Draw(Draw),
    /// Write the carved screw as a solid: STL or 3MF
    ///
    /// The finished screw, sawn off at nose and head, as the program leaves it. A file that ends in .3mf says its unit,
    /// one that ends in .stl cannot: its lengths are millimetres. X runs along the screw from the nose, Z is up at A0.
    ///
    /// Example: threadwright carve samples/nipping-press.toml
    Carve(Carve),
    /// Show chips, forces and limits of a job's passes, and what the wood would choose
    ///
    /// Every force is an estimate from memory, good to a factor of two. With plan = "by-wood" under [cutting] the job
    /// leaves to wood, cutter and machine what it does not give itself.
    ///
    /// Example: threadwright feeds samples/nipping-press.toml --wood "hard maple"
    Feeds(Feeds),
}

/// `new`
#[derive(Debug, Args)]
pub(crate) struct New {
    /// File to write, or - for standard output
    #[arg(default_value = "screw.toml")]
    pub(crate) file: PathBuf,
    /// Unit of the job
    #[arg(long, value_enum, default_value_t = Units::Mm)]
    pub(crate) units: Units,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
}

/// A unit of length.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Units {
    /// Millimetres
    Mm,
    /// Inches
    Inch,
}

/// `size`
#[derive(Debug, Args)]
pub(crate) struct Size {
    /// Job file
    pub(crate) job: PathBuf,
}

/// `cut`
#[derive(Debug, Args)]
pub(crate) struct Cut {
    /// Job file
    pub(crate) job: PathBuf,
    /// Program to write, or - for standard output [default: the job's name with .nc, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
    /// Write the program even if its proof fails; its first lines then say so
    #[arg(long)]
    pub(crate) insist: bool,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
}

/// `prove`
#[derive(Debug, Args)]
pub(crate) struct Prove {
    /// Job file
    pub(crate) job: PathBuf,
    /// Program file, or - for standard input
    pub(crate) program: PathBuf,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
}

/// `show`
#[derive(Debug, Args)]
pub(crate) struct Show {
    /// Job file
    pub(crate) job: PathBuf,
    /// Program file, or - for standard input [default: the program that cut would write]
    pub(crate) program: Option<PathBuf>,
    /// Page to write, or - for standard output [default: the program's name with .html, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
}

/// `draw`
#[derive(Debug, Args)]
pub(crate) struct Draw {
    /// Job file
    pub(crate) job: PathBuf,
    /// Program file, or - for standard input [default: the program that cut would write]
    pub(crate) program: Option<PathBuf>,
    /// Drawing to write, or - for standard output [default: the program's name with .svg, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
}

/// `carve`
#[derive(Debug, Args)]
pub(crate) struct Carve {
    /// Job file
    pub(crate) job: PathBuf,
    /// Program file, or - for standard input [default: the program that cut would write]
    pub(crate) program: Option<PathBuf>,
    /// Solid to write, ending in .stl or .3mf [default: the program's name with .stl, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
    /// Width of the solid's cells along the screw, in mm; round it they are twice as wide
    #[arg(long, value_name = "MM", value_parser = fineness, default_value_t = 0.5)]
    pub(crate) fine: f64,
}

/// `feeds`
#[derive(Debug, Args)]
pub(crate) struct Feeds {
    /// Job file
    pub(crate) job: PathBuf,
    /// Show the same job in another wood as well
    #[arg(long, value_name = "NAME")]
    pub(crate) wood: Option<String>,
    /// State of the edges [default: the cutter file's, else sharp]
    #[arg(long, value_enum, value_name = "STATE")]
    pub(crate) edge: Option<EdgeState>,
}

/// State of a cutting edge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum EdgeState {
    /// Fresh from the maker or the stone
    Sharp,
    /// Some blanks old
    Used,
    /// Due for the stone
    Dull,
}

impl From<EdgeState> for Edge {
    fn from(state: EdgeState) -> Edge {
        match state {
            EdgeState::Sharp => Edge::Sharp,
            EdgeState::Used => Edge::Used,
            EdgeState::Dull => Edge::Dull,
        }
    }
}

/// How finely a proof carves.
#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct Fineness {
    /// Width of the cells that the blank is carved on, in mm: smaller is surer and slower [default: 0.1 along the
    /// blank, 0.4 round it]
    #[arg(long, value_name = "MM", value_parser = fineness)]
    pub(crate) fine: Option<f64>,
}

/// Finest and coarsest cells, mm: finer would take minutes and tell nothing new, coarser would miss the groove.
const FINENESS_RANGE_MM: std::ops::RangeInclusive<f64> = 0.01..=0.5;

fn fineness(text: &str) -> Result<f64, String> {
    let value: f64 = text.parse().map_err(|_| format!("{text:?} is not a number; write 0.1, say"))?;
    if FINENESS_RANGE_MM.contains(&value) {
        Ok(value)
    } else {
        let (least, most) = (FINENESS_RANGE_MM.start(), FINENESS_RANGE_MM.end());
        Err(format!("{value} mm lies outside {least} to {most} mm"))
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    #[test]
    fn the_command_line_is_consistent() {
        super::Arguments::command().debug_assert();
    }
}
