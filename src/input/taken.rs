//! Walks a file along its tables of keys: what is there is taken, and what is wrong with it alone
//! reported, each at its place and all of it at once. What does not go together, structs find as they
//! are made from it.

use super::entry::Entry;
use super::got::{Got, Taken};
use super::keys::{Keys, Kind, List, Need};
use super::problem::{Placed, Problem};
use super::reading::Reading;
use super::source::Source;
use super::{scalar, torque};
use crate::base::length::Units;
use crate::base::words::{did_you_mean, listed, shown};
use std::collections::BTreeMap;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Most values given to a shape.
pub(super) const MOST_VALUES: usize = 100;

/// Takes a table's keys.
pub(super) fn take<'a>(
    reading: &'a Reading<'a>,
    table: &'a DeTable<'a>,
    keys: &Keys,
    title: String,
    span: Option<Range<usize>>,
) -> Taken {
    let mut taken = Taken {
        span,
        title,
        values: BTreeMap::new(),
    };
    for (key, value) in table {
        let name = key.get_ref().as_ref();
        let Some(known) = keys.keys.iter().find(|known| known.name == name) else {
            let message = format!("unknown key `{}` in {}", shown(name), taken.title);
            let names: Vec<_> = keys.keys.iter().map(|known| known.name).collect();
            let problem = Problem::new(message).at(key.span());
            reading.report(problem.hint(did_you_mean(name, &names)));
            continue;
        };
        let entry = Entry {
            reading,
            key: known.name,
            value,
            is_item: false,
        };
        let got = read(&entry, &known.kind).map(|got| entry.placed(got));
        taken.values.insert(known.name, (key.span(), got));
    }
    for key in keys.keys {
        if matches!(key.need, Need::Required) && !taken.values.contains_key(key.name) {
            let message = match key.kind {
                Kind::Table(_) => format!("`[{}]` is missing", key.name),
                Kind::Tables(_, least, _) => {
                    let name = key.name;
                    format!("`[[{name}]]` is missing: at least {least} must be there")
                }
                _ => {
                    let hint = matches!(key.kind, Kind::Format);
                    let hint = hint.then_some("write `format = 1` at the head of the file");
                    let _: Option<()> = taken.missing(key.name, hint, reading);
                    continue;
                }
            };
            reading.report_missing(Problem::new(message));
        }
    }
    take_ways(&taken, keys, reading);
    taken
}

/// Of keys that exclude one another one is given, with what belongs to it.
fn take_ways(taken: &Taken, keys: &Keys, reading: &Reading<'_>) {
    let Some(ways) = keys.ways else { return };
    let given: Vec<_> = (ways.each.iter())
        .filter_map(|way| Some((way, taken.written(way.key)?)))
        .collect();
    if let [_, (_, second), ..] = given.as_slice() {
        let names: Vec<_> = given.iter().map(|(way, _)| way.key).collect();
        let message = format!("{} {} at once", ways.two, listed(&names, " and "));
        return reading.report(second.problem(message).hint(ways.hint));
    }
    let given = given.first().map(|(way, _)| *way);
    if let (None, Some(none)) = (given, ways.none) {
        return reading.report_missing(Problem {
            message: none.into(),
            hint: Some(ways.hint.into()),
            span: taken.span.clone(),
        });
    }
    for key in taken.values.keys() {
        let owners: Vec<_> = (ways.each.iter().filter(|way| way.takes(key)))
            .map(|way| way.key)
            .collect();
        if owners.is_empty() || given.is_some_and(|way| way.takes(key)) {
            continue;
        }
        let owners = listed(&owners, " or ");
        let message = match given {
            Some(way) => format!("`{key}` goes with {owners}, not with `{}`", way.key),
            None => format!("`{key}` goes with {owners}"),
        };
        if let Some(stranger) = taken.written(key) {
            reading.report(stranger.problem(message));
        }
    }
    for key in given.map_or(&[][..], |way| way.needs) {
        if !taken.values.contains_key(key) {
            let _: Option<()> = taken.missing(key, None, reading);
        }
    }
}

/// What is wrong with a value by itself, written as in a file: `63.5`, `"4 mm left"`.
pub fn misread(key: &str, kind: &Kind, written: &str, units: Units) -> Option<Problem> {
    let source = Source::new("", format!("value = {written}"));
    let Ok(document) = DeTable::parse(&source.text) else {
        return Some(Problem::new(format!("`{key}` can't be read")));
    };
    let reading = Reading::new(&source, vec![]);
    reading.units.set(units);
    for value in document.get_ref().values() {
        let entry = Entry {
            reading: &reading,
            key,
            value,
            is_item: false,
        };
        read(&entry, kind);
    }
    reading.finish().into_iter().next()
}

