//! A pattern with no file: one shape on a panel that is not described.

use super::clearance::ClearanceSpec;
use super::opening::{OpeningGiven, OpeningSpec, ShapeAt, SquareTo};
use super::pattern::{Extent, Identity, PanelSpec, PatternSpec};
use super::problem::Placed;
use super::surface::Measured;
use super::value::Value;
use crate::base::Direction;
use crate::base::length::{Offset, Units};
use crate::model::panel::Face;
use std::collections::BTreeMap;

/// What a pattern with no file is made of.
#[derive(Debug, Clone)]
pub struct Outright {
    /// Units of the dimensions on the sheet.
    pub units: Units,
    /// Name of the shape family.
    pub shape: String,
    /// Values of its parameters.
    pub with: BTreeMap<String, Value>,
    /// Offset from the centreline.
    pub offset: Offset,
    /// Distance of the shape's origin from the datum edge, mm.
    pub from_datum: f64,
    /// Where the reader stands.
    pub seen_from: Face,
    /// What lies at the head of the page.
    pub page_up: Direction,
    /// The datum edge; `None` for the one at the foot of the page.
    pub datum_edge: Option<Direction>,
}

impl PatternSpec {
    /// The definition that a shape and its values make: its number is the shape's name, the
    /// centreline is the fitter's own mark, and the panel has no size.
    pub fn outright(given: Outright) -> Self {
        let datum_edge = given.datum_edge.unwrap_or(given.page_up.opposite());
        let words = String::new;
        Self {
            units: given.units,
            identity: Identity {
                number: Placed::unwritten(given.shape.clone()),
                title: format!("Opening: {}", given.shape),
                revision: words(),
                issued: words(),
                owner: words(),
                drawn_by: words(),
                approved_by: words(),
                vehicle: words(),
                accessory: words(),
                notes: vec![],
            },
            panel: PanelSpec {
                name: words(),
                material: None,
                thickness: None,
                width: None,
                height: None,
                datum_edge: Placed::unwritten(datum_edge),
                seen_from: Placed::unwritten(given.seen_from),
                page_up: Placed::unwritten(given.page_up),
                edge: vec![],
                extent: Extent::Work,
                surface: None,
            },
            centreline: None,
            locators: vec![],
            holes: vec![],
            parts: vec![],
            clearance: ClearanceSpec::default(),
            openings: vec![OpeningSpec {
                name: Placed::unwritten("opening".into()),
                given: OpeningGiven::Outright(ShapeAt {
                    shape: Placed::unwritten(given.shape),
                    with: given
                        .with
                        .into_iter()
                        .map(|(name, value)| (name, Placed::unwritten(value)))
                        .collect(),
                    centre_offset: Placed::unwritten(given.offset),
                    from_datum: Placed::unwritten(given.from_datum),
                    square_to: SquareTo::DatumEdge,
                    measured: Measured::OnPanel,
                }),
                take_in: vec![],
                rough_cut: false,
            }],
            trims: vec![],
            keep_outs: vec![],
            feet: vec![],
            features: vec![],
            lines: vec![],
            accepted: vec![],
            tools: None,
        }
    }
}
