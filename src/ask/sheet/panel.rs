//! The picture on the measuring sheet: a panel with its edge at the foot, and where each tape goes.

use super::{SMALL, Standing};
use crate::base::Direction;
use crate::draw::ink::{Anchor, Layer, Line, LineType, Mark, Text, Width};
use crate::model::panel::Orientation;
use kurbo::{BezPath, Circle, Point, Rect, Shape, Vec2};

/// Length of an arrowhead, mm.
const ARROW: f64 = 2.4;
/// Room for a row of words, mm.
const ROW: f64 = 5.5;

/// A line through these points.
pub(super) fn line(points: &[Point], width: Width) -> Mark {
    pen(points, LineType::Continuous, width)
}

fn pen(points: &[Point], kind: LineType, width: Width) -> Mark {
    let mut path = BezPath::new();
    for (index, point) in points.iter().enumerate() {
        match index {
            0 => path.move_to(*point),
            _ => path.line_to(*point),
        }
    }
    Mark::stroke(Layer::Dimensions, path, Line::of(kind, width))
}

fn letter(words: &str, at: Point, heavy: bool) -> Mark {
    let text = Text {
        words: words.into(),
        at: at - Vec2::new(0.0, SMALL / 2.0),
        height: SMALL,
        anchor: Anchor::Middle,
        turn: 0.0,
        heavy,
    };
    Mark::text(Layer::Text, text)
}

/// A tape between two points, an arrow at either end, its letter beside its middle.
fn tape(from: Point, to: Point, name: &str, marks: &mut Vec<Mark>) {
    marks.push(line(&[from, to], Width::Thin));
    let along = (to - from).normalize();
    let across = Vec2::new(-along.y, along.x);
    for (tip, back) in [(from, along), (to, -along)] {
        let wings = [across, -across].map(|side| tip + back * ARROW + side * (ARROW / 3.0));
        marks.push(line(&[wings[0], tip, wings[1]], Width::Thin));
    }
    let middle = from.midpoint(to);
    // Under a tape that lies, right of one that stands.
    let aside = if along.x.abs() > along.y.abs() {
        Vec2::new(0.0, -2.6)
    } else {
        Vec2::new(2.8, 0.0)
    };
    marks.push(letter(name, middle + aside, true));
}

/// The picture in its place.
pub(super) fn picture(standing: Standing, place: Rect) -> Vec<Mark> {
    let mut marks = vec![];
    let panel = Rect::new(
        place.x0 + 26.0,
        place.y0 + 3.0 * ROW,
        place.x1 - 26.0,
        place.y1 - ROW,
    );
    let known = orientation(standing);
    // Tapes start from the vehicle's left, wherever that lies as the panel is seen.
    let is_mirrored = known.is_some_and(|own| own.page_right() == Direction::Left);
    let at = |x: f64, y: f64| {
        let x = if is_mirrored { 1.0 - x } else { x };
        Point::new(panel.x0 + panel.width() * x, panel.y0 + panel.height() * y)
    };
    let corners = [at(0.0, 0.0), at(0.0, 1.0), at(1.0, 1.0), at(1.0, 0.0)];
    marks.push(line(&corners, Width::Medium));
    marks.push(line(&[at(0.0, 0.0), at(1.0, 0.0)], Width::Broad));
    sides(standing.datum_edge, known, panel, &mut marks);
    // The middle, and a part beside it.
    marks.push(pen(
        &[at(0.5, 0.0), at(0.5, 1.0)],
        LineType::LongDashDot,
        Width::Thin,
    ));
    let part = Rect::from_center_size(at(0.66, 0.42), (panel.width() * 0.11, panel.height() * 0.3));
    marks.push(Mark::stroke(
        Layer::Parts,
        part.to_path(0.1),
        Line::of(LineType::Continuous, Width::Broad),
    ));
    tape(
        Point::new(at(0.5, 0.0).x, part.center().y),
        part.center(),
        "H",
        &mut marks,
    );
    tape(
        Point::new(part.center().x, panel.y0),
        part.center(),
        "J",
        &mut marks,
    );
    let over = part.y1 + 6.0;
    tape(
        Point::new(part.x0, over),
        Point::new(part.x1, over),
        "K",
        &mut marks,
    );
    // On the side that is turned away from the middle.
    let beside = if is_mirrored {
        part.x0 - 6.0
    } else {
        part.x1 + 2.5
    };
    tape(
        Point::new(beside, part.y0),
        Point::new(beside, part.y1),
        "L",
        &mut marks,
    );
    // A pair, read from the left end.
    let hole = |at: Point, radius: f64| {
        Mark::stroke(
            Layer::Locators,
            Circle::new(at, radius).to_path(0.01),
            Line::of(LineType::Continuous, Width::Medium),
        )
    };
    let (left, right) = (at(0.1, 0.72), at(0.9, 0.72));
    marks.extend([hole(left, 1.8), hole(right, 1.8)]);
    tape(at(0.0, 0.72), left, "B", &mut marks);
    let high = 0.9;
    tape(at(0.0, high), at(0.9, high), "C", &mut marks);
    marks.push(line(&[at(0.9, high), right], Width::Thin));
    tape(at(0.9, 0.0), right, "D", &mut marks);
    // A locator, read likewise.
    let locator = at(0.33, 0.4);
    marks.push(hole(locator, 2.6));
    tape(at(0.0, 0.4), locator, "E", &mut marks);
    tape(at(0.33, 0.0), locator, "F", &mut marks);
    marks.push(letter("G", locator + Vec2::new(5.0, 3.4), true));
    let foot = panel.y0 - 3.0;
    tape(
        Point::new(panel.x0, foot),
        Point::new(panel.x1, foot),
        "A",
        &mut marks,
    );
    marks
}

/// How the panel lies, where that is known.
fn orientation(standing: Standing) -> Option<Orientation> {
    let (face, datum) = standing.seen_from.zip(standing.datum_edge)?;
    Orientation::new(face, datum, datum.opposite()).ok()
}

/// What lies at each side: the vehicle's own directions where they are known.
fn sides(datum: Option<Direction>, known: Option<Orientation>, panel: Rect, marks: &mut Vec<Mark>) {
    let middle = panel.center();
    let foot = match datum {
        Some(edge) => format!("{} edge: hook the tape here", edge.word()),
        None => "the edge that the tape is hooked over".into(),
    };
    marks.push(letter(&foot, Point::new(middle.x, panel.y0 - 11.5), false));
    let [left, right, head] = match known {
        Some(orientation) => {
            let right = orientation.page_right();
            [right.opposite(), right, orientation.page_up()].map(|side| side.word().to_owned())
        }
        None => ["left?", "right?", "as you see it"].map(str::to_owned),
    };
    marks.push(letter(&left, Point::new(panel.x0 - 13.0, middle.y), false));
    marks.push(letter(&right, Point::new(panel.x1 + 13.0, middle.y), false));
    marks.push(letter(&head, Point::new(middle.x, panel.y1 + 2.8), false));
}
