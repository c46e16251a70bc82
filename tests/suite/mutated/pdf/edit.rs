//! Edits of pages, layers and content streams.

use super::POINTS;
use crate::common::begins_marked;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};

pub(super) fn page(file: &mut Document, id: ObjectId) -> &mut Dictionary {
    file.get_dictionary_mut(id).unwrap()
}

pub(super) fn each_dict(file: &mut Document, change: impl Fn(&mut Dictionary)) {
    for (_, id) in file.get_pages() {
        change(page(file, id));
    }
}

pub(super) fn each_resource(file: &mut Document, change: impl Fn(&mut Dictionary)) {
    for (_, id) in file.get_pages() {
        let resources = page(file, id).get_mut(b"Resources").unwrap();
        match resources {
            Object::Reference(at) => {
                let at = *at;
                change(file.get_dictionary_mut(at).unwrap());
            }
            own => change(own.as_dict_mut().unwrap()),
        }
    }
}

pub(super) fn set_content(file: &mut Document, id: ObjectId, content: Vec<u8>) {
    let stream = file.add_object(Stream::new(Dictionary::new(), content));
    page(file, id).set("Contents", stream);
}

pub(super) fn each_page(file: &mut Document, change: impl Fn(Vec<u8>) -> Vec<u8>) {
    for (_, id) in file.get_pages() {
        let content = change(file.get_page_content(id));
        set_content(file, id, content);
    }
}

pub(super) fn wrapped(before: &str, content: &[u8], after: &str) -> Vec<u8> {
    let mut all = format!("q\n{before}\n").into_bytes();
    all.extend_from_slice(content);
    all.extend_from_slice(format!("\nQ\nq {after} Q\n").as_bytes());
    all
}

pub(super) fn strip_layers(file: &mut Document) {
    file.catalog_mut().unwrap().remove(b"OCProperties");
    each_page(file, |content| {
        let text = String::from_utf8(content).unwrap();
        let kept = text
            .lines()
            .filter(|line| !begins_marked(line) && *line != "EMC");
        kept.flat_map(|line| [line.as_bytes(), b"\n"].concat())
            .collect()
    });
}

/// Every page's content moved into a form of this matrix, shown after `before`.
pub(super) fn in_form(file: &mut Document, matrix: [f32; 6], before: &str) {
    for (_, id) in file.get_pages() {
        let mut content = file.get_page_content(id);
        if matrix[0] == 2.0 {
            // What the matrix doubles is halved inside.
            content = wrapped("1 0 0 1 0 0 cm", &content, "");
        }
        let resources = page(file, id).get(b"Resources").unwrap().clone();
        let matrix: Vec<Object> = matrix.iter().map(|part| (*part).into()).collect();
        let form = Stream::new(
            dictionary! {
                "Type" => "XObject", "Subtype" => "Form", "Matrix" => matrix,
                "BBox" => vec![0.into(), 0.into(), 14000.into(), 14000.into()],
                "Resources" => resources,
            },
            content,
        );
        let form = file.add_object(form);
        page(file, id).set(
            "Resources",
            dictionary! { "XObject" => dictionary! { "Fm" => form } },
        );
        set_content(file, id, format!("q {before} /Fm Do Q").into_bytes());
    }
}

pub(super) fn crop(page: &mut Dictionary, name: &str, by: f64) {
    let sides = page.get(b"MediaBox").unwrap().as_array().unwrap().clone();
    let by = (by * POINTS) as f32;
    let side = |index: usize| sides[index].as_float().unwrap();
    let cropped = vec![
        (side(0) + by).into(),
        (side(1) + by).into(),
        (side(2) - by).into(),
        (side(3) - by).into(),
    ];
    page.set(name, cropped);
}

/// The resource name of a layer on a page.
fn tag(file: &Document, id: ObjectId, layer: &str) -> Option<String> {
    let page = file.get_dictionary(id).unwrap();
    let follow = |object: &Object| -> Dictionary {
        match object {
            Object::Reference(at) => file.get_dictionary(*at).unwrap().clone(),
            own => own.as_dict().unwrap().clone(),
        }
    };
    let resources = follow(page.get(b"Resources").unwrap());
    let properties = follow(resources.get(b"Properties").unwrap());
    properties.iter().find_map(|(name, group)| {
        let group = follow(group);
        let own = group.get(b"Name").unwrap().as_str().unwrap();
        let own: Vec<u8> = own
            .iter()
            .copied()
            .filter(|byte| byte.is_ascii_graphic())
            .collect();
        (own == layer.as_bytes()).then(|| String::from_utf8(name.clone()).unwrap())
    })
}

