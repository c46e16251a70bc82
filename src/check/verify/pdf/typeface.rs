//! Typefaces embedded in a file, and which glyphs of the one typeface of all lettering they draw.
//!
//! A code is known for what it claims to be only where the embedded outline is that letter's, point
//! for point: a font whose letters are exchanged draws none that is known.

use super::lettering::Table;
use super::look::{look, look_into, look_through};
use super::unpack::unpacked;
use crate::check::verify::budget::{Budget, Cost};
use crate::check::verify::error::VerifyError;
use crate::draw::ink::lettering::TYPEFACE;
use hayro_syntax::object::{Array, Dict, Name, Number, Object, ObjectIdentifier, Stream};
use std::collections::BTreeMap;
use ttf_parser::{Face, GlyphId, OutlineBuilder, Tag};

/// Most glyphs that one is put together from, and how deep.
const MOST_PARTS: usize = 16;
const DEEPEST_PARTS: usize = 4;

/// What is kept of one besides its letters, in parts of lines.
const FACE: u64 = 8;

/// One typeface.
#[derive(Debug)]
pub(super) struct Typeface {
    /// Bytes of a code.
    pub(super) code_length: usize,
    /// What each code claims to be.
    pub(super) said: BTreeMap<u32, String>,
    /// The glyph of our own typeface that a code draws.
    pub(super) drawn: BTreeMap<u32, u16>,
    /// Its letters are drawn by content of their own, in colours of their own.
    pub(super) by_procedures: bool,
    advances: BTreeMap<u32, f64>,
    other_advance: f64,
}

impl Typeface {
    /// From a letter to the next, em.
    pub(super) fn advance(&self, code: u32) -> f64 {
        let own = self.advances.get(&code);
        own.copied().unwrap_or(self.other_advance) / 1000.0
    }
}

/// The typefaces of a file, read once each.
#[derive(Debug, Default)]
pub(super) struct Typefaces {
    all: Vec<Typeface>,
    known: BTreeMap<ObjectIdentifier, usize>,
}

impl Typefaces {
    pub(super) fn get(&self, place: usize) -> Option<&Typeface> {
        self.all.get(place)
    }

    /// The typeface of this name; none where there is no such font.
    pub(super) fn of(
        &mut self,
        fonts: &Dict<'_>,
        name: &Name<'_>,
        budget: &mut Budget,
    ) -> Result<Option<usize>, VerifyError> {
        let id = fonts.get_ref(name).map(ObjectIdentifier::from);
        if let Some(known) = id.and_then(|id| self.known.get(&id)) {
            return Ok(Some(*known));
        }
        look(fonts, &[name.as_str()], budget)?;
        let Some(font) = fonts.get::<Dict<'_>>(name) else {
            return Ok(None);
        };
        budget.spend(Cost::Elements, FACE)?;
        self.all.push(read(&font, budget)?);
        let place = self.all.len() - 1;
        if let Some(id) = id {
            self.known.insert(id, place);
        }
        Ok(Some(place))
    }
}

