//! What a page is to somebody who has it read out: headings, paragraphs, lists, tables and pictures
//! (ISO 32000-1, 14.7 and 14.8: logical structure, tagged PDF).
//!
//! The marks of a page are painted layer by layer; they are read out in the order that they were set
//! in. What has no part in that is an artifact.

use super::path::pt;
use crate::draw::ink::{Begins, Mark, Role, Said, mark_bounds};
use crate::layout::Page;
use kurbo::Rect;
use lopdf::{Dictionary, Document, Object, ObjectId, dictionary, text_string};
use std::mem::discriminant;

/// The kinds of elements that there are.
const KINDS: [&str; 13] = [
    "H1", "H2", "P", "L", "LI", "Lbl", "LBody", "Table", "TR", "TH", "TD", "Link", "Figure",
];

/// An element, and what it holds.
#[derive(Debug, Clone, Default)]
pub(super) struct Element {
    /// One of [`KINDS`].
    pub(super) kind: &'static str,
    /// What is read out in its place; may be empty.
    alt: String,
    /// The page that it leads to, counted from 0, from this box on its own, mm.
    to: Option<(usize, Rect)>,
    /// Elements in it.
    within: Vec<Element>,
    /// Its pieces of the page's content, by their numbers there.
    pieces: Vec<i64>,
}

/// The elements of one page while its content is written.
#[derive(Debug, Default)]
pub(super) struct Elements {
    /// All of them.
    all: Element,
    /// The way to each that holds content itself: its place in `all`, its place in that, and so on.
    ways: Vec<Vec<usize>>,
    /// The last one, and the role that it was begun with.
    last: Option<(Role, usize)>,
    /// Pieces of content so far.
    count: i64,
}

impl Elements {
    /// Those of a page, and which one each mark is part of: of its work, and of its furniture.
    pub(super) fn of(page: &Page) -> (Self, [Vec<Option<usize>>; 2]) {
        let mut elements = Self::default();
        let work = match page.work.is_empty() {
            true => None,
            false => {
                let shown = format!("{}: the pattern at full size", page.bookmark);
                let figure = Said::first(Role::Figure(shown.into()));
                Some(elements.place(&figure, page.window))
            }
        };
        let furniture = page.furniture.iter().map(|mark: &Mark| {
            let said = mark.said.as_ref()?;
            Some(elements.place(said, mark_bounds(mark)))
        });
        let furniture = furniture.collect();
        (elements, [vec![work; page.work.len()], furniture])
    }

    /// The kind of an element, and the number of the piece of content that it gets.
    pub(super) fn piece(&mut self, element: usize) -> (&'static str, i64) {
        let number = self.count;
        self.count += 1;
        let way = self.ways[element].clone();
        let element = self.at(&way);
        element.pieces.push(number);
        (element.kind, number)
    }

    /// All of them, once the content is written.
    pub(super) fn into_all(self) -> Vec<Element> {
        self.all.within
    }

    fn at(&mut self, way: &[usize]) -> &mut Element {
        way.iter()
            .fold(&mut self.all, |element, &place| &mut element.within[place])
    }

    /// Adds an element in that at the end of `way`; the way to it.
    fn add(&mut self, way: &[usize], kind: &'static str) -> Vec<usize> {
        let within = &mut self.at(way).within;
        within.push(Element {
            kind,
            ..Element::default()
        });
        let last = within.len() - 1;
        way.iter().copied().chain([last]).collect()
    }

    /// The last element in that at the end of `way`, if it is of this kind; else a new one.
    fn last_or_new(&mut self, way: &[usize], kind: &'static str) -> Vec<usize> {
        let within = &self.at(way).within;
        match within.last() {
            Some(last) if last.kind == kind => {
                let last = within.len() - 1;
                way.iter().copied().chain([last]).collect()
            }
            _ => self.add(way, kind),
        }
    }

