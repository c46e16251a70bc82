//! What is wrong with a definition, and where.

use std::ops::Range;
use std::path::PathBuf;

/// A value with the place in its file that it was read from; no place when it was never written.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed<T> {
    /// The value.
    pub value: T,
    /// Bytes of the source that hold it.
    pub span: Option<Range<usize>>,
}

/// One thing that is wrong: lower case, no full stop, the user's words in backticks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// What is wrong, with the allowed range where there is one.
    pub message: String,
    /// What to do about it.
    pub hint: Option<String>,
    /// Bytes of the source that it is about.
    pub span: Option<Range<usize>>,
}

/// A file's name and text, to show problems in.
#[derive(Debug, Clone)]
pub struct Source {
    /// The file as the user named it.
    pub name: PathBuf,
    /// Its whole text.
    pub text: String,
}
