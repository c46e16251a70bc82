//! Reads torques as their makers give them.

use super::entry::Entry;
use super::scalar::{not_a, ranged};
use super::value::Torque;
use crate::base::length::letters::in_plain_letters;
use toml::de::DeValue;

/// Newton metres in a pound-force foot: 0.3048 m times 4.448 221 615 260 5 N, exactly (NIST SP 811,
/// appendix B.8, rounds it to 1.355 818).
pub const POUND_FOOT: f64 = 0.3048 * 4.448_221_615_260_5;

/// A torque as its maker gives it, within `allowed` N m.
pub(super) fn torque(entry: &Entry<'_>, allowed: (f64, f64)) -> Option<Torque> {
    let hint = "write `86 N m`, `80 to 90 N m` or `63 lbf ft`, as the maker gives it";
    let DeValue::String(text) = entry.value.get_ref() else {
        return entry.wrong_kind("a torque with its unit", hint);
    };
    let Some(torque) = read_torque(text) else {
        return not_a(entry, "a torque", hint);
    };
    for end in [torque.least, torque.greatest] {
        ranged(entry, end, allowed, " N m", None)?;
    }
    Some(torque)
}

fn read_torque(written: &str) -> Option<Torque> {
    let text = &*in_plain_letters(written);
    let (first, rest) = match text.split_once(" to ") {
        Some((first, rest)) => (Some(first.trim().parse::<f64>().ok()?), rest),
        None => (None, text),
    };
    let rest = rest.trim();
    let end = rest.find(|letter: char| !letter.is_ascii_digit() && letter != '.')?;
    let (last, unit) = rest.split_at(end);
    let last: f64 = last.parse().ok()?;
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn torques_as_people_write_them() {
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
