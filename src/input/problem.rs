//! What is wrong with a definition, and where.

use std::ops::Range;

/// A value with the place in its file that it was read from; no place when it was never written.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed<T> {
    /// The value.
    pub value: T,
    /// Bytes of the source that hold it.
    pub span: Option<Range<usize>>,
}

impl<T> Placed<T> {
    /// A value that no file holds: from the command line, or a default.
    pub fn unwritten(value: T) -> Self {
        Self { value, span: None }
    }

    /// A value and the bytes that hold it.
    pub fn at(value: T, span: Range<usize>) -> Self {
        Self {
            value,
            span: Some(span),
        }
    }

    /// Another value at the same place.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Placed<U> {
        Placed {
            value: change(self.value),
            span: self.span,
        }
    }

    /// Something wrong at this value's place.
    pub fn problem(&self, message: impl Into<String>) -> Problem {
        Problem {
            message: message.into(),
            hint: None,
            span: self.span.clone(),
        }
    }
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

impl Problem {
    /// Something wrong with a definition as a whole, or with one that has no file.
    pub fn new(message: impl Into<String>) -> Self {
        Self {
            message: message.into(),
            hint: None,
            span: None,
        }
    }

    /// The same, with what to do about it.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The same, about these bytes of the source.
    #[must_use]
    pub fn at(mut self, span: Range<usize>) -> Self {
        self.span = Some(span);
        self
    }
}
