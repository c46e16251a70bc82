//! Pieces set one under the other in columns, over as many pages as they need.

use super::error::SheetError;
use crate::draw::ink::Mark;
use kurbo::{Rect, Size, Vec2};

/// A piece that is never broken; its marks hang from its upper left corner, y up.
#[derive(Debug, Clone)]
pub(crate) struct Piece {
    /// Height, mm.
    pub(crate) height: f64,
    /// Space over it, unless it stands first in a column, mm.
    pub(crate) space: f64,
    /// Its marks.
    pub(crate) marks: Vec<Mark>,
    /// Stays with the piece after it.
    pub(crate) with_next: bool,
    /// Set again over this piece where it begins a column: a table's head.
    pub(crate) head: Option<Box<Piece>>,
    /// Added where this piece begins a column: the upper side of a box that runs on.
    pub(crate) opened: Vec<Mark>,
    /// Added where this piece ends a column while the next belongs to it.
    pub(crate) closed: Vec<Mark>,
    /// What it is, for messages.
    pub(crate) what: String,
}

impl Piece {
    /// A piece on its own.
    pub(crate) fn new(what: impl Into<String>, height: f64, space: f64, marks: Vec<Mark>) -> Self {
        Self {
            height,
            space,
            marks,
            with_next: false,
            head: None,
            opened: vec![],
            closed: vec![],
            what: what.into(),
        }
    }
}

/// Sets pieces into columns, asking `column` for one after the other: page and box.
///
/// Gives each page's marks. Every column has the same width.
///
/// # Errors
/// [`SheetError::BlockTooLarge`] for a piece higher than an empty column of a further page.
pub(crate) fn set(
    pieces: &[Piece],
    mut column: impl FnMut(usize) -> (usize, Rect),
    full_height: f64,
) -> Result<Vec<Vec<Mark>>, SheetError> {
    let mut number = 0;
    let (mut page, mut room) = column(number);
    // The first column may be on a later page, where the first has room for no words.
    let mut pages: Vec<Vec<Mark>> = vec![vec![]; page + 1];
    let mut y = room.y1;
    let mut index = 0;
    while let Some(piece) = pieces.get(index) {
        let group = group_height(&pieces[index..], full_height);
        let first = y >= room.y1;
        let head = piece.head.as_deref().filter(|_| first);
        let head_height = head.map_or(0.0, |head| head.height);
        let space = if first { 0.0 } else { piece.space };
        if y - space - head_height - group < room.y0 - 1e-6 {
            if first && room.height() + 1e-6 >= full_height {
                return Err(SheetError::BlockTooLarge {
                    what: piece.what.clone(),
                    size: Size::new(room.width(), group + head_height),
                    room: room.size(),
                });
            }
            if !first && let Some(before) = index.checked_sub(1).and_then(|at| pieces.get(at)) {
                let by = Vec2::new(room.x0, y + before.height);
                pages[page].extend(before.closed.iter().map(|mark| mark.moved(by)));
            }
            number += 1;
            (page, room) = column(number);
            if pages.len() <= page {
                pages.resize(page + 1, vec![]);
            }
            y = room.y1;
            continue;
        }
        y -= space;
        if let Some(head) = head {
            let by = Vec2::new(room.x0, y);
            pages[page].extend(head.marks.iter().map(|mark| mark.moved(by)));
            y -= head.height;
        }
        let by = Vec2::new(room.x0, y);
        pages[page].extend(piece.marks.iter().map(|mark| mark.moved(by)));
        if first {
            pages[page].extend(piece.opened.iter().map(|mark| mark.moved(by)));
        }
        y -= piece.height;
        index += 1;
    }
    Ok(pages)
}

/// Height of a piece with those that it stays with, as far as a column can hold them.
fn group_height(pieces: &[Piece], full_height: f64) -> f64 {
    let mut height = pieces.first().map_or(0.0, |piece| piece.height);
    for pair in pieces.windows(2) {
        let [piece, next] = pair else { break };
        let longer = height + next.space + next.height;
        if !piece.with_next || longer > full_height {
            break;
        }
        height = longer;
    }
    height
}

/// Most letters of a block's words in a message.
const SAMPLE: usize = 40;

/// The first words of a block, for a message.
pub(crate) fn sample(kind: &str, words: &str) -> String {
    let mut short: String = words.chars().take(SAMPLE).collect();
    if short.len() < words.len() {
        short.push_str("...");
    }
    format!("{kind} `{short}`")
}
