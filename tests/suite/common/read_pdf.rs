//! A PDF as an outsider sees it: read by hayro-syntax, which shares no code with what writes it.
//!
//! Everything comes back in millimetres, y up, at 72 points to the inch of 25.4 mm.

use hayro_syntax::Pdf;
use hayro_syntax::content::ops::TypedInstruction as Op;
use hayro_syntax::object::{Array, Dict, Name, Number, Object, Stream, String as Words};
use hayro_syntax::page::Page;
use kurbo::{Affine, BezPath, Point, Rect, Shape};
use std::collections::BTreeMap;

/// Millimetres in a point.
pub const MM: f64 = 25.4 / 72.0;

/// A text on a page.
#[derive(Debug, Clone)]
pub struct Shown {
    /// The layer that it stands in.
    pub layer: String,
    /// Its letters, by the file's own table.
    pub words: String,
    /// Where its baseline begins, mm.
    pub at: Point,
}

/// One page, read back.
#[derive(Debug, Clone, Default)]
pub struct ReadPage {
    /// Stroked paths with their layer, mm.
    pub strokes: Vec<(String, BezPath)>,
    /// Where ink of the cut layer may show, mm.
    pub cut_window: Option<Rect>,
    /// Lettering.
    pub texts: Vec<Shown>,
}

impl ReadPage {
    /// Paths of one layer.
    pub fn layer(&self, name: &str) -> Vec<BezPath> {
        let inside = self.strokes.iter().filter(|(layer, _)| layer == name);
        inside.map(|(_, path)| path.clone()).collect()
    }
}

/// A file's catalog.
pub fn catalog(file: &Pdf) -> Dict<'_> {
    file.xref().get(file.xref().root_id()).unwrap()
}

/// A text of the file: UTF-16 with its mark, or single bytes.
pub fn text(words: &[u8]) -> String {
    match words {
        [0xfe, 0xff, rest @ ..] => {
            let units: Vec<u16> = rest
                .chunks(2)
                .map(|pair| u16::from_be_bytes([pair[0], pair[1]]))
                .collect();
            String::from_utf16(&units).unwrap()
        }
        plain => plain.iter().map(|&byte| char::from(byte)).collect(),
    }
}

/// The value of a key that is a text.
pub fn text_of(dict: &Dict<'_>, key: &str) -> String {
    text(dict.get::<Words<'_>>(key).unwrap().as_bytes())
}

/// The value of a key that must be a name.
pub fn name_of<'a>(dict: &Dict<'a>, key: &str) -> String {
    dict.get::<Name<'a>>(key).unwrap().as_str().into()
}

/// Names of the layers in an array of optional content groups.
pub fn layer_names(groups: &Array<'_>) -> Vec<String> {
    groups
        .iter::<Dict<'_>>()
        .map(|group| text_of(&group, "Name"))
        .collect()
}

/// A box of a page, in points.
pub fn box_of(page: &Page<'_>, key: &str) -> [f64; 4] {
    let sides: Vec<f64> = page.raw().get::<Array<'_>>(key).unwrap().iter().collect();
    sides.try_into().unwrap()
}

/// Every page's ink.
pub fn read(file: &Pdf) -> Vec<ReadPage> {
    file.pages().iter().map(page).collect()
}

/// Codes of a font and the letters that the file says they stand for.
fn letters(font: &Dict<'_>) -> BTreeMap<u16, char> {
    let table: Stream<'_> = font.get("ToUnicode").unwrap();
    let table = String::from_utf8(table.decoded().unwrap().into_owned()).unwrap();
    let pair = |line: &str| {
        let (code, letter) = line
            .strip_prefix('<')?
            .strip_suffix('>')?
            .split_once("> <")?;
        let letter = char::from_u32(u32::from_str_radix(letter, 16).ok()?)?;
        Some((u16::from_str_radix(code, 16).ok()?, letter))
    };
    table.lines().filter_map(pair).collect()
}

/// Codes of a page's only font, and their letters.
pub fn page_letters(page: &Page<'_>) -> BTreeMap<u16, char> {
    let fonts = &page.resources().fonts;
    let font: Option<Dict<'_>> = fonts.get("Lettering");
    font.map(|font| letters(&font)).unwrap_or_default()
}

#[derive(Clone, Default)]
struct State {
    turn: Affine,
    clip: Option<Rect>,
}

