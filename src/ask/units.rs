//! What a definition's bare numbers are in, and another unit for them: each stays the length that it is.

use super::place::set;
use crate::base::Direction;
use crate::base::length::{Units, has_length_unit, parse_length};
use crate::input::FileKind;
use crate::input::keys::{Keys, Kind};
use toml_edit::{DocumentMut, Item, TableLike, Value};

/// Units of the definition's bare numbers.
pub fn units(definition: &DocumentMut) -> Units {
    let written = definition.get("units").and_then(Item::as_str);
    let known = |units: &Units| Some(units.word()) == written;
    Units::ALL.into_iter().find(known).unwrap_or_default()
}

/// Inches are divided so far on a tape.
const FINEST: f64 = 64.0;

/// Writes what bare numbers are in, and every bare number as the same length in that. Lengths that no
/// tape in inches has a line for keep their millimetres, with their unit beside them: what was read
/// stays what was read.
pub(super) fn write_units(definition: &mut DocumentMut, answer: Option<&String>) -> Option<()> {
    let before = units(definition);
    match answer {
        Some(word) => set(
            definition.as_table_mut(),
            "units",
            Value::from(word.as_str()),
            "of bare numbers",
        ),
        None => {
            definition.remove("units");
        }
    }
    let way = Way {
        from: before,
        to: units(definition),
    };
    if way.from != way.to {
        way.of_table(definition.as_table_mut(), FileKind::Pattern.keys());
    }
    Some(())
}

/// From one unit to another.
#[derive(Clone, Copy)]
struct Way {
    from: Units,
    to: Units,
}

impl Way {
    fn of_table(self, table: &mut dyn TableLike, keys: &Keys) {
        for (name, item) in table.iter_mut() {
            let name = name.get();
            if let Some(known) = keys.keys.iter().find(|known| known.name == name) {
                self.of_item(item, &known.kind);
            }
        }
    }

    fn of_item(self, item: &mut Item, kind: &Kind) {
        match (item, kind) {
            (Item::Value(value), _) => self.of_value(value, kind),
            (Item::Table(table), _) => self.of_inner(table, kind),
            (Item::ArrayOfTables(tables), Kind::Tables(keys, ..)) => {
                tables.iter_mut().for_each(|own| self.of_table(own, keys));
            }
            _ => {}
        }
    }

    fn of_inner(self, table: &mut dyn TableLike, kind: &Kind) {
        match kind {
            Kind::Table(keys) => self.of_table(table, keys),
            Kind::Values => {
                for (_, item) in table.iter_mut() {
                    self.of_item(item, &Kind::ShapeValue);
                }
            }
            Kind::Named(keys, _) => {
                for (_, item) in table.iter_mut() {
                    self.of_item(item, &Kind::Table(keys));
                }
            }
            _ => {}
        }
    }

    fn of_value(self, value: &mut Value, kind: &Kind) {
        match (value, kind) {
            (Value::InlineTable(table), Kind::Tables(keys, ..)) => self.of_table(table, keys),
            (Value::InlineTable(table), _) => self.of_inner(table, kind),
            (Value::Array(list), Kind::List(inner)) => {
                list.iter_mut()
                    .for_each(|own| self.of_value(own, &inner.kind));
            }
            (Value::Array(list), Kind::Pair(_) | Kind::Tables(..)) => {
                list.iter_mut().for_each(|own| self.of_value(own, kind));
            }
            (
                value,
                Kind::Length(..)
                | Kind::TradeSize(..)
                | Kind::Offset
                | Kind::ShapeValue
                | Kind::Pair(_),
            ) => {
                if let Some(mut new) = self.of_length(value) {
                    *new.decor_mut() = value.decor().clone();
                    *value = new;
                }
            }
            _ => {}
        }
    }

    /// The same length in other words; `None` where it is none, or says its unit itself.
    fn of_length(self, value: &Value) -> Option<Value> {
        let text = match value {
            Value::String(text) => text.value().clone(),
            Value::Integer(_) | Value::Float(_) => value.clone().decorated("", "").to_string(),
            _ => return None,
        };
        let (length, side) = match text.trim().rsplit_once(char::is_whitespace) {
            Some((length, side)) if Direction::from_word(side).is_some() => (length, side),
            _ => (text.trim(), ""),
        };
        let unit = self.to.word();
        let bare = match has_length_unit(length) {
            // A number that a change of units left with its unit comes back.
            true => length.strip_suffix(unit)?.trim_end().to_owned(),
            false => self.written(parse_length(length, self.from).ok()?),
        };
        Some(match side {
            "" => super::value::bare(&bare),
            side => Value::from(format!("{bare} {side}")),
        })
    }

    /// A length, mm, as a bare number where it is one of few figures, else with its unit.
    fn written(self, mm: f64) -> String {
        // Far below all that is measured, and above the noise of the last bits.
        let figure = |number: f64| ((number * 1e9).round() / 1e9).to_string();
        if self.to == Units::Mm {
            return figure(mm);
        }
        let parts = mm / Units::In.in_mm() * FINEST;
        if (parts - parts.round()).abs() > 1e-9 {
            return format!("{} mm", figure(mm));
        }
        let told = Units::In.exact(mm);
        told.trim_end_matches(Units::In.word())
            .trim_end()
            .to_owned()
    }
}
