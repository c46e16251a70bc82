//! Walks a file's tables and keeps every problem it meets, each at its place.
//!
//! A table is read by taking keys out of it, one call a key; what is left over when its reading
//! function returns is unknown. Reading functions return `None` where they have reported a
//! problem, and go on with the next key first, so that one pass finds all.

use super::problem::{Placed, Problem};
use super::reading::Reading;
use crate::base::words::{did_you_mean, shown};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::ops::{Range, RangeInclusive};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A table whose keys are being taken.
pub(super) struct Table<'a> {
    /// The file it is in.
    pub(super) reading: &'a Reading<'a>,
    /// What messages call it.
    title: String,
    /// Its header; the whole of an inline table; none for the file itself.
    pub(super) span: Option<Range<usize>>,
    left: BTreeMap<&'a str, (Range<usize>, &'a Spanned<DeValue<'a>>)>,
    known: Vec<&'static str>,
}

impl<'a> Table<'a> {
    /// A table before any key is taken.
    pub(super) fn new(
        reading: &'a Reading<'a>,
        table: &'a DeTable<'a>,
        title: String,
        span: Option<Range<usize>>,
    ) -> Self {
        let left = table
            .iter()
            .map(|(key, value)| (key.get_ref().as_ref(), (key.span(), value)));
        Self {
            reading,
            title,
            span,
            left: left.collect(),
            known: Vec::new(),
        }
    }

    /// A value that must be there.
    pub(super) fn required<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&Entry<'a>) -> Option<T>,
    ) -> Option<Placed<T>> {
        match self.take(key) {
            Some(entry) => entry.read(read),
            None => self.missing(key, None),
        }
    }

    /// A value that may be left out; `None` also where it is wrong, which has been reported.
    pub(super) fn optional<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&Entry<'a>) -> Option<T>,
    ) -> Option<Placed<T>> {
        self.take(key)?.read(read)
    }

    /// A table that must be there: `[key]`.
    pub(super) fn table<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Table<'a>) -> Option<T>,
    ) -> Option<T> {
        match self.take(key) {
            Some(entry) => entry.table(format!("`[{key}]`"), read),
            None => {
                let message = format!("`[{key}]` is missing");
                self.reading.report_missing(Problem::new(message));
                None
            }
        }
    }

    /// A table that may be left out.
    pub(super) fn optional_table<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Table<'a>) -> Option<T>,
    ) -> Option<T> {
        self.take(key)?.table(format!("`[{key}]`"), read)
    }

    /// Every table of a list, `[[key]]`, that could be read. `allowed` is how many there may be;
    /// where the fewest is not 0, the list must be there.
    pub(super) fn tables<T>(
        &mut self,
        key: &'static str,
        allowed: RangeInclusive<usize>,
        mut read: impl FnMut(&mut Table<'a>) -> Option<T>,
    ) -> Vec<T> {
        let (least, most) = (*allowed.start(), *allowed.end());
        let Some(entry) = self.take(key) else {
            if least > 0 {
                let message = format!("`[[{key}]]` is missing: at least {least} must be there");
                self.reading.report_missing(Problem::new(message));
            }
            return Vec::new();
        };
        let DeValue::Array(items) = entry.value.get_ref() else {
            let hint = format!("write `[[{key}]]`, with two brackets, before each");
            entry.wrong_kind::<T>("a list of tables", &hint);
            return Vec::new();
        };
        if !allowed.contains(&items.len()) {
            let times = items.len();
            let message =
                format!("`[[{key}]]` is there {times} times: {least} to {most} are allowed");
            entry.refuse::<T>(message, None);
            return Vec::new();
        }
        let items = items.iter().map(|item| entry.item(item));
        let title = format!("`[[{key}]]`");
        items
            .filter_map(|item| item.table(title.clone(), &mut read))
            .collect()
    }

    /// Everything left, in the order of the file, where the writer chooses the keys.
    pub(super) fn take_all(&mut self) -> Vec<(Placed<&'a str>, Entry<'a>)> {
        let reading = self.reading;
        let left = std::mem::take(&mut self.left).into_iter();
        let mut all: Vec<_> = left
            .map(|(key, (span, value))| {
                let entry = Entry {
                    reading,
                    key,
                    value,
                    is_item: false,
                };
                (Placed::at(key, span), entry)
            })
            .collect();
        all.sort_by_key(|(key, _)| key.span.as_ref().map(|span| span.start));
        all
    }

    /// A key where it is written, without taking it.
    pub(super) fn written(&self, key: &'static str) -> Option<Placed<&'static str>> {
        let (span, _) = self.left.get(key)?;
        Some(Placed::at(key, span.clone()))
    }

    /// Those of `keys` that are written.
    pub(super) fn all_written(&self, keys: &[&'static str]) -> Vec<Placed<&'static str>> {
        keys.iter().filter_map(|key| self.written(key)).collect()
    }

    /// Takes keys that are not read, so that they are not told as unknown.
    pub(super) fn pass_over(&mut self, keys: &[&'static str]) {
        for key in keys {
            self.take(key);
        }
    }

    /// A value that nothing is known of yet.
    pub(super) fn take(&mut self, key: &'static str) -> Option<Entry<'a>> {
        self.known.push(key);
        let (_, value) = self.left.remove(key)?;
        Some(Entry {
            reading: self.reading,
            key,
            value,
            is_item: false,
        })
    }

    /// Reports that a key must be there.
    pub(super) fn missing<T>(&self, key: &str, hint: Option<&str>) -> Option<T> {
        let mut problem = Problem::new(format!("`{key}` is missing in {}", self.title));
        problem.hint = hint.map(Into::into);
        problem.span = self.span.clone();
        self.reading.report_missing(problem);
        None
    }

    /// Reports every key that was not taken.
    pub(super) fn refuse_the_rest(&mut self) {
        for (key, _) in self.take_all() {
            let message = format!("unknown key `{}` in {}", shown(key.value), self.title);
            let hint = did_you_mean(key.value, &self.known);
            self.reading.report(key.problem(message).hint(hint));
        }
    }
}

/// One value, with its key.
pub(super) struct Entry<'a> {
    /// The file it is in.
    pub(super) reading: &'a Reading<'a>,
    /// Its key; of the list, for an item.
    pub(super) key: &'a str,
    /// The value.
    pub(super) value: &'a Spanned<DeValue<'a>>,
    is_item: bool,
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
    pub(super) fn kind(&self) -> &'static str {
        match self.value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "`true` or `false`",
            DeValue::Datetime(_) => "a date or time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        }
    }

    /// The value read, with its place.
    pub(super) fn read<T>(self, read: impl FnOnce(&Self) -> Option<T>) -> Option<Placed<T>> {
        read(&self).map(|value| Placed::at(value, self.value.span()))
    }

    /// The value read as a table; keys that `read` did not take are reported.
    pub(super) fn table<T>(
        self,
        title: String,
        read: impl FnOnce(&mut Table<'a>) -> Option<T>,
    ) -> Option<T> {
        let DeValue::Table(table) = self.value.get_ref() else {
            return self.wrong_kind(
                "a table",
                &format!("write {title}, then a line for each key"),
            );
        };
        let mut table = Table::new(self.reading, table, title, Some(self.value.span()));
        let read = read(&mut table);
        table.refuse_the_rest();
        read
    }

    /// Reports that another kind of value belongs here.
    pub(super) fn wrong_kind<T>(&self, wanted: &str, hint: &str) -> Option<T> {
        let message = format!("{} must be {wanted}, not {}", self.title(), self.kind());
        self.refuse(message, Some(hint.into()))
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
