//! One leader for each size of corner: its radius, and the hole to drill there.

use super::dimension::{BESIDE, LabelLine, WORKED_BY};
use super::drilling;
use super::field::Field;
use super::leader::{Start, around, round_leaders};
use super::names;
use super::view::View;
use crate::draw::ink::{Layer, Mark};
use crate::geometry::outline::Side;
use crate::solve::{Opening, Pattern, Relief};
use kurbo::{Point, Vec2};

/// Arcs whose centres are nearer than this, mm, are one corner.
const ONE_CENTRE: f64 = 0.01;

/// Radii nearer than this, mm, are one size.
const ONE_SIZE: f64 = 0.005;

/// Radii of fitted corners nearer than this, mm, are told as one: a figure shows tenths.
const ALIKE: f64 = 0.05;

/// Corners of one size, drilled alike or sawn.
struct Size {
    radius: f64,
    /// Whether they are corners that the side which is kept turns inward at.
    inner: bool,
    hole: Option<Relief>,
    /// Centre of each corner, and a point on its arc.
    corners: Vec<(Point, Point)>,
}

/// A leader for each size of corner of so many openings like this one.
pub(super) fn leaders(
    pattern: &Pattern,
    (opening, count): (&Opening, usize),
    view: View,
    field: &mut Field,
) -> Vec<Mark> {
    let centre = view.point(opening.outline.bounds().center());
    let mut marks = vec![];
    for size in sizes(opening) {
        let words = words(pattern, (opening, count), &size);
        let candidates = size.corners.iter().flat_map(|(_, on_arc)| {
            let target = view.point(*on_arc);
            let outward = (target - centre).normalize();
            let unwelcome = move |direction: Vec2| 2.0 * (1.0 - direction.dot(outward));
            around(target, &words, Layer::Dimensions, Start::Arrow, unwelcome)
        });
        let told: Vec<&str> = words.iter().map(|line| line.words.as_str()).collect();
        let untold = format!("{}: {}", opening.name(), told.join(", "));
        let mut corners = size.corners.iter().map(|(_, on_arc)| view.point(*on_arc));
        let target = corners.clone().find(|at| field.rooms.show(*at));
        let target = target.or(corners.next_back()).unwrap_or(centre);
        marks.extend(field.place_or_note(candidates, target, &untold, Layer::Dimensions));
    }
    marks
}

/// One leader with the diameter, and the tool, of round holes alike.
pub(super) fn round(
    pattern: &Pattern,
    holes: &[&Opening],
    view: View,
    field: &mut Field,
) -> Vec<Mark> {
    let count = holes.len();
    let Some(words) = holes.first().map(|hole| round_words(pattern, hole, count)) else {
        return vec![];
    };
    let reach = |hole: &&Opening| {
        let bounds = hole.outline.bounds();
        (view.point(bounds.center()), bounds.width() / 2.0)
    };
    // A leader points to the middle of a hole.
    let candidates = holes
        .iter()
        .map(reach)
        .flat_map(|(centre, radius)| round_leaders(centre, radius, &words, Layer::Dimensions));
    let told: Vec<&str> = words.iter().map(|line| line.words.as_str()).collect();
    let names: Vec<String> = holes.iter().map(|hole| hole.name()).collect();
    let untold = format!("{}: {}", names::begun_with(&names), told.join(", "));
    let mut places = holes.iter().map(reach);
    let target = places.clone().find(|(at, _)| field.rooms.show(*at));
    let target = target.or(places.next_back());
    let target = target.map_or(Point::ZERO, |(at, radius)| at + Vec2::new(radius, 0.0));
    field.place_or_note(candidates, target, &untold, Layer::Dimensions)
}

/// What is told of so many round holes like this one.
pub(super) fn round_words(pattern: &Pattern, opening: &Opening, count: usize) -> Vec<LabelLine> {
    let Some(size) = sizes(opening).into_iter().next() else {
        return vec![];
    };
    let mut words = words(pattern, (opening, 1), &size);
    if let Some(first) = words.first_mut() {
        first.words = format!("{}{}", times(count), first.words);
    }
    words
}

fn sizes(opening: &Opening) -> Vec<Size> {
    if opening.fitted {
        return drilled(opening);
    }
    let mut sizes: Vec<Size> = vec![];
    for side in opening
        .outline
        .sides()
        .filter(|side| side.side == Side::Cut)
    {
        let (Some(centre), Some(radius)) = (side.centre(), side.radius()) else {
            continue;
        };
        let inner = side.bulge > 0.0;
        let is_its_own = |hole: &&Relief| {
            let mut corners = hole.corners.iter();
            corners.any(|corner| corner.distance(centre) < ONE_CENTRE)
        };
        let hole = opening.relief.iter().find(is_its_own).cloned();
        let corner = (centre, side.at(0.5));
        let same = |size: &&mut Size| {
            let made = |hole: &Option<Relief>| {
                let hole = hole.as_ref()?;
                Some((hole.tool, hole.corners.len(), hole.crowded))
            };
            (size.radius - radius).abs() < ONE_SIZE
                && size.inner == inner
                && made(&size.hole) == made(&hole)
        };
        match sizes.iter_mut().find(same) {
            Some(size) => {
                let known = |(other, _): &(Point, Point)| other.distance(centre) < ONE_CENTRE;
                if !size.corners.iter().any(known) {
                    size.corners.push(corner);
                }
            }
            None => sizes.push(Size {
                radius,
                inner,
                hole,
                corners: vec![corner],
            }),
        }
    }
    sizes
}

/// The holes of an outline whose arcs are no corners of their own.
fn drilled(opening: &Opening) -> Vec<Size> {
    let mut sizes: Vec<Size> = vec![];
    for hole in &opening.relief {
        let radius = hole.diameter / 2.0;
        let outward = hole.at - opening.outline.bounds().center();
        let towards = hole.at + outward * (radius / outward.hypot().max(1.0));
        let corner = (hole.at, opening.outline.distance(towards).1);
        match sizes
            .iter_mut()
            .find(|size| (size.radius - radius).abs() < ALIKE)
        {
            Some(size) => size.corners.push(corner),
            None => sizes.push(Size {
                radius,
                inner: true,
                hole: Some(hole.clone()),
                corners: vec![corner],
            }),
        }
    }
    sizes
}

fn words(pattern: &Pattern, (opening, count): (&Opening, usize), size: &Size) -> Vec<LabelLine> {
    let units = pattern.units;
    let diameter = units.figure(2.0 * size.radius);
    let main = if opening.is_round_hole() {
        format!("Ø{diameter}")
    } else {
        format!(
            "{}R{}",
            times(count * size.corners.len()),
            units.figure(size.radius)
        )
    };
    // A fitted corner has no radius of its own: its hole says all that a tape can check.
    let mut lines = if opening.fitted {
        vec![]
    } else {
        vec![LabelLine::new(main, WORKED_BY)]
    };
    match &size.hole {
        Some(hole) => {
            let with = drilling::tool(hole, opening.fitted, units);
            let holes = times(count * size.corners.len() / hole.corners.len().max(1));
            // A line each: a label that reaches past the work makes its sheets wider.
            let told = format!("{holes}{with}");
            lines.extend(told.split(", ").map(|line| LabelLine::new(line, BESIDE)));
        }
        None if size.inner => {
            lines.push(LabelLine::new("no hole: along the line", BESIDE));
        }
        None => {}
    }
    lines
}

/// `3 × ` before what is alike; nothing before one.
pub(super) fn times(count: usize) -> String {
    match count {
        0 | 1 => String::new(),
        count => format!("{count} × "),
    }
}
