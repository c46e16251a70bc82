//! Ink that was brought in, taken away, covered or reworded, wherever it stands: each must be named.

use super::{bad, definition, produced, reference};
use crate::common::solved;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use std::fmt::Write;
use std::time::{Duration, Instant};
use trimloft::check::verify::Reference;
use trimloft::draw::draw;
use trimloft::draw::ink::{Ink, Layer, Mark, Text, mark_bounds};
use trimloft::layout::{Paper, Setup, SheetSet, plate, sheets_of};
use trimloft::output::{pdf, svg};

/// What was done, the bytes, and words that a finding must hold.
pub(super) type Row = (String, Vec<u8>, &'static str);

/// Points in a millimetre.
const POINTS: f64 = 72.0 / 25.4;

fn set() -> SheetSet {
    let setup = Setup::new(Paper::parse("a4").unwrap());
    sheets_of(&solved(&definition("T-1", "B")), &setup).unwrap()
}

/// Sheets and drawing with other words, or with other marks.
fn edited(name: &str, words: &'static str, edit: &dyn Fn(&mut Vec<Mark>)) -> [Row; 2] {
    let mut set = set();
    for page in &mut set.pages {
        edit(&mut page.furniture);
        edit(&mut page.work);
    }
    let mut plate = plate(&draw(&solved(&definition("T-1", "B"))).unwrap()).unwrap();
    edit(&mut plate.marks);
    [
        (format!("sheets: {name}"), pdf(&set).unwrap(), words),
        (
            format!("drawing: {name}"),
            svg(&plate).unwrap().into_bytes(),
            words,
        ),
    ]
}

fn reworded(marks: &mut [Mark], to: &dyn Fn(&str) -> Option<String>) {
    for mark in marks {
        if let Ink::Text(text) = &mut mark.ink
            && let Some(other) = to(&text.words)
        {
            text.words = other;
        }
    }
}

fn exchanged(words: &str, pair: [&str; 2]) -> Option<String> {
    match words {
        word if word == pair[0] => Some(pair[1].into()),
        word if word == pair[1] => Some(pair[0].into()),
        _ => None,
    }
}

/// Words and marks that were drawn otherwise.
fn drawn_otherwise() -> Vec<Row> {
    let mut all: Vec<Row> = vec![];
    let other = plate(&draw(&solved(&definition("T-2", "B"))).unwrap())
        .unwrap()
        .marks;
    let mut row = |name: &str, words, edit: &dyn Fn(&mut Vec<Mark>)| {
        all.extend(edited(name, words, edit));
    };
    row("front and rear exchanged", "`FRONT` must stand", &|marks| {
        reworded(marks, &|words| exchanged(words, ["FRONT", "REAR"]));
    });
    row("left and right exchanged", "`RIGHT` must stand", &|marks| {
        reworded(marks, &|words| exchanged(words, ["LEFT", "RIGHT"]));
    });
    row("ASSUMED gone", "ASSUMED", &|marks| {
        let says = |text: &Text| text.words.contains("ASSUMED");
        marks.retain(|mark| !matches!(&mark.ink, Ink::Text(text) if says(text)));
    });
    row("the ruler's words", "`100 mm` must stand", &|marks| {
        reworded(marks, &|words| (words == "100 mm").then(|| "110 mm".into()));
    });
    row("a dimension's figure", "dimensions", &|marks| {
        for mark in marks {
            if let (Layer::Dimensions, Ink::Text(text)) = (mark.layer, &mut mark.ink) {
                text.words = text.words.replace("35", "53").replace("45", "54");
            }
        }
    });
    row("hatching gone", "hatching", &|marks| {
        marks.retain(|mark| mark.layer != Layer::Waste);
    });
    row("hatching moved", "hatching", &|marks| {
        for mark in marks.iter_mut().filter(|mark| mark.layer == Layer::Waste) {
            *mark = mark.moved(kurbo::Vec2::new(3.0, 0.0));
        }
    });
    row("names lost", "is lacking", &|marks| {
        marks.retain(|mark| !matches!(&mark.ink, Ink::Text(text) if text.words == "opening"));
    });
    row(
        "another pattern's code",
        "a camera reads another sheet than this, or none",
        &|marks| {
            if let Some(mark) = marks.iter_mut().find(|mark| mark.layer == Layer::Code) {
                let mut others = other.iter();
                *mark = others
                    .find(|mark| mark.layer == Layer::Code)
                    .unwrap()
                    .clone();
            }
        },
    );
    row(
        "its code gone",
        "gone: a camera reads another sheet",
        &|marks| {
            marks.retain(|mark| mark.layer != Layer::Code);
        },
    );
    row(
        "heavy words made light",
        "stands elsewhere or is drawn",
        &|marks| {
            for mark in marks {
                if let Ink::Text(text) = &mut mark.ink {
                    text.heavy &= text.words != "LEFT";
                }
            }
        },
    );
    row(
        "a second line of the cut's width",
        "0.7 mm wide",
        &|marks| {
            let cut = marks.iter().find(|mark| mark.layer == Layer::Cut).cloned();
            if let Some(mut second) = cut {
                second = second.moved(kurbo::Vec2::new(4.0, 4.0));
                second.layer = Layer::Panel;
                marks.push(second);
            }
        },
    );
    row(
        "the centreline drawn as another line",
        "is drawn otherwise",
        &|marks| {
            for mark in marks
                .iter_mut()
                .filter(|mark| mark.layer == Layer::Centreline)
            {
                if let Ink::Stroke { line, .. } = &mut mark.ink {
                    line.kind = trimloft::draw::ink::LineType::Dashed;
                }
            }
        },
    );
    all
}

/// A row of the sheets as PDF, changed after they were written.
pub(super) fn changed(
    name: &str,
    words: &'static str,
    change: impl FnOnce(&mut Document, ObjectId),
) -> Row {
    let mut file = Document::load_mem(&pdf(&set()).unwrap()).unwrap();
    // The first sheet of the work.
    let page = *file.get_pages().values().nth(1).unwrap();
    change(&mut file, page);
    let mut bytes = vec![];
    file.save_to(&mut bytes).unwrap();
    (name.into(), bytes, words)
}

pub(super) fn painted(file: &mut Document, page: ObjectId, operators: &str) {
    let old = file.get_page_content(page);
    let all = [b"q\n", &*old, b"\nQ\n", operators.as_bytes()].concat();
    let id = file.add_object(Stream::new(dictionary! {}, all));
    file.get_dictionary_mut(page).unwrap().set("Contents", id);
}

/// The page's own resources, with one more entry.
pub(super) fn with_resource(
    file: &mut Document,
    page: ObjectId,
    kind: &str,
    name: &str,
    object: Object,
) {
    let own = file
        .get_dictionary(page)
        .unwrap()
        .get(b"Resources")
        .unwrap();
    let mut own = file.dereference(own).unwrap().1.as_dict().unwrap().clone();
    let mut group = own
        .get(kind.as_bytes())
        .ok()
        .and_then(|group| file.dereference(group).ok())
        .map_or_else(Dictionary::new, |(_, group)| {
            group.as_dict().unwrap().clone()
        });
    group.set(name, object);
    own.set(kind, group);
    file.get_dictionary_mut(page).unwrap().set("Resources", own);
}

/// A white box over what a layer shows first, in points.
fn cover(layer: Layer) -> Option<String> {
    let set = set();
    let mark = set.pages[1].work.iter().find(|mark| mark.layer == layer)?;
    let own = mark_bounds(mark).intersect(set.pages[1].window);
    let side = |mm: f64| mm * POINTS;
    let (x, y) = (side(own.x0), side(own.y0));
    Some(format!(
        "1 g {x} {y} {} {} re f",
        side(own.width()),
        side(own.height())
    ))
}

/// Files that were painted on, or whose resources were changed.
fn painted_on() -> Vec<Row> {
    let mut all = vec![
        changed("a line in no layer", "0.71 mm wide", |file, page| {
            painted(file, page, "2 w 200 300 m 300 400 l S");
        }),
        changed("a thin line in no layer", "0.18 mm wide", |file, page| {
            painted(file, page, "0.5 w 200 300 m 300 400 l S");
        }),
        changed("a faint line", "a faint line", |file, page| {
            let faint = dictionary! { "CA" => 0.3 };
            with_resource(file, page, "ExtGState", "F", faint.into());
            painted(file, page, "/F gs 2 w 200 300 m 300 400 l S");
        }),
        changed(
            "a link with a border",
            "notes and form fields",
            |file, page| {
                let link = dictionary! {
                    "Type" => "Annot", "Subtype" => "Link",
                    "Rect" => vec![100.into(), 100.into(), 300.into(), 300.into()],
                };
                let page = file.get_dictionary_mut(page).unwrap();
                page.set("Annots", vec![Object::Dictionary(link)]);
            },
        ),
        changed("letters wider apart", "stands elsewhere", |file, page| {
            let old = String::from_utf8(file.get_page_content(page)).unwrap();
            let wide = old.replacen("BT\n", "BT\n0.4 Tc\n", 1);
            let id = file.add_object(Stream::new(dictionary! {}, wide.into_bytes()));
            let page = file.get_dictionary_mut(page).unwrap();
            page.set("Contents", id);
        }),
        changed("a black spot", "a filled area", |file, page| {
            painted(file, page, "0 g 200 300 5 5 re f");
        }),
        changed("a picture", "a picture", |file, page| {
            let picture = dictionary! {
                "Type" => "XObject", "Subtype" => "Image", "Width" => 1, "Height" => 1,
                "ColorSpace" => "DeviceGray", "BitsPerComponent" => 8,
            };
            let picture = file.add_object(Stream::new(picture, vec![255]));
            with_resource(file, page, "XObject", "P", picture.into());
            painted(file, page, "q 300 0 0 300 100 200 cm /P Do Q");
        }),
        changed(
            "letters that are drawn by the file",
            "not known",
            |file, page| {
                let glyph = file.add_object(Stream::new(
                    dictionary! {},
                    b"1000 0 0 0 1000 1000 d1 0 0 1000 1000 re f".to_vec(),
                ));
                let font = dictionary! {
                    "Type" => "Font", "Subtype" => "Type3", "FirstChar" => 65, "LastChar" => 65,
                    "FontBBox" => vec![0.into(), 0.into(), 1000.into(), 1000.into()],
                    "FontMatrix" => vec![0.001.into(), 0.into(), 0.into(), 0.001.into(), 0.into(), 0.into()],
                    "CharProcs" => dictionary! { "a" => glyph },
                    "Encoding" => dictionary! { "Differences" => vec![65.into(), "a".into()] },
                    "Widths" => vec![1000.into()],
                };
                with_resource(file, page, "Font", "T", font.into());
                painted(
                    file,
                    page,
                    "BT /T 100 Tf 1 g 200 300 Td (A) Tj ET 0 g BT /T 9 Tf 9 9 Td (A) Tj ET",
                );
            },
        ),
        changed(
            "ink that is turned white",
            "colours that are mixed",
            |file, page| {
                let space = dictionary! {
                    "FunctionType" => 2, "N" => 1,
                    "Domain" => vec![0.into(), 1.into()], "C0" => vec![1.into()], "C1" => vec![1.into()],
                };
                let space = Object::Array(vec![
                    "Separation".into(),
                    "White".into(),
                    "DeviceGray".into(),
                    space.into(),
                ]);
                with_resource(file, page, "ColorSpace", "DefaultGray", space);
            },
        ),
        changed(
            "letters of the font exchanged",
            "nothing on it that can be read",
            |file, _| {
                exchange_letters(file);
            },
        ),
    ];
    for (layer, words) in [
        (Layer::Cut, "painted over the cut line"),
        (Layer::Locators, "painted over the locators"),
        (Layer::Fold, "painted over the datum edge"),
        (Layer::Centreline, "painted over the centreline"),
        (Layer::Relief, "painted over the relief holes"),
        (Layer::KeepOut, "painted over the keep-out areas"),
    ] {
        if let Some(white) = cover(layer) {
            let name = format!("a white box over {}", layer.name());
            all.push(changed(&name, words, |file, page| {
                painted(file, page, &white)
            }));
        }
    }
    all
}

/// Two codes of the typeface draw each other's glyphs, and still say what they said.
fn exchange_letters(file: &mut Document) {
    let fonts: Vec<ObjectId> = file
        .objects
        .iter()
        .filter(|(_, object)| object.as_dict().is_ok_and(|dict| dict.has(b"CIDToGIDMap")))
        .map(|(id, _)| *id)
        .collect();
    let mut map: Vec<u16> = (0..2000).collect();
    for code in (10..40).step_by(2) {
        map.swap(code, code + 1);
    }
    let map: Vec<u8> = map.into_iter().flat_map(u16::to_be_bytes).collect();
    let map = file.add_object(Stream::new(dictionary! {}, map));
    assert!(!fonts.is_empty());
    for font in fonts {
        file.get_dictionary_mut(font)
            .unwrap()
            .set("CIDToGIDMap", map);
    }
}

/// Drawings that show other things than they say.
fn decoys() -> Vec<Row> {
    let text = produced(&definition("T-1", "B")).svg.unwrap();
    let put = |element: &str| text.replace("</svg>", &format!("{element}</svg>"));
    let row =
        |name: &str, text: String, words| (format!("drawing: {name}"), text.into_bytes(), words);
    vec![
        row(
            "a line in no layer",
            put("<path d=\"M50 50L90 90\" stroke=\"#000\" stroke-width=\"0.7\"/>"),
            "0.7 mm wide",
        ),
        row(
            "a line with a name",
            put("<path aria-label=\"x\" fill=\"none\" d=\"M50 50L90 90\" stroke=\"#000\"/>"),
            "1 mm wide",
        ),
        row(
            "a layer twice",
            put(
                "<g id=\"cut\"><path d=\"M50 50L90 90\" stroke=\"#000\" stroke-width=\"0.7\"/></g>",
            ),
            "not in the definition",
        ),
        row(
            "words told otherwise",
            text.replacen("aria-label=\"LEFT\"", "aria-label=\"RIGHT\"", 1),
            "and told as `RIGHT`",
        ),
        row(
            "a title of another pattern",
            text.replacen("<title>", "<title>T-9 ", 1),
            "T-9",
        ),
        row(
            "a picture",
            put("<image href=\"data:image/png;base64,AA\" width=\"9\" height=\"9\"/>"),
            "a picture",
        ),
        row(
            "a choice of languages",
            put("<switch><path d=\"M0 0L9 9\" stroke=\"#000\"/></switch>"),
            "a drawing within",
        ),
        row(
            "a faint spot",
            put("<circle cx=\"60\" cy=\"60\" r=\"3\" opacity=\"0.3\"/>"),
            "a faint filled area",
        ),
        row(
            "moved letters",
            moved_letters(&text),
            "stands elsewhere or is drawn",
        ),
    ]
}

fn moved_letters(text: &str) -> String {
    text.replacen(
        "aria-label=\"LEFT\"",
        "transform=\"translate(3 0)\" aria-label=\"LEFT\"",
        1,
    )
}

#[test]
fn ink_that_is_not_the_definitions_is_named() {
    let reference = reference();
    let mut wrong = String::new();
    let all: Vec<Row> = [drawn_otherwise(), painted_on(), decoys()].concat();
    assert!(all.len() >= 40, "{}", all.len());
    for (name, bytes, words) in all {
        let found = bad(&bytes, &reference);
        let told = |finding: &trimloft::check::verify::Finding| {
            format!("{}: {finding}", finding.topic.words()).contains(words)
        };
        if !found.iter().any(told) {
            writeln!(wrong, "{name}, {words}: {found:#?}").unwrap();
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn a_count_of_sheets_without_end_is_answered_at_once() {
    let mut set = set();
    for page in &mut set.pages {
        reworded(&mut page.furniture, &|words| {
            words
                .starts_with("SHEET ")
                .then(|| "SHEET 1 OF 1000000000000000000".into())
        });
    }
    let begin = Instant::now();
    let found = bad(&pdf(&set).unwrap(), &reference());
    assert!(
        found
            .iter()
            .any(|one| one.words.contains("is missing, and")),
        "{found:#?}"
    );
    assert!(begin.elapsed() < Duration::from_secs(20));
}

#[test]
fn a_sheet_is_not_taken_for_another_that_shows_the_same() {
    // The work of one island on the sheet of another, both alike.
    let toml = std::fs::read_to_string(crate::common::root().join("shapes/demo/fascia-wide.toml"));
    let pattern = solved(&toml.unwrap());
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let mut set = sheets_of(&pattern, &setup).unwrap();
    let work: Vec<usize> = (0..set.pages.len())
        .filter(|page| !set.pages[*page].work.is_empty())
        .collect();
    assert!(work.len() >= 2);
    set.pages[work[1]].work = set.pages[work[0]].work.clone();
    let found = bad(&pdf(&set).unwrap(), &Reference::of(&pattern));
    assert!(!found.is_empty());
}

#[test]
fn pages_of_another_definition_under_one_number_are_told_apart() {
    let other = definition("T-1", "B").replace("from_datum = 90", "from_datum = 91");
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let other = sheets_of(&solved(&other), &setup).unwrap();
    for page in 0..other.pages.len() {
        let mut set = set();
        assert_eq!(set.pages.len(), other.pages.len());
        let differs = format!("{:?}", set.pages[page]) != format!("{:?}", other.pages[page]);
        set.pages[page] = other.pages[page].clone();
        let found = bad(&pdf(&set).unwrap(), &reference());
        assert_eq!(!found.is_empty(), differs, "page {}: {found:#?}", page + 1);
    }
}
