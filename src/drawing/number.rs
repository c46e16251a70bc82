//! The one place where numbers become text.

/// `value` with at most `decimals` places, halves away from zero, no trailing zeros and no
/// minus zero.
pub fn fixed(value: f64, decimals: usize) -> String {
    let mut text = String::with_capacity(12);
    push_fixed(&mut text, value, decimals);
    text
}

/// As [`fixed`], written at the end of `out`.
pub(crate) fn push_fixed(out: &mut String, value: f64, decimals: usize) {
    // Above this a product is no longer exact to its last digit.
    const EXACT: f64 = 9e15;
    let scale = 10_u64.pow(decimals.min(15) as u32);
    let scaled = (value * scale as f64).round();
    if decimals > 15 || scaled.abs() >= EXACT || !scaled.is_finite() {
        return push_long(out, value, decimals);
    }
    let (whole, part) = (scaled.abs() as u64 / scale, scaled.abs() as u64 % scale);
    if scaled < 0.0 {
        out.push('-');
    }
    push_integer(out, whole, 1);
    if part != 0 {
        out.push('.');
        push_integer(out, part, decimals);
        out.truncate(out.trim_end_matches('0').len());
    }
}

fn push_integer(out: &mut String, mut value: u64, digits: usize) {
    let mut text = [b'0'; 20];
    let mut start = text.len();
    while value > 0 || text.len() - start < digits {
        start -= 1;
        text[start] = b'0' + (value % 10) as u8;
        value /= 10;
    }
    out.extend(text[start..].iter().map(|&digit| char::from(digit)));
}

fn push_long(out: &mut String, value: f64, decimals: usize) {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    out.push_str(if text == "-0" { "0" } else { &text });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_have_no_noise() {
        for (value, decimals, text) in [
            (0.0, 4, "0"),
            (-0.0, 4, "0"),
            (-0.00004, 4, "0"),
            (0.1 + 0.2, 4, "0.3"),
            (0.05, 4, "0.05"),
            (-12.3456789, 4, "-12.3457"),
            (100.0, 4, "100"),
            (2.5, 0, "3"),
            (-2.5, 0, "-3"),
            (0.125, 2, "0.13"),
            (1e12, 4, "1000000000000"),
            (1e18, 2, "1000000000000000000"),
            (99.99999, 4, "100"),
        ] {
            assert_eq!(fixed(value, decimals), text, "{value} to {decimals} places");
        }
    }

    #[test]
    fn text_reads_back_within_half_a_unit_of_the_last_place() {
        let mut value = 1e-5;
        while value < 1e7 {
            for signed in [value, -value] {
                let text = fixed(signed, 4);
                let back: f64 = text.parse().unwrap();
                assert!(
                    (back - signed).abs() <= 0.500_001e-4,
                    "{signed} became {text}"
                );
                let long: f64 = format!("{signed:.4}").parse().unwrap();
                assert!((back - long).abs() < 1.000_1e-4, "{text} against {long}");
            }
            value *= 1.37;
        }
    }
}
