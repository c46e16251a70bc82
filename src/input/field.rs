//! Reads single values: texts, names, lengths, angles, choices, dates.
//!
//! Each function reports what is wrong with its value and then returns `None`.

use super::pattern::Value;
use super::table::{Entry, Table};
use crate::base::length::{
    self, LengthError, Offset, Units, has_angle_unit, length_of, parse_angle, parse_length,
    parse_offset,
};
use crate::base::words::{is_device_name, is_unprintable, listed, nearest};
use crate::base::{Direction, fixed};
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// Longest line of text, letters.
const LONGEST_TEXT: usize = 500;

/// Longest number, revision or name of a family, letters.
const LONGEST_WORD: usize = 64;

/// Lengths that a file may hold anywhere, mm.
pub(super) const ANY_LENGTH: RangeInclusive<f64> = -length::LONGEST..=length::LONGEST;

/// Diameters of holes, mm.
pub(super) const DIAMETER: RangeInclusive<f64> = 0.1..=length::LONGEST;

/// `units` of the file, which hold for every bare number read after it.
pub(super) fn units(file: &mut Table<'_>) -> Units {
    let units = file.optional("units", |entry| choice(entry, &Units::ALL, Units::word));
    let units = units.map_or(Units::Mm, |units| units.value);
    file.reading.units.set(units);
    units
}

/// One line of text; may be empty.
pub(super) fn text(entry: &Entry<'_>) -> Option<String> {
    let DeValue::String(text) = entry.value.get_ref() else {
        return entry.wrong_kind("a text", "put it between quotation marks");
    };
    if let Some(letter) = text.chars().find(|letter| is_unprintable(*letter)) {
        let message = format!(
            "{} holds `{}`, which can't be printed: letters, digits, signs and blanks are allowed",
            entry.title(),
            letter.escape_default()
        );
        return entry.refuse(message, None);
    }
    let letters = text.chars().count();
    if letters > LONGEST_TEXT {
        let message = format!(
            "{} has {letters} letters: at most {LONGEST_TEXT} are allowed",
            entry.title()
        );
        return entry.refuse(message, None);
    }
    Some(text.to_string())
}

/// One line of text, empty where it is left out.
pub(super) fn text_or_empty(table: &mut Table<'_>, key: &'static str) -> String {
    let read = table.optional(key, text);
    read.map(|read| read.value).unwrap_or_default()
}

/// One line of text that says something.
pub(super) fn filled_text(entry: &Entry<'_>) -> Option<String> {
    let text = text(entry)?;
    if text.trim().is_empty() {
        return entry.refuse(format!("{} is empty", entry.title()), None);
    }
    Some(text)
}

/// A word that can name a file anywhere: letters, digits, `-`, `_` and `.`; may be empty.
pub(super) fn word(entry: &Entry<'_>) -> Option<String> {
    let word = text(entry)?;
    let allowed = |letter: char| letter.is_ascii_alphanumeric() || "-_.".contains(letter);
    let trouble = if word.starts_with('.') {
        "begins with a dot"
    } else if word.chars().count() > LONGEST_WORD {
        "is too long"
    } else if !word.chars().all(allowed) {
        "holds other signs"
    } else if is_device_name(&word) {
        return entry.refuse(
            format!(
                "`{} = {}` is a name that Windows keeps for a device",
                entry.key,
                entry.written()
            ),
            Some("files are named by it: choose another".into()),
        );
    } else {
        return Some(word);
    };
    let message = format!(
        "`{} = {}` {trouble}: up to {LONGEST_WORD} letters a to z, digits, `-`, `_` and `.` are \
         allowed, not beginning with a dot",
        entry.key,
        entry.written()
    );
    entry.refuse(message, None)
}

/// As [`word`], and not empty.
pub(super) fn filled_word(entry: &Entry<'_>) -> Option<String> {
    filled_text(entry)?;
    word(entry)
}

/// A list of lines of text, at most `most`.
pub(super) fn texts(entry: &Entry<'_>, most: usize) -> Option<Vec<String>> {
    let DeValue::Array(items) = entry.value.get_ref() else {
        return entry.wrong_kind("a list of texts", "write `[\"one\", \"two\"]`");
    };
    if items.len() > most {
        let message = format!(
            "`{}` has {} items: at most {most} are allowed",
            entry.key,
            items.len()
        );
        return entry.refuse(message, None);
    }
    let read: Vec<_> = items.iter().map(|item| text(&entry.item(item))).collect();
    read.into_iter().collect()
}

/// A bare number; `None`, with nothing reported, for any other kind of value.
pub(super) fn number(entry: &Entry<'_>) -> Option<f64> {
    match entry.value.get_ref() {
        DeValue::Float(float) => float.as_str().parse().ok(),
        // Digits past the whole numbers of the machine are still a number, if one too large.
        DeValue::Integer(digits) if digits.radix() == 10 => digits.as_str().parse().ok(),
        DeValue::Integer(digits) => i64::from_str_radix(digits.as_str(), digits.radix())
            .ok()
            .map(|whole| whole as f64),
        _ => None,
    }
}

