//! Ruled tables.

use super::flow::{Piece, sample};
use super::words::{GUTTER, Style, pitch, rule, tick_box};
use crate::draw::ink::{Anchor, Begins, Cell, Column, Mark, Role, Said, Width, lettering};

/// Space over and under the words of a row, mm.
const AIR: f64 = 1.1;
/// Width of a column of ticks, and of one of readings, mm.
const TICK: f64 = 4.0;
const READING: f64 = 24.0;
/// Narrowest column of words, mm.
const NARROWEST: f64 = 14.0;

/// A table as pieces in lettering of `text` mm: one for each row, the head set again where it runs on.
pub(crate) fn pieces(columns: &[Column], rows: &[Vec<Cell>], width: f64, text: f64) -> Vec<Piece> {
    if columns.is_empty() {
        return vec![];
    }
    let widths = column_widths(columns, rows, width, text);
    let headed = columns.iter().any(|column| !column.head.is_empty());
    let heads: Vec<Cell> = columns
        .iter()
        .map(|column| Cell::Words(column.head.clone()))
        .collect();
    let mut head = row(columns, &heads, &widths, true, text);
    if !headed {
        head.height = 0.0;
        head.marks.clear();
    }
    let total = table_width(&widths);
    head.marks
        .push(rule((0.0, 0.0), (total, 0.0), Width::Medium));
    if headed {
        head.marks.push(rule(
            (0.0, -head.height),
            (total, -head.height),
            Width::Medium,
        ));
    }
    head.space = 4.0;
    head.with_next = true;
    let again = Box::new(head.clone());
    let mut pieces = vec![head];
    let last = rows.len().saturating_sub(1);
    for (index, cells) in rows.iter().enumerate() {
        let mut piece = row(columns, cells, &widths, false, text);
        let foot = if index == last {
            Width::Medium
        } else {
            Width::Fine
        };
        let y = -piece.height;
        piece.marks.push(rule((0.0, y), (total, y), foot));
        if index > 0 {
            piece.head = Some(again.clone());
        }
        pieces.push(piece);
    }
    pieces
}

fn table_width(widths: &[f64]) -> f64 {
    widths.iter().sum::<f64>() + GUTTER * (widths.len().saturating_sub(1)) as f64
}

/// Widths that sum to the column's: each as wide as its words ask, the widest giving way first;
/// what is left over goes to the columns of words and readings.
fn column_widths(columns: &[Column], rows: &[Vec<Cell>], width: f64, text: f64) -> Vec<f64> {
    let natural: Vec<f64> = columns
        .iter()
        .enumerate()
        .map(|(index, column)| {
            let head = lettering::width(&column.head, text) + 0.3;
            let cells = rows
                .iter()
                .filter_map(|row| row.get(index))
                .map(|cell| match cell {
                    Cell::Words(words) | Cell::Page(words, _) => {
                        lettering::width(words, text) + 0.1
                    }
                    Cell::TickBox => TICK,
                    Cell::Blank => READING,
                });
            cells.fold(head, f64::max)
        })
        .collect();
    let room = (width - GUTTER * (columns.len() - 1) as f64).max(1.0);
    let total: f64 = natural.iter().sum();
    if total <= room {
        let spare = (room - total) / columns.len() as f64;
        return natural.iter().map(|natural| natural + spare).collect();
    }
    capped(&natural, room, NARROWEST)
}

/// Widths of at most these that fit in `room`: the widest give way first, none below `least` mm where
/// there is room for that.
pub(crate) fn capped(natural: &[f64], room: f64, least: f64) -> Vec<f64> {
    // The cap under which the widths fit: found by halving, as exactly as is seen.
    let (mut low, mut high) = (least.min(room / natural.len() as f64), room);
    for _ in 0..40 {
        let cap = (low + high) / 2.0;
        let sum: f64 = natural.iter().map(|natural| natural.min(cap)).sum();
        if sum > room {
            high = cap;
        } else {
            low = cap;
        }
    }
    natural.iter().map(|natural| natural.min(low)).collect()
}

fn row(columns: &[Column], cells: &[Cell], widths: &[f64], heavy: bool, text: f64) -> Piece {
    let mut marks: Vec<Mark> = Vec::new();
    let mut most_lines = 1;
    let mut x = 0.0;
    let mut words_of_row = String::new();
    for (index, ((column, cell), width)) in columns.iter().zip(cells).zip(widths).enumerate() {
        let said = |line: usize| Said {
            role: match cell {
                _ if heavy => Role::Head,
                Cell::Words(_) => Role::Datum,
                Cell::Page(_, page) => Role::Link(*page),
                Cell::TickBox => Role::Empty("box to tick"),
                Cell::Blank => Role::Empty("line to write on"),
            },
            begins: match (index, line) {
                (0, 0) => Begins::Row,
                (_, 0) => Begins::Itself,
                _ => Begins::Nothing,
            },
        };
        match cell {
            Cell::Words(words) | Cell::Page(words, _) => {
                if words_of_row.is_empty() {
                    words_of_row.clone_from(words);
                }
                // A heavy line's spread was counted in; a light one needs no allowance.
                let mut lines = lettering::wrap(words, text, width + 1e-6);
                if lines.is_empty() {
                    // A cell with no words is still a cell.
                    lines.push(String::new());
                }
                most_lines = most_lines.max(lines.len());
                let (anchor, at) = if column.right {
                    (Anchor::End, x + width)
                } else {
                    (Anchor::Start, x)
                };
                let style = Style {
                    heavy,
                    ..Style::plain(text).anchored(anchor)
                };
                for (index, line) in lines.into_iter().enumerate() {
                    let y = -AIR - text - pitch(text) * index as f64;
                    marks.push(style.at(line, (at, y)).said(said(index)));
                }
            }
            Cell::TickBox => {
                let left = if column.right { x + width - 3.5 } else { x };
                marks.push(tick_box(left, -AIR - text - 0.5).said(said(0)));
            }
            Cell::Blank => {
                let y = -AIR - text - 0.4;
                marks.push(rule((x, y), (x + width, y), Width::Fine).said(said(0)));
            }
        }
        x += width + GUTTER;
    }
    let height = 2.0 * AIR + text + pitch(text) * (most_lines - 1) as f64;
    Piece::new(sample("table row", &words_of_row), height + 0.3, 0.0, marks)
}
