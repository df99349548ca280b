//! The command line as it is typed. Declares, computes nothing.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

mod at_machine;
mod to_learn;
mod to_see;

pub(crate) use at_machine::{Flank, Mend, Nut, Order, Paper, Sheet, Try};
pub(crate) use to_learn::{Completions, Explain, Manual, Schema};
pub(crate) use to_see::{Carve, Draw, Seen, Show};

use crate::setup::Edge;

/// Works out, writes and proves RS-274 programs for large wooden screws cut with a router
///
/// A job file says what screw is wanted and what shop it is made in. `size` shows what follows from it, `cut` writes
/// the program and proves it, `prove` proves any program against the job, `show` lets you see the cut line by line.
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
    /// Write the inspection page: see the cut, line by line
    ///
    /// One HTML file to open in any browser: the wood as it stands after every line, section, programs, loads and findings,
    /// linked by one cursor. Without programs it shows those that `cut` would write. A job file without a `[screw]` serves to
    /// look at any program: it says machine, cutter and blank, and nothing is proved.
    ///
    /// Example: threadwright show samples/nipping-press.toml
    Show(Show),
    /// Draw the screw: one sheet in SVG
    ///
    /// The screw as thread symbol and in true form, its section enlarged with what the programs carve laid over it, the
    /// starts, the steps of depth and the path. Without programs it draws with those that `cut` would write.
    ///
    /// Example: threadwright draw samples/nipping-press.toml
    Draw(Draw),
    /// Write the carved screw as a solid: STL or 3MF
    ///
    /// The finished screw, sawn off at nose and head, as the programs leave it. A file that ends in .3mf says its unit, one
    /// that ends in .stl cannot: its lengths are millimetres. X runs along the screw from the nose, Z is up at A0.
    ///
    /// Example: threadwright carve samples/nipping-press.toml
    Carve(Carve),
    /// Show chips, forces and limits of a job's passes, and what the wood would choose
    ///
    /// Every force is an estimate from memory, good to a factor of two. With plan = "by-wood" under `cutting` the job
    /// leaves to wood, cutter and machine what it does not give itself.
    ///
    /// Example: threadwright feeds samples/nipping-press.toml --wood "hard maple"
    Feeds(Feeds),
    /// Tell whether screw and nut stay free through the year
    ///
    /// Needs the tables season and nut in the job. Chooses clearances that the job leaves open.
    ///
    /// Example: threadwright fit samples/nipping-press.toml
    Fit(Fit),
    /// Size the nut of the screw, for the mill or for the hand, and write its programs
    ///
    /// Bore, thread, clearances and block from the screw as it will really be cut; the tooth that would mate best; sizes for
    /// a tap or a boring jig. If the job names a cutter under `nut`, and its machine mills flat work, --out writes the
    /// programs that bore and thread the nut. Each is proved from its text, and so is the screw in the nut, in every state of
    /// the year; what binds is not written. Programs that are named are proved instead.
    ///
    /// Example: threadwright nut samples/nipping-press.toml
    Nut(Nut),
    /// List the woods, or tell all about one
    ///
    /// Example: threadwright woods hornbeam
    Woods(Woods),
    /// Find change gears that cut the screw on a hand jig
    ///
    /// Looks through the box of gears that the job's jig names: exact trains if there are any, else the nearest, how to
    /// get from start to start, and which new gear would help most. With --sheet it writes the set-up sheet of a train,
    /// read back and proved against the drawing. A job for the jig alone needs no machine.
    ///
    /// Example: threadwright gears samples/nipping-press.toml
    Gears(Gears),
    /// Tell what the screw will hold, and whether it stays where it is left
    ///
    /// From the pull of a hand on the handle: load, what it takes to let go, whether the screw backs off dry, soaped,
    /// waxed or damp, what the timber bears, and how other starts and pitches compare. `press` in the job says how it is
    /// worked; what it leaves out is taken as usual. A job for this alone needs no machine.
    ///
    /// Example: threadwright press samples/nipping-press.toml
    Press(Press),
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
    /// Explain a finding by its code, with an example
    ///
    /// The code stands in brackets behind stop, care or note. Without one, all codes are listed.
    ///
    /// Example: threadwright explain index-off
    Explain(Explain),
    /// Print completions for bash, zsh, fish, elvish or PowerShell
    ///
    /// Where they belong is told by the manual of the shell; for bash: threadwright completions bash >
    /// ~/.local/share/bash-completion/completions/threadwright
    ///
    /// Example: threadwright completions bash
    Completions(Completions),
    /// Print the JSON Schema of a kind of file, for editors that complete while one types
    ///
    /// Kept beside the jobs as job.schema.json, a first line `#:schema job.schema.json` makes many editors of TOML use it.
    ///
    /// Example: threadwright schema job
    Schema(Schema),
    /// Write manual pages, one for each verb
    ///
    /// Example: threadwright manual --out .
    Manual(Manual),
}

