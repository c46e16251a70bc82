//! Every page is exactly its paper, and the file asks to be printed unscaled; read by hayro-syntax.

use crate::common::read_pdf::{box_of, catalog, layer_names, name_of, text, text_of};
use crate::common::{assert_close, drawn, produced, under_panel};
use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Stream};
use trimloft::draw::ink::Layer;
use trimloft::layout::{PageOrientation, Paper, Setup, SheetSet, sheets};
use trimloft::output::pdf;

const BOXES: [&str; 5] = ["MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox"];

/// Sides of ISO 216 and of the names in PWG 5101.1, in points of 1/72 in, 25.4 mm to the inch.
const PAPERS: [(&str, f64, f64); 23] = [
    ("a4", 595.2756, 841.8898),
    ("iso_a4_210x297mm", 595.2756, 841.8898),
    ("a3", 841.8898, 1190.5512),
    ("iso_a3_297x420mm", 841.8898, 1190.5512),
    ("a2", 1190.5512, 1683.7795),
    ("iso_a2_420x594mm", 1190.5512, 1683.7795),
    ("a1", 1683.7795, 2383.9370),
    ("iso_a1_594x841mm", 1683.7795, 2383.9370),
    ("a0", 2383.9370, 3370.3937),
    ("iso_a0_841x1189mm", 2383.9370, 3370.3937),
    ("letter", 612.0, 792.0),
    ("na_letter_8.5x11in", 612.0, 792.0),
    ("legal", 612.0, 1008.0),
    ("na_legal_8.5x14in", 612.0, 1008.0),
    ("ledger", 792.0, 1224.0),
    ("tabloid", 792.0, 1224.0),
    ("na_ledger_11x17in", 792.0, 1224.0),
    ("ansi-c", 1224.0, 1584.0),
    ("na_c_17x22in", 1224.0, 1584.0),
    ("ansi-d", 1584.0, 2448.0),
    ("na_d_22x34in", 1584.0, 2448.0),
    ("ansi-e", 2448.0, 3168.0),
    ("na_e_34x44in", 2448.0, 3168.0),
];

fn small_notch() -> String {
    under_panel(
        400.0,
        200.0,
        "[[opening]]\nname = \"neck\"\nshape = \"notch\"\nwith = { width = 60, depth = 50, corner_radius = 8 }\ncentre_offset = 0\nfrom_datum = 0\n",
    )
}

fn set_on(paper: &str, orientation: PageOrientation) -> SheetSet {
    let mut setup = Setup::new(Paper::parse(paper).unwrap());
    setup.orientation = orientation;
    sheets(&drawn(&small_notch()), &setup).unwrap()
}

#[test]
fn all_boxes_of_all_pages_are_the_papers_sides() {
    for (paper, short, long) in PAPERS {
        for (turn, width, height) in [
            (PageOrientation::Portrait, short, long),
            (PageOrientation::Landscape, long, short),
        ] {
            let file = Pdf::new(pdf(&set_on(paper, turn)).unwrap()).unwrap();
            assert!(file.pages().len() >= 2, "instructions and work");
            for page in file.pages().iter() {
                for key in BOXES {
                    let sides = box_of(page, key);
                    for (side, should) in sides.into_iter().zip([0.0, 0.0, width, height]) {
                        assert_close(side, should, 0.01, &format!("{paper} {turn:?} {key}"));
                    }
                    assert_eq!(sides, box_of(page, BOXES[0]), "{paper} {key}");
                }
                assert!(!page.raw().contains_key("UserUnit"));
                assert!(!page.raw().contains_key("Rotate"));
            }
        }
    }
}

#[test]
fn every_short_name_is_held_against_its_size() {
    for name in Paper::short_names() {
        assert!(PAPERS.iter().any(|paper| paper.0 == name), "{name}");
    }
}

#[test]
fn own_sizes_and_rolls_are_exact_too() {
    // 24 in is 1728 pt; 610 mm is 1729.1339 pt, 300 mm 850.3937 pt, 1000.5 mm 2836.0630 pt.
    for (paper, turn, width) in [
        ("24x36in", PageOrientation::Portrait, 1728.0),
        ("roll-610mm", PageOrientation::Portrait, 1729.1339),
        ("300x1000.5mm", PageOrientation::Portrait, 850.3937),
        ("300x1000.5mm", PageOrientation::Landscape, 2836.0630),
    ] {
        let file = Pdf::new(pdf(&set_on(paper, turn)).unwrap()).unwrap();
        for page in file.pages().iter() {
            for key in BOXES {
                assert_close(box_of(page, key)[2], width, 0.01, paper);
            }
        }
    }
}

