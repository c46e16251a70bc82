//! What was read of a file, value by value, and what becomes of it in a struct.

use super::problem::{Placed, Problem};
use super::reading::Reading;
use super::value::{Torque, Value};
use crate::base::length::Offset;
use std::collections::BTreeMap;
use std::ops::Range;

/// What was read from a value.
#[derive(Debug, Clone)]
pub(super) enum Got {
    /// `true` or `false`.
    Yes(bool),
    /// A number: mm, degrees or the unit of its quantity.
    Number(f64),
    /// A text, a word or a date.
    Text(String),
    /// A shape's value.
    Value(Value),
    /// A distance with its side.
    Offset(Offset),
    /// A torque.
    Torque(Torque),
    /// Two lengths, mm.
    Pair((f64, f64)),
    /// A length, mm, with the name that it makes.
    Named((f64, String)),
    /// Items in their order.
    List(Vec<Placed<Got>>),
    /// A table.
    Table(Taken),
    /// Values under names that the file chose, in its order.
    Free(Vec<(Placed<String>, Placed<Got>)>),
}

impl Got {
    /// The table that it is.
    pub(super) fn table(&self) -> Option<&Taken> {
        match self {
            Self::Table(table) => Some(table),
            _ => None,
        }
    }
}

/// A table whose keys were read.
#[derive(Debug, Clone)]
pub(super) struct Taken {
    /// Its header; the whole of an inline table; none for the file itself.
    pub(super) span: Option<Range<usize>>,
    /// What messages call it.
    pub(super) title: String,
    /// The keys written, each with its own place and, unless it was wrong, its value.
    pub(super) values: BTreeMap<&'static str, (Range<usize>, Option<Placed<Got>>)>,
}

impl Taken {
    /// What a key holds; where it is left out or wrong, what needs no saying.
    pub(super) fn get<T: Field>(&self, key: &str, reading: &Reading<'_>) -> Option<T> {
        match self.values.get(key) {
            Some((_, Some(got))) => T::of(got, reading),
            _ => T::absent(),
        }
    }

    /// The tables of a list.
    pub(super) fn tables(&self, key: &str) -> impl Iterator<Item = &Taken> {
        let items = match self.values.get(key) {
            Some((_, Some(got))) => match &got.value {
                Got::List(items) => items.as_slice(),
                _ => &[],
            },
            _ => &[],
        };
        items.iter().filter_map(|item| item.value.table())
    }

    /// A key where it is written.
    pub(super) fn written(&self, key: &str) -> Option<Placed<&'static str>> {
        let (key, (span, _)) = self.values.get_key_value(key)?;
        Some(Placed::at(*key, span.clone()))
    }

    /// Reports that a key must be there.
    pub(super) fn missing<T>(
        &self,
        key: &str,
        hint: Option<&str>,
        reading: &Reading<'_>,
    ) -> Option<T> {
        reading.report_missing(Problem {
            message: format!("`{key}` is missing in {}", self.title),
            hint: hint.map(Into::into),
            span: self.span.clone(),
        });
        None
    }
}

/// What a key's value becomes.
pub(super) trait Field: Sized {
    /// The field; `None` where something about it is wrong, which has been reported.
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self>;

    /// What stands for a key that is not there, where that needs no saying.
    fn absent() -> Option<Self> {
        None
    }
}
