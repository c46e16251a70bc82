//! Features of the panel that place the pattern.

use super::place::on_panel;
use super::{Basis, Centreline};
use crate::input::PatternSpec;
use crate::model::panel::DatumEdge;
use kurbo::Point;

/// A feature of the panel, in the panel frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Locator {
    /// Its name.
    pub name: String,
    /// Where it stands, mm.
    pub at: Point,
    /// Diameter if it is a hole, mm.
    pub diameter: Option<f64>,
    /// Whether the panel is held there.
    pub fixed: bool,
}

/// The locators of a definition, and both features of each pair that the centre was read from; a
/// pair that was left out locates nothing.
pub(super) fn locators(
    spec: &PatternSpec,
    centreline: &Centreline,
    edge: &DatumEdge,
) -> Vec<Locator> {
    let at = |across: f64, from_datum: f64| on_panel(across, from_datum, centreline, edge);
    let told = spec.locators.iter().map(|locator| Locator {
        name: locator.name.value.clone(),
        at: at(locator.across.value, locator.from_datum.value),
        diameter: locator.diameter,
        fixed: locator.fixed,
    });
    let pairs = spec
        .centreline
        .iter()
        .flat_map(|centreline| &centreline.pairs);
    let left_out = match &centreline.basis {
        Basis::Pairs(centre) => centre.left_out(),
        Basis::Assumed | Basis::Marked | Basis::Arcs(_) => None,
    };
    let counted = pairs
        .enumerate()
        .filter(|(index, _)| Some(*index) != left_out);
    let paired = counted.flat_map(|(_, pair)| {
        [("left", &pair.left), ("right", &pair.right)].map(|(side, reading)| Locator {
            name: format!("{}, {side}", pair.name.value),
            at: at(reading.value, pair.from_datum.value),
            diameter: pair.diameter,
            fixed: pair.fixed,
        })
    });
    told.chain(paired).collect()
}
