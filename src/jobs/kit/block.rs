//! Headings and tables of words, as cover and card have them.

use crate::draw::ink::{Block, Cell};

pub(super) fn heading(words: &str) -> Block {
    Block::Heading(words.into())
}

/// A table with no numbers in it.
pub(super) fn table(heads: &[&str], rows: Vec<Vec<Cell>>) -> Block {
    let heads: Vec<(&str, bool)> = heads.iter().map(|head| (*head, false)).collect();
    Block::table(&heads, rows)
}

pub(super) fn words(text: impl Into<String>) -> Cell {
    Cell::Words(text.into())
}
