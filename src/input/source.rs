//! A file's text, and where in it a byte lies.

use super::problem::Problem;
use super::report::Report;
use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::ops::Range;
use std::path::{Path, PathBuf};

/// The longest definition that is read, bytes: far longer than any that people write.
const LONGEST_FILE: u64 = 4 * 1024 * 1024;

/// A file's name and text, to show problems in.
#[derive(Debug, Clone)]
pub struct Source {
    /// The file as the user named it.
    pub name: PathBuf,
    /// Its whole text.
    pub text: String,
}

impl Source {
    /// A text under the name that messages call it by.
    pub fn new(name: impl Into<PathBuf>, text: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            text: text.into(),
        }
    }

    /// A file of the disk, shown in messages as `shown`.
    ///
    /// # Errors
    /// A file that can't be read, is longer than 4 MB or is not UTF-8.
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

    /// Line and column of a byte, both from 1; the column counts letters.
    pub fn place(&self, byte: usize) -> (usize, usize) {
        let line = self.line_at(byte);
        let before = &self.text[line.span.start..line.clamp(self.floor(byte))];
        (line.number, before.chars().count() + 1)
    }

    /// The nearest place at or before `byte` where a letter begins.
    pub(super) fn floor(&self, byte: usize) -> usize {
        self.text.floor_char_boundary(byte)
    }

    /// The line that holds a byte.
    pub(super) fn line_at(&self, byte: usize) -> Line {
        let byte = self.floor(byte);
        let (before, after) = self.text.split_at(byte);
        let begin = before.rfind('\n').map_or(0, |newline| newline + 1);
        let end = after
            .find('\n')
            .map_or(self.text.len(), |newline| byte + newline);
        let line = &self.text[begin..end];
        // Neither the mark at the head of a file nor a carriage return is seen in an editor.
        let mark = if begin == 0 && line.starts_with('\u{feff}') {
            '\u{feff}'.len_utf8()
        } else {
            0
        };
        let end = begin + mark + line[mark..].trim_end_matches('\r').len();
        Line {
            number: before.bytes().filter(|byte| *byte == b'\n').count() + 1,
            span: begin + mark..end,
        }
    }
}

fn read_bounded(from: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = vec![];
    from.take(LONGEST_FILE + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > LONGEST_FILE {
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
            Problem::new("this file is longer than 4 MB").hint("is it a pattern file?")
        }
        _ => Problem::new(format!("this file can't be read: {error}")),
    };
    Report::new(&Source::new(name, ""), vec![problem])
}

/// One line of a source.
pub(super) struct Line {
    /// Counted from 1.
    pub(super) number: usize,
    /// Its bytes, without its end.
    pub(super) span: Range<usize>,
}

impl Line {
    /// The place in this line nearest to `byte`.
    pub(super) fn clamp(&self, byte: usize) -> usize {
        byte.clamp(self.span.start, self.span.end)
    }
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
