//! Reads single values: texts, names, lengths, angles, choices, dates, quantities.
//!
//! Each function reports what is wrong with its value and then returns `None`.

use super::entry::Entry;
use super::keys::{Bare, Pair, Quantity, SHARE};
use super::value::Value;
use crate::base::fixed;
use crate::base::length::letters::in_plain_letters;
use crate::base::length::{
    self, LengthError, Offset, Units, has_angle_unit, has_length_unit, length_of, parse_angle,
    parse_length, parse_offset,
};
use crate::base::words::{is_device_name, is_unprintable, listed, nearest};
use toml::de::DeValue;

/// Longest line of text, letters.
pub(super) const LONGEST_TEXT: usize = 500;

/// Longest number, revision or name of a family, letters.
pub(super) const LONGEST_WORD: usize = 64;

/// Lengths that a file may hold anywhere, mm.
const ANY: (f64, f64) = (-length::LONGEST, length::LONGEST);

/// One line of text; may be empty.
pub(super) fn text(entry: &Entry<'_>) -> Option<String> {
    let DeValue::String(text) = entry.value.get_ref() else {
        return entry.wrong_kind("a text", "put it between quotation marks");
    };
    let title = entry.title();
    if let Some(letter) = text.chars().find(|letter| is_unprintable(*letter)) {
        let message = format!(
            "{title} holds `{}`, which can't be printed: letters, digits, signs and blanks are \
             allowed",
            letter.escape_default()
        );
        return entry.refuse(message, None);
    }
    let letters = text.chars().count();
    if letters > LONGEST_TEXT {
        let message = format!("{title} has {letters} letters: at most {LONGEST_TEXT} are allowed");
        return entry.refuse(message, None);
    }
    Some(text.to_string())
}

/// One line of text that says something.
pub(super) fn filled_text(entry: &Entry<'_>) -> Option<String> {
    let text = text(entry)?;
    if text.trim().is_empty() {
        return entry.refuse(format!("{} is empty", entry.title()), None);
    }
    Some(text)
}

/// A word that can name a file anywhere: letters, digits, `-`, `_` and `.`; may be empty. Windows
/// drops dots at the end of a name.
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
        let hint = "files are named by it: choose another";
        return entry.is(
            " is a name that Windows keeps for a device",
            Some(hint.into()),
        );
    } else if word.ends_with('.') {
        "ends with a dot"
    } else {
        return Some(word);
    };
    let allowed = format!(
        " {trouble}: up to {LONGEST_WORD} letters a to z, digits, `-`, `_` and `.` are allowed, with \
         no dot at either end"
    );
    entry.is(&allowed, None)
}

/// As [`word`], and not empty.
pub(super) fn filled_word(entry: &Entry<'_>) -> Option<String> {
    filled_text(entry)?;
    word(entry)
}

/// As [`filled_word`], for what names of files begin with: one that begins with `-` is taken for an
/// option by whatever it is given to.
pub(super) fn head_word(entry: &Entry<'_>) -> Option<String> {
    let word = filled_word(entry)?;
    if word.starts_with('-') {
        let hint = "files are named by it, and programs take such a name for an option: begin it \
                    with a letter or a digit";
        return entry.is(" begins with `-`", Some(hint.into()));
    }
    Some(word)
}

