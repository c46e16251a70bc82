//! Answers that are keys of tables, tables of a list, and lists of pairs.

use super::place::{self, get, item, table, table_mut};
use super::question::{Blank, Question, Writes};
use super::value::{text, value};
use toml_edit::{Array, DocumentMut, Item, TableLike, Value};

fn row(blanks: &[Blank], table: &dyn TableLike) -> Vec<String> {
    let item = |key: &str| match key.split_once('.') {
        Some((inner, key)) => table.get(inner)?.as_table_like()?.get(key),
        None => table.get(key),
    };
    let of = |blank: &Blank| item(&blank.key).and_then(text).unwrap_or_default();
    blanks.iter().map(of).collect()
}

pub(super) fn keys(question: &Question, definition: &DocumentMut, at: &str) -> Vec<Vec<String>> {
    let own = table(definition, at).map(|table| row(&question.blanks, table));
    own.filter(|row| row.iter().any(|text| !text.is_empty()))
        .into_iter()
        .collect()
}

pub(super) fn write_keys(
    question: &Question,
    definition: &mut DocumentMut,
    at: &str,
    answer: &[Vec<String>],
) -> Option<()> {
    let none = vec![];
    fill(question, definition, at, answer.first().unwrap_or(&none))
}

/// Writes a row into a table; what is empty is taken away, but for a name that must be there.
fn fill(question: &Question, definition: &mut DocumentMut, at: &str, row: &[String]) -> Option<()> {
    for (place, blank) in question.blanks.iter().enumerate() {
        let (at, key) = blank.place(at);
        let key = key.as_str();
        match row.get(place).map_or("", String::as_str) {
            "" if key == "name" && blank.may_be_empty => {}
            "" => place::remove(definition, &at, key),
            text => {
                let own = table_mut(definition, &at)?;
                place::set(own, key, value(&blank.value, text), about(question, blank));
            }
        }
    }
    Some(())
}

/// What is said beside a value in the file: tables of a list and what stands on one line say enough.
fn about<'q>(question: &'q Question, blank: &'q Blank) -> &'q str {
    match &question.writes {
        Writes::Keys(table) if table.ends_with("with") => "",
        Writes::Keys(_) | Writes::Pairs(_) if question.blanks.len() == 1 => question.help,
        Writes::Keys(_) => &blank.label,
        _ => "",
    }
}

pub(super) fn tables(question: &Question, definition: &DocumentMut, at: &str) -> Vec<Vec<String>> {
    (0..place::count(definition, at))
        .filter_map(|index| table(definition, &format!("{at}.{index}")))
        .map(|table| row(&question.blanks, table))
        .collect()
}

pub(super) fn write_tables(
    question: &Question,
    definition: &mut DocumentMut,
    at: &str,
    (named, besides): (&str, &[(&str, &str)]),
    answer: &[Vec<String>],
) -> Option<()> {
    let old = place::count(definition, at);
    place::resize(definition, at, answer.len())?;
    for (index, row) in answer.iter().enumerate() {
        let path = format!("{at}.{index}");
        if index >= old {
            let name = (!named.is_empty()).then(|| free_name(definition, at, named));
            let own = table_mut(definition, &path)?;
            if let Some(name) = name {
                own.insert("name", toml_edit::value(name));
            }
            for (key, word) in besides {
                own.insert(key, toml_edit::value(*word));
            }
        }
        fill(question, definition, &path, row)?;
    }
    Some(())
}

/// A name that no table of the list has yet.
pub(super) fn free_name(definition: &DocumentMut, at: &str, named: &str) -> String {
    let is_free = |name: &String| {
        (0..place::count(definition, at)).all(|index| {
            let own = get(definition, &format!("{at}.{index}"), "name").and_then(Item::as_str);
            own != Some(name)
        })
    };
    (1..)
        .map(|number| format!("{named} {number}"))
        .find(is_free)
        .unwrap_or_else(|| named.to_owned())
}

/// The key that all blanks of a list of pairs share.
pub(super) fn pair_key(question: &Question) -> &str {
    question.blanks.first().map_or("", |blank| &blank.key)
}

/// The list at the key that all blanks share.
fn list<'d>(
    question: &Question,
    definition: &'d DocumentMut,
    at: &str,
) -> impl Iterator<Item = &'d Value> {
    let path = format!("{at}.{}", pair_key(question));
    let list = item(definition, &path).and_then(Item::as_array);
    list.into_iter().flat_map(Array::iter)
}

/// Writes that list, an item a row; without a row it is taken away.
fn write_list(
    question: &Question,
    definition: &mut DocumentMut,
    at: &str,
    items: Array,
    about: &str,
) -> Option<()> {
    let key = pair_key(question);
    if items.is_empty() {
        place::remove(definition, at, key);
        return Some(());
    }
    place::set(table_mut(definition, at)?, key, Value::Array(items), about);
    Some(())
}

pub(super) fn pairs(question: &Question, definition: &DocumentMut, at: &str) -> Vec<Vec<String>> {
    list(question, definition, at)
        .filter_map(Value::as_array)
        .map(|pair| {
            let own = |value: &Value| text(&Item::Value(value.clone())).unwrap_or_default();
            pair.iter().map(own).collect()
        })
        .collect()
}

pub(super) fn write_pairs(
    question: &Question,
    definition: &mut DocumentMut,
    at: &str,
    answer: &[Vec<String>],
) -> Option<()> {
    let pair = |row: &Vec<String>| {
        let each = question.blanks.iter().zip(row);
        Value::Array(
            each.map(|(blank, text)| value(&blank.value, text))
                .collect(),
        )
    };
    let items = answer.iter().map(pair).collect();
    write_list(question, definition, at, items, question.help)
}

pub(super) fn names(question: &Question, definition: &DocumentMut, at: &str) -> Vec<Vec<String>> {
    let names = list(question, definition, at).filter_map(Value::as_str);
    names.map(|name| vec![name.to_owned()]).collect()
}

pub(super) fn write_names(
    question: &Question,
    definition: &mut DocumentMut,
    at: &str,
    answer: &[Vec<String>],
) -> Option<()> {
    let items = answer.iter().flatten().map(String::as_str).collect();
    write_list(question, definition, at, items, "")
}
