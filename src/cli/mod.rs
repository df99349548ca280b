//! The command line: the only room that touches files, clock and terminal. One file a verb; what they share stands
//! here.

mod args;
mod attempt;
mod bench;
mod carve;
mod cut;
mod draw;
mod feeds;
mod files;
mod fit;
mod gears;
mod learn;
mod mend;
mod new;
mod nut;
mod order;
mod press;
mod progress;
mod prove;
mod seen;
mod series;
mod sheet;
mod shop;
mod show;
mod size;
mod tell;
mod woods;

use std::process::ExitCode;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, Parser};

use crate::report::json::Document;
use args::{Arguments, Colour, Manner, Verb};
use tell::Teller;

/// How a run ended. The numbers are part of the tool's promise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    /// Done, and proved where there is a proof.
    Done = 0,
    /// Proved wrong.
    Wrong = 1,
    /// Wrong usage, as the argument parser has it too.
    Usage = 2,
    /// An input that cannot be read or does not check.
    BadInput = 3,
    /// The system failed.
    System = 4,
}

/// Runs the command line and returns the exit code: see [`crate::cli`]'s help text for what each means.
pub fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => return not_understood(&pointed(error)),
    };
    let teller = Teller::new(arguments.manner);
    let outcome = match &arguments.verb {
        Verb::New(new) => new::run(new, &teller),
        Verb::Size(size) => size::run(size, &teller),
        Verb::Cut(cut) => cut::run(cut, &teller),
        Verb::Prove(prove) => prove::run(prove, &teller),
        Verb::Fit(fit) => fit::run(fit, &teller),
        Verb::Nut(arguments) => nut::run(arguments, &teller),
        Verb::Woods(woods) => woods::run(woods, &teller),
        Verb::Carve(carve) => carve::run(carve, &teller),
        Verb::Draw(draw) => draw::run(draw, &teller),
        Verb::Show(show) => show::run(show, &teller),
        Verb::Feeds(feeds) => feeds::run(feeds, &teller),
        Verb::Press(press) => press::run(press, &teller),
        Verb::Gears(gears) => gears::run(gears, &teller),
        Verb::Order(arguments) => order::run(arguments, &teller),
        Verb::Sheet(arguments) => sheet::run(arguments, &teller),
        Verb::Try(attempt) => attempt::run(attempt, &teller),
        Verb::Mend(mend) => mend::run(mend, &teller),
        Verb::Explain(explain) => learn::explain(explain, &teller),
        Verb::Completions(shell) => learn::completions(shell, &teller),
        Verb::Schema(kind) => learn::schema(kind, &teller),
        Verb::Manual(manual) => learn::manual(manual, &teller),
    };
    ExitCode::from(teller.outcome(outcome) as u8)
}

/// Words that people type for a verb, and the verb.
static MEANT: &[(&[&str], &str)] = &[
    (&["check", "verify", "validate", "simulate", "test", "proof"], "prove"),
    (&["generate", "make", "program", "gcode", "build", "run"], "cut"),
    (&["dimensions", "calculate", "compute", "sizes"], "size"),
    (&["drawing", "plot", "svg"], "draw"),
    (&["view", "page", "open", "inspect"], "show"),
    (&["init", "create", "start"], "new"),
    (&["setup", "print"], "sheet"),
    (&["clearance", "gap", "gaps"], "fit"),
    (&["resume", "restart", "repair"], "mend"),
    (&["wood", "species"], "woods"),
    (&["feed", "speeds", "speed"], "feeds"),
];

/// Points from a word that is no verb to the verb that does what it says.
fn pointed(mut error: clap::Error) -> clap::Error {
    if let Some(ContextValue::String(typed)) = error.get(ContextKind::InvalidSubcommand)
        && let Some((_, verb)) =
            MEANT.iter().find(|(words, _)| words.contains(&typed.to_lowercase().as_str()))
    {
        error.insert(ContextKind::SuggestedSubcommand, ContextValue::Strings(vec![(*verb).to_owned()]));
    }
    error
}

/// A command line that the argument parser refuses, or one that asks it for help. Who wants JSON gets the one document
/// here too.
fn not_understood(error: &clap::Error) -> ExitCode {
    let typed = || std::env::args().skip(1).take_while(|argument| argument != "--");
    if error.use_stderr() && typed().any(|argument| argument == "--json") {
        let command = Arguments::command();
        let verb = typed().find(|argument| command.find_subcommand(argument).is_some());
        let document = Document::new("").with("verb", verb);
        let teller = Teller::new(Manner { json: true, quiet: false, color: Colour::Never });
        let outcome = teller.usage(&in_one_line(error), document);
        return ExitCode::from(teller.outcome(outcome) as u8);
    }
    // Nobody is left to tell if this cannot be printed.
    let _ = error.print();
    ExitCode::from(error.exit_code() as u8)
}

/// What the argument parser says, without its heading and its summary of the usage.
fn in_one_line(error: &clap::Error) -> String {
    let no_verb = [ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand, ErrorKind::MissingSubcommand];
    if no_verb.contains(&error.kind()) {
        return "no verb is given; `threadwright help` lists them".to_owned();
    }
    let text = error.render().to_string();
    // The summary of the usage, or the pointer to the help where there is none, comes last.
    let said = text.split("\n\nUsage:").next().unwrap_or(&text);
    let said = said.split("\n\nFor more").next().unwrap_or(said).trim_start_matches("error: ");
    let parts = said.split("\n\n").map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "));
    parts.filter(|part| !part.is_empty()).collect::<Vec<_>>().join("; ")
}