/// A length in mm, within `allowed`.
pub(super) fn length(entry: &Entry<'_>, allowed: (f64, f64)) -> Option<f64> {
    let units = entry.reading.units.get();
    let read = match (entry.value.get_ref(), entry.number()) {
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
    let length = told(entry, read)?;
    let is = if entry.written().ends_with(&format!("{}\"", units.word())) {
        String::new()
    } else {
        format!(" ({})", units.exact(length))
    };
    within(length, allowed).or_else(|| {
        let (least, most) = (units.exact(allowed.0), units.exact(allowed.1));
        let trouble = format!("{is} is out of range: {least} to {most} is allowed");
        entry.is(&trouble, None)
    })
}

/// An angle in degrees, within `allowed`.
pub(super) fn angle(entry: &Entry<'_>, allowed: (f64, f64)) -> Option<f64> {
    let DeValue::String(text) = entry.value.get_ref() else {
        return entry.wrong_kind("an angle", "write `\"12 deg\"`");
    };
    let angle = told(entry, parse_angle(text))?;
    ranged(entry, angle, allowed, " deg", None)
}

/// A shape's value: a length, or an angle with its unit.
pub(super) fn value(entry: &Entry<'_>) -> Option<Value> {
    let angle = match entry.value.get_ref() {
        DeValue::String(text) if has_angle_unit(text) => Some(told(entry, parse_angle(text))?),
        _ => None,
    };
    Some(Value {
        number: angle.or_else(|| length(entry, ANY))?,
        angle: angle.is_some(),
    })
}

/// A distance with its side: `4 mm left`, or 0.
pub(super) fn offset(entry: &Entry<'_>) -> Option<Offset> {
    let units = entry.reading.units.get();
    let read = match (entry.value.get_ref(), entry.number()) {
        (_, Some(number)) => length_of(number, &entry.written(), units)
            .and_then(|_| parse_offset(&number.to_string(), units)),
        (DeValue::String(text), None) => parse_offset(text, units),
        _ => {
            let hint = match units {
                Units::Mm => "write `4 mm left`, or 0",
                Units::In => "write `\"5/32 in left\"`, or 0",
            };
            return entry.wrong_kind("a distance with its side", hint);
        }
    };
    told(entry, read)
}

/// Two lengths, mm.
pub(super) fn pair(entry: &Entry<'_>, pair: &Pair) -> Option<(f64, f64)> {
    match entry.value.get_ref() {
        DeValue::Array(items) if items.len() == 2 => {
            let first = length(&entry.item(items.first()?), pair.first);
            let second = length(&entry.item(items.get(1)?), pair.second);
            Some((first?, second?))
        }
        DeValue::Array(_) => {
            let (written, key, each) = (entry.written(), entry.key, pair.each);
            let message = format!("`{written}` in `{key}` is not two lengths: {each}");
            entry.refuse(message, Some(pair.example.into()))
        }
        _ => entry.wrong_kind("two lengths", pair.example),
    }
}

/// One of a few known words.
/// For others `hint` may know what is meant.
pub(super) fn choice(
    entry: &Entry<'_>,
    known: Vec<&'static str>,
    hint: fn(&str) -> Option<String>,
) -> Option<String> {
    let listed = listed(&known, " or ");
    match entry.value.get_ref() {
        DeValue::String(text) if known.iter().any(|word| word == text) => Some(text.to_string()),
        DeValue::String(text) => {
            let near = || nearest(text, known).map(|near| format!("did you mean `{near}`?"));
            let hint = hint(text).or_else(near);
            entry.is(&format!(" is not known: {listed} is allowed"), hint)
        }
        _ => entry.wrong_kind(&listed, "put it between quotation marks"),
    }
}

/// A date, as TOML writes it or as a text of the same letters: `YYYY-MM-DD`.
pub(super) fn date(entry: &Entry<'_>) -> Option<String> {
    let day = |value: &DeValue<'_>| match value {
        DeValue::Datetime(moment) if moment.time.is_none() => Some(moment.date?.to_string()),
        _ => None,
    };
    let read = match entry.value.get_ref() {
        DeValue::String(text) => (DeValue::parse(text).ok()).and_then(|value| day(value.get_ref())),
        value => day(value),
    };
    read.or_else(|| {
        let trouble = " is not a date: a day of the calendar as `YYYY-MM-DD` is allowed";
        entry.is(trouble, None)
    })
}

/// A quantity, within `allowed` of its unit, as the program calculates with it.
pub(super) fn number(entry: &Entry<'_>, quantity: &Quantity, allowed: (f64, f64)) -> Option<f64> {
    let is_whole = matches!(entry.value.get_ref(), DeValue::Integer(_));
    let bare = entry.number().filter(|number| match quantity.bare {
        Bare::Any => true,
        Bare::Whole => is_whole,
        Bare::Zero => *number == 0.0,
    });
    let number = match (bare, entry.value.get_ref()) {
        (Some(number), _) => number,
        (None, DeValue::String(text)) if !quantity.units.is_empty() => {
            match with_unit(text, quantity.units) {
                Some(number) if quantity.bare != Bare::Whole || number.fract() == 0.0 => number,
                _ => return not_a(entry, quantity.name, quantity.hint),
            }
        }
        _ => return entry.wrong_kind(quantity.name, quantity.hint),
    };
    ranged(entry, number, allowed, quantity.unit, quantity.beyond)
        .map(|number| number / quantity.divisor)
}

