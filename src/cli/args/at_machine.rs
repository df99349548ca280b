//! Arguments of the verbs that serve at the machine: order, sheet, try, mend.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::Fineness;

/// `nut`
#[derive(Debug, Args)]
pub(crate) struct Nut {
    /// Job file
    pub(crate) job: PathBuf,
    /// Programs of the nut to prove, in the order in which they are run; without any, those that the job asks for
    #[arg(value_name = "PROGRAM", conflicts_with_all = ["out", "replace", "insist"])]
    pub(crate) programs: Vec<PathBuf>,
    /// Write the programs that make the nut, or - for standard output
    ///
    /// -nut is added to the name, and -1-bore and -2-thread where the bore has a program of its own: press.nc gives
    /// press-nut-1-bore.nc and press-nut-2-thread.nc
    #[arg(long, short = 'o', value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace existing files
    #[arg(long, requires = "out")]
    pub(crate) replace: bool,
    /// Write the programs though they or the pair failed the proof; their first lines then say so
    #[arg(long, requires = "out")]
    pub(crate) insist: bool,
    /// How finely the wood is carved
    #[command(flatten)]
    pub(crate) fineness: Fineness,
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
    #[arg(long, value_name = "LENGTH", group = "where", value_parser = length_or_none, allow_negative_numbers = true)]
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
