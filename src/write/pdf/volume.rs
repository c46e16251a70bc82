//! Many patterns in one PDF: each page written and packed by itself, then put together.
//!
//! The typeface goes in whole, so that a letter has the same code in every file: a page's packed
//! bytes hang on that page alone, and can be taken over from one volume to another as they are.

use super::About;
use super::content::{Codes, layer_id, page_content};
use super::dictionary::{failed, layer_groups, page, properties, viewing};
use super::pack::Packer;
use super::whole_typeface::{self, CODES};
use super::{layers_of, letters, marks};
use crate::drawing::Layer;
use crate::sheet::SheetSet;
use crate::write::WriteError;
use kurbo::Size;
use lopdf::{
    Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary, text_string,
};
use sha2::{Digest, Sha256};

/// A page as it stands in a file: its ink written and packed.
#[derive(Debug, Clone)]
pub struct PackedPage {
    /// What its bookmark says.
    pub(super) bookmark: String,
    /// Layers that it shows, from the bottom up.
    pub(super) layers: Vec<Layer>,
    /// Its content stream.
    pub(super) content: Stream,
}

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
    let codes: &Codes = &CODES;
    let mut packer = Packer::new();
    set.pages
        .iter()
        .map(|page| {
            let mut content = Stream::new(Dictionary::new(), page_content(page, codes));
            packer.stream(&mut content)?;
            Ok(PackedPage {
                bookmark: page.bookmark.clone(),
                layers: layers_of(marks(page)),
                content,
            })
        })
        .collect()
}

/// Parts as the bytes of one PDF file, all pages of one size, mm.
///
/// As [`super::pdf`] in all that a reader sees, but with bookmarks in two steps. The same parts
/// give the same bytes.
///
/// # Errors
/// No pages, or a page of more than 5080 mm.
pub fn volume(about: &About, size: Size, parts: Vec<Part>) -> Result<Vec<u8>, WriteError> {
    super::check_size(size)?;
    let names: Vec<Names> = parts.iter().map(Names::of).collect();
    let pages: Vec<PackedPage> = parts.into_iter().flat_map(|part| part.pages).collect();
    if pages.is_empty() {
        return Err(WriteError::NoPages);
    }
    let mut file = Document::with_version("1.7");
    let typeface = whole_typeface::add_to(&mut file)?;
    let layers: Vec<Layer> = Layer::ALL
        .into_iter()
        .filter(|layer| pages.iter().any(|page| page.layers.contains(layer)))
        .collect();
    let (groups, content) = layer_groups(&mut file, &layers);
    let mut finger = Sha256::new();
    for words in [&about.title, &about.author, &about.subject, &about.issued] {
        finger.update((words.len() as u64).to_le_bytes());
        finger.update(words);
    }
    let tree = file.new_object_id();
    let mut ids: Vec<ObjectId> = vec![];
    for one in pages {
        finger.update(&one.content.content);
        let shown = layers.iter().zip(&groups);
        let shown = shown.filter(|(layer, _)| one.layers.contains(layer));
        let names = shown.map(|(layer, group)| (layer_id(*layer).0, Object::from(*group)));
        let content = file.add_object(one.content);
        let mut leaf = page(size, content, typeface, names.collect::<Dictionary>());
        leaf.set("Parent", tree);
        ids.push(file.add_object(leaf));
    }
    let kids: Vec<Object> = ids.iter().map(|id| (*id).into()).collect();
    let count = ids.len() as i64;
    file.set_object(
        tree,
        dictionary! { "Type" => "Pages", "Count" => count, "Kids" => kids },
    );
    let outlines = bookmarks(&mut file, &names, &ids);
    let mut catalog = dictionary! {
        "Type" => "Catalog",
        "Pages" => tree,
        "Outlines" => outlines,
        "OCProperties" => content,
    };
    viewing(&mut catalog);
    let catalog = file.add_object(catalog);
    let info = file.add_object(properties(about));
    file.trailer.set("Root", catalog);
    file.trailer.set("Info", info);
    let id = finger.finalize()[..16].to_vec();
    let id = Object::String(id, StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![id.clone(), id]);
    let mut bytes = Vec::new();
    file.save_to(&mut bytes)
        .map_err(|cause| WriteError::Pdf(cause.to_string()))?;
    Ok(bytes)
}

/// What the bookmarks of a part say.
struct Names {
    part: String,
    pages: Vec<String>,
}

impl Names {
    fn of(part: &Part) -> Self {
        let pages = part.pages.iter().map(|page| page.bookmark.clone());
        Self {
            part: part.bookmark.clone(),
            pages: pages.collect(),
        }
    }
}

/// One bookmark for each part, closed, and under it one for each of its pages.
fn bookmarks(file: &mut Document, parts: &[Names], pages: &[ObjectId]) -> ObjectId {
    let root = file.new_object_id();
    let parts_ids: Vec<ObjectId> = parts.iter().map(|_| file.new_object_id()).collect();
    let mut first = 0;
    for (index, part) in parts.iter().enumerate() {
        let own = pages.get(first..first + part.pages.len()).unwrap_or(&[]);
        first += part.pages.len();
        let leaves: Vec<ObjectId> = own.iter().map(|_| file.new_object_id()).collect();
        for (at, words) in part.pages.iter().enumerate() {
            let mut leaf = item(words, own.get(at), parts_ids[index]);
            link(&mut leaf, &leaves, at);
            file.set_object(leaves[at], leaf);
        }
        let mut one = item(&part.part, own.first(), root);
        link(&mut one, &parts_ids, index);
        if let (Some(from), Some(to)) = (leaves.first(), leaves.last()) {
            one.set("First", *from);
            one.set("Last", *to);
            // Negative: closed until it is opened by hand.
            one.set("Count", -(leaves.len() as i64));
        }
        file.set_object(parts_ids[index], one);
    }
    let mut all = dictionary! { "Type" => "Outlines", "Count" => parts.len() as i64 };
    if let (Some(from), Some(to)) = (parts_ids.first(), parts_ids.last()) {
        all.set("First", *from);
        all.set("Last", *to);
    }
    file.set_object(root, all);
    root
}

fn item(words: &str, page: Option<&ObjectId>, parent: ObjectId) -> Dictionary {
    let mut item = dictionary! { "Title" => text_string(words), "Parent" => parent };
    if let Some(page) = page {
        item.set("Dest", vec![(*page).into(), "Fit".into()]);
    }
    item
}

/// Links an item to those beside it.
fn link(item: &mut Dictionary, row: &[ObjectId], at: usize) {
    if let Some(before) = at.checked_sub(1).and_then(|before| row.get(before)) {
        item.set("Prev", *before);
    }
    if let Some(next) = row.get(at + 1) {
        item.set("Next", *next);
    }
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
    let ids: Vec<ObjectId> = file.page_iter().collect();
    if titles.len() != ids.len() {
        return Err(WriteError::Pdf("its bookmarks are not one a page".into()));
    }
    ids.into_iter()
        .zip(titles)
        .map(|(id, bookmark)| {
            let (layers, content) = page_parts(&file, id).map_err(failed)?;
            match file.objects.remove(&content) {
                Some(Object::Stream(content)) => Ok(PackedPage {
                    bookmark,
                    layers,
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
        .filter(|layer| names.has(layer_id(*layer).0.as_bytes()))
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
