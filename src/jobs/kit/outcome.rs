//! What issuing a kit came to.

use super::make::Issue;
use super::plan::Plan;
use std::path::{Path, PathBuf};

/// What issuing a kit came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome {
    /// The issue's folder.
    pub folder: PathBuf,
    /// What became of it.
    pub state: State,
    /// Its patterns.
    pub patterns: usize,
    /// Those taken over from the issue before.
    pub taken_over: usize,
    /// Those with findings; 0 where nothing was drawn.
    pub with_findings: usize,
}

/// What became of an issue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It is there now.
    Issued,
    /// It took the place of another of the same revision.
    Replaced,
    /// The same content, which was there on other paper or by another version, is there anew.
    DrawnAgain,
    /// It was there already.
    Unchanged,
}

impl State {
    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Issued => "issued",
            Self::DrawnAgain => "drawn again",
            Self::Replaced => "replaced",
            Self::Unchanged => "unchanged",
        }
    }
}

impl Outcome {
    pub(super) fn unchanged(folder: &Path, plan: &Plan) -> Self {
        Self {
            folder: folder.into(),
            state: State::Unchanged,
            patterns: plan.patterns(),
            taken_over: 0,
            with_findings: 0,
        }
    }

    pub(super) fn issued(folder: &Path, plan: &Plan, issue: Issue, state: State) -> Self {
        Self {
            state,
            taken_over: issue.taken_over,
            with_findings: issue.with_findings,
            ..Self::unchanged(folder, plan)
        }
    }
}
