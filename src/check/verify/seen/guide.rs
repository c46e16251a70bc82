//! What a fitter works by beside the cut line: layers in which every mark has its place.

use super::cut::{CutLine, seen};
use super::sheet::Places;
use crate::check::verify::measured::{MeasuredPage, Stroke};
use crate::draw::ink::Layer;
use kurbo::{Affine, BezPath, PathEl};

/// Those layers.
pub(crate) const GUIDES: [Layer; 7] = [
    Layer::Fold,
    Layer::Centreline,
    Layer::Locators,
    Layer::Relief,
    Layer::KeepOut,
    Layer::Parts,
    Layer::Panel,
];

/// Where a layer stands in [`GUIDES`].
pub(crate) fn guide_of(layer: Layer) -> Option<usize> {
    GUIDES.iter().position(|guide| *guide == layer)
}

/// One such layer of a sheet.
#[derive(Debug, Clone, Default)]
pub(crate) struct Guide {
    /// All that may belong to it.
    pub(crate) all: CutLine,
    /// What of it must stand at its place: all but the lines from names to what they name.
    pub(crate) firm: CutLine,
}

/// Width of the lines from names to what they name, mm, and how much it may be off.
const LEADER: f64 = 0.25;
const LEADER_WITHIN: f64 = 0.03;

/// What of each layer can be seen on a page, in the sheet's own directions.
pub(super) fn guides(
    page: &MeasuredPage,
    places: Places,
    to_sheet: Affine,
    scale: f64,
) -> [Guide; GUIDES.len()] {
    let visible = |strokes: &[&Stroke]| seen(strokes.iter().copied(), page.shown, to_sheet);
    // Where layers are gone, each may be anywhere.
    let any = (!places.are_told()).then(|| visible(&page.strokes.iter().collect::<Vec<_>>()));
    std::array::from_fn(|guide| {
        if let Some(all) = &any {
            return Guide {
                all: all.clone(),
                firm: CutLine::default(),
            };
        }
        let own = page
            .strokes
            .iter()
            .filter(|stroke| places.may_be(stroke, places.guides[guide]));
        let is_loose = |stroke: &&Stroke| {
            let thin = (stroke.width / scale - LEADER).abs() <= LEADER_WITHIN;
            is_one_line(&stroke.path) && !stroke.dashed && thin
        };
        let (loose, firm): (Vec<_>, Vec<_>) = own.partition(is_loose);
        let firm = visible(&firm);
        let mut all = visible(&loose);
        all.pieces.extend(&firm.pieces);
        Guide { all, firm }
    })
}

fn is_one_line(path: &BezPath) -> bool {
    matches!(path.elements(), [PathEl::MoveTo(_), PathEl::LineTo(_)])
}
