//! Hands the arguments to [`threadwright::cli`].

fn main() -> std::process::ExitCode {
    threadwright::cli::main()
}
