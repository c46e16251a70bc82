//! The dictionaries of a file: pages, layers, and what it says of itself (ISO 32000-1).

use super::bookmark::Bookmark;
use super::content::FACE;
use super::path::pt;
use super::{About, PROGRAM, xmp};
use crate::draw::ink::Layer;
use kurbo::Size;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary, text_string};

/// Layers that a reader must not be led to hide.
const LOCKED: [Layer; 2] = [Layer::Cut, Layer::CheckRuler];

/// A page of its own, its content and typeface in the file already; only its place in the tree of
/// pages is left to be told.
pub(super) fn page(
    size: Size,
    content: ObjectId,
    typeface: ObjectId,
    layers: Dictionary,
) -> Dictionary {
    let mut fonts = Dictionary::new();
    fonts.set(FACE, typeface);
    let mut page = dictionary! {
        "Type" => "Page",
        "Contents" => content,
        "Resources" => dictionary! { "Font" => fonts, "Properties" => layers },
    };
    let corners = [0.0, 0.0, pt(size.width), pt(size.height)];
    for name in ["MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox"] {
        page.set(name, corners.map(Object::Real).to_vec());
    }
    page
}

/// Optional content groups for these layers, and what the catalog says of them.
pub(super) fn layer_groups(file: &mut Document, layers: &[Layer]) -> (Vec<ObjectId>, Dictionary) {
    let groups: Vec<ObjectId> = layers
        .iter()
        .map(|layer| {
            file.add_object(dictionary! {
                "Type" => "OCG",
                "Name" => text_string(layer.name()),
                "Intent" => vec!["View".into(), "Design".into()],
                "Usage" => dictionary! {
                    "CreatorInfo" => dictionary! {
                        "Creator" => text_string(PROGRAM),
                        "Subtype" => "Artwork",
                    },
                },
            })
        })
        .collect();
    let all: Vec<Object> = groups.iter().map(|group| (*group).into()).collect();
    let both = layers.iter().zip(&all);
    let locked = both.filter(|(layer, _)| LOCKED.contains(layer));
    let locked: Vec<Object> = locked.map(|(_, group)| group.clone()).collect();
    let content = dictionary! {
        "OCGs" => all.clone(),
        "D" => dictionary! {
            "BaseState" => "ON",
            "ON" => all.clone(),
            "Order" => all,
            "Locked" => locked,
        },
    };
    (groups, content)
}

/// How a reader is asked to show and to print the file.
pub(super) fn viewing(catalog: &mut Dictionary) {
    catalog.set("PageMode", "UseOutlines");
    catalog.set("PageLayout", "SinglePage");
    catalog.set("Lang", text_string("en"));
    catalog.set(
        "ViewerPreferences",
        dictionary! {
            "PrintScaling" => "None",
            "Duplex" => "Simplex",
            "PickTrayByPDFSize" => true,
            "DisplayDocTitle" => true,
        },
    );
}

/// What the file says of itself.
pub(super) fn properties(about: &About) -> Dictionary {
    let mut info = dictionary! {
        "Title" => text_string(&about.title),
        "Creator" => text_string(PROGRAM),
        "Producer" => text_string(PROGRAM),
    };
    for (name, words) in [("Author", &about.author), ("Subject", &about.subject)] {
        if !words.is_empty() {
            info.set(name, text_string(words));
        }
    }
    if let Some(issued) = date(&about.issued) {
        let date = format!("D:{}000000Z", issued.replace('-', ""));
        info.set("CreationDate", Object::string_literal(date));
    }
    info
}

/// The same as XMP. Never packed, so that any program finds it.
pub(super) fn metadata(about: &About) -> Stream {
    let kind = dictionary! { "Type" => "Metadata", "Subtype" => "XML" };
    let packet = xmp::packet(about, date(&about.issued));
    Stream::new(kind, packet.into_bytes()).with_compression(false)
}

/// Numbers of pages as a reader shows them: each part's own, from 1, behind its first word where
/// there are several (ISO 32000-1, 12.4.2).
pub(super) fn page_labels(marks: &[Bookmark]) -> Dictionary {
    let mut ranges = vec![];
    for part in marks.iter().filter(|part| !part.below.is_empty()) {
        let name = part.words.split_whitespace().next().unwrap_or_default();
        ranges.push(Object::from(part.page as i64));
        ranges.push(dictionary! { "S" => "D", "P" => text_string(&format!("{name} / ")) }.into());
    }
    if ranges.is_empty() {
        ranges = vec![0.into(), dictionary! { "S" => "D" }.into()];
    }
    dictionary! { "Nums" => ranges }
}

fn date(issued: &str) -> Option<&str> {
    let form = issued.len() == 10
        && issued.bytes().enumerate().all(|(index, byte)| match index {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        });
    form.then_some(issued)
}
