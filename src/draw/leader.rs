//! Leaders: lettering beside what it is about, with a line to it.

use super::dimension::{LabelLine, arrow_in, dot_in, label, label_height, label_width, stroke};
use super::field::clear_of_start;
use super::offer::Candidate;
use super::offer::{Later, Offer};
use crate::draw::ink::Layer;
use kurbo::{Line, Point, Vec2};

/// Directions that are tried round a target; none of them lies along a cross.
const DIRECTIONS: usize = 24;

/// Rings of places that are tried round a target.
const RINGS: usize = 16;

/// From the start of a leader to the first ring of places, and from ring to ring, mm.
const FIRST_RING: f64 = 9.0;
const NEXT_RING: f64 = 6.0;

/// What each further ring costs.
const FARTHER: f64 = 2.0;

/// From the end of a leader to its words, mm.
const TO_WORDS: f64 = 1.0;

/// How near its start a leader may touch what it points to, mm.
const TOUCHING: f64 = 0.8;

/// How a leader starts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Start {
    /// At the target itself.
    Point,
    /// At the target on an outline, with an arrow.
    Arrow,
    /// At the target within an area, with a dot.
    Dot,
    /// On a circle round the target, of this radius in mm.
    Circle(f64),
}

/// Leader candidates all round a target, nearest first; `unwelcome` adds to what a direction
/// costs.
pub(super) fn around<'a>(
    target: Point,
    words: &'a [LabelLine],
    layer: Layer,
    start: Start,
    unwelcome: impl Fn(Vec2) -> f64 + 'a,
) -> impl Iterator<Item = impl Offer + 'a> + 'a {
    rays().map(move |(direction, length, farther)| {
        Later::new(farther + unwelcome(direction), move || {
            leader(target, direction, length, words, layer, start)
        })
    })
}

/// Leader candidates all round a hole, each with its arrow on the rim and pointing to the middle.
pub(super) fn round_leaders<'a>(
    middle: Point,
    radius: f64,
    words: &'a [LabelLine],
    layer: Layer,
) -> impl Iterator<Item = impl Offer + 'a> + 'a {
    rays().map(move |(direction, length, farther)| {
        Later::new(farther, move || {
            let rim = middle + direction * radius;
            leader(rim, direction, length, words, layer, Start::Arrow)
        })
    })
}

/// Directions and lengths of leaders, nearest first, and what each costs.
pub(super) fn rays() -> impl Iterator<Item = (Vec2, f64, f64)> {
    (0..RINGS).flat_map(|ring| {
        let ring = ring as f64;
        (0..DIRECTIONS).map(move |k| {
            let angle = (k as f64 + 0.5) * std::f64::consts::TAU / DIRECTIONS as f64;
            let direction = Vec2::new(libm::cos(angle), libm::sin(angle));
            (direction, FIRST_RING + NEXT_RING * ring, ring * FARTHER)
        })
    })
}

/// Lines of lettering at the end of a leader of this direction and length.
fn leader(
    target: Point,
    direction: Vec2,
    length: f64,
    words: &[LabelLine],
    layer: Layer,
    start: Start,
) -> Candidate {
    let from = match start {
        Start::Point | Start::Arrow | Start::Dot => target,
        Start::Circle(radius) => target + direction * radius,
    };
    let knee = from + direction * length;
    let left = if direction.x >= 0.0 {
        knee.x + TO_WORDS
    } else {
        knee.x - TO_WORDS - label_width(words)
    };
    let upper_left = Point::new(left, knee.y + label_height(words) / 2.0);
    let mut candidate = label(upper_left, words, layer);
    let line = Line::new(from, knee);
    candidate.lines.push(clear_of_start(line, TOUCHING));
    candidate.marks.push(stroke(layer, line));
    match start {
        Start::Arrow => candidate.marks.push(arrow_in(layer, target, -direction)),
        Start::Dot => candidate.marks.push(dot_in(layer, target)),
        Start::Point | Start::Circle(_) => {}
    }
    candidate
}
