//! The panel in its frame.

use super::allowance::known_material;
use crate::hardware::THIN_SHEET;
use crate::outline::{Outline, OutlineError};
use crate::panel::{DatumEdge, panel_outline};
use crate::spec::Extent;
use kurbo::Rect;

/// The panel, solved.
#[derive(Debug, Clone)]
pub struct Panel {
    /// Its name; may be empty.
    pub name: String,
    /// Its material; may be empty.
    pub material: String,
    /// Its thickness, mm.
    pub thickness: Option<f64>,
    /// The datum edge.
    pub edge: DatumEdge,
    /// Its size in the panel frame; `None` where it was not told.
    pub size: Option<Rect>,
    /// How much of it is printed.
    pub extent: Extent,
    /// Its outline; where the size was not told, one that is large enough for the openings.
    pub outline: Outline,
}

impl Panel {
    /// Whether it is sheet metal.
    pub fn is_metal(&self) -> bool {
        known_material(&self.material).is_some_and(|material| material.is_metal)
    }

    /// Whether a hole saw would snatch in it: thin sheet metal, or of a thickness nobody told.
    pub fn is_thin_sheet(&self) -> bool {
        is_thin_sheet(&self.material, self.thickness)
    }
}

/// Whether a hole saw would snatch in a panel: in thin sheet metal, and in one of a thickness that
/// nobody told.
pub(super) fn is_thin_sheet(material: &str, thickness: Option<f64>) -> bool {
    known_material(material).is_some_and(|material| material.is_metal)
        && thickness.is_none_or(|thickness| thickness < THIN_SHEET)
}

/// How far a panel of unknown size is taken to reach past its openings, mm.
const BEYOND_OPENINGS: f64 = 500.0;

/// The outline of a panel, of its own size or large enough for `openings`.
pub(super) fn outline_of(
    edge: &DatumEdge,
    size: Option<Rect>,
    openings: Rect,
) -> Result<Outline, OutlineError> {
    let assumed = || {
        let roomy = openings.inflate(BEYOND_OPENINGS, BEYOND_OPENINGS);
        Rect::new(roomy.x0, 0.0, roomy.x1, roomy.y1.max(BEYOND_OPENINGS))
    };
    panel_outline(edge, size.unwrap_or_else(assumed))
}
