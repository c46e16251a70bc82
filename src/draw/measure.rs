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

/// The size of a drill or hole saw, as it is marked: quarters of a millimetre are told apart.
pub(super) fn tool_size(mm: f64, units: Units) -> String {
    match units {
        Units::Mm => fixed(mm, 2),
        Units::In => figure(mm, units),
    }
}
