//! The file is read back by usvg and drawn by resvg, which share no code with what wrote it.

use super::*;
use crate::draw::ink::{Anchor, LineType, Width};
use kurbo::Size;
use resvg::tiny_skia::{Pixmap, Transform};
use std::sync::Arc;
use usvg::{Group as Read, Node, Options, Tree};

const NAMES: &str = "Příčka žluť, Ω and ж & <b> \"q\" 'a'";

fn path(svg: &str) -> BezPath {
    BezPath::from_svg(svg).unwrap()
}

fn words(words: &str) -> Text {
    Text {
        words: words.into(),
        at: Point::new(50.0, 40.0),
        height: 5.0,
        anchor: Anchor::Middle,
        turn: 90.0,
        heavy: false,
    }
}

/// A plate with a ruler of 100 mm 20 mm from its left and foot.
fn plate(more: Vec<Mark>) -> Plate {
    let ruler = Line::continuous(Width::Broad);
    let mut marks = vec![Mark::stroke(
        Layer::CheckRuler,
        path("M20 20L120 20"),
        ruler,
    )];
    marks.extend(more);
    Plate {
        title: NAMES.into(),
        description: "to be cut\u{7} & <kept>".into(),
        content: "first\na < b".into(),
        size: Size::new(240.0, 90.5),
        marks,
    }
}

fn read(text: &str) -> Tree {
    Tree::from_str(text, &Options::default()).unwrap()
}

fn group<'a>(tree: &'a Tree, id: &str) -> &'a Read {
    fn within<'a>(group: &'a Read, id: &str) -> Option<&'a Read> {
        if group.id() == id {
            return Some(group);
        }
        group.children().iter().find_map(|node| match node {
            Node::Group(inner) => within(inner, id),
            _ => None,
        })
    }
    within(tree.root(), id).unwrap()
}

#[test]
fn it_opens_at_full_size() {
    let text = svg(&plate(vec![])).unwrap();
    for part in [
        "width=\"240mm\"",
        "height=\"90.5mm\"",
        "viewBox=\"0 0 240 90.5\"",
    ] {
        assert!(text.contains(part), "{text}");
    }
    // 1 in is 96 px and 2.54 cm (CSS Values and Units, read second-hand).
    let size = read(&text).size();
    assert!(
        (size.width() - 240.0 / 25.4 * 96.0).abs() < 1e-3,
        "{size:?}"
    );
    assert!(
        (size.height() - 90.5 / 25.4 * 96.0).abs() < 1e-3,
        "{size:?}"
    );
}

#[test]
fn a_ruler_of_100_mm_is_drawn_as_1181_pixels_at_300_to_the_inch() {
    let tree = read(&svg(&plate(vec![])).unwrap());
    let ruler = group(&tree, "check-ruler").abs_bounding_box();
    // 100 mm is 377.9527559 px of CSS, 20 mm from the left and 70.5 mm from the head.
    assert!((ruler.width() - 377.952_76).abs() < 1e-3, "{ruler:?}");
    assert!((ruler.y() - 70.5 / 25.4 * 96.0).abs() < 1e-3, "{ruler:?}");

    let scale = 300.0 / 96.0;
    let (width, height) = (tree.size().width() * scale, tree.size().height() * scale);
    let mut image = Pixmap::new(width as u32, height as u32).unwrap();
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut image.as_mut(),
    );
    let row = (70.5 / 25.4 * 300.0) as usize * image.width() as usize;
    let pixels = &image.pixels()[row..row + image.width() as usize];
    let dark: f64 = pixels
        .iter()
        .map(|pixel| f64::from(pixel.alpha()) / 255.0)
        .sum();
    assert!((dark - 1181.1).abs() < 1.0, "{dark} pixels");
}

#[test]
fn lettering_is_the_outline_of_its_words_and_names_them() {
    let text = words(NAMES);
    let ink = kurbo::Shape::bounding_box(&lettering::outline(&text));
    let written = svg(&plate(vec![Mark::text(Layer::Text, text)])).unwrap();
    let label = "aria-label=\"Příčka žluť, Ω and ж &amp; &lt;b&gt; &quot;q&quot; &apos;a&apos;\"";
    assert!(written.contains(label), "{written}");
    let tree = read(&written);
    let found = group(&tree, "text").abs_bounding_box();
    let mm = 25.4 / 96.0;
    // Turned a quarter to the left, the words run up the page round their middle.
    for (read, drawn) in [
        (found.x(), ink.x0),
        (found.right(), ink.x1),
        (found.y(), 90.5 - ink.y1),
        (found.bottom(), 90.5 - ink.y0),
    ] {
        let read = f64::from(read) * mm;
        // Letter and place are each rounded to a hundredth.
        assert!((read - drawn).abs() < 0.011, "{read} against {drawn}");
    }
}