/// A finding's value: a plain number as it stands, a length in mm, or a percentage as a share.
pub(super) fn finding_value(entry: &Entry<'_>) -> Option<f64> {
    let wanted = "write `14.2`, `\"14.2 mm\"` or `\"35 %\"`, as the finding tells it";
    let value = match (entry.value.get_ref(), entry.number()) {
        (_, Some(value)) => Some(value).filter(|value| value.is_finite()),
        (DeValue::String(text), None) if has_length_unit(text) => return length(entry, ANY),
        (DeValue::String(text), None) => {
            with_unit(text, SHARE.units).map(|percent| percent / SHARE.divisor)
        }
        _ => return entry.wrong_kind("a value", wanted),
    };
    value.or_else(|| not_a(entry, "a value", wanted))
}

/// An expression as written; a literal with its unit stands as its bare number of mm or degrees.
pub(super) fn expression(entry: &Entry<'_>) -> Option<String> {
    match entry.value.get_ref() {
        DeValue::String(text) if is_literal(text) => Some(value(entry)?.number.to_string()),
        DeValue::String(_) => filled_text(entry),
        _ if entry.number().is_some() => Some(length(entry, ANY)?.to_string()),
        _ => entry.wrong_kind(
            "an expression",
            "write `width / 2`, `5 mm` or a bare number",
        ),
    }
}

/// Whether the text is a number with its unit, and no arithmetic on parameters.
fn is_literal(text: &str) -> bool {
    let read = if has_angle_unit(text) {
        parse_angle(text)
    } else if has_length_unit(text) {
        parse_length(text, Units::Mm)
    } else {
        return false;
    };
    // A parameter may be named as a unit is: `1 - m` is arithmetic.
    !matches!(
        read,
        Err(LengthError::NotALength(_) | LengthError::NotAnAngle(_))
    )
}

pub(super) fn not_a<T>(entry: &Entry<'_>, what: &str, hint: &str) -> Option<T> {
    entry.is(&format!(" is not {what}"), Some(hint.into()))
}

/// A number that is not one lies in no range.
fn within(number: f64, (least, most): (f64, f64)) -> Option<f64> {
    (least..=most).contains(&number).then_some(number)
}

pub(super) fn ranged(
    entry: &Entry<'_>,
    number: f64,
    allowed: (f64, f64),
    unit: &str,
    hint: Option<&str>,
) -> Option<f64> {
    within(number, allowed).or_else(|| {
        let (least, most) = (fixed(allowed.0, 3), fixed(allowed.1, 3));
        let trouble = format!(" is out of range: {least} to {most}{unit} is allowed");
        entry.is(&trouble, hint.map(Into::into))
    })
}

fn told<T>(entry: &Entry<'_>, read: Result<T, LengthError>) -> Option<T> {
    match read {
        Ok(read) => Some(read),
        Err(error) => entry.refuse(format!("`{}`: {error}", entry.key), error.hint()),
    }
}

/// A finite decimal number with one of the units, in what one of each is.
fn with_unit(text: &str, units: &[(&str, f64)]) -> Option<f64> {
    let text = in_plain_letters(text);
    let text = text.trim();
    let (number, one) =
        (units.iter()).find_map(|(unit, one)| Some((text.strip_suffix(unit)?, one)))?;
    let number: f64 = number.trim().parse().ok()?;
    number.is_finite().then_some(number * one)
}

#[cfg(test)]
mod tests {
    use super::super::keys::{COUNT, MASS};
    use super::*;

    #[test]
    fn masses_as_people_write_them() {
        let mass = |text| with_unit(text, MASS.units);
        assert_eq!(mass("18 kg"), Some(18.0));
        assert_eq!(mass("18.5kg"), Some(18.5));
        // 100 lb is 45.359237 kg by definition.
        for pounds in ["100 lb", "100 lbs"] {
            assert!((mass(pounds).unwrap() - 45.359_237).abs() < 1e-12);
        }
        let times = |text| with_unit(text, COUNT.units);
        assert_eq!(
            [times("4 ×"), times("12x"), times("4")],
            [Some(4.0), Some(12.0), None]
        );
        for odd in ["", "kg", "18", "1.2.3 kg", "18 stone", "inf kg", "nan kg"] {
            assert_eq!(mass(odd), None, "{odd}");
        }
    }
}
