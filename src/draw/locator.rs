//! Locators: the panel's own features, at full size, so that the pattern is laid over them.

use super::View;
use super::dimension::{BESIDE, LabelLine, WORKED_BY};
use super::field::Field;
use super::leader::{Start, around};
use super::opening::cross;
use crate::base::length::Units;
use crate::draw::ink::{Layer, Line as Pen, LineType, Mark, Width};
use crate::geometry::outline::CURVE_TOLERANCE;
use crate::solve::Locator;
use kurbo::{Circle, Rect, Shape, Vec2};

/// Arms of the cross at a feature without a diameter, mm.
const POINT_CROSS: f64 = 5.0;

/// Arms of the cross past the edge of a hole, mm.
const PAST_EDGE: f64 = 3.0;

/// The feature itself: its hole at full size, and a cross at its middle.
pub(super) fn feature(locator: &Locator, view: View) -> Vec<Mark> {
    let at = view.point(locator.at);
    let arm = locator
        .diameter
        .map_or(POINT_CROSS, |diameter| diameter / 2.0 + PAST_EDGE);
    let thin = Pen::of(LineType::Continuous, Width::Thin);
    let mut marks = vec![Mark::stroke(Layer::Locators, cross(at, arm), thin)];
    if let Some(diameter) = locator.diameter {
        let circle = Circle::new(at, diameter / 2.0).to_path(CURVE_TOLERANCE);
        marks.push(Mark::stroke(
            Layer::Locators,
            circle,
            Pen::continuous(Width::Broad),
        ));
    }
    marks
}

/// Its name and diameter beside it.
pub(super) fn name(locator: &Locator, units: Units, view: View, field: &mut Field) -> Vec<Mark> {
    let mut words = vec![LabelLine::new(locator.name.clone(), WORKED_BY)];
    if let Some(diameter) = locator.diameter {
        words.push(LabelLine::new(
            format!("hole Ø{}", units.figure(diameter)),
            BESIDE,
        ));
    }
    let at = view.point(locator.at);
    let start = locator
        .diameter
        .map_or(Start::Point, |diameter| Start::Circle(diameter / 2.0));
    // Towards the centreline rather than away from it: words at the rim would take more paper.
    let outward = |direction: Vec2| if direction.x * at.x > 0.0 { 1.0 } else { 0.0 };
    let candidates = around(at, &words, Layer::Locators, start, outward);
    field.place_or_note(candidates, at, &told(locator, units), Layer::Locators)
}

/// Its name and diameter in running text.
fn told(locator: &Locator, units: Units) -> String {
    match locator.diameter {
        Some(diameter) => format!("{}: hole Ø{}", locator.name, units.figure(diameter)),
        None => locator.name.clone(),
    }
}

/// The place that no join between sheets should cross.
pub(super) fn keep_whole(locator: &Locator, view: View) -> Rect {
    let radius = locator
        .diameter
        .map_or(POINT_CROSS, |diameter| diameter / 2.0 + PAST_EDGE);
    view.rect(Circle::new(locator.at, radius).bounding_box())
}
