//! What two definitions say otherwise, key by key, whatever the keys are.
//!
//! Tables of a list are told apart by their names, so that one more of them is one addition and no
//! more. Lengths are compared in millimetres: `63.5` and `"2 1/2 in"` are the same.

use crate::base::length::{Units, length_of, parse_length};
use crate::base::words::shown;
use crate::input::Source;
use std::collections::BTreeSet;
use std::fmt;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Keys by which tables of a list are told apart, in the order that they are looked for.
const NAMES: [&str; 6] = ["name", "file", "position", "finding", "kind", "part"];

/// Keys of plain numbers, which no unit changes.
const COUNTS: [&str; 3] = ["format", "quantity", "count"];

/// Lengths closer than this, mm, are the same written in other ways.
const CLOSE: f64 = 1e-6;

/// One thing that is written otherwise.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// What: `opening `neck opening` width`.
    pub what: String,
    /// As it was; `None` where it was not there.
    pub old: Option<String>,
    /// As it is; `None` where it is gone.
    pub new: Option<String>,
}

impl fmt::Display for Change {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let what = &self.what;
        let value = |value: &str| match value {
            "" => String::new(),
            value => format!(": {value}"),
        };
        match (&self.old, &self.new) {
            (Some(old), Some(new)) => write!(out, "{what}: {old} -> {new}"),
            (None, Some(new)) => write!(out, "{what} added{}", value(new)),
            (Some(old), None) => write!(out, "{what} gone{}", value(old)),
            (None, None) => out.write_str(what),
        }
    }
}

/// What `new` says otherwise than `old`, in the order of the new file, then what is gone.
///
/// Of a text that is no TOML only what could be read is compared.
pub fn changes(old: &Source, new: &Source) -> Vec<Change> {
    let (old_table, _) = DeTable::parse_recoverable(&old.text);
    let (new_table, _) = DeTable::parse_recoverable(&new.text);
    let mut walk = Walk {
        old: File::of(old, old_table.get_ref()),
        new: File::of(new, new_table.get_ref()),
        found: vec![],
    };
    walk.tables("", old_table.get_ref(), new_table.get_ref());
    walk.found
}

struct File<'a> {
    text: &'a str,
    units: Units,
}

impl<'a> File<'a> {
    fn of(source: &'a Source, table: &DeTable<'_>) -> Self {
        let units = table.get("units").map(Spanned::get_ref);
        let inches = matches!(units, Some(DeValue::String(word)) if word == Units::In.word());
        Self {
            text: &source.text,
            units: if inches { Units::In } else { Units::Mm },
        }
    }

    /// A value as written, without the quotation marks of a text.
    fn written(&self, value: &Spanned<DeValue<'_>>) -> String {
        match value.get_ref() {
            DeValue::String(text) => shown(text).into_owned(),
            _ => shown(self.text.get(value.span()).unwrap_or_default()).into_owned(),
        }
    }

    /// A value as a length in mm, where it is one.
    fn length(&self, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        match value.get_ref() {
            DeValue::String(text) => parse_length(text, self.units).ok(),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let written = self.text.get(value.span())?;
                length_of(written.replace('_', "").parse().ok()?, written, self.units).ok()
            }
            _ => None,
        }
    }
}

struct Walk<'a> {
    old: File<'a>,
    new: File<'a>,
    found: Vec<Change>,
}

type Value<'a> = Spanned<DeValue<'a>>;

impl Walk<'_> {
    fn tables(&mut self, path: &str, old: &DeTable<'_>, new: &DeTable<'_>) {
        for key in in_order(new).chain(in_order(old).filter(|key| !new.contains_key(*key))) {
            // What `with` holds belongs to its opening.
            let what = match (path, key) {
                ("", key) => key.to_owned(),
                (path, "with") => path.to_owned(),
                (path, key) => format!("{path} {key}"),
            };
            self.values(&what, key, old.get(key), new.get(key));
        }
    }

    fn values(&mut self, what: &str, key: &str, old: Option<&Value<'_>>, new: Option<&Value<'_>>) {
        match (old.map(Spanned::get_ref), new.map(Spanned::get_ref)) {
            (Some(DeValue::Table(old)), Some(DeValue::Table(new))) => {
                self.tables(what, old, new);
            }
            (None, Some(DeValue::Table(new))) => self.tables(what, &DeTable::new(), new),
            (Some(DeValue::Table(old)), None) => self.tables(what, old, &DeTable::new()),
            (old_value, new_value) => {
                let (old_list, new_list) = (named(old_value), named(new_value));
                if let (Some(old), Some(new)) = (&old_list, &new_list) {
                    return self.lists(what, old, new);
                }
                let same = match (old, new) {
                    (Some(old), Some(new)) => self.same(key, old, new),
                    _ => false,
                };
                if !same {
                    let change = Change {
                        what: what.into(),
                        old: old.map(|value| self.old.written(value)),
                        new: new.map(|value| self.new.written(value)),
                    };
                    self.found.push(change);
                }
            }
        }
    }

    /// Tables of a list, matched by their names.
    fn lists(&mut self, what: &str, old: &[Named<'_>], new: &[Named<'_>]) {
        for item in new {
            let title = format!("{what} `{}`", shown(&item.name));
            match old.iter().find(|other| other.name == item.name) {
                Some(other) => self.tables(&title, other.table, item.table),
                None => self.found.push(Change {
                    what: title,
                    old: None,
                    new: Some(String::new()),
                }),
            }
        }
        let names: BTreeSet<&str> = new.iter().map(|item| item.name.as_str()).collect();
        for item in old
            .iter()
            .filter(|item| !names.contains(item.name.as_str()))
        {
            self.found.push(Change {
                what: format!("{what} `{}`", shown(&item.name)),
                old: Some(String::new()),
                new: None,
            });
        }
    }

    fn same(&self, key: &str, old: &Value<'_>, new: &Value<'_>) -> bool {
        let written = (self.old.written(old), self.new.written(new));
        if written.0 == written.1 && (self.old.units == self.new.units || COUNTS.contains(&key)) {
            return true;
        }
        match (self.old.length(old), self.new.length(new)) {
            (Some(old), Some(new)) => (old - new).abs() < CLOSE,
            _ => written.0 == written.1,
        }
    }
}