fn read(font: &Dict<'_>, budget: &mut Budget) -> Result<Typeface, VerifyError> {
    look_into(font, budget)?;
    look(font, &["ToUnicode", "DescendantFonts", "Encoding"], budget)?;
    let table = match font.get::<Stream<'_>>("ToUnicode") {
        Some(table) => Table::read(&unpacked(&table, budget)?, budget)?,
        None => Table::default(),
    };
    let is = |dict: &Dict<'_>, key: &str, name: &str| {
        let own = dict.get::<Name<'_>>(key);
        own.is_some_and(|own| own.as_str() == name)
    };
    let composite = is(font, "Subtype", "Type0") && is(font, "Encoding", "Identity-H");
    let mut face = Typeface {
        code_length: if composite {
            2
        } else {
            table.length.clamp(1, 4)
        },
        said: table.known,
        drawn: BTreeMap::new(),
        by_procedures: is(font, "Subtype", "Type3"),
        advances: BTreeMap::new(),
        other_advance: 1000.0,
    };
    let below = font.get::<Array<'_>>("DescendantFonts");
    if let Some(below) = &below {
        look_through(below, budget)?;
    }
    let below = below.and_then(|below| below.iter::<Dict<'_>>().next());
    let Some(below) = below.filter(|_| composite) else {
        return Ok(face);
    };
    budget.spend_len(Cost::Bytes, below.data().len())?;
    look(
        &below,
        &["W", "DW", "FontDescriptor", "CIDToGIDMap"],
        budget,
    )?;
    if let Some(advance) = below.get::<Number>("DW") {
        face.other_advance = advance.as_f64();
    }
    if let Some(advances) = below.get::<Array<'_>>("W") {
        face.advances = widths(&advances, budget)?;
    }
    let glyphs = match below.get::<Object<'_>>("CIDToGIDMap") {
        None => None,
        Some(Object::Name(name)) if name.as_str() == "Identity" => None,
        Some(Object::Stream(map)) => Some(unpacked(&map, budget)?),
        Some(_) => return Ok(face),
    };
    let descriptor: Dict<'_> = below.get("FontDescriptor").unwrap_or_default();
    look(&descriptor, &["FontFile2"], budget)?;
    // Beside it another program may be the one that is shown.
    if ["FontFile", "FontFile3"]
        .iter()
        .any(|key| descriptor.contains_key(*key))
    {
        return Ok(face);
    }
    let Some(file) = descriptor.get::<Stream<'_>>("FontFile2") else {
        return Ok(face);
    };
    let file = unpacked(&file, budget)?;
    let Ok(embedded) = Face::parse(&file, 0) else {
        return Ok(face);
    };
    let own = TYPEFACE.face();
    if embedded.units_per_em() != own.units_per_em() || !is(&below, "Subtype", "CIDFontType2") {
        return Ok(face);
    }
    for (code, said) in &face.said {
        let mut letters = said.chars();
        let (Some(letter), None) = (letters.next(), letters.next()) else {
            continue;
        };
        let glyph = match &glyphs {
            None => u16::try_from(*code).ok(),
            Some(map) => glyph_of(map, *code),
        };
        let (Some(known), Some(glyph)) = (TYPEFACE.letter(letter), glyph) else {
            continue;
        };
        let mut parts = 0;
        if !is_bounded(&embedded, glyph, 0, &mut parts) {
            continue;
        }
        let drawn = outline(&embedded, glyph);
        budget.spend_len(Cost::Elements, drawn.len().saturating_add(1))?;
        if drawn == outline(own, known.glyph) {
            face.drawn.insert(*code, known.glyph);
        }
    }
    Ok(face)
}

/// Which glyph a map gives a code.
fn glyph_of(map: &[u8], code: u32) -> Option<u16> {
    let at = usize::try_from(code).ok()?.checked_mul(2)?;
    let pair = map.get(at..at.checked_add(2)?)?;
    Some(u16::from_be_bytes(pair.try_into().ok()?))
}

/// Advances by code, thousandths of an em (ISO 32000-1, 9.7.4.3).
fn widths(array: &Array<'_>, budget: &mut Budget) -> Result<BTreeMap<u32, f64>, VerifyError> {
    look_through(array, budget)?;
    let mut all = BTreeMap::new();
    let whole = |number: &Number| u32::try_from(number.as_i64()).unwrap_or(u32::MAX);
    let mut before: Vec<u32> = vec![];
    for item in array.iter::<Object<'_>>() {
        budget.spend(Cost::Elements, 1)?;
        match (item, before.as_slice()) {
            (Object::Array(several), [first]) => {
                budget.spend_len(Cost::Bytes, several.data().len())?;
                for (code, advance) in (*first..=u32::MAX).zip(several.iter::<Number>()) {
                    budget.spend(Cost::Elements, 1)?;
                    all.insert(code, advance.as_f64());
                }
                before.clear();
            }
            (Object::Number(advance), [first, last]) => {
                for code in *first..=(*last).min(first.saturating_add(0xffff)) {
                    budget.spend(Cost::Elements, 1)?;
                    all.insert(code, advance.as_f64());
                }
                before.clear();
            }
            (Object::Number(number), _) => before.push(whole(&number)),
            _ => {}
        }
    }
    Ok(all)
}

