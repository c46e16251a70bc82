//! One value of a file with its key, and what is reported of it.

use super::problem::{Placed, Problem};
use super::reading::Reading;
use crate::base::words::shown;
use std::borrow::Cow;
use toml::Spanned;
use toml::de::DeValue;

/// One value, with its key.
#[derive(Clone, Copy)]
pub(super) struct Entry<'a> {
    /// The file it is in.
    pub(super) reading: &'a Reading<'a>,
    /// Its key; of the list, for an item.
    pub(super) key: &'a str,
    /// The value.
    pub(super) value: &'a Spanned<DeValue<'a>>,
    /// Whether it is an item of a list.
    pub(super) is_item: bool,
}

impl<'a> Entry<'a> {
    /// An item of the list that this entry is.
    pub(super) fn item(&self, value: &'a Spanned<DeValue<'a>>) -> Entry<'a> {
        Entry {
            value,
            is_item: true,
            ..*self
        }
    }

    /// What messages call it.
    pub(super) fn title(&self) -> String {
        let key = shown(self.key);
        if self.is_item {
            format!("an item of `{key}`")
        } else {
            format!("`{key}`")
        }
    }

    /// The value as the user wrote it.
    pub(super) fn written(&self) -> Cow<'a, str> {
        let written = self.reading.source.text.get(self.value.span());
        shown(written.unwrap_or_default())
    }

    /// The kind of value that was written, with its article.
    fn kind(&self) -> &'static str {
        match self.value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "`true` or `false`",
            DeValue::Datetime(_) => "a date or time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        }
    }

    /// A bare number; `None`, with nothing reported, for any other kind of value.
    pub(super) fn number(&self) -> Option<f64> {
        match self.value.get_ref() {
            DeValue::Float(float) => float.as_str().parse().ok(),
            // Digits past the whole numbers of the machine are still a number, if one too large.
            DeValue::Integer(digits) if digits.radix() == 10 => digits.as_str().parse().ok(),
            DeValue::Integer(digits) => i64::from_str_radix(digits.as_str(), digits.radix())
                .ok()
                .map(|whole| whole as f64),
            _ => None,
        }
    }

    /// Its items, where it is a list of so many.
    pub(super) fn items(&self, list: &super::keys::List) -> Option<Vec<Entry<'a>>> {
        let DeValue::Array(items) = self.value.get_ref() else {
            return self.wrong_kind(&format!("a list of {}", list.of), list.example);
        };
        if (list.least..=list.most).contains(&items.len()) {
            return Some(items.iter().map(|item| self.item(item)).collect());
        }
        let allowed = match list.least {
            0 => format!("at most {}", list.most),
            least => format!("{least} to {}", list.most),
        };
        let (key, count, of) = (self.key, items.len(), list.of);
        let message = format!("`{key}` has {count} {of}: {allowed} are allowed");
        self.refuse(message, list.wrong_count.map(Into::into))
    }

    /// Something at its place.
    pub(super) fn placed<T>(&self, value: T) -> Placed<T> {
        Placed::at(value, self.value.span())
    }

    /// Reports that another kind of value belongs here.
    pub(super) fn wrong_kind<T>(&self, wanted: &str, hint: &str) -> Option<T> {
        let message = format!("{} must be {wanted}, not {}", self.title(), self.kind());
        self.refuse(message, Some(hint.into()))
    }

    /// Reports what this is, key and value before it.
    pub(super) fn is<T>(&self, trouble: &str, hint: Option<String>) -> Option<T> {
        let message = format!("`{} = {}`{trouble}", self.key, self.written());
        self.refuse(message, hint)
    }

    /// Reports that this value is wrong.
    pub(super) fn refuse<T>(&self, message: String, hint: Option<String>) -> Option<T> {
        self.reading.report(Problem {
            message,
            hint,
            span: Some(self.value.span()),
        });
        None
    }
}
