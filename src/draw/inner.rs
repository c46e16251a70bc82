//! Widths and depths within an opening that is no plain box: stem and bar of a T, mouth and throat of
//! steps. The shortest stand nearest.

use super::View;
use super::corner::times;
use super::dimension::{Along, ROW, linear};
use super::field::Field;
use super::panel::TAB;
use super::upright::upright_ways;
use crate::draw::ink::{Layer, Mark};
use crate::geometry::outline::{Segment, Side};
use crate::solve::{Opening, Pattern};
use kurbo::{Point, Rect};

/// Straight sides shorter than this, mm, bound no width and no depth.
const SHORTEST: f64 = 3.0;

/// Measures nearer than this, mm, are one: a figure shows tenths.
const ALIKE: f64 = 0.05;

/// Most widths and most depths that are told: an outline of many steps is followed, not measured.
const MOST: usize = 4;

/// A width between two sides, and how far they run beside each other, panel frame, mm.
struct Width {
    left: f64,
    right: f64,
    from: f64,
    to: f64,
}

/// Dimensions of all widths and depths but the whole ones, of so many openings like this one; depths
/// count from `depth_from`.
pub(super) fn dimensions(
    pattern: &Pattern,
    (opening, count): (&Opening, usize),
    depth_from: f64,
    view: View,
    field: &mut Field,
) -> Vec<Mark> {
    let (units, name, bounds) = (pattern.units, opening.name(), opening.bounds());
    let widths = widths(opening, bounds);
    let levels = levels(opening, bounds);
    let mut marks = vec![];
    // What curves were fitted to has no measures of its own.
    if opening.fitted || widths.len() > MOST || levels.len() > MOST {
        return marks;
    }
    for width in &widths {
        let words = times(count) + &units.figure(width.right - width.left);
        let target = view.point(Point::new(width.left, width.from.midpoint(width.to)));
        let untold = format!("{name}: {words} wide inside");
        let past = (
            depth_from - if opening.is_open() { TAB } else { 0.0 },
            bounds.y1,
        );
        let ways = width_ways(width, past, &words, view);
        marks.extend(field.place_or_note(ways, target, &untold, Layer::Dimensions));
    }
    for level in levels {
        let words = times(count) + &units.figure(level - depth_from);
        let untold = format!("{name}: inner depth {words}");
        let ways = upright_ways(bounds, (depth_from, level), &words, 0.0, view);
        let target = view.point(Point::new(bounds.x1, level));
        marks.extend(field.place_or_note(ways, target, &untold, Layer::Dimensions));
    }
    marks
}

/// Places for an inner width: within the opening, or over or under all of it.
fn width_ways(
    width: &Width,
    (under, over): (f64, f64),
    words: &str,
    view: View,
) -> impl Iterator<Item = impl super::offer::Offer> {
    let long = width.to - width.from;
    let within = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9].map(|share| {
        let off = width.from + share * long;
        (off, off, 3.0 + 10.0 * (share - 0.5_f64).abs())
    });
    let past = (1..8).flat_map(move |row| {
        let row = f64::from(row);
        [
            (width.to, over + ROW * row, 6.0 * row - 6.0),
            (width.from, under - ROW * row, 6.0 * row),
        ]
    });
    let (left, right) = (width.left, width.right);
    within
        .into_iter()
        .chain(past)
        .flat_map(move |(start, off, cost)| {
            let end = |x: f64| view.point(Point::new(x, start));
            let off = view.point(Point::new(0.0, off)).y;
            linear(end(left), end(right), Along::Across, off, words, cost)
        })
}

/// Each width between two upright sides but the whole width, narrowest first.
fn widths(opening: &Opening, bounds: Rect) -> Vec<Width> {
    let upright = straight(opening).filter(|side| (side.end.x - side.start.x).abs() < ALIKE / 2.0);
    // The opening lies at the left of each side.
    let (downward, upward): (Vec<Segment>, Vec<Segment>) =
        upright.partition(|side| side.end.y < side.start.y);
    let mut widths: Vec<Width> = vec![];
    for left in &downward {
        let between = upward.iter().filter_map(|right| {
            let from = left.end.y.max(right.start.y);
            let to = left.start.y.min(right.end.y);
            let width = right.start.x - left.start.x;
            (width > 0.0 && to - from >= SHORTEST).then_some(Width {
                left: left.start.x,
                right: right.start.x,
                from,
                to,
            })
        });
        let nearest = between.min_by(|a, b| a.right.total_cmp(&b.right));
        widths.extend(nearest.filter(|width| {
            let whole = width.right - width.left > bounds.width() - ALIKE;
            !whole
        }));
    }
    widths.sort_by(|a, b| (a.right - a.left).total_cmp(&(b.right - b.left)));
    widths.dedup_by(|a, b| (a.left - b.left).abs() < ALIKE && (a.right - b.right).abs() < ALIKE);
    widths
}

/// Each depth at which an outline has a side along the edge, but its ends, the nearest first.
fn levels(opening: &Opening, bounds: Rect) -> Vec<f64> {
    let along = straight(opening).filter(|side| (side.end.y - side.start.y).abs() < ALIKE / 2.0);
    let inner = |y: &f64| *y > bounds.y0 + ALIKE && *y < bounds.y1 - ALIKE;
    let mut levels: Vec<f64> = along.map(|side| side.start.y).filter(inner).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup_by(|a, b| (*a - *b).abs() < ALIKE);
    levels
}

/// Straight sides to cut.
fn straight(opening: &Opening) -> impl Iterator<Item = Segment> {
    let sides = opening.outline.sides();
    sides.filter(|side| side.side == Side::Cut && !side.is_arc() && side.length() >= SHORTEST)
}
