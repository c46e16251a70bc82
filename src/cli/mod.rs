//! The command line: the only place that prints.
//!
//! Results go to stdout, everything else to stderr.

mod args;
mod centre;
mod check;
mod compare;
mod definition;
mod draw;
mod kit;
mod licences;
mod meaning;
mod measuring_sheet;
mod needed;
mod new;
mod overlapped;
mod progress;
mod readings;
mod report;
mod scale;
mod scale_told;
mod schema;
mod serve;
mod shapes;
mod verify;
mod which;

use args::{Cli, Command};
use clap::{CommandFactory, FromArgMatches};
use std::fmt;
use std::io::ErrorKind;
use std::process::ExitCode;

/// Said at the foot of each command's help.
const STATUS: &str = "Exit status:
  0  done, and nothing falls short
  1  a definition, a file or a print falls short, or what was to be told could not be
  2  wrong usage";

/// Runs the command that was typed.
pub(crate) fn run() -> ExitCode {
    let parser = Cli::command().mut_subcommands(|command| command.after_help(STATUS));
    let matches = parser.after_help(STATUS).try_get_matches();
    let cli = match matches.and_then(|matches| Cli::from_arg_matches(&matches)) {
        Ok(cli) => cli,
        Err(words) => return told_by_parser(&words),
    };
    let outcome = match cli.command {
        Command::Draw(args) => draw::run(&args),
        Command::New(args) => new::run(&args),
        Command::Check(args) => check::run(&args),
        Command::Shapes(args) => shapes::run(&args),
        Command::Centre(args) => centre::run(&args),
        Command::Compare(args) => compare::run(&args),
        Command::Kit(args) => kit::run(&args),
        Command::MeasuringSheet(args) => measuring_sheet::run(&args),
        Command::Verify(args) => verify::run(&args),
        Command::Which(args) => which::run(&args),
        Command::Scale(args) => scale::run(&args),
        Command::Serve(args) => serve::run(&args),
        Command::Schema { kind } => schema::run(&kind),
        Command::Licences => licences::run(),
        Command::Completions { shell } => {
            let mut script = vec![];
            clap_complete::generate(shell, &mut Cli::command(), "trimloft", &mut script);
            report::print(&String::from_utf8_lossy(&script))
        }
    };
    match outcome {
        Ok(()) if report::all_told() => ExitCode::SUCCESS,
        Ok(()) => ExitCode::FAILURE,
        Err(failure) => {
            report::tell(format_args!("{failure}\n"));
            failure.exit_code()
        }
    }
}

/// Help, the version, or wrong usage.
fn told_by_parser(words: &clap::Error) -> ExitCode {
    match (words.exit_code(), words.print()) {
        (0, Err(error)) if error.kind() != ErrorKind::BrokenPipe => ExitCode::FAILURE,
        // What the parser exits with is 0 or 2.
        (status, _) => u8::try_from(status).map_or(ExitCode::FAILURE, ExitCode::from),
    }
}

/// Why a command did not do what it was asked.
#[derive(Debug)]
enum Failure {
    /// The words of the command do not go together.
    Usage(String),
    /// A definition or a file falls short; what is wrong has been told, this sums it up.
    FallsShort(String),
}

impl Failure {
    fn exit_code(&self) -> ExitCode {
        match self {
            Self::Usage(_) => ExitCode::from(2),
            Self::FallsShort(_) => ExitCode::from(1),
        }
    }

    fn usage(message: impl fmt::Display) -> Self {
        Self::Usage(message.to_string())
    }

    fn falls_short(message: impl fmt::Display) -> Self {
        Self::FallsShort(message.to_string())
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (Self::Usage(message) | Self::FallsShort(message)) = self;
        write!(out, "error: {message}")
    }
}