#[test]
fn a_letter_that_the_typeface_lacks_is_an_error() {
    let odd = Mark::text(Layer::Text, words("up → front"));
    let error = svg(&plate(vec![odd])).unwrap_err();
    assert!(error.to_string().contains("U+2192"), "{error}");
}

#[test]
fn words_of_every_kind_leave_it_valid() {
    let odd = Plate {
        title: "\u{0}\u{b}]]><!-- & \u{ffff}\u{85}".into(),
        ..plate(vec![])
    };
    let text = svg(&odd).unwrap();
    assert!(text.contains("<title>\u{fffd}\u{fffd}]]&gt;&lt;!-- &amp; \u{fffd}\u{fffd}</title>"));
    assert!(text.contains("<desc>to be cut\u{fffd} &amp; &lt;kept&gt;</desc>"));
    assert!(
        text.contains("<metadata>first\na &lt; b</metadata>"),
        "{text}"
    );
    read(&text);
}

#[test]
fn groups_stand_in_order_and_strokes_keep_their_dashes() {
    let centre = Line {
        phase: 2.0,
        ..Line::of(LineType::LongDashDot, Width::Thin)
    };
    let marks = vec![
        Mark::text(
            Layer::Text,
            Text {
                heavy: true,
                ..words("a")
            },
        ),
        Mark::stroke(
            Layer::Cut,
            path("M0 0L10 10Q20 20 30 10Z"),
            Line::continuous(Width::Thick),
        ),
        Mark::stroke(Layer::Centreline, path("M0 0L0 50"), centre),
        Mark::fill(Layer::Waste, path("M0 0L5 0L5 5Z"), Shade::White),
    ];
    let text = svg(&plate(marks)).unwrap();
    let order = ["waste", "centreline", "cut", "check-ruler", "text"];
    let places: Vec<_> = order
        .iter()
        .map(|id| text.find(&format!("id=\"{id}\"")))
        .collect();
    assert!(
        places.iter().all(Option::is_some) && places.is_sorted(),
        "{places:?}"
    );
    assert_eq!(text.matches("<g ").count(), order.len());
    assert!(text.contains("stroke-dasharray=\"6 0.75 0.125 0.75\" stroke-dashoffset=\"2\""));
    assert!(
        text.contains("d=\"M0 90.5L10 80.5Q20 70.5 30 80.5Z\" stroke-width=\"0.7\""),
        "{text}"
    );
    assert!(text.contains("fill=\"#fff\" stroke=\"none\""));
    assert!(
        text.contains("fill=\"#000\" stroke-width=\"0.25\""),
        "heavy: {text}"
    );
    read(&text);
}

#[test]
fn the_same_plate_gives_the_same_bytes_and_no_noise() {
    let marks = || {
        vec![Mark::stroke(
            Layer::Cut,
            path("M0.1 0.2L0.3000000001 7.00004"),
            Line::continuous(Width::Thick),
        )]
    };
    let text = svg(&plate(marks())).unwrap();
    assert_eq!(text, svg(&plate(marks())).unwrap());
    assert!(text.contains("d=\"M0.1 90.3L0.3 83.5\""), "{text}");
}

/// Each opening is a group of its own with its name, and no other ink is in it.
#[test]
fn an_opening_is_a_group_with_its_name() {
    let cut = |d: &str| Mark::stroke(Layer::Cut, path(d), Line::continuous(Width::Thick));
    let names: [Arc<str>; 2] = ["left & <b>".into(), "right".into()];
    let text = svg(&plate(vec![
        cut("M10 10L20 10").of(&names[0]),
        cut("M10 12L20 12").of(&names[0]),
        cut("M30 10L40 10").of(&names[1]),
        cut("M50 10L60 10"),
    ]))
    .unwrap();
    let document = usvg::roxmltree::Document::parse(&text).unwrap();
    let by_id = |id: &str| {
        let mut all = document.descendants();
        all.find(|node| node.attribute("id") == Some(id)).unwrap()
    };
    for (id, name, strokes) in [("cut-1", "left & <b>", 2), ("cut-2", "right", 1)] {
        let group = by_id(id);
        assert_eq!(group.parent().unwrap().attribute("id"), Some("cut"));
        let paths = group.children().filter(|node| node.has_tag_name("path"));
        assert_eq!(paths.count(), strokes, "{id}");
        let title = group.children().find(|node| node.has_tag_name("title"));
        assert_eq!(title.unwrap().text(), Some(name));
    }
    let own = by_id("cut")
        .children()
        .filter(|node| node.has_tag_name("path"));
    assert_eq!(own.count(), 1);
}

#[test]
fn a_browser_is_told_to_print_it_at_its_own_size() {
    let text = svg(&plate(vec![])).unwrap();
    let sheet = "<style>\n@page{size:240mm 90.5mm;margin:0}\n</style>";
    assert!(text.contains(sheet), "{text}");
}
