//! A set of sheets as PDF 1.7.

mod bookmark;
mod content;
mod dictionary;
mod document;
mod pack;
mod path;
mod structure;
mod typeface;
mod volume;
mod xmp;

pub use document::PackedPage;
pub use volume::{Part, packed_pages, pages_of_volume, volume};

use super::WriteError;
use crate::draw::ink::{Ink, lettering};
use crate::layout::SheetSet;
use document::{document, marks, packed};
use std::collections::BTreeSet;
use typeface::Embedded;

/// What the file's properties call the program.
const PROGRAM: &str = concat!("Trimloft ", env!("CARGO_PKG_VERSION"));

/// What a file's properties say of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct About {
    /// Title.
    pub title: String,
    /// Legal owner; may be empty.
    pub author: String,
    /// What it is about; may be empty.
    pub subject: String,
    /// Date of issue, `YYYY-MM-DD`; may be empty.
    pub issued: String,
    /// The facts of the pattern that it holds, a line each; empty where it holds several.
    pub content: String,
}

impl About {
    fn of(set: &SheetSet) -> Self {
        Self {
            title: set.title.clone(),
            author: set.author.clone(),
            subject: set.subject.clone(),
            issued: set.issued.clone(),
            content: set.content.clone(),
        }
    }
}

/// A set of sheets as the bytes of a PDF file.
///
/// Boxes are the paper's size within 0.0002 pt on pages of up to 1 m, within 0.0006 pt on any; ink
/// stands within 0.0001 pt of its place. Each layer used is optional content under its name; each page has a
/// bookmark; headings, paragraphs, lists and tables are tagged as such, and pictures have words; readers are asked not to scale, not to print on both sides, and to choose the paper
/// by the page. The same set gives the same bytes: the only date is that of issue, and `/ID` is
/// worked out from the content. A date of issue that is not `YYYY-MM-DD` is left out.
///
/// # Errors
///
/// A letter that the typeface lacks, no pages, or a page of more than 5080 mm.
pub fn pdf(set: &SheetSet) -> Result<Vec<u8>, WriteError> {
    let (typeface, codes) = Embedded::cut_down(&letters(set)?)?;
    let pages = packed(set, &codes)?;
    let bookmarks = volume::bookmarks_of(&pages, 0);
    document(&About::of(set), set.size, pages, &bookmarks, typeface)
}

/// Every letter shown, once each text is known to hold no other.
fn letters(set: &SheetSet) -> Result<BTreeSet<char>, WriteError> {
    // Lines that go on end with a blank.
    let mut letters = BTreeSet::from([' ']);
    for mark in set.pages.iter().flat_map(marks) {
        if let Ink::Text(text) = &mark.ink {
            lettering::check(&text.words)?;
            letters.extend(text.words.chars());
        }
    }
    Ok(letters)
}

#[cfg(test)]
mod tests;
