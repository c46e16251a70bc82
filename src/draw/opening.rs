//! Openings: the cut line, where to drill, and the dimensions that a tape can check.

use super::corner::times;
use super::dimension::{
    Along, BESIDE, LabelLine, ROW, WORKED_BY, label, label_height, label_width, linear,
};
use super::field::Field;
use super::leader::{Start, around};
use super::offer::Later;
use super::upright::upright;
use super::{View, corner, inner, names, trim};
use crate::draw::ink::{Layer, Line as Pen, LineType, Mark, Width};
use crate::geometry::outline::CURVE_TOLERANCE;
use crate::solve::{Declared, Opening, Pattern};
use kurbo::{Arc, BezPath, Circle, Point, Rect, Shape, Vec2};
use std::f64::consts::TAU;
use std::sync::Arc as Shared;

/// Arms of the cross at a relief hole's centre, past its edge, mm.
const CROSS_PAST: f64 = 1.5;

/// Nearer than this, mm, a rim and the line to cut are one cut.
const ONE_LINE: f64 = 0.1;

/// Places that are looked at round a rim.
const RIM_STEPS: u32 = 360;

/// Side of the box that is free of other ink where a leader ends, mm.
const FREE: f64 = 2.0;

/// The line to cut to.
pub(super) fn cut_line(opening: &Opening, view: View) -> Vec<Mark> {
    let name: Shared<str> = opening.name().into();
    let pen = Pen::continuous(Width::Thick);
    let paths = opening.outline.cut_paths(CURVE_TOLERANCE).into_iter();
    paths
        .map(|path| Mark::stroke(Layer::Cut, view.affine() * path, pen).of(&name))
        .collect()
}

/// The line of a rough cut, which goes before the line.
pub(super) fn rough_cut(opening: &Opening, view: View) -> Vec<Mark> {
    let name: Shared<str> = opening.name().into();
    let pen = Pen::of(LineType::Dashed, Width::Medium);
    let lines = opening.rough.iter().flat_map(|own| &own.lines);
    let paths = lines.flat_map(|line| line.cut_paths(CURVE_TOLERANCE));
    paths
        .map(|path| Mark::stroke(Layer::Relief, view.affine() * path, pen).of(&name))
        .collect()
}

/// Holes to drill, of their tools' sizes, with their centre marks. The rim of a hole that is the
/// whole opening is its cut line, and stands nowhere else: a cutter would go round it twice.
pub(super) fn relief(opening: &Opening, view: View) -> Vec<Mark> {
    let name: Shared<str> = opening.name().into();
    let thin = Pen::continuous(Width::Thin);
    let mut marks = vec![];
    for hole in &opening.relief {
        let at = view.point(hole.at);
        let radius = hole.tool.diameter / 2.0;
        if !(opening.is_round_hole() && hole.is_finished_by_tool()) {
            for arc in rim(opening, hole.at, radius) {
                marks.push(Mark::stroke(Layer::Relief, view.affine() * arc, thin).of(&name));
            }
        }
        let arm = (radius + CROSS_PAST).min(8.0);
        marks.push(Mark::stroke(Layer::Relief, cross(at, arm), thin).of(&name));
    }
    marks
}

/// The rim of a hole but for what runs along the line to cut: a cutter would go there twice.
fn rim(opening: &Opening, middle: Point, radius: f64) -> Vec<BezPath> {
    let step = TAU / f64::from(RIM_STEPS);
    let point = |at: u32| middle + Vec2::from_angle(step * f64::from(at)) * radius;
    let free = |at: u32| opening.outline.distance(point(at)).0 > ONE_LINE;
    let Some(cut) = (0..RIM_STEPS).find(|at| !free(*at)) else {
        return vec![Circle::new(middle, radius).to_path(CURVE_TOLERANCE)];
    };
    // From a place on the line once round to it again.
    let places: Vec<u32> = (cut..cut + RIM_STEPS).collect();
    let runs = places.chunk_by(|one, next| free(*one) == free(*next));
    let runs = runs.filter(|run| free(run[0]) && run.len() > 1);
    runs.map(|run| {
        let (from, count) = (f64::from(run[0]), run.len() - 1);
        let arc = Arc::new(
            middle,
            (radius, radius),
            step * from,
            step * count as f64,
            0.0,
        );
        arc.to_path(CURVE_TOLERANCE)
    })
    .collect()
}

/// A cross with arms of this length.
pub(super) fn cross(at: Point, arm: f64) -> BezPath {
    let mut path = BezPath::new();
    for along in [Vec2::new(arm, 0.0), Vec2::new(0.0, arm)] {
        path.move_to(at - along);
        path.line_to(at + along);
    }
    path
}

