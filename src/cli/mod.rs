//! The command line: the only room that touches files, clock and terminal. One file a verb; what they share stands
//! here.

mod args;
mod carve;
mod cut;
mod draw;
mod feeds;
mod files;
mod new;
mod progress;
mod prove;
mod shop;
mod show;
mod size;
mod tell;

use std::process::ExitCode;

use clap::Parser;

use args::{Arguments, Verb};
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
    let arguments = Arguments::parse();
    let teller = Teller::new(arguments.manner);
    let outcome = match &arguments.verb {
        Verb::New(new) => new::run(new, &teller),
        Verb::Size(size) => size::run(size, &teller),
        Verb::Cut(cut) => cut::run(cut, &teller),
        Verb::Prove(prove) => prove::run(prove, &teller),
        Verb::Carve(carve) => carve::run(carve, &teller),
        Verb::Draw(draw) => draw::run(draw, &teller),
        Verb::Show(show) => show::run(show, &teller),
        Verb::Feeds(feeds) => feeds::run(feeds, &teller),
    };
    ExitCode::from(teller.outcome(outcome) as u8)
}
