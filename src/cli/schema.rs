//! `trimloft schema`: what an editor checks and completes a file by.

use super::{Failure, report};
use trimloft::input::families::Library;
use trimloft::input::{FileKind, schema};

/// Prints the schema of the kind of file that goes by this word.
pub(super) fn run(word: &str) -> Result<(), Failure> {
    let kind = FileKind::ALL.into_iter().find(|kind| kind.word() == word);
    let kind = kind.ok_or_else(|| Failure::usage(format!("no kind of file is called `{word}`")))?;
    report::print_json(&schema(kind, &Library::shipped()))
}
