//! The panel in its frame.

use crate::geometry::outline::{Outline, OutlineError};
use crate::input::Extent;
use crate::model::hardware::{Cutter, takes_hole_saw};
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
        !takes_hole_saw(self.material.as_ref(), self.thickness)
    }

    /// What its lines are cut with.
    pub fn cutter(&self) -> Cutter {
        Cutter::of(self.material.as_ref(), self.thickness)
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
