//! Measures as the sheet shows them, in the units of the definition.

use crate::base::fixed;
use crate::base::length::Units;

const MM_PER_INCH: f64 = 25.4;

/// A length as a dimension figure: mm to a tenth, or inches to a hundredth with their mark.
pub(super) fn figure(mm: f64, units: Units) -> String {
    match units {
        Units::Mm => fixed(mm, 1),
        Units::In => format!("{}\"", fixed(mm / MM_PER_INCH, 2)),
    }
}

/// A length with its unit, for running text.
pub(super) fn length(mm: f64, units: Units) -> String {
    match units {
        Units::Mm => format!("{} mm", fixed(mm, 1)),
        Units::In => format!("{} in", fixed(mm / MM_PER_INCH, 2)),
    }
}

/// A tool within this of an inch fraction, mm, is marked by it: sizes are rounded to a tenth.
const SAME_SIZE: f64 = 0.06;

/// The size of a drill or hole saw, as it is marked: hundredths of a millimetre, or the inch fraction
/// of at most sixteenths that it is.
pub(super) fn tool_size(mm: f64, units: Units) -> String {
    let sixteenths = (mm / MM_PER_INCH * 16.0).round();
    match units {
        Units::Mm => fixed(mm, 2),
        Units::In if (sixteenths * MM_PER_INCH / 16.0 - mm).abs() < SAME_SIZE => {
            inch_fraction(sixteenths as u32)
        }
        Units::In => format!("{} mm", fixed(mm, 2)),
    }
}

/// So many sixteenths of an inch: `1 1/8"`.
fn inch_fraction(sixteenths: u32) -> String {
    let (whole, part) = (sixteenths / 16, sixteenths % 16);
    let common = 1 << part.trailing_zeros().min(4);
    match (whole, part) {
        (whole, 0) => format!("{whole}\""),
        (0, part) => format!("{}/{}\"", part / common, 16 / common),
        (whole, part) => format!("{whole} {}/{}\"", part / common, 16 / common),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tools_have_the_size_that_is_marked_on_them() {
        let told = |mm| tool_size(mm, Units::In);
        assert_eq!(told(15.9), "5/8\"");
        assert_eq!(told(28.6), "1 1/8\"");
        assert_eq!(told(38.1), "1 1/2\"");
        assert_eq!(told(25.4), "1\"");
        assert_eq!(told(12.2), "12.2 mm");
        assert_eq!(tool_size(28.6, Units::Mm), "28.6");
    }
}
