//! A definition with its questions and what it answers.

use crate::ask::{Question, asked_of, questions, units};
use crate::base::length::Units;
use crate::input::families::Library;
use crate::solve::Finding;
use toml_edit::DocumentMut;

/// Rows of an answer, a text for each blank.
pub(super) type Rows = Vec<Vec<String>>;

/// A question with what is known of its answer.
pub(super) struct Answered {
    pub(super) question: Question,
    /// What the definition holds.
    pub(super) rows: Rows,
}

impl Answered {
    /// Whether the pattern waits for it.
    pub(super) fn is_wanted(&self) -> bool {
        self.question.usual.is_none() && !self.question.is_whole(&self.rows)
    }
}

/// A text with its questions; none where it is no TOML.
#[derive(Default)]
pub(super) struct Asking {
    document: DocumentMut,
    pub(super) answered: Vec<Answered>,
}

impl Asking {
    pub(super) fn of(text: &str, shapes: &Library) -> Self {
        let Ok(document) = text.parse::<DocumentMut>() else {
            return Self::default();
        };
        let all = questions(&document, shapes).into_iter();
        let answered = all.map(|question| Answered {
            rows: question.read(&document),
            question,
        });
        Self {
            answered: answered.collect(),
            document,
        }
    }

    /// Whether bare numbers are inches.
    pub(super) fn inches(&self) -> bool {
        units(&self.document) == Units::In
    }

    pub(super) fn questions(&self) -> impl Iterator<Item = &Question> + Clone {
        self.answered.iter().map(|own| &own.question)
    }

    /// For each finding, the question whose answer would change it, if there is one.
    pub(super) fn about(&self, findings: &[Finding]) -> Vec<Option<String>> {
        let of = |finding| asked_of(&self.document, self.questions(), finding);
        findings
            .iter()
            .map(|own| of(own).map(|own| own.id.clone()))
            .collect()
    }
}
