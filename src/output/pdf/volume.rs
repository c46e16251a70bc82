//! Many patterns in one PDF: each page written and packed by itself, then put together.
//!
//! The typeface goes in whole, so that a letter has the same code in every file: a page's packed
//! bytes hang on that page alone, and can be taken over from one volume to another as they are.

use super::bookmark::Bookmark;
use super::content::layer_id;
use super::document::{PackedPage, document, packed};
use super::structure::elements_of;
use super::typeface::{CODES, Embedded};
use super::{About, letters};
use crate::draw::ink::Layer;
use crate::layout::SheetSet;
use crate::output::WriteError;
use kurbo::Size;
use lopdf::{Document, Object, ObjectId};

/// Pages that belong together, under one bookmark.
#[derive(Debug, Clone)]
pub struct Part {
    /// What the bookmark says.
    pub bookmark: String,
    /// At least one page; each has a bookmark of its own under that of the part.
    pub pages: Vec<PackedPage>,
}

/// The pages of a set of sheets, written and packed.
///
/// # Errors
/// A letter that the typeface lacks.
pub fn packed_pages(set: &SheetSet) -> Result<Vec<PackedPage>, WriteError> {
    letters(set)?;
    packed(set, &CODES)
}

/// Parts as the bytes of one PDF file, all pages of one size, mm.
///
/// As [`super::pdf`] in all that a reader sees, but with bookmarks in two steps. The same parts
/// give the same bytes.
///
/// # Errors
/// No pages, or a page of more than 5080 mm.
pub fn volume(about: &About, size: Size, parts: Vec<Part>) -> Result<Vec<u8>, WriteError> {
    let mut pages: Vec<PackedPage> = vec![];
    let mut bookmarks = vec![];
    for part in parts {
        bookmarks.push(Bookmark {
            words: part.bookmark,
            page: pages.len(),
            below: bookmarks_of(&part.pages, pages.len()),
        });
        pages.extend(part.pages);
    }
    document(about, size, pages, &bookmarks, Embedded::whole()?.clone())
}

/// One bookmark for each page, of which the first is the file's page `first`.
pub(super) fn bookmarks_of(pages: &[PackedPage], first: usize) -> Vec<Bookmark> {
    let numbered = (first..).zip(pages);
    numbered
        .map(|(page, packed)| Bookmark {
            words: packed.bookmark.clone(),
            page,
            below: vec![],
        })
        .collect()
}

/// The pages of a volume, in order, as [`packed_pages`] gave them.
///
/// Only for files that this program wrote and that are known to be whole.
///
/// # Errors
/// A file that is no such volume.
pub fn pages_of_volume(bytes: &[u8]) -> Result<Vec<PackedPage>, WriteError> {
    let mut file = Document::load_mem(bytes).map_err(failed)?;
    let titles = page_titles(&file).map_err(failed)?;
    let elements = elements_of(&file).map_err(failed)?;
    let ids: Vec<ObjectId> = file.page_iter().collect();
    if elements.len() != ids.len() {
        return Err(WriteError::Pdf("its structure is not one a page".into()));
    }
    if titles.len() != ids.len() {
        return Err(WriteError::Pdf("its bookmarks are not one a page".into()));
    }
    ids.into_iter()
        .zip(titles)
        .zip(elements)
        .map(|((id, bookmark), elements)| {
            let (layers, content) = page_parts(&file, id).map_err(failed)?;
            match file.objects.remove(&content) {
                Some(Object::Stream(content)) => Ok(PackedPage {
                    bookmark,
                    layers,
                    elements,
                    content,
                }),
                _ => Err(WriteError::Pdf("a page of it has no content".into())),
            }
        })
        .collect()
}

fn page_parts(file: &Document, id: ObjectId) -> Result<(Vec<Layer>, ObjectId), lopdf::Error> {
    let page = file.get_dictionary(id)?;
    let names = page
        .get(b"Resources")?
        .as_dict()?
        .get(b"Properties")?
        .as_dict()?;
    let layers = Layer::ALL
        .into_iter()
        .filter(|layer| names.has(layer_id(*layer).as_bytes()))
        .collect();
    Ok((layers, page.get(b"Contents")?.as_reference()?))
}

/// The words of each page's own bookmark.
fn page_titles(file: &Document) -> Result<Vec<String>, lopdf::Error> {
    let mut titles = vec![];
    let root = file.catalog()?.get(b"Outlines")?.as_reference()?;
    let mut part = first_below(file, root)?;
    while let Some(id) = part {
        let mut leaf = first_below(file, id)?;
        while let Some(id) = leaf {
            let item = file.get_dictionary(id)?;
            titles.push(lopdf::decode_text_string(item.get(b"Title")?)?);
            leaf = next_to(file, id)?;
        }
        part = next_to(file, id)?;
    }
    Ok(titles)
}

fn first_below(file: &Document, id: ObjectId) -> Result<Option<ObjectId>, lopdf::Error> {
    linked(file, id, b"First")
}

fn next_to(file: &Document, id: ObjectId) -> Result<Option<ObjectId>, lopdf::Error> {
    linked(file, id, b"Next")
}

fn linked(file: &Document, id: ObjectId, key: &[u8]) -> Result<Option<ObjectId>, lopdf::Error> {
    let item = file.get_dictionary(id)?;
    match item.get(key) {
        Ok(next) => next.as_reference().map(Some),
        Err(_) => Ok(None),
    }
}

fn failed(cause: lopdf::Error) -> WriteError {
    WriteError::Pdf(cause.to_string())
}
