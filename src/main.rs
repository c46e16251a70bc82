//! The `trimloft` command.

// What panics where nobody reads: `cli::report` writes instead.
#[deny(clippy::print_stderr, clippy::print_stdout)]
mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
