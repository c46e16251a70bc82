//! What can be wrong with a length, an angle or a side.

use crate::base::Direction;
use crate::base::direction::SIDES;
use crate::base::words::{did_you_mean, listed, nearest, shown};
use std::fmt;

/// A length, angle or side that can't be read; each holds the text as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LengthError {
    /// No number that a length could be made of.
    NotALength(String),
    /// No number with `deg` after it.
    NotAnAngle(String),
    /// A comma where the decimal point belongs.
    DecimalComma(String),
    /// NaN, infinite, or too large for a number.
    NotFinite(String),
    /// A fraction over nothing.
    ZeroDenominator(String),
    /// A whole number beside a fraction that is itself 1 or more.
    ImproperFraction(String),
    /// A unit that is not one of length.
    UnknownUnit {
        /// The whole text.
        text: String,
        /// The unit in it.
        unit: String,
    },
    /// Over 5 m either way.
    TooLong(String),
    /// Over 360 degrees either way.
    TooWide(String),
    /// A distance that does not say which way.
    NoSide(String),
    /// A side, and a minus sign that would turn it round.
    NegativeWithSide(String),
    /// A side that is not a direction of the vehicle.
    UnknownSide {
        /// The whole text.
        text: String,
        /// The side in it.
        side: String,
    },
    /// A side whose sense changes with the country.
    SideByCountry(String),
}

impl LengthError {
    /// What to write instead, where that can be said.
    pub fn hint(&self) -> Option<String> {
        Some(match self {
            Self::NotALength(_) => {
                "a length is written `63.5 mm`, `6.35 cm`, `2.5 in` or `2 1/2 in`".into()
            }
            Self::NotAnAngle(_) => "an angle is written `12 deg`".into(),
            Self::DecimalComma(text) => format!("write `{}`", shown(&text.replace(',', "."))),
            Self::UnknownUnit { unit, .. }
                if matches!(unit.as_str(), "ft" | "feet" | "foot" | "'") =>
            {
                "write it in inches: 1 ft is `12 in`".into()
            }
            Self::UnknownUnit { unit, .. } => {
                let known = ["mm", "cm", "m", "in"];
                let near = nearest(unit, known);
                format!("write `{}`", near.unwrap_or("mm"))
            }
            Self::NoSide(text) => {
                let distance = shown(text);
                format!(
                    "write `{distance} left` or `{distance} right`, as the vehicle's driver faces"
                )
            }
            Self::NegativeWithSide(_) => "leave out the minus sign and name the other side".into(),
            Self::UnknownSide { side, .. } => Direction::hint(side)
                .unwrap_or_else(|| did_you_mean(side, &Direction::ALL.map(Direction::word))),
            Self::SideByCountry(_) => format!("write `left` or `right`: {SIDES}"),
            Self::NotFinite(_)
            | Self::ZeroDenominator(_)
            | Self::ImproperFraction(_)
            | Self::TooLong(_)
            | Self::TooWide(_) => return None,
        })
    }
}

impl fmt::Display for LengthError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotALength(text) => write!(out, "`{}` is not a length", shown(text)),
            Self::NotAnAngle(text) => write!(out, "`{}` is not an angle", shown(text)),
            Self::DecimalComma(text) => {
                write!(out, "`{}` has a comma for a decimal point", shown(text))
            }
            Self::NotFinite(text) => write!(out, "`{}` is not a finite number", shown(text)),
            Self::ZeroDenominator(text) => {
                write!(
                    out,
                    "`{}` has a fraction with 0 below the line",
                    shown(text)
                )
            }
            Self::ImproperFraction(text) => write!(
                out,
                "`{}` has a fraction of 1 or more beside a whole number",
                shown(text)
            ),
            Self::UnknownUnit { text, unit } => write!(
                out,
                "`{}` is in `{}`, which is not a known unit of length: {} are",
                shown(text),
                shown(unit),
                listed(&["mm", "cm", "m", "in"], " and ")
            ),
            Self::TooLong(text) => {
                write!(
                    out,
                    "`{}` is too long: at most 5 m (196.85 in) is allowed",
                    shown(text)
                )
            }
            Self::TooWide(text) => {
                write!(
                    out,
                    "`{}` is too wide: at most 360 deg is allowed",
                    shown(text)
                )
            }
            Self::NoSide(text) => write!(
                out,
                "`{}` does not say to which side: only 0 needs none",
                shown(text)
            ),
            Self::NegativeWithSide(text) => write!(
                out,
                "`{}` is negative and names a side: 0 or more is allowed",
                shown(text)
            ),
            Self::UnknownSide { text, side } => write!(
                out,
                "`{}` goes to `{}`, which is not a side of the vehicle: {} are",
                shown(text),
                shown(side),
                listed(&Direction::ALL.map(Direction::word), " and ")
            ),
            Self::SideByCountry(text) => write!(
                out,
                "`{}` names a side that changes with the country",
                shown(text)
            ),
        }
    }
}

impl std::error::Error for LengthError {}
