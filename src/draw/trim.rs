//! Dimensions of a line that something is trimmed off along.

use super::dimension::{Along, ROW, linear};
use super::field::Field;
use super::upright::upright;
use super::view::View;
use crate::draw::ink::{Layer, Mark};
use crate::solve::Pattern;
use kurbo::{Point, Rect};

/// Two places of a line nearer than this, mm, are one to a tape.
const ONE_PLACE: f64 = 0.5;

/// Distances that differ by less, mm, are told in one figure.
const ONE_FIGURE: f64 = 0.05;

/// How deep each corner and end of the line lies, and, but at the panel's ends, how far from the
/// centreline. What several share is given once.
pub(super) fn dimensions(
    pattern: &Pattern,
    (name, line): (&str, &[Point]),
    view: View,
    field: &mut Field,
) -> Vec<Mark> {
    let mut marks = vec![];
    let (mut told, mut stood): (Vec<String>, Vec<f64>) = (vec![], vec![]);
    for at in line {
        let edge = pattern.panel.edge.at(at.x);
        let words = pattern.units.figure(at.y - edge);
        let on_far_edge = pattern
            .panel
            .size
            .is_some_and(|size| at.y > size.y1 - ONE_PLACE);
        if at.y - edge > ONE_PLACE && !on_far_edge && !told.contains(&words) {
            let place = Rect::from_points((at.x, edge), *at);
            let untold = format!("{name}: {words} from the datum edge");
            marks.extend(upright(place, (edge, at.y), &words, &untold, view, field));
            told.push(words);
        }
        // Points straight above each other are as far off, but where the centreline leans.
        let off = at.x - pattern.centreline.x_at(at.y);
        let is_told = stood.iter().any(|other| (off - other).abs() < ONE_FIGURE);
        let is_end = |x: f64| (at.x - x).abs() < ONE_PLACE;
        let at_an_end = |size: Rect| is_end(size.x0) || is_end(size.x1);
        if !is_told && !pattern.panel.size.is_some_and(at_an_end) {
            stood.push(off);
            marks.extend(across(pattern, name, *at, view, field));
        }
    }
    marks
}

/// From the centreline to a point of the line.
fn across(pattern: &Pattern, name: &str, at: Point, view: View, field: &mut Field) -> Vec<Mark> {
    let centre = pattern.centreline.x_at(at.y);
    if (at.x - centre).abs() < ONE_PLACE {
        return vec![];
    }
    let words = pattern.units.figure((at.x - centre).abs());
    let (from, to) = (view.point(Point::new(centre, at.y)), view.point(at));
    let candidates = (1..14).flat_map(|row| {
        let row = f64::from(row);
        [(1.0, 0.0), (-1.0, 5.0)].map(|(away, less_welcome)| {
            let off = view.point(Point::new(0.0, at.y + away * ROW * row)).y;
            linear(
                from,
                to,
                Along::Across,
                off,
                &words,
                row * 6.0 + less_welcome,
            )
        })
    });
    let untold = format!("{name}: {words} from the centreline");
    field.place_or_note(candidates.flatten(), to, &untold, Layer::Dimensions)
}
