//! Sheets spoiled.

use super::{Deed, LAYERS, Spoiling, deeds, definition, produced};
use crate::common::begins_marked;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use trimloft::check::verify::Topic;

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

pub fn spoilings(bytes: &[u8]) -> Vec<Spoiling> {
    let mut all = vec![];
    for (layer, topic) in LAYERS {
        for (deed, words) in deeds(layer) {
            all.push(spoiled(bytes, &name(layer, deed), topic, words, |file| {
                in_layer(file, layer, deed);
            }));
        }
    }
    all.extend(other_layers(bytes));
    all.extend(pages(bytes));
    all.extend(others(bytes));
    all
}

fn name(layer: &str, deed: Deed) -> String {
    let deed = match deed {
        Deed::Gone => "gone".into(),
        Deed::Moved(x, y) => format!("moved by {x}, {y}"),
        Deed::Scaled(by) => format!("scaled by {by}"),
        Deed::OneLost => "one lost".into(),
    };
    format!("sheets: {layer} {deed}")
}

fn spoiled(
    bytes: &[u8],
    name: &str,
    topic: Topic,
    words: &'static str,
    change: impl FnOnce(&mut Document),
) -> Spoiling {
    let mut file = Document::load_mem(bytes).unwrap();
    change(&mut file);
    let mut bytes = vec![];
    file.save_to(&mut bytes).unwrap();
    Spoiling {
        name: name.into(),
        bytes,
        topic,
        words,
    }
}

/// Layers that prove rather than show.
fn other_layers(bytes: &[u8]) -> Vec<Spoiling> {
    let gone = |layer: &'static str, topic, words| {
        spoiled(bytes, &format!("{layer} gone"), topic, words, move |file| {
            in_layer(file, layer, Deed::Gone);
        })
    };
    vec![
        gone("register", Topic::Register, "share no register marks"),
        gone("text", Topic::Identity, "says which pattern and revision"),
        spoiled(
            bytes,
            "a register mark lost on one sheet",
            Topic::Register,
            "register marks",
            |file| {
                let last = *file.get_pages().values().last().unwrap();
                layer_of_page(file, last, "register", Deed::OneLost);
            },
        ),
    ]
}

/// Sheets lost, doubled and exchanged.
fn pages(bytes: &[u8]) -> Vec<Spoiling> {
    let count = Document::load_mem(bytes).unwrap().get_pages().len();
    assert!(count >= 4, "{count} pages");
    let mut all = vec![
        spoiled(
            bytes,
            "front page gone",
            Topic::Identity,
            "sheet 1 of",
            |file| {
                file.delete_pages(&[1]);
            },
        ),
        spoiled(
            bytes,
            "front page twice",
            Topic::Identity,
            "is there 2 times",
            |file| {
                let first = *file.get_pages().values().next().unwrap();
                let twice = file.get_dictionary(first).unwrap().clone();
                let twice = file.add_object(twice);
                kids(file).insert(0, twice.into());
                let pages = file.catalog().unwrap().get(b"Pages").unwrap();
                let pages = pages.as_reference().unwrap();
                let count = file.get_pages().len() as i64;
                file.get_dictionary_mut(pages).unwrap().set("Count", count);
            },
        ),
    ];
    all.push(spoiled(
        bytes,
        "front page last",
        Topic::Identity,
        "out of order",
        |file| {
            let kids = kids(file);
            let first = kids.remove(0);
            kids.push(first);
        },
    ));
    all
}

/// Sheets of another pattern or revision.
fn others(bytes: &[u8]) -> Vec<Spoiling> {
    let of = |number: &str, revision: &str| produced(&definition(number, revision)).pdf.unwrap();
    let whole = |name: &str, bytes: Vec<u8>, words| Spoiling {
        name: name.into(),
        bytes,
        topic: Topic::Identity,
        words,
    };
    let mut all = vec![
        whole(
            "an older revision",
            of("T-1", "A"),
            "it says that it is `T-1 rev A`",
        ),
        whole(
            "a newer revision",
            of("T-1", "C"),
            "it says that it is `T-1 rev C`",
        ),
        whole(
            "another number",
            of("T-2", "B"),
            "it says that it is `T-2 rev B`",
        ),
    ];
    let older = of("T-1", "A");
    let count = Document::load_mem(bytes).unwrap().get_pages().len();
    for page in 0..count {
        all.push(spoiled(
            bytes,
            &format!("page {} of an older revision", page + 1),
            Topic::Identity,
            "it says that it is `T-1 rev A`",
            |file| from_other(file, &older, page),
        ));
    }
    all
}

