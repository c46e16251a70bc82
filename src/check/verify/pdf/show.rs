//! Where each letter of what is shown stands (ISO 32000-1, 9.4).

use super::lettering::code;
use super::state::Lettering;
use super::typeface::Typeface;
use hayro_syntax::object::{Number, Object};
use kurbo::{Affine, Point, Vec2};

/// Where lettering stands.
#[derive(Debug, Default)]
pub(super) struct Pen {
    line: Affine,
    at: Affine,
    leading: f64,
}

/// What is shown at once.
#[derive(Debug, Default)]
pub(super) struct Shown {
    pub(super) glyphs: Vec<(Option<u16>, Point)>,
    pub(super) words: String,
}

impl Pen {
    /// Operators that place lettering.
    pub(super) fn place(&mut self, operator: &[u8], n: &[f64; 6]) {
        let moved = |line: Affine, x: f64, y: f64| line * Affine::translate(Vec2::new(x, y));
        match operator {
            b"BT" => self.line = Affine::IDENTITY,
            b"Tm" => self.line = Affine::new(*n),
            b"Td" => self.line = moved(self.line, n[0], n[1]),
            b"TD" => {
                self.leading = -n[1];
                self.line = moved(self.line, n[0], n[1]);
            }
            b"TL" => {
                self.leading = n[0];
                return;
            }
            _ => self.line = moved(self.line, 0.0, -self.leading),
        }
        self.at = self.line;
    }

    /// From the units of lettering to those of the content.
    pub(super) fn at(&self) -> Affine {
        self.at
    }

    /// Shows one operand: a string, or several with what lies between them.
    pub(super) fn show(
        &mut self,
        operand: &Object<'_>,
        face: Option<&Typeface>,
        set: &Lettering,
        to_page: Affine,
        shown: &mut Shown,
    ) {
        match operand {
            Object::Array(parts) => {
                for part in parts.iter::<Object<'_>>() {
                    match &part {
                        Object::Number(back) => self.back(back, set),
                        Object::String(words) => {
                            self.string(words.as_bytes(), face, set, to_page, shown);
                        }
                        _ => {}
                    }
                }
            }
            Object::String(words) => self.string(words.as_bytes(), face, set, to_page, shown),
            _ => {}
        }
    }

    fn back(&mut self, back: &Number, set: &Lettering) {
        self.on(-back.as_f64() / 1000.0 * set.size * set.stretch);
    }

    fn on(&mut self, by: f64) {
        self.at *= Affine::translate((by, 0.0));
    }

    fn string(
        &mut self,
        codes: &[u8],
        face: Option<&Typeface>,
        set: &Lettering,
        to_page: Affine,
        shown: &mut Shown,
    ) {
        let length = face.map_or(1, |face| face.code_length);
        for one in codes.chunks(length) {
            let code = code(one);
            let at = to_page * self.at * Point::new(0.0, set.rise);
            let glyph = face.and_then(|face| face.drawn.get(&code)).copied();
            // What claims to be one letter and draws another says nothing.
            let said = face.filter(|_| glyph.is_some());
            let said = said.and_then(|face| face.said.get(&code));
            shown.glyphs.push((glyph, at));
            shown.words += said.map_or("\u{fffd}", String::as_str);
            let advance = face.map_or(0.0, |face| face.advance(code));
            let word = if length == 1 && code == 32 {
                set.word_spacing
            } else {
                0.0
            };
            self.on((advance * set.size + set.letter_spacing + word) * set.stretch);
        }
    }
}
