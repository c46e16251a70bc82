//! Reads what only kit files hold: counts, masses, torques.

use super::field::number;
use super::kit::Torque;
use super::table::Entry;
use crate::base::fixed;
use crate::base::length::letters::in_plain_letters;
use std::ops::RangeInclusive;
use toml::de::DeValue;

/// Kilograms in an avoirdupois pound, exactly (NIST SP 811, appendix B.8).
pub const POUND: f64 = 0.453_592_37;

/// Newton metres in a pound-force foot: 0.3048 m times 4.448 221 615 260 5 N, exactly (NIST SP 811,
/// appendix B.8, rounds it to 1.355 818).
pub const POUND_FOOT: f64 = 0.3048 * 4.448_221_615_260_5;

/// Torques that are believed, N m.
const TORQUE: RangeInclusive<f64> = 0.1..=2000.0;

const MASS_HINT: &str = "write `18 kg`, `40 lb`, or a bare number of kilograms";
const TORQUE_HINT: &str = "write `86 N m`, `80 to 90 N m` or `63 lbf ft`, as the maker gives it";

/// A whole number within `allowed`, also as a text `4 ×`.
pub(super) fn count(entry: &Entry<'_>, allowed: RangeInclusive<u32>) -> Option<u32> {
    let (least, most) = (*allowed.start(), *allowed.end());
    let read = match entry.value.get_ref() {
        DeValue::Integer(_) => number(entry),
        DeValue::String(text) => times(text).map(f64::from),
        _ => None,
    };
    if read.is_none() {
        return entry.wrong_kind("a whole number", "write it with digits, without quotes");
    }
    match read {
        Some(whole) if (f64::from(least)..=f64::from(most)).contains(&whole) => Some(whole as u32),
        _ => {
            let message = format!(
                "`{} = {}` is out of range: {least} to {most} is allowed",
                entry.key,
                entry.written()
            );
            entry.refuse(message, None)
        }
    }
}

/// `4 ×` as things are counted.
fn times(text: &str) -> Option<u32> {
    let text = in_plain_letters(text).to_lowercase();
    text.trim().strip_suffix('x')?.trim_end().parse().ok()
}

/// A mass in kg, within `allowed`.
pub(super) fn mass(entry: &Entry<'_>, allowed: RangeInclusive<f64>) -> Option<f64> {
    let read = match (entry.value.get_ref(), number(entry)) {
        (_, Some(number)) => Some(number),
        (DeValue::String(text), None) => read_mass(text),
        _ => return entry.wrong_kind("a mass", MASS_HINT),
    };
    let Some(mass) = read else {
        let message = format!("`{} = {}` is not a mass", entry.key, entry.written());
        return entry.refuse(message, Some(MASS_HINT.into()));
    };
    // A number that is not one lies in no range.
    if allowed.contains(&mass) {
        return Some(mass);
    }
    let message = format!(
        "`{} = {}` is out of range: {} to {} kg is allowed",
        entry.key,
        entry.written(),
        fixed(*allowed.start(), 3),
        fixed(*allowed.end(), 3)
    );
    entry.refuse(message, None)
}

fn read_mass(text: &str) -> Option<f64> {
    let text = &*in_plain_letters(text);
    let (number, unit) = number_and_unit(text)?;
    match unit {
        "kg" => Some(number),
        "lb" | "lbs" => Some(number * POUND),
        _ => None,
    }
}

/// A torque as its maker gives it.
pub(super) fn torque(entry: &Entry<'_>) -> Option<Torque> {
    let DeValue::String(text) = entry.value.get_ref() else {
        return entry.wrong_kind("a torque with its unit", TORQUE_HINT);
    };
    let Some(torque) = read_torque(text) else {
        let message = format!("`{} = {}` is not a torque", entry.key, entry.written());
        return entry.refuse(message, Some(TORQUE_HINT.into()));
    };
    if TORQUE.contains(&torque.least) && TORQUE.contains(&torque.greatest) {
        return Some(torque);
    }
    let message = format!(
        "`{} = {}` is out of range: {} to {} N m is allowed",
        entry.key,
        entry.written(),
        fixed(*TORQUE.start(), 3),
        fixed(*TORQUE.end(), 3)
    );
    entry.refuse(message, None)
}

fn read_torque(written: &str) -> Option<Torque> {
    let text = &*in_plain_letters(written);
    let (first, rest) = match text.split_once(" to ") {
        Some((first, rest)) => (Some(first.trim().parse::<f64>().ok()?), rest),
        None => (None, text),
    };
    let (last, unit) = number_and_unit(rest)?;
    let (factor, in_newton_metres) = match unit.replace([' ', '·', '⋅', '-'], "").as_str() {
        "Nm" => (1.0, true),
        "lbfft" | "lbft" | "ftlb" | "ftlbf" => (POUND_FOOT, false),
        _ => return None,
    };
    let (least, greatest) = (first.unwrap_or(last) * factor, last * factor);
    (least <= greatest).then(|| Torque {
        written: written.trim().to_owned(),
        least,
        greatest,
        in_newton_metres,
    })
}

/// `18.5 kg`: the number, and the letters after it.
fn number_and_unit(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let end = text.find(|letter: char| !letter.is_ascii_digit() && letter != '.')?;
    let (number, unit) = text.split_at(end);
    Some((number.parse().ok()?, unit.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn masses_and_torques_as_people_write_them() {
        assert_eq!(read_mass("18 kg"), Some(18.0));
        assert_eq!(read_mass("18.5kg"), Some(18.5));
        // 100 lb is 45.359237 kg by definition.
        assert!((read_mass("100 lb").unwrap() - 45.359_237).abs() < 1e-12);
        assert_eq!(
            [times("4 ×"), times("12x"), times("4")],
            [Some(4), Some(12), None]
        );
        for odd in ["", "kg", "18", "-3 kg", "1e3 kg", "1.2.3 kg", "18 stone"] {
            assert_eq!(read_mass(odd), None, "{odd}");
        }
        // 1 lbf ft is 1.355 817 948 331 400 4 N m (NIST SP 811, appendix B.8).
        let foot = read_torque("100 lbf ft").unwrap();
        assert!((foot.least - 135.581_794_833_140_04).abs() < 1e-9);
        assert!(!foot.in_newton_metres);
        let range = read_torque("80 to 90 N m").unwrap();
        assert_eq!((range.least, range.greatest), (80.0, 90.0));
        for same in ["86 N m", "86 Nm", "86 N·m", "86Nm", "86\u{a0}N⋅m"] {
            assert_eq!(read_torque(same).unwrap().least, 86.0);
        }
        for odd in ["86", "N m", "90 to 80 N m", "86 kg", "86 to N m", "-5 N m"] {
            assert_eq!(read_torque(odd), None, "{odd}");
        }
    }
}
