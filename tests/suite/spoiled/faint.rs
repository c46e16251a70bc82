//! Ink that is hardly there, and lines that are put together from next to nothing: each is told.

use super::{bad, definition, produced, reference};
use crate::common::solved;
use kurbo::{PathEl, Point, Shape};
use lopdf::{Document, Object, Stream, dictionary};
use trimloft::draw::draw;
use trimloft::draw::ink::{Ink, Layer, Mark};
use trimloft::layout::{Paper, Setup, plate, sheets_of};
use trimloft::output::{pdf, svg};

/// A line across the work in steps too short to be pieces of their own, added to a mark.
fn lengthened(mark: &mut Mark) {
    if let Ink::Stroke { path, .. } = &mut mark.ink {
        let from = path.bounding_box().center();
        path.push(PathEl::MoveTo(from));
        for step in 1..2500 {
            path.push(PathEl::LineTo(Point::new(
                from.x + 0.015 * f64::from(step),
                from.y,
            )));
        }
    }
}

#[test]
fn lines_of_steps_too_short_to_count_are_lines_all_the_same() {
    for layer in [
        Layer::Waste,
        Layer::Fold,
        Layer::Centreline,
        Layer::KeepOut,
        Layer::Relief,
    ] {
        let pattern = solved(&definition("T-1", "B"));
        let mut plate = plate(&draw(&pattern).unwrap()).unwrap();
        let mark = plate.marks.iter_mut().find(|mark| mark.layer == layer);
        lengthened(mark.unwrap());
        let found = bad(svg(&plate).unwrap().as_bytes(), &reference());
        assert!(!found.is_empty(), "drawing, {layer:?}");
        let setup = Setup::new(Paper::parse("a4").unwrap());
        let mut set = sheets_of(&pattern, &setup).unwrap();
        let mut marks = set.pages.iter_mut().flat_map(|page| &mut page.work);
        lengthened(marks.find(|mark| mark.layer == layer).unwrap());
        let found = bad(&pdf(&set).unwrap(), &reference());
        assert!(!found.is_empty(), "sheets, {layer:?}");
    }
}

#[test]
fn drawings_in_a_light_colour_are_told() {
    let text = produced(&definition("T-1", "B")).svg.unwrap();
    let black = ["#000000", "#000", "black"];
    let written = black
        .into_iter()
        .find(|word| text.contains(&format!("\"{word}\"")));
    let written = written.expect("strokes are black");
    for colour in ["#d8d8d8", "yellow", "#8f8f8f", "#00000050"] {
        let spoiled = text.replace(&format!("\"{written}\""), &format!("\"{colour}\""));
        let found = bad(spoiled.as_bytes(), &reference());
        assert!(!found.is_empty(), "{colour}");
    }
}

/// The sheets, the content of the first of the work changed.
fn with_content(change: impl Fn(&mut Document, Vec<u8>) -> Vec<u8>) -> Vec<u8> {
    let bytes = produced(&definition("T-1", "B")).pdf.unwrap();
    let mut file = Document::load_mem(&bytes).unwrap();
    let page = *file.get_pages().values().nth(1).unwrap();
    let old = file.get_page_content(page);
    let new = change(&mut file, old);
    let id = file.add_object(Stream::new(dictionary! {}, new));
    file.get_dictionary_mut(page).unwrap().set("Contents", id);
    let mut bytes = vec![];
    file.save_to(&mut bytes).unwrap();
    bytes
}

#[test]
fn sheets_in_a_light_colour_are_told() {
    for colour in [
        "0.7 G 0.7 g",
        "0.84 G 0.84 g",
        "0 0 1 0 K 0 0 1 0 k",
        "0.16 0 0 0 K 0.16 0 0 0 k",
    ] {
        let bytes = with_content(|_, old| {
            let text: String = old.iter().map(|byte| char::from(*byte)).collect();
            let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
            for line in &mut lines {
                if [
                    "0 G",
                    "0 g",
                    "0 0 0 RG",
                    "0 0 0 rg",
                    "0 0 0 1 K",
                    "0 0 0 1 k",
                ]
                .contains(&line.as_str())
                {
                    *line = String::new();
                }
            }
            [colour.as_bytes(), b"\n", lines.join("\n").as_bytes()].concat()
        });
        let found = bad(&bytes, &reference());
        assert!(!found.is_empty(), "{colour}");
    }
}

/// What a group is put down with stays, whatever is set inside it.
#[test]
fn sheets_in_a_faint_group_are_told() {
    let bytes = with_content(|file, old| {
        let page = *file.get_pages().values().nth(1).unwrap();
        let resources = file
            .get_dictionary(page)
            .unwrap()
            .get(b"Resources")
            .unwrap();
        let resources = file.dereference(resources).unwrap().1.clone();
        let inside = [&b"/Full gs\n"[..], &old].concat();
        let mut own = resources.as_dict().unwrap().clone();
        own.set(
            "ExtGState",
            dictionary! { "Full" => dictionary! { "CA" => 1, "ca" => 1 } },
        );
        let form = dictionary! {
            "Type" => "XObject",
            "Subtype" => "Form",
            "BBox" => vec![Object::from(0), 0.into(), 5000.into(), 5000.into()],
            "Group" => dictionary! { "S" => "Transparency" },
            "Resources" => own.clone(),
        };
        let form = file.add_object(Stream::new(form, inside));
        own.set("XObject", dictionary! { "All" => form });
        own.set(
            "ExtGState",
            dictionary! { "Faint" => dictionary! { "CA" => 0.1, "ca" => 0.1 } },
        );
        file.get_dictionary_mut(page).unwrap().set("Resources", own);
        b"/Faint gs /All Do".to_vec()
    });
    let found = bad(&bytes, &reference());
    assert!(!found.is_empty());
}
