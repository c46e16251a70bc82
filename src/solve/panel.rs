//! The panel in its frame.

use crate::geometry::outline::{Outline, OutlineError};
use crate::input::Extent;
use crate::model::hardware::THIN_SHEET;
use crate::model::material::Material;
use crate::model::panel::{DatumEdge, panel_outline};
use kurbo::Rect;

/// The panel, solved.
#[derive(Debug, Clone)]
pub struct Panel {
    /// Its name; may be empty.
    pub name: String,
    /// What it is made of, where that was told.
    pub material: Option<Material>,
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
    /// Whether it is told to be sheet metal, or a material that may be.
    pub fn is_metal(&self) -> bool {
        self.material.is_some_and(|material| material.is_metal)
    }

    /// Whether nothing told rules out sheet metal.
    pub fn may_be_metal(&self) -> bool {
        self.material.is_none_or(|material| material.is_metal)
    }

    /// Whether a hole saw would snatch in it: thin sheet metal, or of a thickness nobody told.
    pub fn is_thin_sheet(&self) -> bool {
        is_thin_sheet(self.material.as_ref(), self.thickness)
    }
}

/// Whether a hole saw would snatch in a panel: in what is thin and may be sheet metal, and in sheet
/// metal of a thickness that nobody told.
pub(super) fn is_thin_sheet(material: Option<&Material>, thickness: Option<f64>) -> bool {
    match thickness {
        Some(thickness) => {
            thickness < THIN_SHEET && material.is_none_or(|material| material.is_metal)
        }
        None => material.is_some_and(|material| material.is_metal),
    }
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
