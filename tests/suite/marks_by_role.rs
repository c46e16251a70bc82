//! What a mark on a sheet is must never hang on its size: holes of any radius, drilled by any
//! shop, stand beside register marks and are never taken for them.

use crate::common::{produced, solved, under_panel};
use lopdf::{Dictionary, Document, Object, Stream};
use rayon::prelude::*;
use trimloft::check::verify::{Against, Outcome, Reference, verify};

/// A window of this radius `along` the edge, drilled by a shop that has its tool, and a small hole
/// to lay the pattern by.
fn window(radius: f64, along: f64, hole: f64) -> String {
    let tables = format!(
        "[[locator]]\nname = \"hole\"\nacross = {}\nfrom_datum = 30\ndiameter = {hole}\n\
         [[opening]]\nname = \"window\"\nshape = \"window\"\n\
         with = {{ width = 120, height = 75, corner_radius = {radius} }}\n\
         centre_offset = \"{along} mm left\"\nfrom_datum = 90\n",
        480.0 - along
    );
    let tool = (2.0 * radius).max(0.5);
    under_panel(980.0, 310.0, &tables).replace("[pattern]", &format!("tools = [{tool}]\n[pattern]"))
}

/// Radii from 1 to 30 mm, closest together where the cross of a hole has the arms of a register
/// mark.
fn radii() -> Vec<f64> {
    let coarse = (4..=120).map(|quarters| f64::from(quarters) * 0.25);
    let fine = (240..=260).map(|hundredths| f64::from(hundredths) * 0.01);
    coarse.chain(fine).collect()
}

#[test]
fn windows_of_every_radius_are_drawn_and_proven() {
    // `produced` reads back what it wrote, and panics where that does not prove right.
    let drawn: usize = radii()
        .par_iter()
        .map(|radius| {
            let product = produced(&window(*radius, 10.0 * radius.fract(), 10.0));
            usize::from(product.pdf.is_some() && product.svg.is_some())
        })
        .sum();
    assert_eq!(drawn, radii().len());
}

#[test]
fn crosses_like_register_marks_are_none_anywhere_on_the_sheet() {
    // The arms of both kinds of hole are 8 mm long: a relief hole's 2.5 + 1.5 each way, a hole's
    // to lay by 1 + 3.
    let places: Vec<f64> = (0..48).map(|step| f64::from(step) * 8.0).collect();
    places.par_iter().for_each(|along| {
        produced(&window(2.5, *along, 2.0));
    });
}

#[test]
fn without_layers_a_hole_is_told_by_what_stands_round_its_cross() {
    for along in [0.0, 40.0, 95.0, 200.0] {
        let toml = window(2.5, along, 2.0);
        let reference = Reference::of(&solved(&toml));
        let against = Against {
            reference: Some(&reference),
            ..Default::default()
        };
        let bytes = without_layers(&produced(&toml).pdf.unwrap());
        let report = verify(bytes, against).unwrap();
        let told: Vec<String> = report.findings.iter().map(ToString::to_string).collect();
        assert_eq!(report.outcome(), Outcome::Changed, "{along}: {told:#?}");
    }
}

/// The file as a program saves it that knows no layers.
fn without_layers(bytes: &[u8]) -> Vec<u8> {
    let mut file = Document::load_mem(bytes).unwrap();
    file.catalog_mut().unwrap().remove(b"OCProperties");
    for (_, id) in file.get_pages() {
        let text = String::from_utf8(file.get_page_content(id)).unwrap();
        let kept: Vec<&str> = text
            .lines()
            .filter(|line| !["BDC", "BMC", "EMC"].iter().any(|end| line.ends_with(end)))
            .collect();
        let content = file.add_object(Stream::new(Dictionary::new(), kept.join("\n").into_bytes()));
        let page = file.get_object_mut(id).and_then(Object::as_dict_mut);
        page.unwrap().set("Contents", content);
    }
    let mut saved = vec![];
    file.save_to(&mut saved).unwrap();
    saved
}

/// On its ninth sheet a dimension that a join hides reaches over the window, left of the sheet's number.
const HIDDEN_DIMENSION: &str = r#"
format = 1
[pattern]
number = "T-1"
title = "Odd"
[panel]
name = "Panel"
thickness = 2.5
width = 760.54
height = 639.32
datum_edge = "rear"
seen_from = "above"
page_up = "rear"
extent = "panel"
[[locator]]
name = "hole 0"
across = 414.516
from_datum = 445.826
diameter = 65
[[locator]]
name = "hole 1"
across = 394.551
from_datum = 332.012
diameter = 158.648
[[locator]]
name = "hole 2"
across = 497.008
from_datum = 221.520
[[locator]]
name = "hole 3"
across = 328.317
from_datum = 461.240
[[line]]
name = "line"
kind = "fold"
points = [[37.23, 563.69], [438.05, 65.91]]
[[part]]
name = "part 0"
shape = "window"
with = { width = 85.9548, height = 60, corner_radius = 10 }
centre_offset = "139.3363 mm left"
from_datum = 93.2583
slope = "29.7 deg"
[[opening]]
name = "opening 0"
around = ["part 0"]
follow = "box"
open_at_edge = true
"#;

#[test]
fn a_dimension_that_a_join_hides_is_not_the_sheets_number() {
    assert!(produced(HIDDEN_DIMENSION).pages.len() > 9);
}