/// Keys in the order that they are written.
fn in_order<'t>(table: &'t DeTable<'_>) -> impl Iterator<Item = &'t str> {
    let mut keys: Vec<(usize, &str)> = table
        .iter()
        .map(|(key, _)| (key.span().start, key.get_ref().as_ref()))
        .collect();
    keys.sort_unstable();
    keys.into_iter().map(|(_, key)| key)
}

struct Named<'t> {
    name: String,
    table: &'t DeTable<'t>,
}

/// The tables of a list with their names, or their places where they have none of their own; none
/// for what is no list of tables.
fn named<'t>(value: Option<&'t DeValue<'t>>) -> Option<Vec<Named<'t>>> {
    let Some(value) = value else {
        return Some(vec![]);
    };
    let DeValue::Array(items) = value else {
        return None;
    };
    let tables: Vec<&DeTable<'_>> = items
        .iter()
        .map(|item| match item.get_ref() {
            DeValue::Table(table) => Some(table),
            _ => None,
        })
        .collect::<Option<_>>()?;
    if tables.is_empty() {
        return None;
    }
    let own = |table: &DeTable<'_>| {
        let mut texts = NAMES.iter().filter_map(|name| table.get(*name));
        texts.find_map(|value| match value.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            _ => None,
        })
    };
    let mut seen = BTreeSet::new();
    let named = tables.into_iter().enumerate().map(|(place, table)| {
        let name = own(table).filter(|name| seen.insert(name.clone()));
        Named {
            name: name.unwrap_or_else(|| (place + 1).to_string()),
            table,
        }
    });
    Some(named.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(old: &str, new: &str) -> Vec<String> {
        let found = changes(&Source::new("old", old), &Source::new("new", new));
        found.iter().map(Change::to_string).collect()
    }

    #[test]
    fn values_are_told_by_name_and_in_numbers() {
        let old = "format = 1\n[pattern]\nrevision = \"B\"\nowner = \"bay\"\n[[opening]]\n\
                   name = \"neck\"\nshape = \"notch\"\nwith = { width = 92, depth = 70 }\n\
                   [[opening]]\nname = \"bolt\"\n[panel]\nedge = [[0, 0], [5, 1]]\n";
        let new = "format = 1\n[pattern]\nrevision = \"C\"\n[panel]\nedge = [[0, 0], [5, 2]]\n\
                   [[opening]]\nname = \"new\"\n[[opening]]\nname = \"neck\"\nshape = \"notch\"\n\
                   with = { width = 95, depth = \"7 cm\", corner_radius = 8 }\n";
        assert_eq!(
            told(old, new),
            [
                "pattern revision: B -> C",
                "pattern owner gone: bay",
                "panel edge: [[0, 0], [5, 1]] -> [[0, 0], [5, 2]]",
                "opening `new` added",
                "opening `neck` width: 92 -> 95",
                "opening `neck` corner_radius added: 8",
                "opening `bolt` gone",
            ]
        );
    }

    #[test]
    fn the_same_in_other_words_is_the_same() {
        let old = "a = 63.5\nb = \"4 mm left\"\nc = 1_000\n# said\n[x]\ny = 1\n";
        let new = "x.y = 1.0\nc = 1000\nb = \"4 mm left\"\na = \"2 1/2 in\"\n";
        assert_eq!(told(old, new), [""; 0]);
        // The same number in another unit is another length, but no other count.
        let told = told(
            "units = \"mm\"\ncount = 2\na = 10\n",
            "units = \"in\"\ncount = 2\na = 10\n",
        );
        assert_eq!(told, ["units: mm -> in", "a: 10 -> 10"]);
    }
}
