//! Lettering of the pattern as a whole: offsets from the centreline, edges, centreline.

use super::dimension::{
    Along, BESIDE, LabelLine, ROW, WORKED_BY, label, label_height, label_width, linear,
};
use super::field::Field;
use super::offer::Candidate;
use super::rows::{self, Rows};
use super::view::View;
use super::{names, panel};
use crate::draw::ink::{Layer, Mark};
use crate::geometry::outline::ON_EDGE;
use crate::solve::Pattern;
use kurbo::{Point, Rect};

/// How far each opening's axis stands from the centreline, nearest first, in rows over the work.
pub(super) fn offsets(pattern: &Pattern, rows: &Rows, view: View, field: &mut Field) -> Vec<Mark> {
    let (mut columns, mut marks) = rows::with_axes(rows.columns(pattern), view, field);
    marks.extend(rows.spacings(pattern, &mut columns, view, field));
    let top = pattern
        .openings
        .iter()
        .map(|opening| opening.outline.bounds().y1)
        .fold(0.0, f64::max);
    for column in columns {
        let words = pattern.units.figure(column.offset().abs());
        let (x, (low, high)) = (column.x(), column.span());
        // In rows over the work, or, where there is no room, between the opening and its edge.
        let over = (0..24).map(|row| {
            let row = f64::from(row);
            (high + 4.0, top + 2.0 * ROW + ROW * row, 4.0 * row)
        });
        let under = (0..6).map(|row| {
            let row = f64::from(row);
            (low - 4.0, low - ROW * (row + 1.0), 9.0 + 4.0 * row)
        });
        let under = under.filter(|_| low > pattern.panel.edge.at(x) + ON_EDGE);
        let candidates = over.chain(under).flat_map(|(from, off, cost)| {
            linear(
                view.point(Point::new(x - column.offset(), from)),
                view.point(Point::new(x, from)),
                Along::Across,
                view.point(Point::new(0.0, off)).y,
                &words,
                cost,
            )
        });
        let names = names::begun_with(&column.names());
        let untold = format!("{names}: {words} from the centreline");
        let at = view.point(Point::new(x, high + 4.0));
        marks.extend(field.place_or_note(candidates, at, &untold, Layer::Dimensions));
    }
    marks
}

/// What is done with each tab over the datum edge.
pub(super) fn tab(pattern: &Pattern, view: View, work: Rect, field: &mut Field) -> Vec<Mark> {
    let datum = pattern.orientation.datum_edge().word().to_uppercase();
    let tab_words = [
        [LabelLine::new(
            format!("FOLD THIS TAB OVER THE DATUM EDGE ({datum})"),
            WORKED_BY,
        )],
        [LabelLine::new(
            format!("FOLD OVER DATUM EDGE ({datum})"),
            BESIDE,
        )],
        [LabelLine::new("FOLD OVER EDGE", BESIDE)],
        [LabelLine::new("FOLD OVER", BESIDE)],
    ];
    let mut marks = vec![];
    for tab in panel::tab_places(pattern, work) {
        let placed = tab_words.iter().find_map(|words| {
            let (width, height) = (label_width(words), label_height(words));
            let along: Vec<Candidate> = steps(tab.x0 + 3.0, tab.x1 - 3.0 - width)
                .map(|x| {
                    let place = view.rect(Rect::from_origin_size(
                        (x, tab.y0 + panel::TAB / 2.0 - height / 2.0),
                        (width, height),
                    ));
                    label_at(place, words, Layer::Fold, (x + width / 2.0).abs())
                })
                .collect();
            field.place(along)
        });
        marks.extend(placed.unwrap_or_default());
    }
    marks
}

/// What the centreline is called, and how well it is known.
pub(super) fn centreline(
    pattern: &Pattern,
    view: View,
    work: Rect,
    field: &mut Field,
) -> Vec<Mark> {
    let words = panel::centreline_label(pattern);
    let (width, height) = (label_width(&words), label_height(&words));
    let up_the_line: Vec<Candidate> = steps(work.y0 + 4.0, work.y1 + 160.0)
        .flat_map(|y| [1.5, -1.5 - width].map(|x| (x, y)))
        .map(|(x, y)| {
            let place = view.rect(Rect::from_origin_size((x, y), (width, height)));
            label_at(place, &words, Layer::Centreline, (work.y1 - 8.0 - y).abs())
        })
        .collect();
    field.place(up_the_line).unwrap_or_default()
}

fn label_at(place: Rect, words: &[LabelLine], layer: Layer, cost: f64) -> Candidate {
    let mut candidate = label(Point::new(place.x0, place.y1), words, layer);
    candidate.cost = cost;
    candidate
}

/// Places two millimetres apart.
fn steps(from: f64, to: f64) -> impl Iterator<Item = f64> {
    let count = if to >= from {
        ((to - from) / 2.0) as usize
    } else {
        0
    };
    (0..=count)
        .filter(move |_| to >= from)
        .map(move |k| from + 2.0 * k as f64)
}