    /// The element that a mark is part of.
    fn place(&mut self, said: &Said, bounds: Rect) -> usize {
        if let Some((role, element)) = &self.last
            && said.begins == Begins::Nothing
            && discriminant(role) == discriminant(&said.role)
        {
            return *element;
        }
        let way = match &said.role {
            Role::Title => self.add(&[], "H1"),
            Role::Heading => self.add(&[], "H2"),
            Role::Paragraph => self.add(&[], "P"),
            Role::Label => {
                let list = self.last_or_new(&[], "L");
                let item = self.add(&list, "LI");
                self.add(&item, "Lbl")
            }
            Role::Item => {
                let list = self.last_or_new(&[], "L");
                let labelled = matches!(&self.last, Some((Role::Label, _)));
                let item = match labelled {
                    true => self.last_or_new(&list, "LI"),
                    false => self.add(&list, "LI"),
                };
                self.add(&item, "LBody")
            }
            Role::Head | Role::Datum | Role::Empty(_) | Role::Link(_) => self.cell(said, bounds),
            Role::Figure(shown) => {
                let known = self.all.within.iter();
                let known = known
                    .enumerate()
                    .find(|(_, one)| one.kind == "Figure" && *one.alt == **shown);
                match known {
                    Some((place, _)) => vec![place],
                    None => {
                        let way = self.add(&[], "Figure");
                        self.at(&way).alt = shown.to_string();
                        way
                    }
                }
            }
        };
        let element = self
            .ways
            .iter()
            .position(|known| *known == way)
            .unwrap_or_else(|| {
                self.ways.push(way);
                self.ways.len() - 1
            });
        self.last = Some((said.role.clone(), element));
        element
    }

    /// The way to a new cell.
    fn cell(&mut self, said: &Said, bounds: Rect) -> Vec<usize> {
        let begins_row = said.begins == Begins::Row;
        let table = match begins_row && said.role == Role::Head {
            true => self.add(&[], "Table"),
            false => self.last_or_new(&[], "Table"),
        };
        let row = match begins_row {
            true => self.add(&table, "TR"),
            false => self.last_or_new(&table, "TR"),
        };
        let kind = if said.role == Role::Head { "TH" } else { "TD" };
        let cell = self.add(&row, kind);
        match &said.role {
            Role::Empty(what) => {
                self.at(&cell).alt = (*what).into();
                cell
            }
            Role::Link(page) => {
                let link = self.add(&cell, "Link");
                self.at(&link).to = Some((*page, bounds));
                link
            }
            _ => cell,
        }
    }
}

/// Puts the structure of pages into a file, page after page.
pub(super) struct Tree<'f> {
    file: &'f mut Document,
    /// The pages' objects, in their order.
    pages: &'f [ObjectId],
    root: ObjectId,
    /// Above all pages.
    top: ObjectId,
    sections: Vec<Object>,
    /// What holds each page's pieces of content, and each link.
    parents: Vec<(i64, Object)>,
    links: i64,
}

impl<'f> Tree<'f> {
    pub(super) fn new(file: &'f mut Document, pages: &'f [ObjectId]) -> Self {
        let (root, top) = (file.new_object_id(), file.new_object_id());
        Self {
            file,
            pages,
            root,
            top,
            sections: vec![],
            parents: vec![],
            links: 0,
        }
    }

    /// Adds the elements of the next page, which is called so; gives its entries in the page.
    pub(super) fn page(&mut self, called: &str, elements: Vec<Element>) -> Dictionary {
        let number = self.sections.len();
        let section = self.file.new_object_id();
        let mut on = OnPage {
            page: self.pages[number],
            owners: vec![],
            notes: vec![],
        };
        let within: Vec<Object> = elements
            .into_iter()
            .map(|element| self.element(element, section, &mut on).into())
            .collect();
        self.file.set_object(
            section,
            dictionary! { "S" => "Sect", "P" => self.top, "T" => text_string(called), "K" => within },
        );
        self.sections.push(section.into());
        on.owners.sort_by_key(|(piece, _)| *piece);
        let owners: Vec<Object> = on.owners.into_iter().map(|(_, owner)| owner).collect();
        self.parents.push((number as i64, owners.into()));
        let mut entries = dictionary! { "StructParents" => number as i64, "Tabs" => "S" };
        if !on.notes.is_empty() {
            entries.set("Annots", on.notes);
        }
        entries
    }

