//! Lengths as they are told to people, in the units of the definition.
//!
//! Inches are told as a tape and a rack of drills have them: `5/16 in`, `2-1/2 in`. The whole is
//! tied to its fraction by a hyphen, so that no line is broken between them, and the mark is `in`
//! everywhere: `"` is mistaken for a quotation mark.

use super::{INCH, Units};
use crate::base::fixed;
use std::fmt;

/// The finest division of a tape in inches.
const FINEST: i64 = 64;

/// How near a length that a tape is laid to must be to a division, mm, to be told by it. It is less
/// than half a 64th, so that no two divisions are near enough: the fraction told is the nearest, in
/// its lowest terms.
const NEAR_DIVISION: f64 = 0.1;

/// How near a length must be to a division to be that very division, mm: what mm are told to where
/// they are told most closely.
const VERY_DIVISION: f64 = 0.0005;

/// What has lengths in it and is told in either unit; `Display` tells it in millimetres.
pub trait Told {
    /// Writes it with lengths in `units`.
    ///
    /// # Errors
    /// What `out` refuses.
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result;

    /// It as a text with lengths in `units`.
    fn told(&self, units: Units) -> String {
        fmt::from_fn(|out| self.tell(out, units)).to_string()
    }
}

/// How far a tool's size may be from the 16th of an inch that it was rounded from, mm.
const ROUNDED_SIZE: f64 = 0.06;

impl Units {
    /// A length that a tape is laid to, with its unit.
    ///
    /// mm to a tenth. Inches as a fraction to 1/64 in lowest terms where one is within 0.1 mm, the
    /// coarser coming first; else to three decimals.
    pub fn length(self, mm: f64) -> String {
        self.told(mm, 1, NEAR_DIVISION, 3)
    }

    /// As [`Self::length`], where the unit goes without saying: mm stand alone, inches never.
    pub fn figure(self, mm: f64) -> String {
        match self {
            Self::Mm => fixed(mm, 1),
            Self::In => self.length(mm),
        }
    }

    /// As [`Self::length`], of which no more is asked than whole millimetres.
    pub fn roughly(self, mm: f64) -> String {
        self.told(mm, 0, NEAR_DIVISION, 3)
    }

    /// A length that was given or is kept to a hundredth of a millimetre, with its unit: inches as a
    /// fraction only where they are that very fraction, else to three decimals.
    pub fn close(self, mm: f64) -> String {
        self.told(mm, 2, VERY_DIVISION, 3)
    }

    /// As [`Self::close`], before another such length and ` x `: mm are named after the last alone.
    pub fn side(self, mm: f64) -> String {
        match self {
            Self::Mm => fixed(mm, 2),
            Self::In => self.close(mm),
        }
    }

    /// A length as closely as it is told anywhere, such as one that was given: mm to a thousandth;
    /// inches as the very fraction, else to four decimals.
    pub fn exact(self, mm: f64) -> String {
        self.told(mm, 3, VERY_DIVISION, 4)
    }

    /// As [`Self::exact`], rounded down, for the most that is allowed: 0 or more, mm.
    pub fn at_most(self, mm: f64) -> String {
        // Noise of the last bits must not cost a last place.
        let down = |place: f64| (mm / place + 1e-6).floor() * place;
        match self {
            Self::Mm => format!("{} mm", fixed(down(0.001), 3)),
            Self::In => {
                let division = down(INCH / FINEST as f64);
                let near = mm - division <= VERY_DIVISION;
                self.exact(if near {
                    division
                } else {
                    down(INCH / 10_000.0)
                })
            }
        }
    }

    /// An uncertainty or a tolerance, with its unit: mm to `decimals`, inches to three, never as a
    /// fraction.
    pub fn doubt(self, mm: f64, decimals: usize) -> String {
        match self {
            Self::Mm => format!("{} mm", fixed(mm, decimals)),
            Self::In => format!("{} in", fixed(mm / INCH, 3)),
        }
    }

    /// An area: `12.3 cm²`, `1.9 in²`.
    pub fn area(self, square_mm: f64) -> String {
        match self {
            Self::Mm => format!("{} cm²", fixed(square_mm / 100.0, 1)),
            Self::In => format!("{} in²", fixed(square_mm / (INCH * INCH), 2)),
        }
    }

    /// The same with no unit, for columns that name it at their head: mm to a hundredth.
    pub fn in_column(self, mm: f64) -> String {
        match self {
            Self::Mm => fixed(mm, 2),
            Self::In => fixed(mm / INCH, 3),
        }
    }

    /// A drill or hole saw by the size that is marked on it: mm to a hundredth, with no unit; inches
    /// as a fraction, also where a list has rounded its 16ths to a tenth of a millimetre; what is sold
    /// by the tenth of a millimetre as such.
    pub fn tool(self, mm: f64) -> String {
        let by_tenths = (mm * 10.0 - (mm * 10.0).round()).abs() < 1e-6;
        let sixteenth = (mm * 16.0 / INCH).round() * INCH / 16.0;
        match self {
            Self::Mm => fixed(mm, 2),
            Self::In if by_tenths && (mm - sixteenth).abs() < ROUNDED_SIZE => self.close(sixteenth),
            Self::In if by_tenths => format!("{} mm", fixed(mm, 1)),
            Self::In => self.close(mm),
        }
    }

    fn told(self, mm: f64, mm_decimals: usize, near: f64, inch_decimals: usize) -> String {
        match self {
            Self::Mm => format!("{} mm", fixed(mm, mm_decimals)),
            Self::In => {
                let inches = fraction(mm, near).unwrap_or_else(|| fixed(mm / INCH, inch_decimals));
                format!("{inches} in")
            }
        }
    }
}

