//! Packed pages put together as one PDF 1.7 file.
//!
//! Each page's ink is written and packed by itself: it takes ten times the room unpacked, and a kit
//! may have thousands of pages.

use super::About;
use super::bookmark::{Bookmark, bookmarks};
use super::content::{Codes, layer_id, page_content};
use super::dictionary::{layer_groups, metadata, page, page_labels, properties, viewing};
use super::pack::Packer;
use super::structure::{Element, Tree};
use super::typeface::Embedded;
use crate::draw::ink::{Layer, Mark};
use crate::layout::{Page, SheetSet};
use crate::output::WriteError;
use kurbo::Size;
use lopdf::xref::XrefType;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;

/// The largest side of a page: 14 400 units of 1/72 in (ISO 32000-1 Annex C, read second-hand).
const LARGEST_SIDE: f64 = 5080.0;

/// A page as it stands in a file: its ink written and packed.
#[derive(Debug, Clone)]
pub struct PackedPage {
    /// What its bookmark says.
    pub(super) bookmark: String,
    /// Layers that it shows, from the bottom up.
    pub(super) layers: Vec<Layer>,
    /// What it is when read out.
    pub(super) elements: Vec<Element>,
    /// Its content stream.
    pub(super) content: Stream,
}

/// The pages of a set, written with these codes of letters, and packed.
pub(super) fn packed(set: &SheetSet, codes: &Codes) -> Result<Vec<PackedPage>, WriteError> {
    let mut packer = Packer::new();
    set.pages
        .iter()
        .map(|page| {
            let (content, elements) = page_content(page, codes);
            let mut content = Stream::new(Dictionary::new(), content);
            packer.stream(&mut content)?;
            Ok(PackedPage {
                bookmark: page.bookmark.clone(),
                layers: in_order(marks(page).map(|mark| mark.layer)),
                elements,
                content,
            })
        })
        .collect()
}

/// Every mark of a page.
pub(super) fn marks(page: &Page) -> impl Iterator<Item = &Mark> {
    page.work.iter().chain(&page.furniture)
}

/// Each layer once, from the bottom up.
fn in_order(layers: impl Iterator<Item = Layer>) -> Vec<Layer> {
    let used: BTreeSet<Layer> = layers.collect();
    let all = Layer::ALL.into_iter();
    all.filter(|layer| used.contains(layer)).collect()
}

/// Pages of one size, mm, as the bytes of a file.
///
/// `/ID` is worked out from what the file says and shows, so that the same gives the same bytes.
pub(super) fn document(
    about: &About,
    size: Size,
    mut pages: Vec<PackedPage>,
    marks: &[Bookmark],
    typeface: Embedded,
) -> Result<Vec<u8>, WriteError> {
    let possible = |side: f64| (1.0..=LARGEST_SIDE).contains(&side);
    if !possible(size.width) || !possible(size.height) {
        return Err(WriteError::PageSize(size));
    }
    if pages.is_empty() {
        return Err(WriteError::NoPages);
    }
    let mut file = Document::with_version("1.7");
    // The library's packed table has no entry for object 0, which some readers miss.
    file.reference_table.cross_reference_type = XrefType::CrossReferenceTable;
    let typeface = typeface.add_to(&mut file);
    let layers = in_order(pages.iter().flat_map(|page| page.layers.iter().copied()));
    let (groups, content) = layer_groups(&mut file, &layers);
    let mut hash = Sha256::new();
    for words in [&about.title, &about.author, &about.subject, &about.issued] {
        // The length goes first, so that words moved from one to the next make a difference.
        hash.update((words.len() as u64).to_le_bytes());
        hash.update(words);
    }
    let tree = file.new_object_id();
    let ids: Vec<ObjectId> = pages.iter().map(|_| file.new_object_id()).collect();
    let mut structure = Tree::new(&mut file, &ids);
    let read_out: Vec<Dictionary> = pages
        .iter_mut()
        .map(|page| structure.page(&page.bookmark, std::mem::take(&mut page.elements)))
        .collect();
    let structure = structure.end();
    for ((one, id), read_out) in pages.into_iter().zip(&ids).zip(read_out) {
        hash.update(&one.content.content);
        let shown = layers.iter().zip(&groups);
        let shown = shown.filter(|(layer, _)| one.layers.contains(layer));
        let names = shown.map(|(layer, group)| (layer_id(*layer), Object::from(*group)));
        let content = file.add_object(one.content);
        let mut leaf = page(size, content, typeface, names.collect::<Dictionary>());
        leaf.set("Parent", tree);
        leaf.extend(&read_out);
        file.set_object(*id, leaf);
    }
    let kids: Vec<Object> = ids.iter().map(|id| (*id).into()).collect();
    let count = ids.len() as i64;
    file.set_object(
        tree,
        dictionary! { "Type" => "Pages", "Count" => count, "Kids" => kids },
    );
    let outlines = bookmarks(&mut file, marks, &ids);
    let metadata = file.add_object(metadata(about));
    let mut catalog = dictionary! {
        "Type" => "Catalog",
        "Pages" => tree,
        "PageLabels" => page_labels(marks),
        "Metadata" => metadata,
        "Outlines" => outlines,
        "OCProperties" => content,
        "MarkInfo" => dictionary! { "Marked" => true },
        "StructTreeRoot" => structure,
    };
    viewing(&mut catalog);
    let catalog = file.add_object(catalog);
    let info = file.add_object(properties(about));
    file.trailer.set("Root", catalog);
    file.trailer.set("Info", info);
    let id = Object::String(hash.finalize()[..16].to_vec(), StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![id.clone(), id]);
    let mut bytes = Vec::new();
    file.save_to(&mut bytes)
        .map_err(|cause| WriteError::Pdf(cause.to_string()))?;
    Ok(bytes)
}
