//! Decimals, fractions and both together.

use super::LengthError;
use super::letters::vulgar_fraction;

/// Why a text is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum NumberFault {
    NotANumber,
    DecimalComma,
    NotFinite,
    ZeroDenominator,
    ImproperFraction,
}

impl NumberFault {
    pub(super) fn of_length(self, text: &str) -> LengthError {
        self.named(text, LengthError::NotALength)
    }

    pub(super) fn of_angle(self, text: &str) -> LengthError {
        self.named(text, LengthError::NotAnAngle)
    }

    fn named(self, text: &str, not_a_number: fn(String) -> LengthError) -> LengthError {
        let text = text.to_owned();
        match self {
            Self::NotANumber => not_a_number(text),
            Self::DecimalComma => LengthError::DecimalComma(text),
            Self::NotFinite => LengthError::NotFinite(text),
            Self::ZeroDenominator => LengthError::ZeroDenominator(text),
            Self::ImproperFraction => LengthError::ImproperFraction(text),
        }
    }
}

/// Whether the text is one of the words for numbers that are none.
pub(super) fn is_not_finite(text: &str) -> bool {
    let word = text.trim_start_matches(['+', '-']).to_lowercase();
    matches!(word.as_str(), "nan" | "inf" | "infinity")
}

/// Reads `63.5`, `5/8`, `2 1/2`, `2-1/2`, `2½`, each with a sign if need be.
pub(super) fn read_number(text: &str) -> Result<f64, NumberFault> {
    if is_not_finite(text) {
        return Err(NumberFault::NotFinite);
    }
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text).trim_start()),
    };
    let number = if let Some((whole, part)) = split_single_letter_fraction(text) {
        read_whole(whole)? + part
    } else if let Some((before, denominator)) = text.split_once('/') {
        read_fraction(before, denominator)?
    } else {
        read_decimal(text)?
    };
    if number.is_finite() {
        Ok(sign * number)
    } else {
        Err(NumberFault::NotFinite)
    }
}

fn split_single_letter_fraction(text: &str) -> Option<(&str, f64)> {
    let last = text.chars().next_back()?;
    let ((over, under), _) = vulgar_fraction(last)?;
    let part = f64::from(over) / f64::from(under);
    Some((&text[..text.len() - last.len_utf8()], part))
}

fn read_fraction(before: &str, denominator: &str) -> Result<f64, NumberFault> {
    let before = before.trim_end();
    let whole = before.trim_end_matches(|letter: char| letter.is_ascii_digit());
    let numerator = read_digits(&before[whole.len()..])?;
    let denominator = read_digits(denominator.trim_start())?;
    if denominator == 0.0 {
        return Err(NumberFault::ZeroDenominator);
    }
    if !whole.is_empty() && numerator >= denominator {
        return Err(NumberFault::ImproperFraction);
    }
    Ok(read_whole(whole)? + numerator / denominator)
}

/// The whole number before a fraction, with the blank or hyphen between them.
fn read_whole(text: &str) -> Result<f64, NumberFault> {
    if text.is_empty() {
        return Ok(0.0);
    }
    read_digits(text.strip_suffix('-').unwrap_or(text.trim_end()))
}

fn read_digits(text: &str) -> Result<f64, NumberFault> {
    if text.is_empty() || !text.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(NumberFault::NotANumber);
    }
    text.parse().map_err(|_| NumberFault::NotANumber)
}

fn read_decimal(text: &str) -> Result<f64, NumberFault> {
    // What the standard library reads besides, such as `infinity`, is no length.
    let in_decimal = |byte: u8| byte.is_ascii_digit() || b".eE+-".contains(&byte);
    let begins = |byte: &u8| byte.is_ascii_digit() || *byte == b'.';
    if text.as_bytes().first().is_some_and(begins)
        && text.bytes().all(in_decimal)
        && let Ok(number) = text.parse()
    {
        return Ok(number);
    }
    match text.split_once(',') {
        Some((whole, part)) if read_digits(whole).is_ok() && read_digits(part).is_ok() => {
            Err(NumberFault::DecimalComma)
        }
        _ => Err(NumberFault::NotANumber),
    }
}
