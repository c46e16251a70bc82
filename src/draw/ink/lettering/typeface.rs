//! The typeface itself: which letters it has, how wide they are, what they look like.

use kurbo::{Affine, BezPath, Point, Rect};
use std::sync::{LazyLock, OnceLock};
use ttf_parser::{Face, GlyphId, OutlineBuilder};

/// The font file: covers Latin, Greek and Cyrillic, and its licence lets a document embed it.
pub(crate) const FONT: &[u8] = epaint_default_fonts::UBUNTU_LIGHT;

/// The font's own name, as its licence asks.
pub(crate) const FONT_NAME: &str = "Ubuntu-Light";

/// One letter, in em.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Letter {
    /// Its glyph in the font file.
    pub(crate) glyph: u16,
    /// From its origin to the next letter's.
    pub(crate) advance: f64,
    /// The box round its ink; `None` for a space.
    pub(crate) ink: Option<Rect>,
}

/// Letters below this are measured once and kept: all of Latin, Greek and Cyrillic as most names
/// are written. The few beyond are measured each time.
const KEPT: usize = 0x500;

/// The typeface, measured letter by letter as they are asked for: a pattern shows some eighty of
/// its thousand.
pub(crate) struct Typeface {
    face: Face<'static>,
    kept: Box<[OnceLock<Option<Letter>>]>,
    units: f64,
    /// Height of a capital letter, em.
    pub(crate) capital: f64,
}

/// The one typeface of all lettering. Its font is a constant, so that no input can fail it.
pub(crate) static TYPEFACE: LazyLock<Typeface> =
    LazyLock::new(|| Typeface::read(FONT).expect("the font that is built in can be read"));

impl Typeface {
    fn read(font: &'static [u8]) -> Option<Self> {
        let face = Face::parse(font, 0).ok()?;
        let units = f64::from(face.units_per_em());
        let capital = f64::from(face.capital_height()?) / units;
        Some(Self {
            face,
            kept: (0..KEPT).map(|_| OnceLock::new()).collect(),
            units,
            capital,
        })
    }

    /// The letter, if the typeface has it.
    pub(crate) fn letter(&self, letter: char) -> Option<Letter> {
        let measured = || measure(&self.face, self.units, letter);
        match self.kept.get(u32::from(letter) as usize) {
            Some(kept) => *kept.get_or_init(measured),
            None => measured(),
        }
    }

    /// The font file's own tables.
    pub(crate) fn face(&self) -> &Face<'static> {
        &self.face
    }

    /// Draws a glyph at the end of `path`; `place` takes em to where it stands.
    pub(crate) fn draw(&self, glyph: u16, place: Affine, path: &mut BezPath) {
        let mut pen = Pen {
            place: place * Affine::scale(1.0 / self.units),
            path,
        };
        // A space draws nothing.
        let _ = self.face.outline_glyph(GlyphId(glyph), &mut pen);
    }
}

/// A letter that would print as a blank, and is no space, counts as lacking.
fn measure(face: &Face<'_>, units: f64, letter: char) -> Option<Letter> {
    let glyph = face.glyph_index(letter)?;
    let space = matches!(letter, ' ' | '\u{a0}');
    let ink = face.glyph_bounding_box(glyph).map(|ink| {
        Rect::new(
            f64::from(ink.x_min) / units,
            f64::from(ink.y_min) / units,
            f64::from(ink.x_max) / units,
            f64::from(ink.y_max) / units,
        )
    });
    if glyph.0 == 0 || letter.is_control() || (ink.is_none() && !space) {
        return None;
    }
    Some(Letter {
        glyph: glyph.0,
        advance: f64::from(face.glyph_hor_advance(glyph)?) / units,
        ink,
    })
}

struct Pen<'a> {
    place: Affine,
    path: &'a mut BezPath,
}

impl Pen<'_> {
    fn at(&self, x: f32, y: f32) -> Point {
        self.place * Point::new(f64::from(x), f64::from(y))
    }
}

impl OutlineBuilder for Pen<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        self.path.move_to(self.at(x, y));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.path.line_to(self.at(x, y));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.path.quad_to(self.at(x1, y1), self.at(x, y));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.path
            .curve_to(self.at(x1, y1), self.at(x2, y2), self.at(x, y));
    }

    fn close(&mut self) {
        self.path.close_path();
    }
}
