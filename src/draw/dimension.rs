//! Dimensions and leaders, as candidates for a free place.
//!
//! Arrows, extension lines and reading directions as drawing offices do it under ISO 129
//! (common practice, from memory).

use super::offer::Candidate;
use super::offer::{Later, Offer};
use crate::draw::ink::{Anchor, Layer, Line as Pen, Mark, Shade, Text, Width, lettering};
use crate::geometry::outline::CURVE_TOLERANCE;
use kurbo::{BezPath, Circle, Line, Point, Rect, Shape, Vec2};
use std::rc::Rc;

/// Height of what is worked by at the panel: figures, names, letters, mm (ISO 3098-1).
pub(super) const WORKED_BY: f64 = 5.0;

/// Height of what stands with it, and the least that anything at the panel has, mm (ISO 3098-1).
pub(super) const BESIDE: f64 = 3.5;

/// From one dimension line to the next, mm.
pub(super) const ROW: f64 = 9.5;

const ARROW: f64 = 3.0;
const ARROW_HALF_WIDTH: f64 = 0.5;
const DOT_RADIUS: f64 = 0.6;
/// From the feature to the start of its extension line, mm.
const GAP: f64 = 1.2;
/// Extension line past its dimension line, mm.
const PAST: f64 = 1.8;
/// Half the strip beside a dimension line that no other may share, mm.
const RAIL: f64 = 3.4;
/// From a line to the figures over it, mm.
const LIFT: f64 = 1.2;
/// From a line to what hangs below figures, fractions and brackets, mm.
const OVER_LINE: f64 = 0.4;

const THIN: Pen = Pen::continuous(Width::Thin);

/// Which way a dimension is measured on the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Along {
    /// Across the page.
    Across,
    /// Up the page.
    Up,
}

impl Along {
    fn unit(self) -> Vec2 {
        match self {
            Self::Across => Vec2::new(1.0, 0.0),
            Self::Up => Vec2::new(0.0, 1.0),
        }
    }

    /// The way from a dimension line to its figures: up, or to the left of a standing line.
    fn lift(self) -> Vec2 {
        match self {
            Self::Across => Vec2::new(0.0, 1.0),
            Self::Up => Vec2::new(-1.0, 0.0),
        }
    }

    fn turn(self) -> f64 {
        match self {
            Self::Across => 0.0,
            Self::Up => 90.0,
        }
    }

    /// The place with this part along and this part at right angles.
    fn point(self, along: f64, off: f64) -> Point {
        match self {
            Self::Across => Point::new(along, off),
            Self::Up => Point::new(off, along),
        }
    }

    fn parts(self, point: Point) -> (f64, f64) {
        match self {
            Self::Across => (point.x, point.y),
            Self::Up => (point.y, point.x),
        }
    }
}

/// A dimension between two features, its line at `off` (y of a line across, x of one up): once for
/// each place where its figures can stand.
pub(super) fn linear(
    from: Point,
    to: Point,
    along: Along,
    off: f64,
    words: &str,
    cost: f64,
) -> impl Iterator<Item = impl Offer> {
    let ((a, a_off), (b, b_off)) = (along.parts(from), along.parts(to));
    let ((a, a_off), (b, b_off)) = if a <= b {
        ((a, a_off), (b, b_off))
    } else {
        ((b, b_off), (a, a_off))
    };
    let unit = along.unit();
    let (start, end) = (along.point(a, off), along.point(b, off));
    let arrows_inside = b - a >= 3.0 * ARROW;

    let mut bare = Candidate::default();
    for (along_at, feature_off) in [(a, a_off), (b, b_off)] {
        let sense = (off - feature_off).signum();
        if (off - feature_off).abs() > GAP {
            bare.line(Line::new(
                along.point(along_at, feature_off + sense * GAP),
                along.point(along_at, off + sense * PAST),
            ));
        }
    }
    let outward = if arrows_inside { 1.0 } else { -1.0 };
    bare.marks.push(arrow(start, unit * -outward));
    bare.marks.push(arrow(end, unit * outward));

    let width = lettering::width(words, WORKED_BY);
    let tail = if arrows_inside { 0.0 } else { 2.0 * ARROW };
    let lift = along.lift() * LIFT.max(hanging(words) + OVER_LINE);
    let shared = Rc::new((bare, words.to_owned()));
    figure_places(b - a, width, tail).map(move |(place, less_welcome)| {
        let shared = Rc::clone(&shared);
        Later::new(cost + less_welcome, move || {
            let (bare, words) = &*shared;
            let mut candidate = bare.clone();
            let (first, last) = (-tail, (b - a) + tail);
            let line = Line::new(
                start + unit * first.min(place),
                start + unit * last.max(place + width),
            );
            candidate.line(line);
            let across = Vec2::new(unit.y, unit.x) * RAIL;
            candidate.rail = Some(Rect::from_points(line.p0 - across, line.p1 + across));
            candidate.marks.push(Mark::text(
                Layer::Dimensions,
                Text {
                    words: words.clone(),
                    at: start + unit * place + lift,
                    height: WORKED_BY,
                    anchor: Anchor::Start,
                    turn: along.turn(),
                    heavy: false,
                },
            ));
            candidate
        })
    })
}

