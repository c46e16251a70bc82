//! Reads values that are no lengths: shares, temperatures, and the values of findings.

use super::field::{ANY_LENGTH, length, number};
use super::table::Entry;
use crate::base::fixed;
use crate::base::length::has_length_unit;
use crate::base::length::letters::in_plain_letters;
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// A share written with its `%`, or a bare 0; `allowed` is in percent.
pub(super) fn share(entry: &Entry<'_>, allowed: RangeInclusive<f64>) -> Option<f64> {
    let wanted = "write it with its sign: `\"0.3 %\"`";
    let percent = match (entry.value.get_ref(), number(entry)) {
        (_, Some(0.0)) => 0.0,
        (DeValue::String(text), _) => match percent(text) {
            Some(percent) => percent,
            None => return not_a(entry, "percentage", wanted),
        },
        _ => return entry.wrong_kind("a percentage", wanted),
    };
    within(entry, percent, allowed, "%").map(|percent| percent / 100.0)
}

/// A temperature in degrees Celsius, bare or with its unit.
pub(super) fn temperature(entry: &Entry<'_>, allowed: RangeInclusive<f64>) -> Option<f64> {
    let wanted = "write `\"20 degC\"`, or a bare number of degrees Celsius";
    let degrees = match (entry.value.get_ref(), number(entry)) {
        (_, Some(degrees)) => degrees,
        (DeValue::String(text), None) => match celsius(text) {
            Some(degrees) => degrees,
            None => return not_a(entry, "temperature", wanted),
        },
        _ => return entry.wrong_kind("a temperature", wanted),
    };
    within(entry, degrees, allowed, "degC")
}

/// A bare number of `unit`, within `allowed`.
pub(super) fn number_within(
    entry: &Entry<'_>,
    allowed: RangeInclusive<f64>,
    unit: &str,
) -> Option<f64> {
    match number(entry) {
        Some(number) => within(entry, number, allowed, unit),
        None => entry.wrong_kind("a number", &format!("write a bare number of {unit}")),
    }
}

/// A finding's value: a plain number as it stands, a length in mm, or a percentage as a share.
pub(super) fn finding_value(entry: &Entry<'_>) -> Option<f64> {
    let wanted = "write `14.2`, `\"14.2 mm\"` or `\"35 %\"`, as the finding tells it";
    let value = match (entry.value.get_ref(), number(entry)) {
        (_, Some(value)) => value,
        (DeValue::String(text), None) if has_length_unit(text) => {
            return length(entry, ANY_LENGTH);
        }
        (DeValue::String(text), None) => match percent(text) {
            Some(percent) => percent / 100.0,
            None => return not_a(entry, "value", wanted),
        },
        _ => return entry.wrong_kind("a value", wanted),
    };
    if value.is_finite() {
        Some(value)
    } else {
        not_a(entry, "value", wanted)
    }
}

fn percent(text: &str) -> Option<f64> {
    let text = in_plain_letters(text);
    decimal(text.trim().strip_suffix('%')?)
}

fn celsius(text: &str) -> Option<f64> {
    let text = in_plain_letters(text);
    let text = text.trim();
    let units = ["degC", "°C", "℃"];
    decimal(units.iter().find_map(|unit| text.strip_suffix(unit))?)
}

/// A finite decimal number.
fn decimal(text: &str) -> Option<f64> {
    let number: f64 = text.trim().parse().ok()?;
    number.is_finite().then_some(number)
}

fn within(entry: &Entry<'_>, value: f64, allowed: RangeInclusive<f64>, unit: &str) -> Option<f64> {
    if allowed.contains(&value) {
        return Some(value);
    }
    let message = format!(
        "`{} = {}` is out of range: {} to {} {unit} is allowed",
        entry.key,
        entry.written(),
        fixed(*allowed.start(), 3),
        fixed(*allowed.end(), 3)
    );
    entry.refuse(message, None)
}

fn not_a<T>(entry: &Entry<'_>, what: &str, hint: &str) -> Option<T> {
    let message = format!("`{} = {}` is not a {what}", entry.key, entry.written());
    entry.refuse(message, Some(hint.into()))
}
