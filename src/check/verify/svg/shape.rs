//! Outlines of the basic shapes (SVG 1.1, chapter 9) and of paths.

use kurbo::{BezPath, Circle, Ellipse, Point, Rect, RoundedRect, Shape};
use roxmltree::Node;
use std::collections::BTreeSet;
use svgtypes::{PointsParser, SimplePathSegment, SimplifyingPathParser};

/// How far a curve may be from a circle or an ellipse, in the drawing's own units.
const WITHIN: f64 = 1e-4;
/// Largest number of a shape, in the drawing's own units: followed within [`WITHIN`], its curves
/// come to some hundred pieces.
const LARGEST: f64 = 1e9;

/// The outline of an element in its own units; `None` for what has no outline.
pub(super) fn outline(node: Node<'_, '_>, unread: &mut BTreeSet<&'static str>) -> Option<BezPath> {
    let mut number = |name: &str| -> f64 {
        let Some(text) = node.attribute(name) else {
            return 0.0;
        };
        let plain = text.trim().strip_suffix("px").unwrap_or(text.trim());
        let number = plain.parse().ok();
        let number = number.filter(|number: &f64| number.abs() <= LARGEST);
        number.unwrap_or_else(|| {
            unread.insert("lengths of a shape in other units or beyond measure");
            0.0
        })
    };
    Some(match node.tag_name().name() {
        "path" => path(node.attribute("d")?, unread),
        "line" => {
            let mut path = BezPath::new();
            path.move_to((number("x1"), number("y1")));
            path.line_to((number("x2"), number("y2")));
            path
        }
        "rect" => {
            let corner = Point::new(number("x"), number("y"));
            let rect = Rect::from_origin_size(corner, (number("width"), number("height")));
            let radius = number("rx").max(number("ry"));
            if radius > 0.0 {
                RoundedRect::from_rect(rect, radius).to_path(WITHIN)
            } else {
                rect.to_path(WITHIN)
            }
        }
        "circle" => {
            let middle = Point::new(number("cx"), number("cy"));
            Circle::new(middle, number("r")).to_path(WITHIN)
        }
        "ellipse" => {
            let middle = Point::new(number("cx"), number("cy"));
            Ellipse::new(middle, (number("rx"), number("ry")), 0.0).to_path(WITHIN)
        }
        kind @ ("polyline" | "polygon") => {
            let mut path = BezPath::new();
            for (index, point) in PointsParser::from(node.attribute("points")?).enumerate() {
                if index == 0 {
                    path.move_to(point);
                } else {
                    path.line_to(point);
                }
            }
            if kind == "polygon" && !path.elements().is_empty() {
                path.close_path();
            }
            path
        }
        _ => return None,
    })
}

fn path(data: &str, unread: &mut BTreeSet<&'static str>) -> BezPath {
    if data.bytes().any(|letter| matches!(letter, b'a' | b'A')) {
        unread.insert("arcs in paths, which are known to a tenth of a unit only");
        return BezPath::new();
    }
    let mut path = BezPath::new();
    for segment in SimplifyingPathParser::from(data) {
        // An error ends a path: what came before is drawn (SVG 1.1, F.2).
        let Ok(segment) = segment else { break };
        match segment {
            SimplePathSegment::MoveTo { x, y } => path.move_to((x, y)),
            SimplePathSegment::LineTo { x, y } => path.line_to((x, y)),
            SimplePathSegment::CurveTo {
                x1,
                y1,
                x2,
                y2,
                x,
                y,
            } => path.curve_to((x1, y1), (x2, y2), (x, y)),
            SimplePathSegment::Quadratic { x1, y1, x, y } => path.quad_to((x1, y1), (x, y)),
            SimplePathSegment::ClosePath => path.close_path(),
        }
    }
    path
}
