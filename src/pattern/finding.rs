//! What was found while solving: each with its place and a next step.

use kurbo::Point;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// To be looked at before cutting.
    Warning,
}

impl Severity {
    /// The word for it in messages.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
        }
    }
}

/// One finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Its name: `what: which`.
    pub name: String,
    /// How much it matters.
    pub severity: Severity,
    /// What was found, with its numbers.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// Where on the panel, if at one place; panel frame, mm.
    pub at: Option<Point>,
}
