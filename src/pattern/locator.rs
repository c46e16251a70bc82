//! Features of the panel that place the pattern.

use super::Centreline;
use crate::spec::PatternSpec;
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

/// The locators of a definition, and both features of each pair that the centre was read from.
pub(super) fn locators(spec: &PatternSpec, centreline: &Centreline) -> Vec<Locator> {
    let told = spec.locators.iter().map(|locator| Locator {
        name: locator.name.value.clone(),
        at: Point::new(
            centreline.frame_x(locator.across.value),
            locator.from_datum.value,
        ),
        diameter: locator.diameter,
        fixed: locator.fixed,
    });
    let pairs = spec
        .centreline
        .iter()
        .flat_map(|centreline| &centreline.pairs);
    let paired = pairs.flat_map(|pair| {
        [("left", &pair.left), ("right", &pair.right)].map(|(side, reading)| Locator {
            name: format!("{}, {side}", pair.name.value),
            at: Point::new(centreline.frame_x(reading.value), pair.from_datum.value),
            diameter: pair.diameter,
            fixed: pair.fixed,
        })
    });
    told.chain(paired).collect()
}