/// Whether a glyph is put together from a few others only: the library follows them as often as they
/// are named.
fn is_bounded(face: &Face<'_>, glyph: u16, depth: usize, parts: &mut usize) -> bool {
    *parts += 1;
    if *parts > MOST_PARTS || depth > DEEPEST_PARTS {
        return false;
    }
    let Some(record) = record(face, glyph) else {
        return true;
    };
    let word = |at: usize| -> Option<u16> {
        let pair = record.get(at..at.checked_add(2)?)?;
        Some(u16::from_be_bytes(pair.try_into().ok()?))
    };
    // Below zero it has parts instead of contours.
    if word(0).is_none_or(|contours| contours < 0x8000) {
        return true;
    }
    let mut at = 10_usize;
    while let (Some(flags), Some(part)) = (word(at), word(at.saturating_add(2))) {
        if !is_bounded(face, part, depth + 1, parts) {
            return false;
        }
        let placed = if flags & 0x1 != 0 { 4 } else { 2 };
        let scaled = match flags {
            flags if flags & 0x8 != 0 => 2,
            flags if flags & 0x40 != 0 => 4,
            flags if flags & 0x80 != 0 => 8,
            _ => 0,
        };
        at = at.saturating_add(4 + placed + scaled);
        if flags & 0x20 == 0 {
            break;
        }
    }
    true
}

/// A glyph's record as it stands in the font file.
fn record<'f>(face: &Face<'f>, glyph: u16) -> Option<&'f [u8]> {
    let table = |name: &[u8; 4]| face.raw_face().table(Tag::from_bytes(name));
    let (all, places) = (table(b"glyf")?, table(b"loca")?);
    let long = *table(b"head")?.get(51)? != 0;
    let place = |glyph: usize| -> Option<usize> {
        if long {
            let at = glyph.checked_mul(4)?;
            let bytes = places.get(at..at.checked_add(4)?)?;
            usize::try_from(u32::from_be_bytes(bytes.try_into().ok()?)).ok()
        } else {
            let at = glyph.checked_mul(2)?;
            let bytes = places.get(at..at.checked_add(2)?)?;
            usize::from(u16::from_be_bytes(bytes.try_into().ok()?)).checked_mul(2)
        }
    };
    let glyph = usize::from(glyph);
    all.get(place(glyph)?..place(glyph.checked_add(1)?)?)
}

/// An outline in the font's own units.
fn outline(face: &Face<'_>, glyph: u16) -> Vec<(u8, [f32; 6])> {
    let mut outline = Outline::default();
    // A space draws nothing.
    let _ = face.outline_glyph(GlyphId(glyph), &mut outline);
    outline.0
}

#[derive(Default)]
struct Outline(Vec<(u8, [f32; 6])>);

impl OutlineBuilder for Outline {
    fn move_to(&mut self, x: f32, y: f32) {
        self.0.push((b'm', [x, y, 0.0, 0.0, 0.0, 0.0]));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.0.push((b'l', [x, y, 0.0, 0.0, 0.0, 0.0]));
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.0.push((b'q', [x1, y1, x, y, 0.0, 0.0]));
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.0.push((b'c', [x1, y1, x2, y2, x, y]));
    }

    fn close(&mut self) {
        self.0.push((b'h', [0.0; 6]));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use hayro_syntax::object::FromBytes;

    #[test]
    fn widths_end_with_the_last_code() {
        let array = Array::from_bytes(b"[4294967295 [500 600] 3 4 700]").unwrap();
        let widths = widths(&array, &mut Budget::unbound()).unwrap();
        let all = [(3, 700.0), (4, 700.0), (u32::MAX, 500.0)];
        assert_eq!(widths, BTreeMap::from(all));
    }
}
