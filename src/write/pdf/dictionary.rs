//! What the library leaves out of the file's dictionaries, or puts there in the wrong form.

use super::content::FACE;
use super::fingerprint::Fingerprint;
use super::path::pt;
use super::{About, PROGRAM};
use crate::drawing::Layer;
use crate::drawing::lettering::TYPEFACE;
use crate::sheet::SheetSet;
use crate::write::WriteError;
use kurbo::Size;
use lopdf::{
    Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary, text_string,
};

/// Layers that a reader must not be led to hide.
const LOCKED: [Layer; 2] = [Layer::Cut, Layer::CheckRuler];

/// Gives a page its boxes, all equal to the paper, and its packed content.
pub(super) fn set_page(
    file: &mut Document,
    id: ObjectId,
    size: Size,
    content: Stream,
) -> Result<(), WriteError> {
    let page = file.get_dictionary_mut(id).map_err(failed)?;
    set_boxes(page, size);
    page.remove(b"Annots");
    let place = page
        .get(b"Contents")
        .and_then(Object::as_reference)
        .map_err(failed)?;
    file.set_object(place, content);
    Ok(())
}

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
    set_boxes(&mut page, size);
    page
}

fn set_boxes(page: &mut Dictionary, size: Size) {
    for name in ["MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox"] {
        page.set(name, paper(size));
    }
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
    let content = dictionary! {
        "OCGs" => all.clone(),
        "D" => dictionary! {
            "BaseState" => "ON",
            "ON" => all.clone(),
            "Order" => all,
            "Locked" => locked(layers, &groups),
        },
    };
    (groups, content)
}

fn locked(layers: &[Layer], groups: &[ObjectId]) -> Vec<Object> {
    layers
        .iter()
        .zip(groups)
        .filter(|(layer, _)| LOCKED.contains(layer))
        .map(|(_, &group)| group.into())
        .collect()
}

/// Puts right everything that is not a page.
pub(super) fn finish(
    file: &mut Document,
    set: &SheetSet,
    layers: &[Layer],
    finger: Fingerprint,
) -> Result<(), WriteError> {
    file.version = "1.7".into();
    let groups = groups(file)?;
    set_layers(file, layers, &groups)?;
    let catalog = file.catalog_mut().map_err(failed)?;
    viewing(catalog);
    set_capital_height(file);

    let info = file
        .trailer
        .get(b"Info")
        .and_then(Object::as_reference)
        .map_err(failed)?;
    file.set_object(info, properties(&About::of(set)));
    let id = Object::String(finger.bytes().to_vec(), StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![id.clone(), id]);
    Ok(())
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

fn paper(size: Size) -> Vec<Object> {
    vec![
        0.into(),
        0.into(),
        pt(size.width).0.into(),
        pt(size.height).0.into(),
    ]
}

/// The optional content groups, in the order of [`Layer::ALL`].
fn groups(file: &Document) -> Result<Vec<ObjectId>, WriteError> {
    let catalog = file.catalog().map_err(failed)?;
    let Ok(content) = catalog.get(b"OCProperties").and_then(Object::as_dict) else {
        return Ok(vec![]);
    };
    let groups = content
        .get(b"OCGs")
        .and_then(Object::as_array)
        .map_err(failed)?;
    groups
        .iter()
        .map(|group| group.as_reference().map_err(failed))
        .collect()
}

fn set_layers(
    file: &mut Document,
    layers: &[Layer],
    groups: &[ObjectId],
) -> Result<(), WriteError> {
    for &group in groups {
        let usage = file
            .get_dictionary(group)
            .and_then(|group| group.get(b"Usage"))
            .and_then(Object::as_reference)
            .map_err(failed)?;
        // A usage dictionary has no type; the library calls it a group.
        let usage = file.get_dictionary_mut(usage).map_err(failed)?;
        usage.remove(b"Type");
    }
    if groups.is_empty() {
        return Ok(());
    }
    let locked = locked(layers, groups);
    let default = file
        .catalog_mut()
        .and_then(|catalog| catalog.get_mut(b"OCProperties"))
        .and_then(Object::as_dict_mut)
        .and_then(|content| content.get_mut(b"D"))
        .and_then(Object::as_dict_mut)
        .map_err(failed)?;
    default.set("BaseState", "ON");
    default.set("Locked", locked);
    default.remove(b"RBGroups");
    Ok(())
}

/// The library takes the height of a capital for that of the tallest letter.
fn set_capital_height(file: &mut Document) {
    for object in file.objects.values_mut() {
        if let Ok(font) = object.as_dict_mut()
            && font.has_type(b"FontDescriptor")
        {
            font.set("CapHeight", (TYPEFACE.capital * 1000.0).round() as i64);
        }
    }
}

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
    if let Some(date) = date(&about.issued) {
        info.set("CreationDate", Object::string_literal(date));
    }
    info
}

fn date(issued: &str) -> Option<String> {
    let form = issued.len() == 10
        && issued.bytes().enumerate().all(|(index, byte)| match index {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        });
    form.then(|| format!("D:{}000000Z", issued.replace('-', "")))
}

pub(super) fn failed(cause: lopdf::Error) -> WriteError {
    WriteError::Pdf(cause.to_string())
}