/// A length in mm, within `allowed`.
pub(super) fn length(entry: &Entry<'_>, allowed: RangeInclusive<f64>) -> Option<f64> {
    let units = entry.reading.units.get();
    let read = match (entry.value.get_ref(), number(entry)) {
        (_, Some(number)) => length_of(number, &entry.written(), units),
        (DeValue::String(text), None) => parse_length(text, units),
        _ => {
            let hint = match units {
                Units::Mm => "write `63.5 mm`, or a bare number",
                Units::In => "write `\"2 1/2 in\"`, or a bare number",
            };
            return entry.wrong_kind("a length", hint);
        }
    };
    let length = read
        .or_else(|error| refuse_length(entry, &error).ok_or(()))
        .ok()?;
    if allowed.contains(&length) {
        return Some(length);
    }
    let is = if entry.written().ends_with(&format!("{}\"", units.word())) {
        String::new()
    } else {
        format!(" ({})", units.exact(length))
    };
    let message = format!(
        "`{} = {}`{is} is out of range: {} to {} is allowed",
        entry.key,
        entry.written(),
        units.exact(*allowed.start()),
        units.exact(*allowed.end())
    );
    entry.refuse(message, None)
}

/// An angle in degrees, within `allowed`.
pub(super) fn angle(entry: &Entry<'_>, allowed: RangeInclusive<f64>) -> Option<f64> {
    let DeValue::String(text) = entry.value.get_ref() else {
        return entry.wrong_kind("an angle", "write `\"12 deg\"`");
    };
    let angle = match parse_angle(text) {
        Ok(angle) => angle,
        Err(error) => return refuse_length(entry, &error),
    };
    if allowed.contains(&angle) {
        return Some(angle);
    }
    let message = format!(
        "`{} = {}` is out of range: {} to {} deg is allowed",
        entry.key,
        entry.written(),
        fixed(*allowed.start(), 3),
        fixed(*allowed.end(), 3)
    );
    entry.refuse(message, None)
}

/// `true` or `false`.
pub(super) fn yes_or_no(entry: &Entry<'_>) -> Option<bool> {
    match entry.value.get_ref() {
        DeValue::Boolean(answer) => Some(*answer),
        _ => entry.wrong_kind("`true` or `false`", "write it without quotes"),
    }
}

/// A shape's value: a length, or an angle with its unit.
pub(super) fn value(entry: &Entry<'_>) -> Option<Value> {
    if let DeValue::String(text) = entry.value.get_ref()
        && has_angle_unit(text)
    {
        return match parse_angle(text) {
            Ok(number) => Some(Value {
                number,
                angle: true,
            }),
            Err(error) => refuse_length(entry, &error),
        };
    }
    length(entry, ANY_LENGTH).map(|number| Value {
        number,
        angle: false,
    })
}

/// A distance with its side: `4 mm left`, or 0.
pub(super) fn offset(entry: &Entry<'_>) -> Option<Offset> {
    let units = entry.reading.units.get();
    let read = match (entry.value.get_ref(), number(entry)) {
        (_, Some(number)) => match length_of(number, &entry.written(), units) {
            Ok(_) => parse_offset(&number.to_string(), units),
            Err(error) => Err(error),
        },
        (DeValue::String(text), None) => parse_offset(text, units),
        _ => {
            let hint = match units {
                Units::Mm => "write `4 mm left`, or 0",
                Units::In => "write `\"5/32 in left\"`, or 0",
            };
            return entry.wrong_kind("a distance with its side", hint);
        }
    };
    read.map_or_else(|error| refuse_length(entry, &error), Some)
}

/// A direction of the vehicle.
pub(super) fn direction(entry: &Entry<'_>) -> Option<Direction> {
    choice_or_hint(entry, &Direction::ALL, Direction::word, Direction::hint)
}

/// One of a few known words.
pub(super) fn choice<T: Copy>(
    entry: &Entry<'_>,
    known: &[T],
    word_of: fn(T) -> &'static str,
) -> Option<T> {
    choice_or_hint(entry, known, word_of, |_| None)
}

/// The same; for other words `hint` may know what is meant.
pub(super) fn choice_or_hint<T: Copy>(
    entry: &Entry<'_>,
    known: &[T],
    word_of: fn(T) -> &'static str,
    hint: fn(&str) -> Option<String>,
) -> Option<T> {
    let words: Vec<_> = known.iter().map(|choice| word_of(*choice)).collect();
    let listed = listed(&words, " or ");
    let DeValue::String(text) = entry.value.get_ref() else {
        return entry.wrong_kind(&listed, "put it between quotation marks");
    };
    let found = known.iter().find(|choice| word_of(**choice) == text);
    if let Some(choice) = found {
        return Some(*choice);
    }
    let message = format!(
        "`{} = {}` is not known: {listed} is allowed",
        entry.key,
        entry.written()
    );
    let near = || nearest(text, words).map(|near| format!("did you mean `{near}`?"));
    let hint = hint(text).or_else(near);
    entry.refuse(message, hint)
}

/// A date, as TOML writes it or as a text of the same letters: `YYYY-MM-DD`.
pub(super) fn date(entry: &Entry<'_>) -> Option<String> {
    let day = match entry.value.get_ref() {
        DeValue::String(text) => DeValue::parse(text)
            .ok()
            .and_then(|value| day(value.get_ref())),
        value => day(value),
    };
    if day.is_some() {
        return day;
    }
    let message = format!(
        "`{} = {}` is not a date: a day of the calendar as `YYYY-MM-DD` is allowed",
        entry.key,
        entry.written()
    );
    entry.refuse(message, None)
}

/// A date with no time beside it.
fn day(value: &DeValue<'_>) -> Option<String> {
    match value {
        DeValue::Datetime(moment) if moment.time.is_none() => Some(moment.date?.to_string()),
        _ => None,
    }
}

fn refuse_length<T>(entry: &Entry<'_>, error: &LengthError) -> Option<T> {
    entry.refuse(format!("`{}`: {error}", entry.key), error.hint())
}
