//! What `new` is told.

use super::files::DrawnArgs;
use clap::Args;
use std::path::PathBuf;

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
