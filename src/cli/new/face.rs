//! Somebody who is asked.

use crate::cli::Failure;
use toml_edit::DocumentMut;
use trimloft::ask::Question;

/// What somebody replies.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Reply {
    /// This answer; nothing takes back what stands.
    Answer(String),
    /// What stands stays.
    Keep,
    /// To the question before.
    Back,
}

/// Where questions are asked.
pub(super) trait Face {
    /// Asks one question of a definition as it stands.
    ///
    /// # Errors
    /// Nobody replies any more.
    fn ask(&mut self, question: &Question, definition: &DocumentMut) -> Result<Reply, Failure>;

    /// Says something.
    fn tell(&mut self, words: &str);
}