/// Inches in 64ths in lowest terms, where the nearest is within `near` mm. Nothing but 0 itself is
/// told as 0.
fn fraction(mm: f64, near: f64) -> Option<String> {
    let division = INCH / FINEST as f64;
    let count = (mm / division).round();
    if (mm - count * division).abs() > near || (count == 0.0 && mm.abs() > VERY_DIVISION) {
        return None;
    }
    let sign = if count < 0.0 { "-" } else { "" };
    let count = count.abs() as i64;
    let (whole, over) = (count / FINEST, count % FINEST);
    // 64 is a power of two, so what both can be halved by is the numerator's own power of two.
    let halvings = over.trailing_zeros().min(FINEST.trailing_zeros());
    let (over, under) = (over >> halvings, FINEST >> halvings);
    Some(match (whole, over) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, over) => format!("{sign}{over}/{under}"),
        (whole, over) => format!("{sign}{whole}-{over}/{under}"),
    })
}

#[cfg(test)]
mod tests {
    use super::super::parse_length;
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn inches_are_told_as_a_tape_has_them() {
        for (inches, told) in [
            (0.0, "0 in"),
            (5.0 / 16.0, "5/16 in"),
            (2.5, "2-1/2 in"),
            (64.5, "64-1/2 in"),
            (3.0 + 31.0 / 32.0, "3-31/32 in"),
            (-2.25, "-2-1/4 in"),
            (33.0 / 64.0, "33/64 in"),
            // 12.75 mm is 0.05 mm off a half.
            (12.75 / INCH, "1/2 in"),
            // 0.1 mm and more off any 64th.
            (0.257, "0.257 in"),
            (-0.257, "-0.257 in"),
            // Little is not nothing.
            (0.003, "0.003 in"),
        ] {
            assert_eq!(Units::In.length(inches * INCH), told);
            assert_eq!(Units::In.figure(inches * INCH), told);
        }
        assert_eq!(Units::In.close(12.75), "0.502 in");
        assert_eq!(Units::In.exact(12.75), "0.502 in");
        assert_eq!(Units::In.exact(12.76), "0.5024 in");
        assert_eq!(Units::In.close(12.7), "1/2 in");
        assert_eq!(Units::In.doubt(12.7, 1), "0.5 in");
        assert_eq!(Units::In.in_column(1.0), "0.039");
        assert_eq!(Units::In.roughly(240.0), "9.449 in");
        // 1.23456 mm is 0.048605 in.
        assert_eq!(Units::In.at_most(1.23456), "0.0486 in");
        assert_eq!(Units::In.at_most(12.7002), "1/2 in");
        assert_eq!(Units::In.at_most(12.6998), "0.4999 in");
    }

    #[test]
    fn millimetres_are_told_as_ever() {
        assert_eq!(Units::Mm.length(12.75), "12.8 mm");
        assert_eq!(Units::Mm.figure(12.75), "12.8");
        assert_eq!(Units::Mm.close(12.756), "12.76 mm");
        assert_eq!(Units::Mm.exact(12.7564), "12.756 mm");
        assert_eq!(Units::Mm.doubt(0.126, 2), "0.13 mm");
        assert_eq!(Units::Mm.tool(10.25), "10.25");
        assert_eq!(Units::Mm.roughly(240.4), "240 mm");
        assert_eq!(Units::Mm.at_most(1.2349), "1.234 mm");
    }

    #[test]
    fn tools_are_told_as_they_are_sold() {
        for (mm, told) in [
            (7.9375, "5/16 in"),
            (28.575, "1-1/8 in"),
            (12.0, "12 mm"),
            (8.0, "8 mm"),
            (15.9, "5/8 in"),
            (38.1, "1-1/2 in"),
            (25.4, "1 in"),
            // A letter drill, F.
            (0.257 * INCH, "0.257 in"),
        ] {
            assert_eq!(Units::In.tool(mm), told);
        }
    }

    #[test]
    fn every_division_of_a_tape_reads_back_as_itself() {
        for count in -64 * 100..=64 * 100_i32 {
            let mm = f64::from(count) * INCH / 64.0;
            for told in [
                Units::In.length(mm),
                Units::In.close(mm),
                Units::In.exact(mm),
            ] {
                assert!(!told.contains('.'), "{count}/64 told as {told}");
                let read = parse_length(&told, Units::Mm).unwrap();
                assert!((read - mm).abs() < 1e-9, "{told} read as {read}, not {mm}");
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        /// Within 0.1 mm where a fraction is told, else within half the last place.
        #[test]
        fn what_is_told_is_within_its_rounding(mm in -4900.0..4900.0f64) {
            let off = |told: &str| (parse_length(told, Units::Mm).unwrap() - mm).abs();
            let rounded = |told: &str, near: f64, place: f64| {
                let most = if told.contains('.') { place * INCH / 2.0 } else { near };
                off(told) <= most + 1e-9
            };
            let told = Units::In.length(mm);
            prop_assert!(rounded(&told, NEAR_DIVISION, 0.001), "{mm} told as {told}");
            let told = Units::In.close(mm);
            prop_assert!(rounded(&told, VERY_DIVISION.max(0.0005 * INCH), 0.001), "{mm} told as {told}");
            let told = Units::In.exact(mm);
            prop_assert!(rounded(&told, VERY_DIVISION.max(0.000_05 * INCH), 0.0001), "{mm} told as {told}");
            prop_assert!(off(&Units::In.doubt(mm, 1)) <= 0.0005 * INCH + 1e-9);
            prop_assert!(off(&Units::Mm.length(mm)) <= 0.05 + 1e-9);
            prop_assert!(off(&Units::Mm.exact(mm)) <= 0.0005 + 1e-9);
        }
    }
}
