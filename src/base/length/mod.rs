//! Lengths, angles and sides as people write them.
//!
//! A number is a decimal (`63.5`), a fraction (`5/8`, `½`) or both together (`2 1/2`, `2-1/2`,
//! `2½`), with a sign if need be. Letters that phones and word processors put in the place of plain
//! ones are read as what is meant. Lengths come out in mm, angles in degrees; 1 in = 25.4 mm
//! exactly. Whether a sign or a size makes sense is for the caller to say.

mod error;
pub(crate) mod letters;
mod number;
#[cfg(test)]
mod tests;
mod told;

pub use error::LengthError;
pub use told::Told;

use crate::base::Direction;
use crate::base::direction::{likely, names_side_by_country};
use crate::base::words;
use letters::in_plain_letters;
use number::read_number;
use serde::{Deserialize, Serialize};

/// Longest length that is believed, mm.
pub const LONGEST: f64 = 5000.0;

/// Millimetres in an inch, exactly.
pub const INCH: f64 = 25.4;

/// Widest angle that is believed, degrees.
const WIDEST: f64 = 360.0;

/// Units of bare numbers in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches of 25.4 mm exactly.
    In,
}

impl Units {
    /// Both, in the order that messages list them.
    pub const ALL: [Self; 2] = [Self::Mm, Self::In];

    /// The word for it in files and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::In => "in",
        }
    }

    /// Whether they are millimetres.
    pub(crate) fn is_mm(&self) -> bool {
        *self == Self::Mm
    }

    /// Millimetres in one.
    pub fn in_mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::In => INCH,
        }
    }
}

/// A distance along the datum edge to one side: `4 mm left`, or 0.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Offset {
    /// Distance, mm, 0 or more.
    pub distance: f64,
    /// The vehicle's side; `None` only for 0.
    pub towards: Option<Direction>,
}

/// Reads a length, mm; a bare number is in `units`.
///
/// # Errors
/// Text that is no number, units other than mm, cm, m and in, a denominator of 0, and lengths
/// that are not finite or over [`LONGEST`] either way.
pub fn parse_length(text: &str, units: Units) -> Result<f64, LengthError> {
    let text = &*in_plain_letters(text);
    let text = text.trim();
    let (number, unit) = split_unit(text);
    let factor = match unit {
        "" => units.in_mm(),
        "mm" => 1.0,
        "cm" => 10.0,
        "m" => 1000.0,
        unit if is_inch(unit) => INCH,
        _ if number::is_not_finite(text) => return Err(LengthError::NotFinite(text.into())),
        _ if number.is_empty() => return Err(LengthError::NotALength(text.into())),
        _ => {
            return Err(LengthError::UnknownUnit {
                text: text.into(),
                unit: unit.into(),
            });
        }
    };
    let number = read_number(number).map_err(|fault| fault.of_length(text))?;
    believed(number * factor, text)
}

/// The length of a bare number in `units`, mm; `written` is how it stands in its file.
///
/// # Errors
/// As [`parse_length`]: not finite, or over [`LONGEST`] either way.
pub fn length_of(number: f64, written: &str, units: Units) -> Result<f64, LengthError> {
    believed(number * units.in_mm(), written)
}

/// Whether the text ends in a unit of length, so that it can be nothing but a length.
pub fn has_length_unit(text: &str) -> bool {
    let text = in_plain_letters(text);
    let unit = split_unit(text.trim()).1;
    matches!(unit, "mm" | "cm" | "m") || is_inch(unit)
}

/// Whether a unit is one of the ways to write inches.
fn is_inch(unit: &str) -> bool {
    matches!(unit, "in" | "in." | "inch" | "inches" | "\"")
}

/// Whether the text ends in a unit of angle.
pub fn has_angle_unit(text: &str) -> bool {
    let text = in_plain_letters(text);
    matches!(split_unit(text.trim()).1, "deg" | "°")
}

/// Reads an angle with its unit, `12 deg` or `12°`; degrees.
///
/// # Errors
/// Text that is no number, a unit that is missing or another, a denominator of 0, and angles
/// that are not finite or over 360 degrees either way.
pub fn parse_angle(text: &str) -> Result<f64, LengthError> {
    let text = &*in_plain_letters(text);
    let text = text.trim();
    let number = split_unit(text).0;
    if !has_angle_unit(text) {
        return Err(if number::is_not_finite(text) {
            LengthError::NotFinite(text.into())
        } else {
            LengthError::NotAnAngle(text.into())
        });
    }
    let degrees = read_number(number).map_err(|fault| fault.of_angle(text))?;
    if degrees.abs() > WIDEST {
        return Err(LengthError::TooWide(text.into()));
    }
    Ok(degrees)
}

/// Reads a distance with the side it goes to: `4 mm left`, or 0 with none.
///
/// # Errors
/// What [`parse_length`] refuses; a distance without a side, a side that is not a direction of
/// the vehicle, and a negative distance.
pub fn parse_offset(text: &str, units: Units) -> Result<Offset, LengthError> {
    let text = &*in_plain_letters(text);
    let text = text.trim();
    if names_side_by_country(text) {
        return Err(LengthError::SideByCountry(text.into()));
    }
    let (rest, word) = split_unit(text);
    let distance = match Direction::from_word(word) {
        Some(_) => parse_length(rest, units)?,
        None => parse_length(text, units).map_err(|error| meant_side(error, rest, word, units))?,
    };
    let towards = Direction::from_word(word);
    if distance == 0.0 {
        // A minus sign on nothing is nothing.
        return Ok(Offset {
            distance: 0.0,
            towards,
        });
    }
    match towards {
        None => Err(LengthError::NoSide(text.into())),
        Some(_) if distance < 0.0 => Err(LengthError::NegativeWithSide(text.into())),
        Some(_) => Ok(Offset { distance, towards }),
    }
}

/// Number and unit, apart.
fn split_unit(text: &str) -> (&str, &str) {
    let unit_letter =
        |letter: char| letter.is_alphabetic() || matches!(letter, '"' | '\'' | '°' | '_');
    // The point of `in.` is part of it; that of `5.` is the number's.
    let undotted = text.strip_suffix('.').filter(|text| text.ends_with("in"));
    let number = undotted.unwrap_or(text).trim_end_matches(unit_letter);
    (number.trim_end(), &text[number.len()..])
}

fn believed(length: f64, text: &str) -> Result<f64, LengthError> {
    if !length.is_finite() {
        Err(LengthError::NotFinite(text.into()))
    } else if length.abs() > LONGEST {
        Err(LengthError::TooLong(text.into()))
    } else {
        Ok(length)
    }
}

/// Whether the last word, which is no unit, was meant as a side.
fn meant_side(error: LengthError, rest: &str, word: &str, units: Units) -> LengthError {
    let is_length = parse_length(rest, units).is_ok();
    let near_side = likely(word).is_some()
        || words::nearest(word, Direction::ALL.map(Direction::word)).is_some();
    match error {
        LengthError::UnknownUnit { text, unit }
            if is_length && (has_length_unit(rest) || near_side) =>
        {
            LengthError::UnknownSide { text, side: unit }
        }
        other => other,
    }
}
