//! The command line.

use std::process::ExitCode;

/// Runs the command line and returns the exit code.
pub fn main() -> ExitCode {
    ExitCode::SUCCESS
}
