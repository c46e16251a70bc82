//! The file is read back by hayro, which shares no code with what wrote it.

use super::content::FACE;
use super::*;
use crate::draw::ink::{Anchor, Layer, Line, LineType, Mark, Shade, Text, Width};
use crate::layout::{Page, PageKind, SheetSet};
use hayro::hayro_interpret::InterpreterSettings;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{PixmapSettings, RenderCache, RenderSettings};
use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction as Op;
use hayro_syntax::object::{Array, Dict, Name, Stream, String as Words};
use kurbo::{BezPath, Circle, Point, Rect, Shape, Size};
use std::collections::BTreeMap;

const NAMES: &str = "Příčka žluť, Ω and ж & <b> \"q\" (a\\b)";

fn path(svg: &str) -> BezPath {
    BezPath::from_svg(svg).unwrap()
}

fn words(words: &str, height: f64, heavy: bool) -> Mark {
    let text = Text {
        words: words.into(),
        at: Point::new(30.0, 200.0),
        height,
        anchor: Anchor::Start,
        turn: 0.0,
        heavy,
    };
    Mark::text(Layer::Text, text)
}

/// A set of one page, with a ruler of 100 mm 20 mm from its left and foot.
fn set(work: Vec<Mark>, more: Vec<Mark>) -> SheetSet {
    let ruler = Line::continuous(Width::Broad);
    let mut furniture = vec![Mark::stroke(
        Layer::CheckRuler,
        path("M20 20L120 20"),
        ruler,
    )];
    furniture.extend(more);
    SheetSet {
        title: NAMES.into(),
        author: "Tarn fitting bay".into(),
        subject: String::new(),
        issued: "2026-03-02".into(),
        content: "first\na < b".into(),
        size: Size::new(210.0, 297.0),
        pages: vec![Page {
            kind: PageKind::Work,
            bookmark: "Sheet 1 ř".into(),
            furniture,
            work,
            window: Rect::new(15.0, 50.0, 195.0, 280.0),
        }],
    }
}

fn read(set: &SheetSet) -> Pdf {
    Pdf::new(pdf(set).unwrap()).unwrap()
}

/// Content as one line a painting, in the words of the file itself.
fn content(file: &Pdf) -> String {
    let bytes = file.pages()[0].page_stream().unwrap();
    String::from_utf8_lossy(bytes).replace('\n', " ")
}

/// Darkness of every pixel from 0 to 1, row by row from the head, and the width of a row.
fn raster(file: &Pdf, dots_per_inch: f32) -> (Vec<f64>, usize) {
    let scale = dots_per_inch / 72.0;
    let settings = PixmapSettings {
        x_scale: scale,
        y_scale: scale,
        bg_color: WHITE,
    };
    let image = hayro::render(
        &file.pages()[0],
        &RenderCache::new(),
        &InterpreterSettings::default(),
        &RenderSettings::default(),
        &settings,
    );
    let dark = image
        .data()
        .iter()
        .map(|pixel| 1.0 - f64::from(pixel.g) / 255.0);
    (dark.collect(), usize::from(image.width()))
}

fn names(array: &Array<'_>) -> Vec<String> {
    let groups = array.iter::<Dict<'_>>();
    groups
        .map(|group| {
            String::from_utf8(group.get::<Words<'_>>("Name").unwrap().as_bytes().into()).unwrap()
        })
        .collect()
}

fn name<'a>(dict: &Dict<'a>, key: &str) -> String {
    dict.get::<Name<'a>>(key).unwrap().as_str().into()
}

