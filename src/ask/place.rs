//! Places in a definition: `panel.surface.rake`, `part.0.with.width`.

use std::ops::Range;
use toml_edit::{
    Array, ArrayOfTables, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value,
};

/// A step of a path: a key, or a place in a list.
fn steps(path: &str) -> impl Iterator<Item = &str> {
    path.split('.').filter(|step| !step.is_empty())
}

/// The table at a path; the definition itself at the empty one.
pub(super) fn table<'d>(definition: &'d Table, path: &str) -> Option<&'d dyn TableLike> {
    let mut at: &dyn TableLike = definition;
    let mut steps = steps(path).peekable();
    while let Some(step) = steps.next() {
        let item = at.get(step)?;
        at = match steps.peek().and_then(|next| next.parse::<usize>().ok()) {
            Some(index) => {
                steps.next();
                match item {
                    Item::ArrayOfTables(tables) => tables.get(index)? as &dyn TableLike,
                    Item::Value(Value::Array(items)) => {
                        items.get(index)?.as_inline_table()? as &dyn TableLike
                    }
                    _ => return None,
                }
            }
            None => item.as_table_like()?,
        };
    }
    Some(at)
}

/// As [`table`], made where it is not there yet; lists must hold the item. `None` where something
/// else stands there.
pub(super) fn table_mut<'d>(
    definition: &'d mut DocumentMut,
    path: &str,
) -> Option<&'d mut dyn TableLike> {
    let mut at: &mut dyn TableLike = definition.as_table_mut();
    let mut steps = steps(path).peekable();
    while let Some(step) = steps.next() {
        let index = steps.peek().and_then(|next| next.parse::<usize>().ok());
        if !at.contains_key(step) && index.is_none() {
            let made = match step {
                // Values of a shape stand on one line.
                "with" => Item::Value(Value::InlineTable(InlineTable::new())),
                // One that only holds others needs no header.
                _ => {
                    let mut table = Table::new();
                    table.set_implicit(true);
                    Item::Table(table)
                }
            };
            at.insert(step, made);
        }
        let item = at.get_mut(step)?;
        at = match index {
            Some(index) => {
                steps.next();
                match item {
                    Item::ArrayOfTables(tables) => tables.get_mut(index)? as &mut dyn TableLike,
                    Item::Value(Value::Array(items)) => {
                        items.get_mut(index)?.as_inline_table_mut()? as &mut dyn TableLike
                    }
                    _ => return None,
                }
            }
            None => item.as_table_like_mut()?,
        };
    }
    Some(at)
}

/// What stands at a key of the table at a path.
pub(super) fn get<'d>(definition: &'d Table, path: &str, key: &str) -> Option<&'d Item> {
    table(definition, path)?
        .get(key)
        .filter(|item| !item.is_none())
}

/// Where a key of the table at a path stands in the text that it was read from.
pub(super) fn key_span(definition: &Table, path: &str, key: &str) -> Option<Range<usize>> {
    table(definition, path)?.key(key)?.span()
}

/// Where the table at a path and its values stand in the text that they were read from.
pub(super) fn table_spans(definition: &Table, path: &str) -> Vec<Range<usize>> {
    let (before, last) = path.rsplit_once('.').unwrap_or(("", path));
    let own = match (
        last.parse::<usize>(),
        item(definition, before),
        item(definition, path),
    ) {
        (Ok(index), Some(Item::ArrayOfTables(tables)), _) => {
            tables.get(index).and_then(Table::span)
        }
        (Ok(index), Some(Item::Value(list)), _) => {
            list.as_array().and_then(|list| list.get(index)?.span())
        }
        (_, _, whole) => whole.and_then(Item::span),
    };
    let values = table(definition, path)
        .into_iter()
        .flat_map(TableLike::iter);
    own.into_iter()
        .chain(values.filter_map(|(_, value)| value.span()))
        .collect()
}

/// Writes a value, where it differs from what stands there; what was said beside it stays.
pub(super) fn set(table: &mut dyn TableLike, key: &str, mut value: Value, about: &str) {
    if let Some(old) = table.get(key).and_then(Item::as_value) {
        if old.clone().decorated("", "").to_string() == value.clone().decorated("", "").to_string()
        {
            return;
        }
        *value.decor_mut() = old.decor().clone();
    } else if !about.is_empty() {
        value.decor_mut().set_suffix(format!("  # {about}"));
    }
    table.insert(key, Item::Value(value));
}

/// How many tables a list holds.
pub(super) fn count(definition: &Table, path: &str) -> usize {
    match item(definition, path) {
        Some(Item::ArrayOfTables(tables)) => tables.len(),
        Some(Item::Value(Value::Array(items))) => items.len(),
        _ => 0,
    }
}

/// What stands at a path whose last step is a key.
pub(super) fn item<'d>(definition: &'d Table, path: &str) -> Option<&'d Item> {
    let (before, key) = path.rsplit_once('.').unwrap_or(("", path));
    get(definition, before, key)
}

/// Makes a list hold so many tables, new ones empty and at its end; a list of none goes.
pub(super) fn resize(definition: &mut DocumentMut, path: &str, count: usize) -> Option<()> {
    let (before, key) = path.rsplit_once('.').unwrap_or(("", path));
    if count == 0 {
        if table(definition, before).is_some() {
            table_mut(definition, before)?.remove(key);
        }
        return Some(());
    }
    let table = table_mut(definition, before)?;
    if !table.contains_key(key) {
        table.insert(key, Item::ArrayOfTables(ArrayOfTables::new()));
    }
    match table.get_mut(key)? {
        Item::ArrayOfTables(tables) => {
            while tables.len() > count {
                tables.remove(tables.len() - 1);
            }
            while tables.len() < count {
                tables.push(Table::new());
            }
        }
        Item::Value(Value::Array(items)) => {
            while items.len() > count {
                items.remove(items.len() - 1);
            }
            while items.len() < count {
                items.push(InlineTable::new());
            }
        }
        _ => return None,
    }
    Some(())
}

/// Takes a key away, and the table that it leaves empty behind, but for those that must be there.
pub(super) fn remove(definition: &mut DocumentMut, path: &str, key: &str) {
    if table(definition, path).is_none() {
        return;
    }
    let Some(table) = table_mut(definition, path) else {
        return;
    };
    table.remove(key);
    let is_list = path.split('.').any(|step| step.parse::<usize>().is_ok());
    if table.is_empty() && !is_list && !["", "panel", "pattern"].contains(&path) {
        let (before, own) = path.rsplit_once('.').unwrap_or(("", path));
        remove(definition, before, own);
    }
}

/// A list of texts as a value of one line.
pub(super) fn texts(texts: &[String]) -> Value {
    Value::Array(texts.iter().map(String::as_str).collect::<Array>())
}

/// Keys of a table, in its order.
pub(super) fn keys(table: &dyn TableLike) -> Vec<String> {
    table
        .iter()
        .map(|(key, _)| Key::new(key).get().to_owned())
        .collect()
}

/// Keys of all tables of a list, with their tables.
pub(super) fn keys_of_all(definition: &Table, list: &str) -> Vec<(String, String)> {
    let each = (0..count(definition, list)).flat_map(|index| {
        let path = format!("{list}.{index}");
        let own = table(definition, &path).map(keys).unwrap_or_default();
        own.into_iter().map(move |key| (path.clone(), key))
    });
    each.collect()
}
