//! Reads lists of two lengths each: readings along an edge, points of a line.

use super::field::length;
use super::problem::Placed;
use super::table::Entry;
use crate::base::words::shown;
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// What such a list holds.
pub(super) struct Pairs {
    /// What its items are called.
    pub(super) of: &'static str,
    /// What an item is made of.
    pub(super) each: &'static str,
    /// How many there may be.
    pub(super) count: RangeInclusive<usize>,
    /// The first of an item, mm.
    pub(super) first: RangeInclusive<f64>,
    /// The second, mm.
    pub(super) second: RangeInclusive<f64>,
    /// Hint that shows how it is written.
    pub(super) example: &'static str,
    /// Hint where there are too few or too many.
    pub(super) wrong_count: &'static str,
}

impl Pairs {
    /// The items, each at its place.
    pub(super) fn read(&self, entry: &Entry<'_>) -> Option<Vec<Placed<(f64, f64)>>> {
        let DeValue::Array(items) = entry.value.get_ref() else {
            return entry.wrong_kind(&format!("a list of {}", self.of), self.example);
        };
        if !self.count.contains(&items.len()) {
            let message = format!(
                "`{}` has {} {}: {} to {} are allowed",
                entry.key,
                items.len(),
                self.of,
                self.count.start(),
                self.count.end()
            );
            return entry.refuse(message, Some(self.wrong_count.into()));
        }
        let read: Vec<_> = items
            .iter()
            .map(|item| entry.item(item).read(|item| self.pair(item)))
            .collect();
        read.into_iter().collect()
    }

    fn pair(&self, entry: &Entry<'_>) -> Option<(f64, f64)> {
        match entry.value.get_ref() {
            DeValue::Array(pair) if pair.len() == 2 => {
                let first = length(&entry.item(pair.first()?), self.first.clone());
                let second = length(&entry.item(pair.get(1)?), self.second.clone());
                Some((first?, second?))
            }
            DeValue::Array(_) => {
                let message = format!(
                    "`{}` in `{}` is not two lengths: {}",
                    shown(&entry.written()),
                    entry.key,
                    self.each
                );
                entry.refuse(message, Some(self.example.into()))
            }
            _ => entry.wrong_kind("two lengths", self.example),
        }
    }
}
