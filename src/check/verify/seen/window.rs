//! The frame round the usable area of a sheet.

use super::layers::Layers;
use crate::check::verify::measured::{MeasuredPage, upright_box};
use kurbo::{Affine, Rect};

/// Sides this near to straight, mm, are straight.
const WITHIN: f64 = 0.05;
/// A frame smaller than this share of the page's area is none.
const LEAST_SHARE: f64 = 0.2;

/// The largest plain rectangle that is drawn, in the sheet's own directions.
pub(crate) fn window(page: &MeasuredPage, layers: Layers, to_sheet: Affine) -> Option<Rect> {
    let least = LEAST_SHARE * page.size.area();
    page.strokes
        .iter()
        .filter(|stroke| stroke.visible && !stroke.dashes.any())
        .filter(|stroke| layers.may_be(stroke, layers.frame))
        .filter(|stroke| (4..=6).contains(&stroke.path.elements().len()))
        .filter_map(|stroke| {
            let (bounds, plain) = upright_box(&(to_sheet * &stroke.path), WITHIN);
            (plain && bounds.area() >= least).then_some(bounds)
        })
        .max_by(|a, b| a.area().total_cmp(&b.area()))
}
