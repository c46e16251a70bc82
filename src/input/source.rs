//! A file's text, and where in it a byte lies.

use std::ops::Range;
use std::path::PathBuf;

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