/// How far words as high as figures hang below their baseline, mm.
fn hanging(words: &str) -> f64 {
    let text = Text {
        words: words.to_owned(),
        at: Point::ZERO,
        height: WORKED_BY,
        anchor: Anchor::Start,
        turn: 0.0,
        heavy: false,
    };
    -lettering::bounds(&text).y0
}

/// Where figures of this width start along a dimension line of this length, and how unwelcome
/// that is: the middle first, then off the middle, then past the ends.
fn figure_places(length: f64, width: f64, tail: f64) -> impl Iterator<Item = (f64, f64)> {
    let room = length - width - 2.0 * (ARROW + 0.5);
    let within = [
        0.5, 0.3, 0.7, 0.15, 0.85, 0.0, 1.0, 0.4, 0.6, 0.22, 0.78, 0.08, 0.92,
    ]
    .into_iter()
    .enumerate()
    .filter(move |_| room >= 0.0 && tail == 0.0)
    .map(move |(i, share)| (ARROW + 0.5 + room * share, i as f64 * 0.4));
    let past = [(length + tail + 1.0, 3.0), (-tail - 1.0 - width, 3.5)];
    within.chain(past)
}

/// One line of a label.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct LabelLine {
    pub(super) words: String,
    pub(super) height: f64,
    pub(super) heavy: bool,
}

impl LabelLine {
    pub(super) fn new(words: impl Into<String>, height: f64) -> Self {
        Self {
            words: words.into(),
            height,
            heavy: false,
        }
    }

    pub(super) fn heavy(words: impl Into<String>, height: f64) -> Self {
        Self {
            words: words.into(),
            height,
            heavy: true,
        }
    }
}

/// Space under a line of a label, a part of its height: clear of what hangs below it.
const LEADING: f64 = 0.46;

pub(super) fn label_width(words: &[LabelLine]) -> f64 {
    words
        .iter()
        .map(|line| lettering::width(&line.words, line.height))
        .fold(0.0, f64::max)
}

pub(super) fn label_height(words: &[LabelLine]) -> f64 {
    let Some((last, before)) = words.split_last() else {
        return 0.0;
    };
    let before = before.iter().map(|line| line.height * (1.0 + LEADING));
    before.sum::<f64>() + last.height
}

/// Lines of lettering with their upper left corner at a place.
pub(super) fn label(upper_left: Point, words: &[LabelLine], layer: Layer) -> Candidate {
    let mut candidate = Candidate::default();
    let mut top = upper_left.y;
    for line in words {
        candidate.marks.push(Mark::text(
            layer,
            Text {
                words: line.words.clone(),
                at: Point::new(upper_left.x, top - line.height),
                height: line.height,
                anchor: Anchor::Start,
                turn: 0.0,
                heavy: line.heavy,
            },
        ));
        top -= line.height * (1.0 + LEADING);
    }
    candidate
}

impl Candidate {
    fn line(&mut self, line: Line) {
        self.lines.push(line);
        self.marks.push(stroke(Layer::Dimensions, line));
    }
}

pub(super) fn stroke(layer: Layer, line: Line) -> Mark {
    let mut path = BezPath::new();
    path.move_to(line.p0);
    path.line_to(line.p1);
    Mark::stroke(layer, path, THIN)
}

fn arrow(tip: Point, pointing: Vec2) -> Mark {
    arrow_in(Layer::Dimensions, tip, pointing)
}

/// Words in the border of a picture, their middle at `at`, turned by so many degrees.
pub(super) fn beside_picture(words: String, at: Point, turn: f64) -> Mark {
    let text = Text {
        words,
        at,
        height: BESIDE,
        anchor: Anchor::Middle,
        turn,
        heavy: false,
    };
    Mark::text(Layer::Text, text)
}

/// The dot in which a leader ends within an area (ISO 128).
pub(super) fn dot_in(layer: Layer, at: Point) -> Mark {
    let path = Circle::new(at, DOT_RADIUS).to_path(CURVE_TOLERANCE);
    Mark::fill(layer, path, Shade::Black)
}

/// A filled arrowhead.
pub(super) fn arrow_in(layer: Layer, tip: Point, pointing: Vec2) -> Mark {
    let back = tip - pointing * ARROW;
    let side = Vec2::new(-pointing.y, pointing.x) * ARROW_HALF_WIDTH;
    let mut path = BezPath::new();
    path.move_to(tip);
    path.line_to(back + side);
    path.line_to(back - side);
    path.close_path();
    Mark::fill(layer, path, Shade::Black)
}