fn read(entry: &Entry<'_>, kind: &Kind) -> Option<Got> {
    Some(match *kind {
        Kind::Format => Got::Yes(true),
        Kind::Text => Got::Text(scalar::text(entry)?),
        Kind::FilledText => Got::Text(scalar::filled_text(entry)?),
        Kind::Word => Got::Text(scalar::word(entry)?),
        Kind::FilledWord => Got::Text(scalar::filled_word(entry)?),
        Kind::HeadWord => Got::Text(scalar::head_word(entry)?),
        Kind::Date => Got::Text(scalar::date(entry)?),
        Kind::YesOrNo => match entry.value.get_ref() {
            DeValue::Boolean(answer) => Got::Yes(*answer),
            _ => return entry.wrong_kind("`true` or `false`", "write it without quotes"),
        },
        Kind::Choice(words, hint) => Got::Text(scalar::choice(entry, words(), hint)?),
        Kind::Known(known) => {
            let name = scalar::filled_text(entry)?;
            match (known.find)(&name) {
                Ok(()) => Got::Text(name),
                Err((message, hint)) => return entry.refuse(message, Some(hint)),
            }
        }
        Kind::Length(least, most) => Got::Number(scalar::length(entry, (least, most))?),
        Kind::TradeSize(least, most) => {
            let length = scalar::length(entry, (least, most))?;
            let name = match entry.value.get_ref() {
                DeValue::String(text) => text.trim().to_owned(),
                _ => format!("{} {}", entry.written(), entry.reading.units.get().word()),
            };
            Got::Named((length, name))
        }
        Kind::Angle(least, most) => Got::Number(scalar::angle(entry, (least, most))?),
        Kind::Offset => Got::Offset(scalar::offset(entry)?),
        Kind::ShapeValue => Got::Value(scalar::value(entry)?),
        Kind::FindingValue => Got::Number(scalar::finding_value(entry)?),
        Kind::Expression => Got::Text(scalar::expression(entry)?),
        Kind::Torque(least, most) => Got::Torque(torque::torque(entry, (least, most))?),
        Kind::Number(quantity, least, most) => {
            Got::Number(scalar::number(entry, quantity, (least, most))?)
        }
        Kind::Pair(pair) => Got::Pair(scalar::pair(entry, pair)?),
        Kind::List(list) => Got::List(items(entry, list)?),
        Kind::Table(keys) => Got::Table(table(entry, keys, format!("`[{}]`", entry.key))?),
        Kind::Tables(keys, least, most) => Got::List(tables(entry, keys, least, most)?),
        Kind::Values => Got::Free(free(entry, "values", MOST_VALUES, |one| {
            Some(Got::Value(scalar::value(one)?))
        })?),
        Kind::Named(keys, most) => Got::Free(free(entry, "parameters", most, |one| {
            let title = format!("`[{}.{}]`", entry.key, shown(one.key));
            Some(Got::Table(table(one, keys, title)?))
        })?),
    })
}

/// The items of a list, where all are right.
fn items(entry: &Entry<'_>, list: &List) -> Option<Vec<Placed<Got>>> {
    let items: Vec<_> = (entry.items(list)?.iter())
        .map(|item| Some(item.placed(read(item, &list.kind)?)))
        .collect();
    items.into_iter().collect()
}

fn table<'a>(entry: &Entry<'a>, keys: &Keys, title: String) -> Option<Taken> {
    let DeValue::Table(table) = entry.value.get_ref() else {
        let hint = format!("write {title}, then a line for each key");
        return entry.wrong_kind("a table", &hint);
    };
    let span = Some(entry.value.span());
    Some(take(entry.reading, table, keys, title, span))
}

/// A list of tables: those that are tables.
fn tables(entry: &Entry<'_>, keys: &Keys, least: usize, most: usize) -> Option<Vec<Placed<Got>>> {
    let key = entry.key;
    let DeValue::Array(items) = entry.value.get_ref() else {
        let hint = format!("write `[[{key}]]`, with two brackets, before each");
        return entry.wrong_kind("a list of tables", &hint);
    };
    if !(least..=most).contains(&items.len()) {
        let times = items.len();
        let message = format!("`[[{key}]]` is there {times} times: {least} to {most} are allowed");
        return entry.refuse(message, None);
    }
    let items = items.iter().map(|item| entry.item(item));
    let tables = items.filter_map(|item| {
        let table = table(&item, keys, format!("`[[{key}]]`"))?;
        Some(item.placed(Got::Table(table)))
    });
    Some(tables.collect())
}

/// A table whose keys the file chooses, in its order.
fn free<'a>(
    entry: &Entry<'a>,
    of: &str,
    most: usize,
    read: impl Fn(&Entry<'a>) -> Option<Got>,
) -> Option<Vec<(Placed<String>, Placed<Got>)>> {
    let DeValue::Table(table) = entry.value.get_ref() else {
        let hint = format!("write `[{}]`, then a line for each key", entry.key);
        return entry.wrong_kind("a table", &hint);
    };
    if table.len() > most {
        let (key, count) = (entry.key, table.len());
        let message = format!("`{key}` has {count} {of}: at most {most} are allowed");
        return entry.refuse(message, None);
    }
    let mut all: Vec<_> = table.iter().collect();
    all.sort_by_key(|(key, _)| key.span().start);
    let read = all
        .into_iter()
        .filter_map(|(key, value): (_, &Spanned<_>)| {
            let name = key.get_ref().as_ref();
            let one = Entry {
                key: name,
                value,
                ..*entry
            };
            let name = Placed::at(name.to_owned(), key.span());
            Some((name, one.placed(read(&one)?)))
        });
    Some(read.collect())
}