#[test]
fn the_catalog_asks_for_actual_size_and_names_layers_and_sheets() {
    let product = produced(&small_notch());
    let bytes = product.pdf.unwrap();
    assert!(bytes.starts_with(b"%PDF-1.7"));
    let file = Pdf::new(bytes).unwrap();
    let catalog = catalog(&file);
    // ISO 32000-1, 12.2, Table 150 (read second-hand).
    let wishes: Dict<'_> = catalog.get("ViewerPreferences").unwrap();
    assert_eq!(name_of(&wishes, "PrintScaling"), "None");
    assert_eq!(name_of(&wishes, "Duplex"), "Simplex");
    assert_eq!(wishes.get::<bool>("PickTrayByPDFSize"), Some(true));
    assert_eq!(wishes.get::<bool>("DisplayDocTitle"), Some(true));
    assert_eq!(name_of(&catalog, "PageMode"), "UseOutlines");
    assert_eq!(text(file.metadata().title.as_deref().unwrap()), "T-1 Test");

    let layers: Dict<'_> = catalog.get("OCProperties").unwrap();
    let names = layer_names(&layers.get("OCGs").unwrap());
    let known = Layer::ALL.map(Layer::name);
    assert!(names.iter().all(|name| known.contains(&name.as_str())));
    for wanted in [
        "cut",
        "waste",
        "fold",
        "centreline",
        "relief",
        "dimensions",
        "check-ruler",
        "frame",
        "text",
    ] {
        assert!(
            names.iter().any(|name| name == wanted),
            "{wanted}: {names:?}"
        );
    }
    let default: Dict<'_> = layers.get("D").unwrap();
    let locked = layer_names(&default.get("Locked").unwrap());
    assert_eq!(locked, ["cut", "check-ruler"]);
    assert_eq!(layer_names(&default.get("ON").unwrap()), names);
}

#[test]
fn each_page_has_its_bookmark_in_order() {
    for demo in crate::common::demos() {
        let product = produced(&std::fs::read_to_string(demo).unwrap());
        let file = Pdf::new(product.pdf.unwrap()).unwrap();
        assert_eq!(product.pages.len(), file.pages().len());
        let outlines: Dict<'_> = catalog(&file).get("Outlines").unwrap();
        let mut titles = vec![];
        let mut next: Option<Dict<'_>> = outlines.get("First");
        while let Some(bookmark) = next {
            titles.push(text_of(&bookmark, "Title"));
            let target = bookmark.get::<Array<'_>>("Dest").unwrap();
            let page: Dict<'_> = target.iter().next().unwrap();
            assert_eq!(
                page.obj_id(),
                file.pages()[titles.len() - 1].raw().obj_id(),
                "{titles:?}"
            );
            next = bookmark.get("Next");
        }
        assert_eq!(titles.len(), product.pages.len());
        for (index, title) in titles.iter().enumerate() {
            assert!(
                title.starts_with(&format!("Sheet {}: ", index + 1)),
                "{title}"
            );
        }
    }
}

#[test]
fn the_typeface_is_embedded_and_cut_down() {
    let bytes = produced(&small_notch()).pdf.unwrap();
    let file = Pdf::new(bytes).unwrap();
    for page in file.pages().iter() {
        let resources: Dict<'_> = page.raw().get("Resources").unwrap();
        let fonts: Dict<'_> = resources.get("Font").unwrap();
        assert_eq!(fonts.keys().count(), 1);
        let font: Dict<'_> = fonts.get(fonts.keys().next().unwrap()).unwrap();
        assert_eq!(name_of(&font, "Subtype"), "Type0");
        // A cut-down font's name carries six capitals and a plus (ISO 32000-1, 9.6.4).
        let name = name_of(&font, "BaseFont");
        let (tag, _) = name.split_once('+').unwrap();
        assert!(tag.len() == 6 && tag.bytes().all(|byte| byte.is_ascii_uppercase()));
        let inner = font.get::<Array<'_>>("DescendantFonts").unwrap();
        let inner: Dict<'_> = inner.iter().next().unwrap();
        let about: Dict<'_> = inner.get("FontDescriptor").unwrap();
        let program: Stream<'_> = about.get("FontFile2").unwrap();
        let program = program.decoded().unwrap();
        // The whole typeface has some 170,000 bytes.
        assert!(
            (5_000..60_000).contains(&program.len()),
            "{}",
            program.len()
        );
        assert_eq!(program[..4], [0, 1, 0, 0], "TrueType");
    }
}
