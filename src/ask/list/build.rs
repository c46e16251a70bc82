//! Questions put together.

use super::kind;
use crate::ask::question::{Blank, BlankKind, Question};
use crate::base::length::LONGEST;
use crate::input::keys::Kind;

impl Question {
    pub(super) fn usual(&mut self, words: impl Into<String>) -> &mut Self {
        self.usual = Some(words.into());
        self
    }

    pub(super) fn up_to(&mut self, most: usize) -> &mut Self {
        self.most_rows = most;
        self
    }

    pub(super) fn add(
        &mut self,
        key: &str,
        value: Kind,
        kind: BlankKind,
        label: &str,
    ) -> &mut Self {
        self.blanks.push(Blank {
            label: label.into(),
            kind,
            may_be_empty: false,
            key: key.into(),
            value,
        });
        self
    }

    pub(super) fn last_may_be_empty(&mut self) -> &mut Self {
        if let Some(last) = self.blanks.last_mut() {
            last.may_be_empty = true;
        }
        self
    }

    pub(super) fn length(&mut self, table: &str, key: &str, label: &str) -> &mut Self {
        self.add(key, kind(table, key), BlankKind::Length, label)
    }

    pub(super) fn angle(&mut self, table: &str, key: &str, label: &str) -> &mut Self {
        self.add(key, kind(table, key), BlankKind::Angle, label)
    }

    pub(super) fn name(&mut self, table: &str, key: &str, label: &str) -> &mut Self {
        self.add(key, kind(table, key), BlankKind::Name, label)
    }

    pub(super) fn yes_or_no(&mut self, table: &str, key: &str, label: &str) -> &mut Self {
        self.add(key, kind(table, key), BlankKind::YesOrNo, label)
    }

    pub(super) fn choice<W: AsRef<str>>(
        &mut self,
        table: &str,
        key: &str,
        words: &[(&str, W)],
    ) -> &mut Self {
        let words = words
            .iter()
            .map(|(word, words)| ((*word).into(), words.as_ref().into()));
        self.add(
            key,
            kind(table, key),
            BlankKind::Choice(words.collect()),
            &key.replace('_', " "),
        )
    }

    pub(super) fn count(&mut self, most: usize) -> &mut Self {
        self.add("", Kind::Text, BlankKind::Count(most), "how many")
    }

    /// Two lengths of each item of a list.
    pub(super) fn pair(&mut self, key: &str, labels: [&str; 2]) -> &mut Self {
        for label in labels {
            self.add(
                key,
                Kind::Length(-LONGEST, LONGEST),
                BlankKind::Length,
                label,
            );
        }
        self
    }
}
