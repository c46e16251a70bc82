//! Blocks as pieces of one column's width, in lettering of one size.

use super::error::SheetError;
use super::flow::{Piece, sample};
use super::table;
use super::words::{LARGE, MIDDLE, PITCH, SMALL, Style, pitch, rule};
use crate::draw::ink::{Block, Layer, Mark, Role, Said, Shade, Width, lettering};
use kurbo::{Circle, Shape, Size, Vec2};
use std::sync::Arc;

/// Space between two blocks, mm.
const BETWEEN: f64 = 3.0;
/// Space over a heading, mm.
const OVER_HEADING: f64 = 6.0;
/// Indent of steps and points beside the smallest lettering, mm.
const INDENT: f64 = 5.0;
/// Space under a figure and its caption, mm.
const UNDER_FIGURE: f64 = 2.0;
/// Air inside a notice's frame, mm.
const NOTICE_AIR: f64 = 2.0;
/// The pieces of a list of blocks in a column of `width` mm, in lettering of `text` mm.
///
/// # Errors
/// [`SheetError::BlockTooLarge`] for a figure wider than the column.
pub(crate) fn pieces(blocks: &[Block], width: f64, text: f64) -> Result<Vec<Piece>, SheetError> {
    let mut pieces = Vec::new();
    for block in blocks {
        match block {
            Block::Heading(words) => pieces.extend(heading(words, width)),
            Block::Notice(words) => pieces.extend(notice(words, width, text)),
            Block::Paragraph(words) => {
                pieces.extend(lines(words, width, 0.0, (Role::Paragraph, BETWEEN), text));
            }
            Block::Steps(steps) => pieces.extend(
                steps
                    .iter()
                    .enumerate()
                    .flat_map(|(index, words)| step(index + 1, words, width, text)),
            ),
            Block::Points(points) => pieces.extend(
                points
                    .iter()
                    .enumerate()
                    .flat_map(|(index, words)| listed(words, width, dot(text), index == 0, text)),
            ),
            Block::Table { columns, rows } => {
                pieces.extend(table::pieces(columns, rows, width, text));
            }
            Block::Figure {
                size,
                marks,
                caption,
            } => pieces.push(figure(*size, marks, caption, width)?),
        }
    }
    Ok(pieces)
}

/// One step with its number.
pub(crate) fn step(number: usize, words: &str, width: f64, text: f64) -> Vec<Piece> {
    let sign = Style::heavy(text).at(number.to_string(), (0.0, -text));
    let sign = sign.said(Said::first(Role::Label));
    listed(words, width, sign, number == 1, text)
}

/// Title of the sheet: as large as it goes on one line, wrapped where it does not.
pub(crate) fn headline(words: &str, beside: &str, width: f64) -> Vec<Piece> {
    let pitch = LARGE * 1.7;
    let mut pieces: Vec<Piece> = lettering::wrap(words, LARGE, width - LARGE * 0.1)
        .into_iter()
        .enumerate()
        .map(|(index, line)| {
            let mark = Style::heavy(LARGE).at(&line, (0.0, -LARGE));
            let mark = mark.said(Said::line(Role::Title, index));
            Piece::new(sample("title", words), pitch, 0.0, vec![mark])
        })
        .collect();
    let one_line = lettering::width(beside, MIDDLE) <= width;
    let (height, pitch) = if one_line {
        (MIDDLE, 6.2)
    } else {
        (SMALL, PITCH)
    };
    let lines = lettering::wrap(beside, height, width);
    for (index, line) in lines.into_iter().enumerate() {
        let mark = Style::plain(height).at(&line, (0.0, -height));
        let mark = mark.said(Said::line(Role::Paragraph, index));
        pieces.push(Piece::new(sample("title", beside), pitch, 0.0, vec![mark]));
    }
    pieces
}

pub(crate) fn heading(words: &str, width: f64) -> Vec<Piece> {
    let lines = lettering::wrap(words, MIDDLE, width - MIDDLE * 0.1);
    lines
        .into_iter()
        .enumerate()
        .map(|(index, line)| {
            let mark = Style::heavy(MIDDLE).at(&line, (0.0, -MIDDLE));
            let mark = mark.said(Said::line(Role::Heading, index));
            let space = if index == 0 { OVER_HEADING } else { 2.0 };
            Piece {
                with_next: true,
                ..Piece::new(sample("heading", words), MIDDLE, space, vec![mark])
            }
        })
        .collect()
}