/// The axis of an opening that stands off the centreline.
pub(super) fn axes(opening: &Opening, view: View) -> Vec<Mark> {
    let bounds = opening.outline.bounds();
    opening
        .declared
        .iter()
        .filter(|declared| declared.offset.abs() > super::ON_CENTRELINE)
        .map(|declared| {
            let x = declared.origin.x;
            let ends = [
                Point::new(x, bounds.y0 - 4.0),
                Point::new(x, bounds.y1 + 4.0),
            ];
            Mark::stroke(
                Layer::Centreline,
                view.path(&ends),
                Pen::of(LineType::LongDashDot, Width::Thin),
            )
        })
        .collect()
}

/// Radii, depth, width and distance from the datum edge, each at a free place; what openings alike have
/// in common is told of the first.
pub(super) fn dimensions(
    pattern: &Pattern,
    alike: &[&Opening],
    view: View,
    field: &mut Field,
) -> Vec<Mark> {
    let Some((&opening, rest)) = alike.split_first() else {
        return vec![];
    };
    let count = alike.len();
    let mut marks = corner::leaders(pattern, (opening, count), view, field);
    if opening.declared.iter().any(|own| own.trim_line().is_some()) {
        for own in &opening.declared {
            marks.extend(match own.trim_line() {
                Some(line) => trim::dimensions(pattern, (&own.name, line), view, field),
                None => united(pattern, own, view, field),
            });
        }
        return marks;
    }
    let units = pattern.units;
    let bounds = opening.bounds();
    let edge = pattern.panel.edge.at(opening.tape_at());
    let names: Vec<String> = alike.iter().map(|own| own.name()).collect();
    let name = names::begun_with(&names);
    let on_edge = opening.is_open().then_some(edge);
    let path = opening.outline.closed_path(CURVE_TOLERANCE);
    // A tape is hooked on the panel's real edge, not on the line through its ends.
    let depth_from = if opening.is_open() { edge } else { bounds.y0 };
    marks.extend(inner::dimensions(
        pattern,
        (opening, count),
        depth_from,
        view,
        field,
    ));
    let width_words = times(count) + &units.figure(bounds.width());
    let of = (name.as_str(), bounds, width_words.as_str());
    marks.extend(across(&path, of, on_edge, view, field));
    let depth_words = times(count) + &units.figure(opening.depth(&pattern.panel.edge));
    let untold = format!("{name}: depth {depth_words}");
    marks.extend(upright(
        bounds,
        (depth_from, bounds.y1),
        &depth_words,
        &untold,
        view,
        field,
    ));
    if !opening.is_open() {
        let place = |own: &Opening| {
            let edge = pattern.panel.edge.at(own.tape_at());
            let words = units.figure(own.bounds().y0 - edge);
            (words, own.bounds(), edge, own.name())
        };
        let mut places = vec![place(opening)];
        for own in rest.iter().map(|own| place(own)) {
            if places.iter().all(|(words, ..)| *words != own.0) {
                places.push(own);
            }
        }
        for (words, bounds, edge, name) in places {
            let untold = format!("{name}: {words} from the datum edge");
            let reach = (edge, bounds.y0);
            marks.extend(upright(bounds, reach, &words, &untold, view, field));
        }
    }
    marks
}

/// Width and reach of an opening that a trim runs into.
fn united(pattern: &Pattern, own: &Declared, view: View, field: &mut Field) -> Vec<Mark> {
    let (units, name, bounds) = (pattern.units, &own.name, own.bounds);
    let edge = pattern.panel.edge.at(own.origin.x);
    let outline = bounds.to_path(CURVE_TOLERANCE);
    let words = units.figure(bounds.width());
    let of = (name.as_str(), bounds, words.as_str());
    let mut marks = across(&outline, of, Some(edge), view, field);
    let words = units.figure(bounds.y1 - edge);
    let untold = format!("{name}: {words} from the datum edge");
    let reach = (edge, bounds.y1);
    marks.extend(upright(bounds, reach, &words, &untold, view, field));
    marks
}

fn across(
    outline: &BezPath,
    (name, bounds, words): (&str, Rect, &str),
    on_edge: Option<f64>,
    view: View,
    field: &mut Field,
) -> Vec<Mark> {
    // The extension lines start where the outline reaches its full width.
    let reaches = |x: f64| {
        outline
            .elements()
            .iter()
            .filter_map(kurbo::PathEl::end_point)
            .filter(|point| (point.x - x).abs() < 0.05)
            .map(|point| point.y)
            .fold(bounds.y0, f64::max)
    };
    let from = view.point(Point::new(bounds.x0, reaches(bounds.x0)));
    let to = view.point(Point::new(bounds.x1, reaches(bounds.x1)));
    // Over the opening if there is room, else on the side of the datum edge, past the tab of an
    // opening that reaches it.
    let near = on_edge.map_or(bounds.y0, |edge| edge - super::panel::TAB);
    let candidates = (0..14).flat_map(|row| {
        [(bounds.y1, 1.0, 0.0), (near, -1.0, 5.0)].map(|(side, away, less_welcome)| {
            let off = view
                .point(Point::new(0.0, side + away * ROW * f64::from(row + 1)))
                .y;
            linear(
                from,
                to,
                Along::Across,
                off,
                words,
                f64::from(row) * 6.0 + less_welcome,
            )
        })
    });
    let untold = format!("{name}: width {words}");
    field.place_or_note(candidates.flatten(), from, &untold, Layer::Dimensions)
}

