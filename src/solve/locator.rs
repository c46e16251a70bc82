//! Features of the panel that place the pattern.

use super::place::on_panel;
use super::{Basis, Centreline};
use crate::geometry::outline::{Outline, Side, Vertex};
use crate::input::{HoleSpec, PatternSpec};
use crate::model::panel::DatumEdge;
use kurbo::{Point, Vec2};

/// A feature of the panel that a pattern is laid by, or a hole of it, in the panel frame.
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

impl Locator {
    /// Its rim, where it is a hole.
    pub(super) fn rim(&self) -> Option<Outline> {
        let radius = self.diameter? / 2.0;
        let half = |sense: f64| Vertex {
            point: self.at + Vec2::new(sense * radius, 0.0),
            bulge: 1.0,
            side: Side::Cut,
        };
        Outline::new(vec![half(-1.0), half(1.0)]).ok()
    }
}

/// The holes of a definition, which no pattern is laid by.
pub(super) fn holes(spec: &PatternSpec, centreline: &Centreline, edge: &DatumEdge) -> Vec<Locator> {
    let hole = |own: &HoleSpec| Locator {
        name: own.name.value.clone(),
        at: on_panel(own.across.value, own.from_datum.value, centreline, edge),
        diameter: Some(own.diameter.value),
        fixed: false,
    };
    spec.holes.iter().map(hole).collect()
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

/// Whether an opening's corner is open already: a hole that was taken in reaches into the one that
/// would be drilled there.
pub(super) fn is_open_there(at: Point, diameter: f64, holes: &[&Locator]) -> bool {
    let reaches = |hole: &&Locator| {
        hole.at.distance(at) < hole.diameter.unwrap_or_default() / 2.0 + diameter / 2.0
    };
    holes.iter().any(reaches)
}
