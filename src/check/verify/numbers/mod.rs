//! A second path from a definition to its openings: placed and rounded by plain sums from the
//! numbers that the definition gives, with nothing of what solves and draws patterns.
//!
//! It goes as far as plain sums go: openings given outright, on a datum edge that does not bow,
//! measured on the panel or on one that is flat. What it does not judge it names.

mod arithmetic;
mod corners;

use super::seen::CutLine;
use crate::base::Direction;
use crate::geometry::outline::Side;
use crate::input::families::{Family, Library};
use crate::input::{Measured, OpeningGiven, PatternSpec, ShapeAt, SquareTo, TrimGiven};
use crate::model::panel::Face;
use corners::{Corner, rounded};
use kurbo::{Affine, Line, Point, Vec2};
use std::collections::BTreeMap;

/// An opening by the definition's own numbers.
#[derive(Debug, Clone)]
pub(crate) struct Numbered {
    pub(crate) name: String,
    /// `Err` says why it is not judged.
    pub(crate) plain: Result<Plain, String>,
}

/// An opening about its own origin, turned as it lies on the page, and where that origin is.
#[derive(Debug, Clone)]
pub(crate) struct Plain {
    pieces: Vec<(Line, bool)>,
    /// From the centreline to the page's right, mm.
    offset: f64,
    /// From the datum edge to the page's head, mm.
    up: f64,
    /// 1 where the panel lies to the head of its datum edge, -1 to the foot.
    pub(crate) away: f64,
    leans: bool,
}

impl Plain {
    /// The opening on the page, the centreline meeting the datum edge at the origin and going to
    /// the right by `lean` in 1 mm to the head: all of it, and what of it is cut.
    pub(crate) fn placed(&self, lean: f64) -> (CutLine, CutLine) {
        let turn = if self.leans { -libm::atan(lean) } else { 0.0 };
        let origin = Vec2::new(self.offset + lean * self.up, self.up);
        let place = Affine::translate(origin) * Affine::rotate(turn);
        let all = |wanted: &dyn Fn(bool) -> bool| CutLine {
            pieces: self
                .pieces
                .iter()
                .filter(|(_, cut)| wanted(*cut))
                .map(|(line, _)| place * *line)
                .collect(),
        };
        (all(&|_| true), all(&|cut| cut))
    }
}

/// All openings and trims of a definition.
pub(crate) fn openings(spec: &PatternSpec, shapes: &Library) -> Vec<Numbered> {
    let openings = spec.openings.iter().map(|opening| Numbered {
        name: opening.name.value.clone(),
        plain: match &opening.given {
            _ if !opening.take_in.is_empty() => Err("taking in a hole".into()),
            OpeningGiven::Around(_) => Err("worked out from parts".into()),
            OpeningGiven::Outright(at) => plain(at, spec, shapes),
        },
    });
    let trims = spec.trims.iter().map(|trim| Numbered {
        name: trim.name.value.clone(),
        plain: match &trim.given {
            TrimGiven::Along(_) => Err("trimmed off along a line".into()),
            TrimGiven::Within(at) => plain(at, spec, shapes),
        },
    });
    openings.chain(trims).collect()
}

fn plain(at: &ShapeAt, spec: &PatternSpec, shapes: &Library) -> Result<Plain, String> {
    if !spec.panel.edge.is_empty() {
        return Err("on a datum edge that bows".into());
    }
    if at.measured == Measured::SquareOn && spec.panel.surface.is_some() {
        return Err("measured square-on, on a panel that is not flat".into());
    }
    let panel = &spec.panel;
    let (head, datum) = (axis(panel.page_up.value), axis(panel.datum_edge.value));
    // The datum edge at the head turns all half round.
    let sense = if datum == head { -1.0 } else { 1.0 };
    let right = cross(look(panel.seen_from.value), head);
    let offset = match at.centre_offset.value.towards {
        None => 0.0,
        Some(side) => at.centre_offset.value.distance * dot(axis(side), right),
    };
    let family = shapes
        .find(&at.shape.value)
        .map_err(|_| String::from("of a shape that is not known"))?;
    let corners = corners_of(family, at).ok_or("of a shape whose arithmetic is not plain")?;
    let pieces = rounded(&corners).ok_or("of a shape whose corners fall together")?;
    let turned = Affine::scale(sense);
    Ok(Plain {
        pieces: pieces
            .into_iter()
            .map(|(line, cut)| (turned * line, cut))
            .collect(),
        offset,
        up: sense * at.from_datum.value,
        away: sense,
        leans: at.square_to == SquareTo::Centreline,
    })
}

fn corners_of(family: &Family, at: &ShapeAt) -> Option<Vec<Corner>> {
    let mut values: BTreeMap<String, f64> = family
        .parameters()
        .iter()
        .map(|parameter| (parameter.name.clone(), parameter.default.number))
        .collect();
    for (name, value) in &at.with {
        values.insert(name.clone(), value.value.number);
    }
    let value = |written: &str| arithmetic::value(written, &values);
    family
        .written_corners()
        .map(|corner| {
            Some(Corner {
                at: Point::new(value(corner.x)?, value(corner.y)?),
                radius: corner.radius.map_or(Some(0.0), value)?,
                cut: corner.side == Side::Cut,
            })
        })
        .collect()
}

/// The vehicle's axes: to the front, to its left, up.
fn axis(direction: Direction) -> [f64; 3] {
    match direction {
        Direction::Front => [1.0, 0.0, 0.0],
        Direction::Rear => [-1.0, 0.0, 0.0],
        Direction::Left => [0.0, 1.0, 0.0],
        Direction::Right => [0.0, -1.0, 0.0],
        Direction::Up => [0.0, 0.0, 1.0],
        Direction::Down => [0.0, 0.0, -1.0],
    }
}

/// The way that a reader looks who stands there.
fn look(stands: Face) -> [f64; 3] {
    match stands {
        Face::Behind => [1.0, 0.0, 0.0],
        Face::Front => [-1.0, 0.0, 0.0],
        Face::Right => [0.0, 1.0, 0.0],
        Face::Left => [0.0, -1.0, 0.0],
        Face::Below => [0.0, 0.0, 1.0],
        Face::Above => [0.0, 0.0, -1.0],
    }
}

fn cross([a, b, c]: [f64; 3], [d, e, f]: [f64; 3]) -> [f64; 3] {
    [b * f - c * e, c * d - a * f, a * e - b * d]
}

fn dot([a, b, c]: [f64; 3], [d, e, f]: [f64; 3]) -> f64 {
    a * d + b * e + c * f
}