/// Words in lines; the first two and the last two stay together.
fn lines(
    words: &str,
    width: f64,
    indent: f64,
    (role, space): (Role, f64),
    text: f64,
) -> Vec<Piece> {
    let lines = lettering::wrap(words, text, width - indent);
    let count = lines.len();
    lines
        .into_iter()
        .enumerate()
        .map(|(index, line)| {
            let mark = Style::plain(text).at(&line, (indent, -text));
            let mark = mark.said(Said::line(role.clone(), index));
            // The pitch stands over all lines but the first, so that a block ends at its ink.
            let over = if index == 0 {
                space
            } else {
                pitch(text) - text
            };
            Piece {
                with_next: (index == 0 && count > 1) || (count > 2 && index + 2 == count),
                ..Piece::new(sample("text", words), text, over, vec![mark])
            }
        })
        .collect()
}

fn listed(words: &str, width: f64, sign: Mark, first: bool, text: f64) -> Vec<Piece> {
    let space = if first { BETWEEN } else { BETWEEN - 0.2 };
    let mut pieces = lines(
        words,
        width,
        INDENT * text / SMALL,
        (Role::Item, space),
        text,
    );
    if let Some(piece) = pieces.first_mut() {
        piece.marks.insert(0, sign);
    }
    pieces
}

fn dot(text: f64) -> Mark {
    let circle = Circle::new((1.2, -text / 2.0), 0.55);
    Mark::fill(Layer::Frame, circle.to_path(0.005), Shade::Black)
}

/// A notice: words in a frame that may run on in the next column.
fn notice(words: &str, width: f64, text: f64) -> Vec<Piece> {
    let inner = width - 2.0 * NOTICE_AIR;
    let lines = lettering::wrap(words, text, inner - text * 0.1);
    let last = lines.len().saturating_sub(1);
    let between = (pitch(text) - text) / 2.0;
    lines
        .into_iter()
        .enumerate()
        .map(|(index, line)| {
            let over = if index == 0 { NOTICE_AIR } else { between };
            let under = if index == last { NOTICE_AIR } else { between };
            let height = over + text + under;
            let side = |x: f64| rule((x, 0.0), (x, -height), Width::Broad);
            let across = |y: f64| {
                let half = Width::Broad.mm() / 2.0;
                rule((-half, y), (width + half, y), Width::Broad)
            };
            let words_at = Style::heavy(text).at(&line, (NOTICE_AIR, -over - text));
            let words_at = words_at.said(Said::line(Role::Paragraph, index));
            let mut marks = vec![words_at, side(0.0), side(width)];
            if index == 0 {
                marks.push(across(0.0));
            }
            if index == last {
                marks.push(across(-height));
            }
            Piece {
                with_next: index < last && (index == 0 || index + 1 == last),
                opened: if index == 0 {
                    vec![]
                } else {
                    vec![across(0.0)]
                },
                closed: if index == last {
                    vec![]
                } else {
                    vec![across(-height)]
                },
                ..Piece::new(
                    sample("notice", words),
                    height,
                    if index == 0 { BETWEEN + 1.0 } else { 0.0 },
                    marks,
                )
            }
        })
        .collect()
}

fn figure(size: Size, marks: &[Mark], caption: &str, width: f64) -> Result<Piece, SheetError> {
    if size.width > width + 1e-6 || !size.is_finite() {
        return Err(SheetError::BlockTooLarge {
            what: sample("figure", caption),
            size,
            room: Size::new(width, size.height),
        });
    }
    let by = Vec2::new(0.0, -size.height);
    let shown: Arc<str> = if caption.is_empty() {
        "Picture"
    } else {
        caption
    }
    .into();
    let part = |mark: &Mark| {
        let figure = Role::Figure(shown.clone());
        mark.moved(by).said(Said::first(figure))
    };
    let mut placed: Vec<Mark> = marks.iter().map(part).collect();
    let mut height = size.height;
    let lines = lettering::wrap(caption, SMALL, width);
    for (index, line) in lines.into_iter().enumerate() {
        height += PITCH;
        let line = Style::plain(SMALL).at(&line, (0.0, -height));
        placed.push(line.said(Said::line(Role::Paragraph, index)));
    }
    Ok(Piece::new(
        sample("figure", caption),
        height + UNDER_FIGURE,
        BETWEEN + 1.0,
        placed,
    ))
}
