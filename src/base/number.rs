//! The one place where numbers become text.

/// `value` with at most `decimals` places, halves away from zero, no trailing zeros and no
/// minus zero.
pub fn fixed(value: f64, decimals: usize) -> String {
    let mut text = Vec::with_capacity(12);
    push_fixed(&mut text, value, decimals);
    // Digits, a point and a minus are always text.
    String::from_utf8(text).unwrap_or_default()
}

/// As [`fixed`], written at the end of `out`: as bytes, since most of a file is numbers, and text
/// would be proved to be text at each of them.
pub(crate) fn push_fixed(out: &mut Vec<u8>, value: f64, decimals: usize) {
    // Above this a product is no longer exact to its last digit.
    const EXACT: f64 = 9e15;
    let scale = 10_u64.pow(decimals.min(15) as u32);
    let scaled = (value * scale as f64).round();
    if decimals > 15 || scaled.abs() >= EXACT || !scaled.is_finite() {
        return push_long(out, value, decimals);
    }
    let magnitude = scaled.abs() as u64;
    let (whole, part) = (magnitude / scale, magnitude % scale);
    let mut digits = Digits::new();
    if part != 0 {
        digits.put(part, decimals, true);
        digits.sign(b'.');
    }
    digits.put(whole, 1, false);
    if scaled < 0.0 {
        digits.sign(b'-');
    }
    out.extend_from_slice(&digits.signs[digits.start..]);
}

/// A number's signs, put together from the last to the first.
struct Digits {
    signs: [u8; 40],
    start: usize,
}

impl Digits {
    fn new() -> Self {
        Self {
            signs: [0; 40],
            start: 40,
        }
    }

    fn sign(&mut self, sign: u8) {
        self.start -= 1;
        self.signs[self.start] = sign;
    }

    /// At least `least` digits of `value`, without the zeros at its end where it is `trimmed`.
    fn put(&mut self, mut value: u64, least: usize, trimmed: bool) {
        let mut left = least;
        let mut trimming = trimmed;
        while value > 0 || left > 0 {
            let digit = (value % 10) as u8;
            trimming &= digit == 0;
            if !trimming {
                self.sign(b'0' + digit);
            }
            value /= 10;
            left = left.saturating_sub(1);
        }
    }
}

fn push_long(out: &mut Vec<u8>, value: f64, decimals: usize) {
    let mut text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    out.extend_from_slice(if text == "-0" { b"0" } else { text.as_bytes() });
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
