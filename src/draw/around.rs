//! What the opening is for and what it must spare: parts, keep-out areas, lines of the panel.

use super::dimension::{BESIDE, LabelLine};
use super::field::Field;
use super::leader::{Start, around};
use super::printed;
use super::view::View;
use crate::draw::ink::{Layer, Line as Pen, LineType, Mark, Width};
use crate::geometry::outline::{CURVE_TOLERANCE, Outline};
use crate::solve::{Feature, KeepOut, PanelLine, Pattern};
use kurbo::Point;

/// Parts as adjacent parts are drawn, long dash, double dot, thin; feet of the accessory dash dot.
pub(super) fn parts(pattern: &Pattern, view: View) -> Vec<Mark> {
    let marks = |own: &Outline, layer: Layer, kind: LineType| {
        let path = view.affine() * own.closed_path(CURVE_TOLERANCE);
        Mark::stroke(layer, path, Pen::of(kind, Width::Thin))
    };
    let parts = pattern.parts.iter();
    let parts = parts.map(|part| marks(&part.outline, Layer::Parts, LineType::LongDashDoubleDot));
    let feet = pattern.feet.iter();
    let feet = feet.map(|foot| marks(&foot.outline, Layer::Feet, LineType::DashDot));
    parts.chain(feet).collect()
}

/// The edge of a keep-out area.
pub(super) fn keep_out(area: &KeepOut, view: View) -> Mark {
    let path = view.affine() * area.outline.closed_path(CURVE_TOLERANCE);
    Mark::stroke(
        Layer::KeepOut,
        path,
        Pen::of(LineType::Dashed, Width::Medium),
    )
}

/// What stands on the hidden side, as hidden edges are drawn: dashed, thin.
pub(super) fn feature(feature: &Feature, view: View) -> Mark {
    let path = view.affine() * feature.outline.closed_path(CURVE_TOLERANCE);
    Mark::stroke(Layer::Behind, path, Pen::of(LineType::Dashed, Width::Thin))
}

/// A line to fold along.
pub(super) fn line(line: &PanelLine, view: View) -> Mark {
    let pen = Pen::continuous(Width::Thin);
    Mark::stroke(Layer::Fold, view.path(&line.points), pen)
}

/// Names of all of these, each at a free place.
pub(super) fn names(pattern: &Pattern, view: View, field: &mut Field) -> Vec<Mark> {
    let mut marks = vec![];
    let mut name = |words: String, at: Point, layer: Layer| {
        if !field.rooms.show(view.point(at)) {
            return;
        }
        // In two lines it finds a place nearer by.
        let line: Vec<LabelLine> = match words.split_once(", ") {
            Some((name, height)) if layer == Layer::Behind => {
                vec![LabelLine::new(name, BESIDE), LabelLine::new(height, BESIDE)]
            }
            _ => vec![LabelLine::new(words.clone(), BESIDE)],
        };
        let start = match layer {
            Layer::KeepOut | Layer::Behind => Start::Dot,
            _ => Start::Arrow,
        };
        let candidates: Vec<_> = around(view.point(at), &line, layer, start, |_| 0.0).collect();
        marks.extend(field.place_or_note(candidates, view.point(at), &words, layer));
    };
    for part in &pattern.parts {
        let rim = part
            .outline
            .vertices()
            .first()
            .map_or(part.origin, |vertex| vertex.point);
        name(part.label(), rim, Layer::Parts);
    }
    for foot in &pattern.feet {
        let rim = foot.outline.vertices().first();
        let rim = rim.map_or(Point::ORIGIN, |vertex| vertex.point);
        name(format!("presses here: {}", foot.name), rim, Layer::Feet);
    }
    for feature in printed::features(pattern) {
        let words = format!(
            "behind: {}, {} high",
            feature.name,
            pattern.units.length(feature.height)
        );
        name(words, feature.outline.bounds().center(), Layer::Behind);
    }
    for area in printed::keep_outs(pattern) {
        let words = format!(
            "keep out: {}, {} off",
            area.name,
            pattern.units.length(area.distance)
        );
        name(words, area.outline.bounds().center(), Layer::KeepOut);
    }
    for line in &pattern.lines {
        let words = format!("{}: {}", line.kind.word(), line.name);
        let at = line.points.first().copied().unwrap_or_default();
        name(words, at, Layer::Fold);
    }
    marks
}
