//! Measures as the sheet shows them, in the units of the definition.

use crate::base::length::Units;

/// A length as a dimension figure: see [`Units::figure`].
pub(super) fn figure(mm: f64, units: Units) -> String {
    units.figure(mm)
}

/// A length with its unit, for running text: see [`Units::length`].
pub(super) fn length(mm: f64, units: Units) -> String {
    units.length(mm)
}

/// An uncertainty with its unit: see [`Units::doubt`].
pub(super) fn doubt(mm: f64, units: Units) -> String {
    units.doubt(mm, 1)
}

/// The size of a drill or hole saw, as it is sold: see [`Units::tool`].
pub(super) fn tool_size(mm: f64, units: Units) -> String {
    units.tool(mm)
}