    /// What the catalog is to name.
    pub(super) fn end(mut self) -> ObjectId {
        self.parents.sort_by_key(|(key, _)| *key);
        let next = self.parents.len() as i64;
        let numbers = self.parents.into_iter();
        let numbers: Vec<Object> = numbers
            .flat_map(|(key, owners)| [key.into(), owners])
            .collect();
        let parents = self.file.add_object(dictionary! { "Nums" => numbers });
        self.file.set_object(
            self.top,
            dictionary! { "S" => "Document", "P" => self.root, "K" => self.sections },
        );
        let top = vec![Object::from(self.top)];
        self.file.set_object(
            self.root,
            dictionary! {
                "Type" => "StructTreeRoot",
                "K" => top,
                "ParentTree" => parents,
                "ParentTreeNextKey" => next,
            },
        );
        self.root
    }

    fn element(&mut self, element: Element, parent: ObjectId, on: &mut OnPage) -> ObjectId {
        let id = self.file.new_object_id();
        let mut entries = dictionary! { "S" => element.kind, "P" => parent };
        if !element.alt.is_empty() {
            entries.set("Alt", text_string(&element.alt));
        }
        if element.kind == "TH" {
            entries.set("A", dictionary! { "O" => "Table", "Scope" => "Column" });
        }
        if !element.pieces.is_empty() {
            entries.set("Pg", on.page);
        }
        let within = element.within.into_iter();
        let mut held: Vec<Object> = within
            .map(|within| self.element(within, id, on).into())
            .collect();
        for piece in element.pieces {
            held.push(piece.into());
            on.owners.push((piece, id.into()));
        }
        if let Some((page, from)) = element.to
            && let Some(page) = self.pages.get(page)
        {
            // Behind the numbers of all pages.
            let number = self.pages.len() as i64 + self.links;
            self.links += 1;
            let corners = [from.x0, from.y0, from.x1, from.y1];
            let note = self.file.add_object(dictionary! {
                "Type" => "Annot",
                "Subtype" => "Link",
                "Rect" => corners.map(|side| Object::Real(pt(side))).to_vec(),
                "Border" => vec![0.into(), 0.into(), 0.into()],
                "Dest" => vec![(*page).into(), "Fit".into()],
                "StructParent" => number,
            });
            self.parents.push((number, id.into()));
            on.notes.push(note.into());
            held.push(dictionary! { "Type" => "OBJR", "Obj" => note }.into());
        }
        entries.set("K", held);
        self.file.set_object(id, entries);
        id
    }
}

/// What is gathered of one page.
struct OnPage {
    page: ObjectId,
    /// Numbers of pieces of content, and the elements that hold them.
    owners: Vec<(i64, Object)>,
    notes: Vec<Object>,
}

/// The elements of each page of a file that this program wrote; where links lead to is left behind,
/// for that is another page in another file.
pub(super) fn elements_of(file: &Document) -> Result<Vec<Vec<Element>>, lopdf::Error> {
    let within = |holder: &Dictionary| -> Result<Vec<Object>, lopdf::Error> {
        Ok(holder.get(b"K")?.as_array()?.clone())
    };
    let root = file.catalog()?.get(b"StructTreeRoot")?.as_reference()?;
    let mut pages = vec![];
    for top in within(file.get_dictionary(root)?)? {
        for section in within(file.get_dictionary(top.as_reference()?)?)? {
            let section = file.get_dictionary(section.as_reference()?)?;
            let elements = within(section)?.into_iter();
            let elements = elements.map(|element| read(file, element.as_reference()?));
            pages.push(elements.collect::<Result<_, _>>()?);
        }
    }
    Ok(pages)
}

fn read(file: &Document, id: ObjectId) -> Result<Element, lopdf::Error> {
    let entries = file.get_dictionary(id)?;
    let kind = entries.get(b"S")?.as_name()?;
    let known = KINDS.into_iter().find(|known| known.as_bytes() == kind);
    let mut element = Element {
        kind: known.ok_or(lopdf::Error::ObjectNotFound(id))?,
        ..Element::default()
    };
    if let Ok(alt) = entries.get(b"Alt") {
        element.alt = lopdf::decode_text_string(alt)?;
    }
    for held in entries.get(b"K")?.as_array()? {
        match held {
            Object::Integer(piece) => element.pieces.push(*piece),
            Object::Reference(within) => element.within.push(read(file, *within)?),
            _ => {}
        }
    }
    Ok(element)
}
