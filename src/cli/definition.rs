//! A definition's file, read.

use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::Path;
use trimloft::spec::{PatternSpec, Problem, Report, Source};

/// The longest definition that is read, bytes: far longer than any that people write.
const LONGEST_FILE: u64 = 4 * 1024 * 1024;

/// A definition with its source, or all that is wrong with it.
pub(super) fn read(file: &Path) -> Result<(Source, PatternSpec), Report> {
    let source = source(file)?;
    let spec = PatternSpec::read(&source)?;
    Ok((source, spec))
}

/// The text of a definition, or of another file that people write.
pub(super) fn source(file: &Path) -> Result<Source, Report> {
    let bytes = read_bounded(file)
        .map_err(|error| Report::new(&Source::new(file, ""), vec![unreadable(&error)]))?;
    Source::from_bytes(file, bytes)
}

fn read_bounded(file: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = vec![];
    File::open(file)?
        .take(LONGEST_FILE + 1)
        .read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LONGEST_FILE {
        return Err(ErrorKind::FileTooLarge.into());
    }
    Ok(bytes)
}

fn unreadable(error: &io::Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound => Problem::new("there is no such file")
            .hint("look at the name, and at the folder that you are in"),
        ErrorKind::IsADirectory => Problem::new("this is a folder, not a pattern file")
            .hint("name the pattern files in it"),
        ErrorKind::PermissionDenied => {
            Problem::new("this file may not be read").hint("look at its permissions")
        }
        ErrorKind::FileTooLarge => {
            Problem::new("this file is longer than 4 MB").hint("is it a pattern file?")
        }
        _ => Problem::new(format!("this file can't be read: {error}")),
    }
}
