//! What `new` and `measuring-sheet` are told.

use super::files::DrawnArgs;
use super::shared::UnitsArg;
use clap::Args;
use clap::builder::PossibleValuesParser;
use std::path::PathBuf;
use trimloft::base::Direction;
use trimloft::model::panel::Face;

#[derive(Debug, Args)]
pub(in crate::cli) struct NewArgs {
    /// The pattern file: made, or changed where it is there
    pub(in crate::cli) file: PathBuf,
    /// An answer, as `--questions` lists them; may be given again. Blanks lie between commas, rows
    /// between semicolons; nothing after the `=` takes an answer back
    #[arg(long = "answer", value_name = "QUESTION=ANSWER")]
    pub(in crate::cli) answers: Vec<String>,
    /// List the questions that apply, with their answers so far; write nothing
    #[arg(long)]
    pub(in crate::cli) questions: bool,
    /// Ask nothing: what is not answered has its stated default
    #[arg(long)]
    pub(in crate::cli) no_input: bool,
    #[command(flatten)]
    pub(in crate::cli) drawn: DrawnArgs,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct MeasuringSheetArgs {
    /// Where you will stand, if it is known
    #[arg(long, value_name = "FACE", value_parser = PossibleValuesParser::new(Face::ALL.map(Face::word)))]
    pub(in crate::cli) seen_from: Option<String>,
    /// The edge that the tape will be hooked over, if it is known
    #[arg(long, value_name = "DIRECTION", value_parser = PossibleValuesParser::new(Direction::ALL.map(Direction::word)))]
    pub(in crate::cli) datum: Option<String>,
    /// Units that will be measured in
    #[arg(long, value_enum, default_value = "mm")]
    pub(in crate::cli) units: UnitsArg,
    /// Paper
    #[arg(long, default_value = "a4")]
    pub(in crate::cli) paper: String,
    /// Folder that the page is written to
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(in crate::cli) out: PathBuf,
}