/// `new`
#[derive(Debug, Args)]
pub(crate) struct New {
    /// File to write, or - for standard output
    #[arg(default_value = "screw.toml")]
    pub(crate) file: PathBuf,
    /// Unit of the job (mm, unless asked otherwise)
    #[arg(long, value_enum)]
    pub(crate) units: Option<Units>,
    /// Wood of the screw and its nut
    #[arg(long, value_name = "NAME")]
    pub(crate) wood: Option<String>,
    /// Diameter over the crests: 50, "2 in"
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) diameter: Option<String>,
    /// Crest to crest; in proportion to the diameter, unless given
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) pitch: Option<String>,
    /// Advance in one turn, in place of the pitch: pitch times starts
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, conflicts_with = "pitch")]
    pub(crate) lead: Option<String>,
    /// Length of the full thread
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(crate) length: Option<String>,
    /// Threads side by side
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub(crate) starts: Option<String>,
    /// Which way it winds: right or left
    #[arg(long, value_name = "HAND")]
    pub(crate) hand: Option<String>,
    /// A machine file that is there already, as the job is to name it
    #[arg(long, value_name = "FILE")]
    pub(crate) machine: Option<String>,
    /// A cutter file that is there already, as the job is to name it
    #[arg(long, value_name = "FILE")]
    pub(crate) cutter: Option<String>,
    /// Ask nothing, also on a terminal: what no option tells takes its usual value
    #[arg(long)]
    pub(crate) unasked: bool,
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

/// `fit`
#[derive(Debug, Args)]
pub(crate) struct Fit {
    /// Job file
    pub(crate) job: PathBuf,
}

/// `woods`
#[derive(Debug, Args)]
pub(crate) struct Woods {
    /// Common or botanical name of one wood, or a text that stands in the names or regions of those to list
    pub(crate) name: Option<String>,
    /// Only those that grow there
    #[arg(long, value_name = "TEXT")]
    pub(crate) region: Option<String>,
    /// Only those with this dust
    #[arg(long, value_enum, value_name = "CLASS")]
    pub(crate) dust: Option<DustClass>,
    /// Only those of at least this density, in kg/m3
    #[arg(long, value_name = "DENSITY")]
    pub(crate) denser: Option<f64>,
    /// Only those that move by at most so many percent of their size for one point of moisture, along the rings
    #[arg(long, value_name = "PERCENT")]
    pub(crate) calmer: Option<f64>,
    /// A file of woods of your own
    #[arg(long = "woods", value_name = "FILE")]
    pub(crate) own: Option<PathBuf>,
}

/// What the dust of a wood does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DustClass {
    /// Nothing was found
    NoneDocumented,
    /// Irritates
    Irritant,
    /// Makes allergic
    #[value(alias = "sensitizer")]
    Sensitiser,
    /// Poisonous
    Toxic,
}

/// `press`
#[derive(Debug, Args)]
pub(crate) struct Press {
    /// Job file
    pub(crate) job: PathBuf,
}

/// `gears`
#[derive(Debug, Args)]
pub(crate) struct Gears {
    /// Job file
    pub(crate) job: PathBuf,
    /// List every train, not only the best of each kind
    #[arg(long)]
    pub(crate) all: bool,
    /// Write the set-up sheet of a train, or - for standard output
    #[arg(long, value_name = "FILE")]
    pub(crate) sheet: Option<PathBuf>,
    /// Which train of the list the sheet is for [default: the best]
    #[arg(long, value_name = "NUMBER", requires = "sheet")]
    pub(crate) train: Option<usize>,
    /// Replace an existing sheet
    #[arg(long, requires = "sheet")]
    pub(crate) replace: bool,
}

/// How finely a proof carves.
#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct Fineness {
    /// Width of the cells that the blank is carved on, in mm: smaller is surer and slower [default: 0.15 along the
    /// blank, 0.5 round it]
    #[arg(long, value_name = "MM", value_parser = fineness, allow_negative_numbers = true)]
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
        Err(format!("{value} mm lies outside {least} to {most} mm; 0.1 suits most screws"))
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
