//! Bookmarks (ISO 32000-1, 12.3.3: the document outline).

use lopdf::{Dictionary, Document, ObjectId, dictionary, text_string};

/// A bookmark, and those under it.
#[derive(Debug, Clone)]
pub(super) struct Bookmark {
    /// What it says.
    pub(super) words: String,
    /// The page that it leads to, counted from 0.
    pub(super) page: usize,
    /// Those under it, shown once it is opened by hand.
    pub(super) below: Vec<Self>,
}

/// Adds bookmarks that lead to these pages; gives what the catalog is to name.
pub(super) fn bookmarks(file: &mut Document, marks: &[Bookmark], pages: &[ObjectId]) -> ObjectId {
    let root = file.new_object_id();
    let mut all = dictionary! { "Type" => "Outlines", "Count" => marks.len() as i64 };
    add_row(file, (root, &mut all), marks, pages);
    file.set_object(root, all);
    root
}

fn add_row(
    file: &mut Document,
    (parent, entries): (ObjectId, &mut Dictionary),
    row: &[Bookmark],
    pages: &[ObjectId],
) {
    let ids: Vec<ObjectId> = row.iter().map(|_| file.new_object_id()).collect();
    for (at, mark) in row.iter().enumerate() {
        let mut item = dictionary! { "Title" => text_string(&mark.words), "Parent" => parent };
        if let Some(page) = pages.get(mark.page) {
            item.set("Dest", vec![(*page).into(), "Fit".into()]);
        }
        if let Some(before) = at.checked_sub(1).and_then(|before| ids.get(before)) {
            item.set("Prev", *before);
        }
        if let Some(next) = ids.get(at + 1) {
            item.set("Next", *next);
        }
        add_row(file, (ids[at], &mut item), &mark.below, pages);
        if !mark.below.is_empty() {
            // Negative: closed.
            item.set("Count", -(mark.below.len() as i64));
        }
        file.set_object(ids[at], item);
    }
    if let (Some(first), Some(last)) = (ids.first(), ids.last()) {
        entries.set("First", *first);
        entries.set("Last", *last);
    }
}