/// A page taken from another file.
fn from_other(file: &mut Document, other: &[u8], page: usize) {
    let mut other = Document::load_mem(other).unwrap();
    other.renumber_objects_with(file.max_id + 1);
    let theirs = *other.get_pages().values().nth(page).unwrap();
    let taken = other.get_dictionary(theirs).unwrap().clone();
    let ours = *file.get_pages().values().nth(page).unwrap();
    file.max_id = other.max_id;
    file.objects.extend(other.objects);
    for key in ["Contents", "Resources"] {
        let part = taken.get(key.as_bytes()).unwrap().clone();
        file.get_dictionary_mut(ours).unwrap().set(key, part);
    }
}

fn kids(file: &mut Document) -> &mut Vec<Object> {
    let pages = file
        .catalog()
        .unwrap()
        .get(b"Pages")
        .unwrap()
        .as_reference()
        .unwrap();
    let pages = file.get_dictionary_mut(pages).unwrap();
    pages.get_mut(b"Kids").unwrap().as_array_mut().unwrap()
}

fn in_layer(file: &mut Document, layer: &str, deed: Deed) {
    let mut found = false;
    for id in file.get_pages().into_values() {
        found |= layer_of_page(file, id, layer, deed);
        // One stroke lost is lost on one sheet.
        if found && deed == Deed::OneLost {
            break;
        }
    }
    assert!(found, "no page shows {layer}");
}

/// Changes a layer of a page, where it has it.
fn layer_of_page(file: &mut Document, id: ObjectId, layer: &str, deed: Deed) -> bool {
    let Some(tag) = tag(file, id, layer) else {
        return false;
    };
    let text = String::from_utf8(file.get_page_content(id)).unwrap();
    let begin = format!("/OC /{tag} BDC");
    let (mut changed, mut depth, mut lost) = (String::new(), 0, false);
    let (before, after) = match deed {
        Deed::Moved(x, y) => {
            let (x, y) = (x * POINTS, y * POINTS);
            (
                format!("1 0 0 1 {x} {y} cm\n"),
                format!("1 0 0 1 {} {} cm\n", -x, -y),
            )
        }
        Deed::Scaled(by) => (
            format!("{by} 0 0 {by} 2 2 cm\n"),
            format!("{0} 0 0 {0} {1} {1} cm\n", 1.0 / by, -2.0 / by),
        ),
        Deed::Gone | Deed::OneLost => Default::default(),
    };
    for line in text.lines() {
        if depth > 0 && line == "EMC" {
            depth -= 1;
            changed += if depth == 0 { &after } else { "" };
        }
        let inside = depth > 0;
        let paints = line == "S" || line.ends_with("Tj");
        let is_path =
            paints || [" m", " l", " c"].iter().any(|end| line.ends_with(end)) || line == "h";
        let drops = match deed {
            Deed::Gone => is_path,
            Deed::OneLost => is_path && !lost,
            _ => false,
        };
        if !(inside && drops) {
            changed += line;
            changed.push('\n');
        }
        lost |= inside && paints;
        if depth == 0 && line == begin {
            depth = 1;
            changed += &before;
        } else {
            depth += usize::from(inside && begins_marked(line));
        }
    }
    let stream = file.add_object(Stream::new(Dictionary::new(), changed.into_bytes()));
    file.get_dictionary_mut(id).unwrap().set("Contents", stream);
    true
}

/// What a page's content calls a layer, where the page shows it.
fn tag(file: &Document, id: ObjectId, layer: &str) -> Option<String> {
    let page = file.get_dictionary(id).unwrap();
    let (_, resources) = file.dereference(page.get(b"Resources").unwrap()).unwrap();
    let properties = resources.as_dict().unwrap().get(b"Properties").ok()?;
    let (_, properties) = file.dereference(properties).unwrap();
    let content = String::from_utf8(file.get_page_content(id)).unwrap();
    properties
        .as_dict()
        .unwrap()
        .iter()
        .find_map(|(tag, group)| {
            let (_, group) = file.dereference(group).unwrap();
            let name = group
                .as_dict()
                .unwrap()
                .get(b"Name")
                .unwrap()
                .as_str()
                .unwrap();
            let plain: Vec<u8> = name.iter().copied().filter(u8::is_ascii_graphic).collect();
            let tag = String::from_utf8(tag.clone()).unwrap();
            let shown = content.contains(&format!("/OC /{tag} BDC"));
            (plain == layer.as_bytes() && shown).then_some(tag)
        })
}