pub fn drop_layer(file: &mut Document, layer: &str) {
    for (_, id) in file.get_pages() {
        let Some(tag) = tag(file, id, layer) else {
            continue;
        };
        let text = String::from_utf8(file.get_page_content(id)).unwrap();
        let begin = format!("/OC /{tag} BDC");
        let (mut kept, mut depth) = (String::new(), 0);
        for line in text.lines() {
            depth += usize::from(line == begin || depth > 0 && begins_marked(line));
            if depth == 0 || line == "Q" || line == "q" {
                kept += line;
                kept.push('\n');
            }
            depth -= usize::from(depth > 0 && line == "EMC");
        }
        set_content(file, id, kept.into_bytes());
    }
}

/// Puts operators at the beginning of a layer, in effect inside it only.
pub(super) fn in_layer(file: &mut Document, layer: &str, operators: &str) {
    for (_, id) in file.get_pages() {
        let Some(tag) = tag(file, id, layer) else {
            continue;
        };
        let text = String::from_utf8(file.get_page_content(id)).unwrap();
        let begin = format!("/OC /{tag} BDC");
        let mut changed = String::new();
        let mut depth = 0;
        for line in text.lines() {
            if depth == 1 && line == "EMC" {
                changed += "Q\n";
            }
            depth -= usize::from(depth > 0 && line == "EMC");
            changed += line;
            changed.push('\n');
            if depth == 0 && line == begin {
                changed += &format!("q {operators}\n");
                depth = 1;
            } else {
                depth += usize::from(depth > 0 && begins_marked(line));
            }
        }
        set_content(file, id, changed.into_bytes());
    }
}

pub(super) fn hide_layer(file: &mut Document, layer: &str) {
    let mut groups = vec![];
    for (id, object) in &file.objects {
        let Ok(group) = object.as_dict() else {
            continue;
        };
        let is_group = group
            .get(b"Type")
            .and_then(Object::as_name)
            .is_ok_and(|kind| kind == b"OCG");
        let named = group
            .get(b"Name")
            .and_then(Object::as_str)
            .is_ok_and(|name| {
                let plain: Vec<u8> = name.iter().copied().filter(u8::is_ascii_graphic).collect();
                plain == layer.as_bytes()
            });
        if is_group && named {
            groups.push(Object::from(*id));
        }
    }
    assert_eq!(groups.len(), 1, "{layer}");
    let content = file
        .catalog_mut()
        .unwrap()
        .get_mut(b"OCProperties")
        .unwrap();
    let setting = content.as_dict_mut().unwrap().get_mut(b"D").unwrap();
    setting.as_dict_mut().unwrap().set("OFF", groups);
}

/// Moves the end of the first straight side of the first cut line by 0.1 mm.
pub(super) fn move_one_corner(file: &mut Document) {
    for (_, id) in file.get_pages() {
        let Some(tag) = tag(file, id, "cut") else {
            continue;
        };
        let text = String::from_utf8(file.get_page_content(id)).unwrap();
        let begin = format!("/OC /{tag} BDC");
        let (mut inside, mut done) = (false, false);
        let mut changed = String::new();
        for line in text.lines() {
            inside |= line == begin;
            if inside && !done && line.ends_with(" l") {
                let mut parts: Vec<&str> = line.split(' ').collect();
                let x = format!("{:.4}", parts[0].parse::<f64>().unwrap() + 0.1 * POINTS);
                let y = format!("{:.4}", parts[1].parse::<f64>().unwrap() + 0.1 * POINTS);
                (parts[0], parts[1]) = (&x, &y);
                changed += &parts.join(" ");
                done = true;
            } else {
                changed += line;
            }
            changed.push('\n');
        }
        set_content(file, id, changed.into_bytes());
        if done {
            return;
        }
    }
    panic!("no side to move");
}
