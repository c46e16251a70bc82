//! The title block, with the fields of ISO 7200:2004 (read second-hand).

use super::table::capped;
use super::words::{MIDDLE, SMALL, Style, fitted, outline, rule};
use crate::draw::ink::{Mark, Role, Said, TitleBlock, Width, lettering};
use kurbo::{Point, Rect};

/// Height of one row, mm.
const ROW: f64 = 9.4;
/// Height of the title block, mm.
pub(crate) const HEIGHT: f64 = 2.0 * ROW;
/// Widest title block, mm (ISO 7200).
pub(crate) const WIDEST: f64 = 180.0;
/// Air at the sides of a field, mm.
const AIR: f64 = 1.6;
/// Air over a field's name and under its value, mm.
const OVER: f64 = 1.1;
/// Narrowest field that gives way, mm.
const NARROWEST: f64 = 12.0;

/// A field: its name, its value, and whether it gives way where there is not room for all.
type Field<'a> = (&'a str, &'a str, bool);

/// The title block in a box of [`HEIGHT`], for page `number` of `count`.
pub(crate) fn title_block(
    title: &TitleBlock,
    room: Rect,
    number: usize,
    count: usize,
) -> Vec<Mark> {
    let sheet = format!("{number} of {count}");
    let rows: [&[Field<'_>]; 2] = [
        &[
            ("Title", &title.title, true),
            ("Legal owner", &title.owner, true),
            ("Document type", &title.document_type, true),
        ],
        &[
            ("Number", &title.number, false),
            ("Revision", &title.revision, false),
            ("Date of issue", &title.issued, false),
            ("Sheet", &sheet, false),
            ("Scale", "1:1", false),
            ("Sizes in", &title.sizes_in, false),
            ("Drawn by", &title.drawn_by, true),
            ("Approved by", &title.approved_by, true),
        ],
    ];
    let mut marks = vec![outline(room, Width::Broad)];
    let middle = room.y1 - ROW;
    marks.push(rule((room.x0, middle), (room.x1, middle), Width::Thin));
    for (row, y1) in rows.into_iter().zip([room.y1, middle]) {
        let mut x = room.x0;
        for ((name, value, _), width) in row.iter().zip(widths(row, room.width())) {
            if x > room.x0 {
                marks.push(rule((x, y1 - ROW), (x, y1), Width::Thin));
            }
            let field = Rect::new(x, y1 - ROW, x + width, y1);
            marks.extend(field_marks(name, value, field));
            x += width;
        }
    }
    marks
}

/// Widths of a row's fields that fill `whole`: as each asks for in large lettering, else in small;
/// those that give way share what the others leave.
fn widths(row: &[Field<'_>], whole: f64) -> Vec<f64> {
    let asked = |height: f64| -> Vec<f64> {
        let field = |(name, value, _): &Field<'_>| {
            let value = lettering::width(value, height);
            // Heavy letters take a little more than their advances.
            lettering::width(name, SMALL).max(value) + 2.0 * AIR + 0.5
        };
        row.iter().map(field).collect()
    };
    let sum = |widths: &[f64]| widths.iter().sum::<f64>();
    let mut widths = asked(MIDDLE);
    if sum(&widths) > whole {
        widths = asked(SMALL);
    }
    let yields = |at: &usize| row[*at].2;
    let yielding: Vec<usize> = (0..row.len()).filter(yields).collect();
    let asked: Vec<f64> = yielding.iter().map(|at| widths[*at]).collect();
    let left = whole - (sum(&widths) - sum(&asked));
    let given = if left >= sum(&asked) {
        let spare = (left - sum(&asked)) / yielding.len() as f64;
        asked.iter().map(|width| width + spare).collect()
    } else {
        capped(
            &asked,
            left.max(NARROWEST * yielding.len() as f64),
            NARROWEST,
        )
    };
    for (at, width) in yielding.into_iter().zip(given) {
        widths[at] = width;
    }
    // Numbers may be longer than any paper is wide.
    let all = sum(&widths);
    widths.iter().map(|width| width * whole / all).collect()
}

/// A field: its name small at the head, its value under it.
fn field_marks(name: &str, value: &str, room: Rect) -> Vec<Mark> {
    let at = Point::new(room.x0 + AIR, room.y1 - OVER - SMALL);
    let width = room.width() - 2.0 * AIR;
    let (name, height) = fitted(name, width, &[SMALL]);
    let name = Style::plain(height).at(name, at);
    let mut marks = vec![name.said(Said::line(Role::Paragraph, 0))];
    let (value, height) = fitted(value, width, &[MIDDLE, SMALL]);
    if !value.is_empty() {
        let value = Style::heavy(height).at(value, (at.x, room.y0 + OVER));
        marks.push(value.said(Said::line(Role::Paragraph, 1)));
    }
    marks
}
