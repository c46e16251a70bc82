//! What each line on the sheets means, as a small picture.
//!
//! Samples stand in the frame's layer: whoever follows the cut layer must meet cut lines only.

use super::printed;
use crate::draw::ink::{Anchor, Block, Layer, Line as Pen, LineType, Mark, Text, Width};
use crate::geometry::outline::CURVE_TOLERANCE;
use crate::solve::Pattern;
use kurbo::{BezPath, Circle, Point, Shape, Size};

const ROW: f64 = 5.2;
const SAMPLE: f64 = 22.0;
const WIDTH: f64 = 84.0;

/// The legend, as a figure narrow enough for any column: the usual lines, and those of what else
/// the pattern shows.
pub(super) fn figure(pattern: &Pattern) -> Block {
    let mut entries: Vec<(&str, Vec<Mark>)> = vec![
        ("cut to this line; hatched side is waste", cut()),
        ("drill here first, a hole of this size", hole(Width::Thin)),
        ("hole of the panel: lay it over its own", hole(Width::Broad)),
        (
            "centreline or axis; heavy ticks at its ends",
            vec![line(LineType::LongDashDot, Width::Thin)],
        ),
        (
            "datum edge: fold here",
            vec![line(LineType::Continuous, Width::Medium)],
        ),
        (
            "tab: cut the paper here",
            vec![line(LineType::Dashed, Width::Thin)],
        ),
    ];
    if pattern.openings.iter().any(|own| own.rough.is_some()) {
        entries.push((
            "rough cut: along here first",
            vec![line(LineType::Dashed, Width::Medium)],
        ));
    }
    if !pattern.parts.is_empty() {
        entries.push((
            "part that passes through",
            vec![line(LineType::LongDashDoubleDot, Width::Thin)],
        ));
    }
    if !pattern.feet.is_empty() {
        entries.push((
            "the accessory presses the panel here",
            vec![line(LineType::DashDot, Width::Thin)],
        ));
    }
    if pattern.parts.iter().any(|part| part.tied.is_some()) {
        let middle = Point::new(SAMPLE / 2.0, 0.0);
        let cross = super::opening::cross(middle, 2.8);
        let pen = Pen::continuous(Width::Thin);
        entries.push((
            "point of a part that the tape was held to",
            vec![Mark::stroke(Layer::Frame, cross, pen)],
        ));
    }
    if !pattern.features.is_empty() {
        entries.push((
            "on the hidden side",
            vec![line(LineType::Dashed, Width::Thin)],
        ));
    }
    if !printed::keep_outs(pattern).is_empty() {
        entries.push((
            "keep out: cut nothing here",
            vec![line(LineType::Dashed, Width::Medium)],
        ));
    }
    let height = ROW * entries.len() as f64;
    let mut marks = vec![];
    for (i, (words, sample)) in entries.into_iter().enumerate() {
        let middle = height - ROW * (i as f64 + 0.5);
        let to = kurbo::Vec2::new(0.0, middle);
        marks.extend(sample.into_iter().map(|mark| mark.moved(to)));
        marks.push(Mark::text(
            Layer::Text,
            Text {
                words: words.into(),
                at: Point::new(SAMPLE + 3.0, middle - 1.25),
                height: 2.5,
                anchor: Anchor::Start,
                turn: 0.0,
                heavy: false,
            },
        ));
    }
    Block::Figure {
        size: Size::new(WIDTH, height),
        marks,
        caption: String::new(),
    }
}

fn line(kind: LineType, width: Width) -> Mark {
    Mark::stroke(
        Layer::Frame,
        segment(Point::ZERO, Point::new(SAMPLE, 0.0)),
        Pen::of(kind, width),
    )
}

fn segment(from: Point, to: Point) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    path
}

/// A piece of cut line with hatching under it.
fn cut() -> Vec<Mark> {
    let mut hatching = BezPath::new();
    for k in 1..=8 {
        let x = SAMPLE * f64::from(k) / 9.0;
        hatching.move_to((x - 1.2, -1.2));
        hatching.line_to((x + 1.2, 1.2));
    }
    vec![
        Mark::stroke(Layer::Frame, hatching, Pen::continuous(Width::Fine)),
        Mark::stroke(
            Layer::Frame,
            segment(Point::new(0.0, 1.4), Point::new(SAMPLE, 1.4)),
            Pen::continuous(Width::Thick),
        ),
    ]
}

fn hole(width: Width) -> Vec<Mark> {
    let middle = Point::new(SAMPLE / 2.0, 0.0);
    let circle = Circle::new(middle, 2.0).to_path(CURVE_TOLERANCE);
    vec![
        Mark::stroke(Layer::Frame, circle, Pen::continuous(width)),
        Mark::stroke(
            Layer::Frame,
            super::opening::cross(middle, 2.8),
            Pen::continuous(Width::Thin),
        ),
    ]
}