/// The opening's name: inside it where there is room, on one line or a word a line, else beside it
/// with a leader.
pub(super) fn name(opening: &Opening, view: View, field: &mut Field) -> Vec<Mark> {
    let name = opening.name();
    let whole = || LabelLine::heavy(name.as_str(), WORKED_BY);
    let broken = name.split_whitespace();
    let inside = [
        vec![whole(), LabelLine::new("waste: cut away", BESIDE)],
        vec![whole()],
        broken
            .map(|word| LabelLine::heavy(word, WORKED_BY))
            .collect(),
    ];
    let outline = view.affine() * opening.outline.closed_path(CURVE_TOLERANCE);
    for words in &inside {
        if let Some(marks) = within(&outline, words, field) {
            return marks;
        }
    }
    let words = [whole()];
    let target = target(&outline, view.point(inner_point(opening)), field);
    let beside = around(target, &words, Layer::Text, Start::Dot, |_| 0.0);
    field.place_or_note(beside, target, &name, Layer::Text)
}

/// A label inside an outline, as near its middle as it can stand.
fn within(outline: &BezPath, words: &[LabelLine], field: &mut Field) -> Option<Vec<Mark>> {
    let page = outline.bounding_box();
    let (width, height) = (label_width(words), label_height(words));
    let room = page.inset(kurbo::Insets::uniform(-4.0));
    let middle = page.center();
    // A free place touches no line, so it is inside altogether where its middle is.
    let candidates = grid(room, width, height)
        .filter(|place| outline.contains(place.center()))
        .map(|place| {
            Later::new(place.center().distance(middle), move || {
                label(Point::new(place.x0, place.y1), words, Layer::Text)
            })
        });
    field.place(candidates)
}

/// Where a leader ends within an outline: about its middle, where no cross stands and no other
/// leader ends.
fn target(outline: &BezPath, middle: Point, field: &Field) -> Point {
    let page = outline.bounding_box();
    let aside = |(x, y): (f64, f64)| middle + Vec2::new(x * page.width(), y * page.height());
    let places = [(-0.3, 0.0), (0.3, 0.0), (0.0, -0.3), (0.0, 0.3)];
    let corners = [(-0.3, -0.3), (0.3, -0.3), (-0.3, 0.3), (0.3, 0.3)];
    let mut all = places.into_iter().chain(corners).map(aside);
    let free = |at: &Point| {
        outline.contains(*at) && field.is_free(Rect::from_center_size(*at, (FREE, FREE)))
    };
    all.find(free).unwrap_or(middle)
}

/// A point well inside the opening.
fn inner_point(opening: &Opening) -> Point {
    let centre = opening.outline.bounds().center();
    if opening.outline.contains(centre) {
        return centre;
    }
    opening
        .outline
        .vertices()
        .first()
        .map_or(centre, |vertex| vertex.point)
}

/// Places for a box of this size in a room, middle first is for the caller to weigh.
fn grid(room: Rect, width: f64, height: f64) -> impl Iterator<Item = Rect> {
    const STEPS: i32 = 12;
    let (spare_x, spare_y) = (room.width() - width, room.height() - height);
    (0..=STEPS)
        .flat_map(|i| (0..=STEPS).map(move |j| (f64::from(i), f64::from(j))))
        .filter(move |_| spare_x >= 0.0 && spare_y >= 0.0)
        .map(move |(i, j)| {
            let steps = f64::from(STEPS);
            let origin = Point::new(room.x0 + spare_x * i / steps, room.y0 + spare_y * j / steps);
            Rect::from_origin_size(origin, (width, height))
        })
}

/// Places that no join between sheets should cross.
pub(super) fn keep_whole(opening: &Opening, view: View) -> Vec<Rect> {
    let holes = opening
        .relief
        .iter()
        .map(|hole| Circle::new(hole.at, hole.tool.diameter / 2.0 + CROSS_PAST).bounding_box());
    let corners = opening
        .outline
        .vertices()
        .iter()
        .map(|vertex| Rect::from_center_size(vertex.point, (6.0, 6.0)));
    holes.chain(corners).map(|place| view.rect(place)).collect()
}
