//! What the sheets tell of how panel and parts stand, and the view.

use super::fascia;
use crate::common::{assert_close, drawn, shipped, solved};
use trimloft::draw::ink::Drawing;
use trimloft::draw::oblique_view;
use trimloft::input::{PatternSpec, Source};
use trimloft::jobs::produce::{Formats, produce};
use trimloft::layout::{Paper, Setup};

const TUBE: &str = "[[part]]\nname = \"tube\"\nshape = \"window\"\nwith = { width = 60, height = 60, corner_radius = 4 }\n\
                    centre_offset = 0\nfrom_datum = 200\nslope = \"6 deg\"\nyaw = \"-4 deg\"\n[[opening]]\nname = \"hole\"\n\
                    around = [\"tube\"]\nfollow = \"box\"\n";

const SURFACE: &str = "rake = \"-15 deg\"\nradius = 1200\nbulges = \"towards\"";

fn told(drawing: &Drawing) -> String {
    drawing.told().collect::<Vec<_>>().join("\n")
}

#[test]
fn panel_and_part_are_told_in_words_and_shown() {
    let told = told(&drawn(&fascia(3.0, SURFACE, TUBE)));
    for words in [
        "How the panel stands",
        "The panel leans 15 degrees: its upper edge leans towards you.",
        "It is curved across, bulging towards you, to a radius of 1200 mm.",
        "Going away from you, tube runs off 6 degrees upwards and 4 degrees to the left.",
        "Press the paper to the panel all over",
        "Panel cut through, at tube",
    ] {
        assert!(told.contains(words), "`{words}` is not in:\n{told}");
    }
}

#[test]
fn a_flat_panel_is_not_told_of() {
    let flat = fascia(
        3.0,
        "rake = \"0 deg\"",
        &TUBE.replace("slope = \"6 deg\"\nyaw = \"-4 deg\"\n", ""),
    );
    assert!(!told(&drawn(&flat)).contains("How the panel stands"));
}

#[test]
fn the_difference_to_a_flat_guess_is_a_number() {
    // A tube square-on to a panel that leans 30 degrees, its upper side at 230 mm and 10 of
    // clearance over it: flat, 240 mm; on the panel 240 / cos(30) and what the far face adds.
    let tube = "[[part]]\nname = \"tube\"\nshape = \"window\"\nwith = { width = 60, height = 60, corner_radius = 4 }\n\
                centre_offset = 0\nfrom_datum = 200\n[clearance]\ngap = 10\nposition = 0\nmarking = 0\ncutting = 0\nprint = 0\n\
                [[opening]]\nname = \"hole\"\naround = [\"tube\"]\nfollow = \"contour\"\n";
    let pattern = solved(&fascia(0.1, "rake = \"30 deg\"", tube));
    let short = 240.0 / 30.0_f64.to_radians().cos() - 240.0;
    assert_close(
        pattern.developed[0].guess.short_by,
        short,
        0.1,
        "short at the top",
    );
    let words = told(&drawn(&fascia(0.1, "rake = \"30 deg\"", tube)));
    assert!(
        words.contains("A flat pattern would have been 37.2 mm short at the upper edge of hole."),
        "{words}"
    );
}

#[test]
fn the_view_shows_the_panel_and_the_part_and_says_it_is_not_full_size() {
    let toml = fascia(3.0, SURFACE, TUBE);
    let spec = PatternSpec::read(&Source::new("p.toml", toml.clone())).unwrap();
    let setup = Setup::new(Paper::parse("a4").unwrap());
    let formats = Formats {
        pdf: false,
        svg: false,
        view: true,
        closed: false,
    };
    let view = produce(&spec, &shipped(), &setup, formats)
        .unwrap()
        .view
        .unwrap();
    let tree = usvg::Tree::from_str(&view, &usvg::Options::default()).unwrap();
    let size = tree.size();
    assert!(size.width() > 100.0 && size.height() > 100.0);
    for words in [
        "tube",
        "not full size, seen from behind",
        "UP",
        "DOWN: datum edge",
        "LEFT",
        "RIGHT",
    ] {
        assert!(view.contains(words), "`{words}` is not in the view");
    }
    // All of it lies on its page.
    let plate = oblique_view(&solved(&toml)).unwrap();
    let page = kurbo::Rect::from_origin_size((0.0, 0.0), plate.size);
    for mark in &plate.marks {
        if let trimloft::draw::ink::Ink::Stroke { path, .. } = &mark.ink {
            let bounds = kurbo::Shape::bounding_box(path);
            assert!(
                page.contains(bounds.origin())
                    && page.contains(kurbo::Point::new(bounds.x1, bounds.y1)),
                "{bounds:?}"
            );
        }
    }
}
