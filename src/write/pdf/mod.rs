//! A set of sheets as PDF 1.7, by way of printpdf.
//!
//! The frame of the document (pages, layers, typeface, bookmarks) is printpdf's and is made first.
//! Each page's ink is written and packed by itself: it takes ten times the room unpacked, and a kit
//! may have thousands of pages.

mod content;
mod dictionary;
mod fingerprint;
mod pack;
mod path;
mod typeface;
mod volume;
mod whole_typeface;

pub use volume::{PackedPage, Part, packed_pages, pages_of_volume, volume};

use super::WriteError;
use crate::drawing::{Ink, Layer, Mark, lettering};
use crate::sheet::{Page, SheetSet};
use content::{Codes, FACE, layer_id, page_content};
use fingerprint::Fingerprint;
use kurbo::Size;
use lopdf::{Dictionary, Stream};
use pack::Packer;
use printpdf::{
    FontId, Mm, Op, PageAnnotId, PageAnnotation, PdfDocument, PdfFont, PdfFontHandle, PdfPage,
    PdfSaveOptions, Pt, TextItem,
};
use std::collections::BTreeSet;

/// The largest side of a page: 14 400 units of 1/72 in (ISO 32000-1 Annex C, read second-hand).
const LARGEST_SIDE: f64 = 5080.0;

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
}

impl About {
    fn of(set: &SheetSet) -> Self {
        Self {
            title: set.title.clone(),
            author: set.author.clone(),
            subject: set.subject.clone(),
            issued: set.issued.clone(),
        }
    }
}

/// A set of sheets as the bytes of a PDF file.
///
/// Boxes are the paper's size within 0.0002 pt on pages of up to 1 m, within 0.0006 pt on any; ink
/// stands within 0.0001 pt of its place. Each layer used is optional content under its name; each page has a
/// bookmark; readers are asked not to scale, not to print on both sides, and to choose the paper
/// by the page. The same set gives the same bytes: the only date is that of issue, and `/ID` is
/// worked out from the content. A date of issue that is not `YYYY-MM-DD` is left out.
///
/// # Errors
///
/// A letter that the typeface lacks, no pages, or a page of more than 5080 mm.
pub fn pdf(set: &SheetSet) -> Result<Vec<u8>, WriteError> {
    if set.pages.is_empty() {
        return Err(WriteError::NoPages);
    }
    check_size(set.size)?;
    let letters = letters(set)?;
    let mut document = PdfDocument::new(&set.title);
    let mut codes = Codes::new();
    if !letters.is_empty() {
        let typeface = typeface::subset(&letters)?;
        codes.extend(letters.iter().filter_map(|&letter| {
            let code = typeface.lookup_glyph_index(letter.into())?;
            Some((letter, code))
        }));
        let font = PdfFont::new(typeface);
        document
            .resources
            .fonts
            .map
            .insert(FontId(FACE.into()), font);
    }
    let layers = layers_of(set.pages.iter().flat_map(marks));
    for &layer in &layers {
        let entry = printpdf::Layer {
            creator: PROGRAM.into(),
            ..printpdf::Layer::new(layer.name())
        };
        document.resources.layers.map.insert(layer_id(layer), entry);
    }

    let mut finger = Fingerprint::of_set(set);
    let mut file = frame(&mut document, set, &letters);
    let pages: Vec<_> = file.page_iter().collect();
    let mut packer = Packer::new();
    for (page, id) in set.pages.iter().zip(pages) {
        let mut content = Stream::new(Dictionary::new(), page_content(page, &codes));
        packer.stream(&mut content)?;
        finger.add(&content.content);
        dictionary::set_page(&mut file, id, set.size, content)?;
    }
    dictionary::finish(&mut file, set, &layers, finger)?;
    packer.all(&mut file)?;
    let mut bytes = Vec::new();
    file.save_to(&mut bytes)
        .map_err(|cause| WriteError::Pdf(cause.to_string()))?;
    Ok(bytes)
}

fn check_size(size: Size) -> Result<(), WriteError> {
    let possible = |side: f64| (1.0..=LARGEST_SIDE).contains(&side);
    if possible(size.width) && possible(size.height) {
        Ok(())
    } else {
        Err(WriteError::PageSize(size))
    }
}

/// The whole document, but that its pages name their layers and letters only.
fn frame(document: &mut PdfDocument, set: &SheetSet, letters: &BTreeSet<char>) -> lopdf::Document {
    for (index, page) in set.pages.iter().enumerate() {
        let mark = PageAnnotation {
            name: page.bookmark.clone(),
            page: index + 1,
        };
        let id = PageAnnotId(format!("{index:06}"));
        document.bookmarks.map.insert(id, mark);
        let mut ops = Vec::new();
        for layer in layers_of(marks(page)) {
            let layer_id = layer_id(layer);
            ops.extend([Op::BeginLayer { layer_id }, Op::EndLayer]);
        }
        // The typeface goes into the file with the letters shown, so the first page shows all.
        if index == 0 && !letters.is_empty() {
            ops.extend(show_all(letters));
        }
        document.pages.push(blank(set, ops));
    }
    document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new())
}

fn show_all(letters: &BTreeSet<char>) -> [Op; 4] {
    let items = vec![TextItem::Text(letters.iter().collect())];
    [
        Op::StartTextSection,
        Op::SetFont {
            font: PdfFontHandle::External(FontId(FACE.into())),
            size: Pt(1.0),
        },
        Op::ShowText { items },
        Op::EndTextSection,
    ]
}

fn blank(set: &SheetSet, ops: Vec<Op>) -> PdfPage {
    PdfPage::new(Mm(set.size.width as f32), Mm(set.size.height as f32), ops)
}

fn marks(page: &Page) -> impl Iterator<Item = &Mark> {
    page.work.iter().chain(&page.furniture)
}

fn layers_of<'a>(marks: impl Iterator<Item = &'a Mark>) -> Vec<Layer> {
    let used: BTreeSet<Layer> = marks.map(|mark| mark.layer).collect();
    Layer::ALL
        .into_iter()
        .filter(|layer| used.contains(layer))
        .collect()
}

/// Every letter shown, once each text is known to hold no other.
fn letters(set: &SheetSet) -> Result<BTreeSet<char>, WriteError> {
    let mut letters = BTreeSet::new();
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
