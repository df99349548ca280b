//! The command line as it is typed. Declares, computes nothing.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

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
    /// Write the set-up sheet: one page at the machine
    ///
    /// Plans and proves the programs of the job and tells how the machine is to be set up for them: blank, zeros, cutters,
    /// programs in order with their minutes, what to tick off, what to mind, what to measure.
    ///
    /// Example: threadwright sheet samples/nipping-press.toml
    Sheet(Sheet),
    /// Make several screws at once, a folder for each, with one blank list
    ///
    /// An order file names jobs and how many of each. What goes wrong with one does not keep the others from being made.
    ///
    /// Example: threadwright order samples/orders/bindery.toml
    Order(Order),
    /// Write programs to try a set-up with: in the air, along the extents, or on scrap
    ///
    /// --air lifts every program of the job clear of the blank and leaves the spindle off. --extents goes slowly to the
    /// ends of the work and turns A a quarter. --scrap cuts a few turns of the same thread on a trial piece. Each is
    /// proved: the first two to touch no wood, the third against its own drawing.
    ///
    /// Example: threadwright try samples/nipping-press.toml --air
    Try(Try),
    /// Go on with an interrupted thread, or cut one that is already there again
    ///
    /// Starts anew at a pass, a start or a line of the thread's program, always at the beginning of a pass, in the air
    /// beyond the nose. --touched tells where the thread stands: with the spindle off and isolated, let the cutter down
    /// into the groove until it sits there, and read X and A. With --deeper it is cut that much deeper than it stands;
    /// --deeper 0 cleans it.
    ///
    /// Example: threadwright mend samples/nipping-press.toml --pass 4
    Mend(Mend),
}

/// `order`
#[derive(Debug, Args)]
pub(crate) struct Order {
    /// Order file
    #[arg(value_name = "ORDER")]
    pub(crate) file: PathBuf,
    /// Folder to make the folders in [default: the order's name, in this folder]
    #[arg(long, short = 'o', value_name = "FOLDER")]
    pub(crate) out: Option<PathBuf>,
    /// Paper to print the sheets on
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub(crate) paper: Paper,
    /// Replace existing files
    #[arg(long)]
    pub(crate) replace: bool,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
}

/// `sheet`
#[derive(Debug, Args)]
pub(crate) struct Sheet {
    /// Job file
    pub(crate) job: PathBuf,
    /// Plain text and not a page
    #[arg(long)]
    pub(crate) text: bool,
    /// Paper to print the page on
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    pub(crate) paper: Paper,
    /// File to write, or - for standard output [default: the job's name with -sheet.html, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// The programs are written with --join
    #[arg(long)]
    pub(crate) join: bool,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
}

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// 210 by 297 mm
    A4,
    /// 8 1/2 by 11 inches
    Letter,
}

/// `try`
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("what").required(true))]
#[expect(clippy::struct_excessive_bools, reason = "each is a flag of the command line")]
pub(crate) struct Try {
    /// Job file
    pub(crate) job: PathBuf,
    /// Every program lifted into the air, spindle off
    #[arg(long, group = "what")]
    pub(crate) air: bool,
    /// A slow trip to the ends of the work, spindle off
    #[arg(long, group = "what")]
    pub(crate) extents: bool,
    /// A few turns of the thread on a trial piece
    #[arg(long, group = "what")]
    pub(crate) scrap: bool,
    /// Turns of full thread on the trial piece
    #[arg(long, value_name = "TURNS", default_value_t = 3.0, value_parser = turns)]
    pub(crate) turns: f64,
    /// Diameter of the trial piece, in the job's unit [default: the crest diameter]
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub(crate) diameter: Option<f64>,
    /// Name that the programs' names begin with [default: the job's name with .nc, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Put operations that follow each other with the same cutter into one program
    #[arg(long)]
    pub(crate) join: bool,
    /// Replace existing files
    #[arg(long)]
    pub(crate) replace: bool,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
}

/// `mend`
#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("where").multiple(true).required(true))]
pub(crate) struct Mend {
    /// Job file
    pub(crate) job: PathBuf,
    /// Begin at this pass, counted through all starts in the order of the program
    #[arg(long, group = "where", conflicts_with_all = ["start", "line", "deeper"])]
    pub(crate) pass: Option<usize>,
    /// Begin at the first pass of this start
    #[arg(long, group = "where", conflicts_with_all = ["line", "deeper"])]
    pub(crate) start: Option<u32>,
    /// Begin at the pass that holds this line of the thread's program as `cut` writes it
    #[arg(long, group = "where", conflicts_with = "deeper")]
    pub(crate) line: Option<usize>,
    /// X and A, in words of the program, at which the cutter sits in the groove or touches a flank
    #[arg(long, num_args = 2, value_names = ["X", "A"], group = "where", allow_negative_numbers = true)]
    pub(crate) touched: Option<Vec<f64>>,
    /// Z at which it touches one flank only
    #[arg(long, value_name = "Z", requires_all = ["touched", "flank"], allow_negative_numbers = true)]
    pub(crate) touched_z: Option<f64>,
    /// The flank that it touches
    #[arg(long, value_enum, requires = "touched_z")]
    pub(crate) flank: Option<Flank>,
    /// How much deeper to cut than the thread stands, in the job's unit; 0 cleans it
    #[arg(long, value_name = "LENGTH", group = "where", value_parser = length_or_none)]
    pub(crate) deeper: Option<f64>,
    /// How deep the thread stands, in the job's unit [default: the depth of the job]
    #[arg(long, value_name = "LENGTH", requires = "deeper", value_parser = length)]
    pub(crate) stands: Option<f64>,
    /// Program to write [default: the job's name with -mend.nc, in this folder]
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace an existing file
    #[arg(long)]
    pub(crate) replace: bool,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
}

/// A flank of the groove.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Flank {
    /// The one towards the nose
    Nose,
    /// The one towards the head
    Head,
}

/// Turns of a trial piece that tell something and stay short.
const TURNS_RANGE: std::ops::RangeInclusive<f64> = 1.0..=50.0;

fn turns(text: &str) -> Result<f64, String> {
    let value: f64 = text.parse().map_err(|_| format!("{text:?} is not a number; write 3, say"))?;
    if TURNS_RANGE.contains(&value) { Ok(value) } else { Err(format!("{value} turns: write 1 to 50")) }
}

fn length(text: &str) -> Result<f64, String> {
    length_or_none(text)
        .and_then(|value| if value > 0.0 { Ok(value) } else { Err("it must be above 0".to_owned()) })
}

fn length_or_none(text: &str) -> Result<f64, String> {
    let value: f64 = text.parse().map_err(|_| format!("{text:?} is not a number; write 0.3, say"))?;
    if value.is_finite() && value >= 0.0 { Ok(value) } else { Err(format!("{value} is no length")) }
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
    ///
    /// A job with several programs adds its number and its operation to the name: press-1-round.nc
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Put operations that follow each other with the same cutter into one program
    #[arg(long)]
    pub(crate) join: bool,
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
    /// Program files in the order in which they are run, or - for standard input
    ///
    /// A job with operations beside the thread has several programs. Each is proved on the wood that the ones before it
    /// leave.
    #[arg(required = true)]
    pub(crate) programs: Vec<PathBuf>,
    /// The programs were written with --join
    #[arg(long)]
    pub(crate) join: bool,
    #[command(flatten)]
    pub(crate) fineness: Fineness,
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