/// Reads a page; an operation that it does not know fails, so that nothing slips by unread.
fn page(page: &Page<'_>) -> ReadPage {
    let mut read = ReadPage::default();
    let mut layers: Vec<String> = vec![];
    let (mut state, mut kept) = (State::default(), vec![]);
    let mut path = BezPath::new();
    let mut clipping = false;
    let mut font = BTreeMap::new();
    let mut line = Affine::IDENTITY;
    let in_mm = Affine::scale(MM);
    let mut ops = page.typed_operations();
    while let Some(op) = ops.next() {
        let at = |x: &Number, y: &Number| Point::new(x.as_f64(), y.as_f64());
        match op {
            Op::SaveState(_) => kept.push(state.clone()),
            Op::RestoreState(_) => state = kept.pop().unwrap(),
            Op::Transform(m) => {
                let by = [&m.0, &m.1, &m.2, &m.3, &m.4, &m.5].map(Number::as_f64);
                state.turn *= Affine::new(by);
            }
            Op::MoveTo(to) => path.move_to(at(&to.0, &to.1)),
            Op::LineTo(to) => path.line_to(at(&to.0, &to.1)),
            Op::CubicTo(c) => path.curve_to(at(&c.0, &c.1), at(&c.2, &c.3), at(&c.4, &c.5)),
            Op::ClosePath(_) => path.close_path(),
            Op::RectPath(r) => {
                let corner = at(&r.0, &r.1);
                let size = at(&r.2, &r.3).to_vec2();
                path.extend(Rect::from_points(corner, corner + size).to_path(0.1));
            }
            Op::ClipNonZero(_) => clipping = true,
            Op::StrokePath(_) => {
                let layer = layers.last().unwrap().clone();
                if layer == "cut" {
                    read.cut_window = state.clip;
                }
                read.strokes
                    .push((layer, in_mm * state.turn * std::mem::take(&mut path)));
            }
            Op::FillPathNonZero(_) => path = BezPath::new(),
            Op::EndPath(_) => {
                if std::mem::take(&mut clipping) {
                    state.clip = Some((in_mm * state.turn * &path).bounding_box());
                }
                path = BezPath::new();
            }
            Op::BeginMarkedContentWithProperties(begun) => {
                // What is part of what is read out stands in the layer round it.
                let layer = match begun.0.as_str() {
                    "OC" => layer(page, begun.1),
                    _ => layers.last().unwrap().clone(),
                };
                layers.push(layer);
            }
            Op::BeginMarkedContent(_) => layers.push(layers.last().unwrap().clone()),
            Op::EndMarkedContent(_) => {
                layers.pop().unwrap();
            }
            Op::TextFont(set) => font = letters(&page.resources().get_font(set.0).unwrap()),
            Op::BeginText(_) => line = Affine::IDENTITY,
            Op::SetTextMatrix(m) => {
                line = Affine::new([&m.0, &m.1, &m.2, &m.3, &m.4, &m.5].map(Number::as_f64));
            }
            Op::ShowText(shown) => {
                let codes = shown.0.as_bytes().chunks(2);
                let words: String = codes
                    .map(|pair| font[&u16::from_be_bytes([pair[0], pair[1]])])
                    .collect();
                // The blank between lines of one text.
                if words == " " {
                    continue;
                }
                read.texts.push(Shown {
                    layer: layers.last().unwrap().clone(),
                    words,
                    at: in_mm * state.turn * line * Point::ZERO,
                });
            }
            Op::EndText(_)
            | Op::LineWidth(_)
            | Op::LineCap(_)
            | Op::LineJoin(_)
            | Op::DashPattern(_)
            | Op::TextRenderingMode(_)
            | Op::NonStrokeColorDeviceGray(_) => {}
            other => panic!("{other:?} is not read by this test"),
        }
    }
    assert!(layers.is_empty() && kept.is_empty(), "left open at the end");
    read
}

/// The name of the layer that marked content begins.
fn layer(page: &Page<'_>, properties: &Object<'_>) -> String {
    let Object::Name(place) = properties else {
        panic!("{properties:?} is no name");
    };
    let resources: Dict<'_> = page.raw().get("Resources").unwrap();
    let layers: Dict<'_> = resources.get("Properties").unwrap();
    let group: Dict<'_> = layers.get(place.as_str()).unwrap();
    text_of(&group, "Name")
}
