//! A file's text, taken from the disk or a pipe.

use super::problem::Problem;
use super::report::Report;
use super::source::Source;
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// Largest file that is read, bytes: far over any definition, far under what would hurt.
pub(super) const LARGEST_FILE: usize = 1 << 20;

impl Source {
    /// A file of the disk, shown in messages as `shown`.
    ///
    /// # Errors
    /// A file that can't be read, is larger than 1 MB or is not UTF-8.
    pub fn open(file: &Path, shown: impl Into<PathBuf>) -> Result<Self, Report> {
        let shown = shown.into();
        match File::open(file) {
            Ok(file) => Self::read(shown, file),
            Err(error) => Err(unreadable(shown, &error)),
        }
    }

    /// All that can be read from a file, a pipe or standard input.
    ///
    /// # Errors
    /// As [`Source::open`].
    pub fn read(name: impl Into<PathBuf>, from: impl Read) -> Result<Self, Report> {
        match read_bounded(from) {
            Ok(bytes) => Self::from_bytes(name, bytes),
            Err(error) => Err(unreadable(name.into(), &error)),
        }
    }

    /// A file's bytes as text.
    ///
    /// # Errors
    /// Bytes that are not UTF-8, shown at the first of them.
    pub fn from_bytes(name: impl Into<PathBuf>, bytes: Vec<u8>) -> Result<Self, Report> {
        let error = match String::from_utf8(bytes) {
            Ok(text) => return Ok(Self::new(name, text)),
            Err(error) => error,
        };
        let first = error.utf8_error().valid_up_to();
        let source = Self::new(name, String::from_utf8_lossy(error.as_bytes()));
        let problem = Problem::new("the file is not UTF-8 text")
            .hint("save it as UTF-8 in a text editor")
            .at(first..first + char::REPLACEMENT_CHARACTER.len_utf8());
        Err(Report::new(&source, vec![problem]))
    }
}

fn read_bounded(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = vec![];
    from.take(LARGEST_FILE as u64 + 1).read_to_end(&mut bytes)?;
    if bytes.len() > LARGEST_FILE {
        return Err(ErrorKind::FileTooLarge.into());
    }
    Ok(bytes)
}

fn unreadable(name: PathBuf, error: &io::Error) -> Report {
    let problem = match error.kind() {
        ErrorKind::NotFound => Problem::new("there is no such file")
            .hint("look at the name, and at the folder that you are in"),
        ErrorKind::IsADirectory => Problem::new("this is a folder, not a pattern file")
            .hint("name the pattern files in it"),
        ErrorKind::PermissionDenied => {
            Problem::new("this file may not be read").hint("look at its permissions")
        }
        ErrorKind::FileTooLarge => {
            Problem::new("this file is larger than 1 MB").hint("is it a pattern file?")
        }
        _ => Problem::new(format!("this file can't be read: {error}")),
    };
    Report::new(&Source::new(name, ""), vec![problem])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What the system says of a file that somebody may not read, whoever runs the test.
    struct Forbidden;

    impl Read for Forbidden {
        fn read(&mut self, _: &mut [u8]) -> io::Result<usize> {
            Err(ErrorKind::PermissionDenied.into())
        }
    }

    #[test]
    fn a_file_without_permission_is_named() {
        let report = Source::read("a.toml", Forbidden).unwrap_err().to_string();
        assert_eq!(
            report,
            "a.toml: error: this file may not be read\nhint: look at its permissions\n"
        );
    }
}
