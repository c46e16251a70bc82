//! Dimensions along the way from the datum edge.

use super::dimension::{Along, ROW, linear};
use super::field::Field;
use super::offer::Offer;
use super::view::View;
use crate::draw::ink::{Layer, Mark};
use kurbo::{Point, Rect};

/// A dimension along the way from the datum edge, at either side of the opening.
pub(super) fn upright(
    bounds: Rect,
    (from, to): (f64, f64),
    words: &str,
    untold: &str,
    view: View,
    field: &mut Field,
) -> Vec<Mark> {
    let ways = upright_ways(bounds, (from, to), words, 0.0, view);
    let at = view.point(Point::new(bounds.x1, bounds.center().y));
    field.place_or_note(ways, at, untold, Layer::Dimensions)
}

/// Places for such a dimension, each so much less welcome.
pub(super) fn upright_ways(
    bounds: Rect,
    (from, to): (f64, f64),
    words: &str,
    less_welcome: f64,
    view: View,
) -> impl Iterator<Item = impl Offer> {
    let page = view.rect(bounds);
    (0..12).flat_map(move |row| {
        [(page.x1, 1.0), (page.x0, -1.0)]
            .into_iter()
            .flat_map(move |(side, away)| {
                let off =
                    side + away * (ROW + ROW * f64::from(row) + if away > 0.0 { 2.0 } else { 0.0 });
                let frame_side = view.back(Point::new(side, 0.0)).x;
                let start = view.point(Point::new(frame_side, from));
                let end = view.point(Point::new(frame_side, to));
                let cost = f64::from(row) * 6.0 + if away > 0.0 { 0.0 } else { 1.0 };
                linear(start, end, Along::Up, off, words, cost + less_welcome)
            })
    })
}
