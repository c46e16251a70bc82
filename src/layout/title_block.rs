//! The title block, with the fields of ISO 7200:2004 (read second-hand).

use super::words::{LARGE, MIDDLE, SMALL, Style, fitted, outline, rule};
use crate::draw::ink::{Mark, TitleBlock, Width, lettering};
use kurbo::{Point, Rect};

/// Height of one row, mm.
const ROW: f64 = 11.0;
/// Height of the title block, mm.
pub(crate) const HEIGHT: f64 = 4.0 * ROW;
/// Widest title block, mm (ISO 7200).
pub(crate) const WIDEST: f64 = 180.0;
/// Air at the sides of a field, mm.
const AIR: f64 = 1.6;

/// The title block in a box of [`HEIGHT`], for page `number` of `count`.
pub(crate) fn title_block(
    title: &TitleBlock,
    room: Rect,
    number: usize,
    count: usize,
) -> Vec<Mark> {
    let mut marks = vec![outline(room, Width::Broad)];
    let (left, right) = (room.x0, room.x1);
    let split = left + (room.width() * 0.56).round();
    let top = |row: f64| room.y1 - row * ROW;
    marks.push(rule((split, room.y0), (split, room.y1), Width::Medium));

    let half = (left + split) / 2.0;
    let mut field = |name: &str, value: &str, x0: f64, x1: f64, row: f64| {
        let room = Rect::new(x0, top(row + 1.0), x1, top(row));
        marks.extend(field_marks(name, value, room, &[MIDDLE, SMALL]));
        if x1 < right {
            marks.push(rule((x1, room.y0), (x1, room.y1), Width::Thin));
        }
        if row + 1.0 < 4.0 {
            marks.push(rule((x0, room.y0), (x1, room.y0), Width::Thin));
        }
    };
    field("Legal owner", &title.owner, left, split, 0.0);
    field("Drawn by", &title.drawn_by, left, half, 3.0);
    field("Approved by", &title.approved_by, half, split, 3.0);
    let half_right = split + (right - split) * 0.5;
    let two_thirds = split + (right - split) * 0.62;
    field("Document type", &title.document_type, split, right, 0.0);
    field("Number", &title.number, split, two_thirds, 1.0);
    field("Revision", &title.revision, two_thirds, right, 1.0);
    field("Date of issue", &title.issued, split, two_thirds, 2.0);
    field(
        "Sheet",
        &format!("{number} of {count}"),
        two_thirds,
        right,
        2.0,
    );
    field("Scale", "1:1", split, half_right, 3.0);
    field("Sizes in", &title.sizes_in, half_right, right, 3.0);

    let title_room = Rect::new(left, top(3.0), split, top(1.0));
    marks.extend(title_field(title, title_room));
    marks.push(rule((left, top(3.0)), (split, top(3.0)), Width::Thin));
    marks
}

/// A field: its name small at the head, its value under it.
fn field_marks(name: &str, value: &str, room: Rect, heights: &[f64]) -> Vec<Mark> {
    let at = Point::new(room.x0 + AIR, room.y1 - AIR - SMALL);
    let mut marks = vec![Style::plain(SMALL).at(name, at)];
    let (value, height) = fitted(value, room.width() - 2.0 * AIR, heights);
    if !value.is_empty() {
        marks.push(Style::heavy(height).at(value, (at.x, room.y0 + AIR)));
    }
    marks
}

/// The title over its supplement, as large as two rows allow.
fn title_field(title: &TitleBlock, room: Rect) -> Vec<Mark> {
    let width = room.width() - 2.0 * AIR;
    let x = room.x0 + AIR;
    let mut y = room.y1 - AIR - SMALL;
    let mut marks = vec![Style::plain(SMALL).at("Title", (x, y))];
    y -= 2.0;
    let one_line = |height: f64| lettering::width(&title.title, height) + 0.4 <= width;
    if one_line(LARGE) || lettering::wrap(&title.title, MIDDLE, width - 0.4).len() < 2 {
        let (words, height) = fitted(&title.title, width, &[LARGE, MIDDLE]);
        marks.push(Style::heavy(height).at(words, (x, y - LARGE)));
    } else {
        // Two lines take what one large line and its air do.
        let lines = lettering::wrap(&title.title, SMALL, width - 0.4);
        let rest = lines.get(1..).unwrap_or_default().join(" ");
        let (second, _) = fitted(&rest, width, &[SMALL]);
        for words in lines.first().cloned().into_iter().chain([second]) {
            y -= SMALL + 0.6;
            marks.push(Style::heavy(SMALL).at(words, (x, y)));
            y -= 0.6;
        }
    }
    let (supplement, height) = fitted(&title.supplement, width, &[MIDDLE, SMALL]);
    if !supplement.is_empty() {
        marks.push(Style::plain(height).at(supplement, (x, room.y0 + AIR + 0.6)));
    }
    marks
}