#[test]
fn boxes_are_the_papers_and_preferences_say_not_to_scale() {
    // A4 is 595.2756 x 841.8898 pt (ISO 216 sides, 1/72 in of 25.4 mm).
    let bytes = pdf(&set(vec![], vec![])).unwrap();
    assert!(bytes.starts_with(b"%PDF-1.7\n"));
    let file = Pdf::new(bytes).unwrap();
    let page = file.pages()[0].raw();
    for key in ["MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox"] {
        let found: Vec<f64> = page.get::<Array<'_>>(key).unwrap().iter::<f64>().collect();
        for (value, points) in found.iter().zip([0.0, 0.0, 595.2756, 841.8898]) {
            assert!(
                (value - points).abs() < 1e-4,
                "{key}: {value} against {points}"
            );
        }
        assert_eq!(found.len(), 4);
    }
    let catalog: Dict<'_> = file.xref().get(file.xref().root_id()).unwrap();
    let wishes: Dict<'_> = catalog.get("ViewerPreferences").unwrap();
    assert_eq!(name(&wishes, "PrintScaling"), "None");
    assert_eq!(name(&wishes, "Duplex"), "Simplex");
    assert_eq!(wishes.get::<bool>("PickTrayByPDFSize"), Some(true));
    assert_eq!(wishes.get::<bool>("DisplayDocTitle"), Some(true));
    assert_eq!(name(&catalog, "PageMode"), "UseOutlines");
    assert_eq!(catalog.get::<Words<'_>>("Lang").unwrap().as_bytes(), b"en");
}

#[test]
fn layers_are_named_in_order_and_the_cut_is_locked_on() {
    let line = Line::continuous(Width::Thick);
    let stroke = |layer| Mark::stroke(layer, path("M20 60L120 60"), line);
    let file = read(&set(
        vec![
            stroke(Layer::Cut),
            stroke(Layer::Waste),
            stroke(Layer::KeepOut),
        ],
        vec![words("a", 3.5, false)],
    ));
    let catalog: Dict<'_> = file.xref().get(file.xref().root_id()).unwrap();
    let layers: Dict<'_> = catalog.get("OCProperties").unwrap();
    let default: Dict<'_> = layers.get("D").unwrap();
    let all = ["waste", "keep-out", "cut", "check-ruler", "text"];
    assert_eq!(names(&layers.get("OCGs").unwrap()), all);
    assert_eq!(names(&default.get("Order").unwrap()), all);
    assert_eq!(names(&default.get("ON").unwrap()), all);
    assert_eq!(
        names(&default.get("Locked").unwrap()),
        ["cut", "check-ruler"]
    );
    for group in layers.get::<Array<'_>>("OCGs").unwrap().iter::<Dict<'_>>() {
        assert!(!group.get::<Dict<'_>>("Usage").unwrap().contains_key("Type"));
    }
    let begun = content(&file).matches("/OC /").count();
    assert_eq!(begun, all.len());
}

#[test]
fn what_it_says_of_itself_is_readable_and_undated_but_for_the_issue() {
    let file = read(&set(vec![], vec![]));
    let said = file.metadata();
    let title = said.title.as_deref().unwrap();
    let units: Vec<u16> = title[2..]
        .chunks(2)
        .map(|pair| u16::from_be_bytes([pair[0], pair[1]]))
        .collect();
    assert_eq!(String::from_utf16(&units).unwrap(), NAMES);
    assert_eq!(said.author.as_deref(), Some("Tarn fitting bay".as_bytes()));
    assert_eq!(said.producer.as_deref(), Some(PROGRAM.as_bytes()));
    assert!(said.subject.is_none() && said.modification_date.is_none());
    let date = said.creation_date.unwrap();
    assert_eq!((date.year, date.month, date.day), (2026, 3, 2));

    for odd in ["", "2 March 2026", "2026-3-2", "2026-03-0x"] {
        let undated = SheetSet {
            issued: odd.into(),
            ..set(vec![], vec![])
        };
        assert!(read(&undated).metadata().creation_date.is_none(), "{odd}");
    }
}

/// The words shown, by the file's own table from codes to letters.
fn shown(file: &Pdf) -> Vec<String> {
    let font = file.pages()[0]
        .resources()
        .get_font(&Name::new_unescaped(FACE.as_bytes()));
    let table: Stream<'_> = font.unwrap().get("ToUnicode").unwrap();
    let table = String::from_utf8(table.decoded().unwrap().into_owned()).unwrap();
    let letters: BTreeMap<u16, char> = table
        .lines()
        .filter_map(|line| {
            let (code, letter) = line
                .strip_prefix('<')?
                .strip_suffix('>')?
                .split_once("> <")?;
            let letter = u32::from_str_radix(letter, 16).ok()?;
            Some((u16::from_str_radix(code, 16).ok()?, char::from_u32(letter)?))
        })
        .collect();
    let decode = |codes: &[u8]| {
        let codes = codes
            .chunks(2)
            .map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
        codes.map(|code| letters[&code]).collect()
    };
    let mut ops = file.pages()[0].typed_operations();
    let mut shown = Vec::new();
    while let Some(op) = ops.next() {
        if let Op::ShowText(text) = op {
            shown.push(decode(text.0.as_bytes()));
        }
    }
    shown
}

#[test]
fn words_can_be_read_back_and_the_typeface_is_cut_down() {
    let bytes = pdf(&set(
        vec![words("work Ω", 2.5, false)],
        vec![words(NAMES, 3.5, true)],
    ))
    .unwrap();
    assert!(bytes.len() < 25_000, "{} bytes", bytes.len());
    let file = Pdf::new(bytes).unwrap();
    assert_eq!(shown(&file), ["work Ω", NAMES]);
}

#[test]
fn a_letter_that_the_typeface_lacks_is_an_error() {
    let error = pdf(&set(vec![words("up → front", 2.5, false)], vec![])).unwrap_err();
    assert!(matches!(error, WriteError::Letter(_)), "{error}");
    assert!(error.to_string().contains("U+2192"), "{error}");
}

#[test]
fn no_pages_and_impossible_pages_are_errors() {
    let none = SheetSet {
        pages: vec![],
        ..set(vec![], vec![])
    };
    assert!(matches!(pdf(&none), Err(WriteError::NoPages)));
    for side in [0.0, -1.0, 5081.0, f64::NAN, f64::INFINITY] {
        let odd = SheetSet {
            size: Size::new(210.0, side),
            ..set(vec![], vec![])
        };
        assert!(matches!(pdf(&odd), Err(WriteError::PageSize(_))), "{side}");
    }
}

#[test]
fn the_same_set_gives_the_same_bytes_and_another_another_id() {
    let one = || set(vec![words("Ω", 2.5, false)], vec![words("ж", 3.5, true)]);
    assert_eq!(pdf(&one()).unwrap(), pdf(&one()).unwrap());

    let id = |set: &SheetSet| {
        let bytes = pdf(set).unwrap();
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let (_, id) = text.rsplit_once("/ID[<").unwrap();
        let id: Vec<_> = id.split(['<', '>']).step_by(2).take(2).collect();
        assert_eq!((id[0].len(), id[0]), (32, id[1]));
        id[0].to_owned()
    };
    let title = SheetSet {
        title: "other".into(),
        ..one()
    };
    let mut ink = one();
    ink.pages[0].work.push(words("more", 2.5, false));
    assert_ne!(id(&one()), id(&title));
    assert_ne!(id(&one()), id(&ink));
}

#[test]
fn the_ruler_is_one_path_of_its_nominal_length() {
    // 100 mm is 283.4646 pt; 20 mm is 56.6929 pt.
    let file = read(&set(vec![], vec![]));
    let said = content(&file);
    assert!(
        said.contains("56.6929 56.6929 m 340.1575 56.6929 l S"),
        "{said}"
    );

    // 100 mm at 300 dots to the inch is 1181.1 pixels.
    let (dark, width) = raster(&file, 300.0);
    let row = ((297.0 - 20.0) / 25.4 * 300.0) as usize;
    let ruler: f64 = dark[row * width..(row + 1) * width].iter().sum();
    assert!((ruler - 1181.1).abs() < 1.0, "{ruler} pixels");
}

#[test]
fn work_is_clipped_to_its_window_and_furniture_is_not() {
    let line = Line::continuous(Width::Thick);
    let across = |y: f64| path(&format!("M0 {y}L210 {y}"));
    let file = read(&set(
        vec![Mark::stroke(Layer::Cut, across(100.0), line)],
        vec![Mark::stroke(Layer::Frame, across(120.0), line)],
    ));
    let (dark, width) = raster(&file, 254.0);
    let row = |y: f64| -> f64 {
        let row = ((297.0 - y) * 10.0) as usize;
        dark[row * width..(row + 1) * width].iter().sum()
    };
    assert!((row(100.0) - 1800.0).abs() < 2.0, "{}", row(100.0));
    assert!((row(120.0) - 2100.0).abs() < 2.0, "{}", row(120.0));
}

#[test]
fn curves_holes_and_white_ground_come_out_with_their_areas() {
    let mut ring = Circle::new((60.0, 120.0), 20.0).to_path(0.001);
    ring.extend(
        Circle::new((60.0, 120.0), 10.0)
            .to_path(0.001)
            .reverse_subpaths(),
    );
    let ground = Rect::new(50.0, 130.0, 70.0, 150.0).to_path(0.1);
    let disc = Circle::new((150.0, 120.0), 10.0).to_path(0.001);
    let mut plain = set(
        vec![
            Mark::fill(Layer::Parts, ring, Shade::Black),
            Mark::fill(Layer::Locators, ground, Shade::White),
            Mark::fill(Layer::Relief, disc, Shade::Black),
        ],
        vec![],
    );
    plain.pages[0].furniture.clear();
    let (dark, _) = raster(&read(&plain), 254.0);
    let area = dark.iter().sum::<f64>() / 100.0;
    // The ring has pi (20^2 - 10^2), the disc pi 10^2. The ground, 20 mm wide and from 10 mm above
    // the middle, takes from the ring the integral of sqrt(20^2 - x^2) - 10 from -10 to 10.
    let over = 10.0 * 300.0_f64.sqrt() + 400.0 * 0.5_f64.asin() - 200.0;
    let ink = std::f64::consts::PI * (400.0 - 100.0 + 100.0) - over;
    assert!((area / ink - 1.0).abs() < 2e-3, "{area} against {ink}");
}

#[test]
fn dashes_widths_and_ends_are_set_once_and_in_points() {
    let centre = Line {
        phase: 2.0,
        ..Line::of(LineType::LongDashDot, Width::Thin)
    };
    let plain = Line::continuous(Width::Thin);
    let at = |y: f64| path(&format!("M20 {y}L120 {y}"));
    let file = read(&set(
        vec![
            Mark::stroke(Layer::Centreline, at(60.0), centre),
            Mark::stroke(Layer::Centreline, at(70.0), centre),
            Mark::stroke(
                Layer::Panel,
                path("M20 80L30 80L30 90Z M40 80L50 90"),
                plain,
            ),
        ],
        vec![],
    ));
    let said = content(&file);
    // 0.25 mm: 0.7087 pt; dashes 6, 0.75, 0.125, 0.75 mm and a start 2 mm in.
    assert_eq!(
        said.matches("[17.0079 2.126 0.3543 2.126] 5.6693 d")
            .count(),
        1,
        "{said}"
    );
    assert_eq!(said.matches("0.7087 w").count(), 1, "{said}");
    // A mark is painted once, with only its closed subpath closed.
    assert_eq!(said.matches(" l h ").count(), 1, "{said}");
    assert_eq!(said.matches(" S ").count(), 4, "{said}");
    let ends: Vec<_> = said.match_indices(" J").collect();
    assert_eq!(ends.len(), 1, "round for the dots only: {said}");
}

#[test]
fn heavy_words_are_as_long_but_darker() {
    let ink = |heavy| {
        let (dark, _) = raster(&read(&set(vec![], vec![words("HEAVY", 7.0, heavy)])), 150.0);
        dark.iter().sum::<f64>()
    };
    let (light, heavy) = (ink(false), ink(true));
    assert!(heavy > light * 1.15, "{heavy} against {light}");
}

/// The packet is XML, and says what the information dictionary says.
#[test]
fn it_says_of_itself_in_xmp_what_its_properties_say() {
    let mut sheets = set(vec![], vec![]);
    sheets.subject = "Rear <under> panel".into();
    let bytes = pdf(&sheets).unwrap();
    let file = lopdf::Document::load_mem(&bytes).unwrap();
    let catalog = file.catalog().unwrap();
    let id = catalog.get(b"Metadata").unwrap().as_reference().unwrap();
    let stream = file.get_object(id).unwrap().as_stream().unwrap();
    assert!(!stream.dict.has(b"Filter"), "any program finds it");
    let packet = std::str::from_utf8(&stream.content).unwrap();
    let document = roxmltree::Document::parse(packet).unwrap();
    let said = |name: &str| {
        let mut all = document.descendants();
        let node = all.find(|node| node.tag_name().name() == name).unwrap();
        let words = node.descendants().filter(|inner| inner.is_text());
        words
            .filter_map(|inner| inner.text())
            .collect::<String>()
            .trim()
            .to_owned()
    };
    assert_eq!(said("title"), NAMES);
    assert_eq!(said("creator"), "Tarn fitting bay");
    assert_eq!(said("description"), "Rear <under> panel");
    assert_eq!(said("CreateDate"), "2026-03-02");
    assert_eq!(said("Producer"), PROGRAM);
}

#[test]
fn pages_are_numbered_as_their_sheets_are() {
    let file = lopdf::Document::load_mem(&pdf(&set(vec![], vec![])).unwrap()).unwrap();
    let labels = file.catalog().unwrap().get(b"PageLabels").unwrap();
    let numbers = labels
        .as_dict()
        .unwrap()
        .get(b"Nums")
        .unwrap()
        .as_array()
        .unwrap();
    assert_eq!(numbers[0].as_i64().unwrap(), 0);
    let style = numbers[1].as_dict().unwrap().get(b"S").unwrap();
    assert_eq!(style.as_name().unwrap(), b"D");
}
