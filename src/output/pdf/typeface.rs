//! The typeface put into a file (ISO 32000-1, 9.7: composite fonts), whole or cut down to the letters
//! that the file shows: some 20 KB less than 200.

use super::content::Codes;
use super::pack::Packer;
use crate::draw::ink::lettering::{FONT, FONT_NAME, TYPEFACE};
use crate::output::WriteError;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use std::collections::BTreeSet;
use std::fmt::Write;
use std::sync::{LazyLock, OnceLock};
use subsetter::GlyphRemapper;

/// The last letter looked for: the typeface covers no more than Latin, Greek and Cyrillic, with
/// signs, all far below.
const LAST_LETTER: u32 = 0x1_ffff;

/// Entries of a table from codes to letters in one block (Adobe Technical Note 5411).
const BLOCK: usize = 100;

/// Thickness of the letters' stems, thousandths of an em: a hint to viewers that lack the font.
const STEM: i64 = 60;

/// The code of every letter that the whole typeface has: its glyph in the font file.
pub(super) static CODES: LazyLock<Codes> = LazyLock::new(|| {
    (0..=LAST_LETTER)
        .filter_map(char::from_u32)
        .filter_map(|letter| Some((letter, TYPEFACE.letter(letter)?.glyph)))
        .collect()
});

/// The whole typeface, packed once: a large kit has many volumes.
static WHOLE: OnceLock<Embedded> = OnceLock::new();

/// A typeface packed for a file.
#[derive(Debug, Clone)]
pub(super) struct Embedded {
    name: String,
    font_file: Stream,
    letters: Stream,
    /// Advances by code, thousandths of an em.
    widths: Vec<Object>,
}

impl Embedded {
    /// The whole typeface: a letter has the same code in every file.
    pub(super) fn whole() -> Result<&'static Self, WriteError> {
        if let Some(whole) = WHOLE.get() {
            return Ok(whole);
        }
        // Through the same cutting as the small ones, so that a letter is the same dot for dot.
        let mut glyphs = GlyphRemapper::new();
        for glyph in 0..TYPEFACE.face().number_of_glyphs() {
            glyphs.remap(glyph);
        }
        let made = Self::new(FONT_NAME.into(), &glyphs, &CODES)?;
        Ok(WHOLE.get_or_init(|| made))
    }

    /// These letters and no others, and the codes that they have in it.
    ///
    /// Its name carries a tag of six capitals, as a cut-down font's must (ISO 32000-1, 9.6.4, read
    /// second-hand), worked out from the letters.
    pub(super) fn cut_down(letters: &BTreeSet<char>) -> Result<(Self, Codes), WriteError> {
        let mut glyphs = GlyphRemapper::new();
        let codes: Codes = letters
            .iter()
            .filter_map(|&letter| Some((letter, glyphs.remap(TYPEFACE.letter(letter)?.glyph))))
            .collect();
        let name = format!("{}+{FONT_NAME}", tag(letters));
        let made = Self::new(name, &glyphs, &codes)?;
        Ok((made, codes))
    }

    /// These glyphs of the whole typeface, in their order.
    fn new(name: String, glyphs: &GlyphRemapper, codes: &Codes) -> Result<Self, WriteError> {
        let font = subsetter::subset(FONT, 0, glyphs)
            .map_err(|cause| WriteError::Typeface(cause.to_string()))?;
        let face = TYPEFACE.face();
        let widths = glyphs.remapped_gids().map(|glyph| {
            let advance = face.glyph_hor_advance(ttf_parser::GlyphId(glyph));
            let advance = f64::from(advance.unwrap_or(0));
            Object::Real((advance * 1000.0 / f64::from(face.units_per_em())) as f32)
        });
        let length = font.len() as i64;
        let mut made = Self {
            name,
            font_file: Stream::new(dictionary! { "Length1" => length }, font),
            letters: Stream::new(Dictionary::new(), letters_of_codes(codes).into_bytes()),
            widths: widths.collect(),
        };
        let mut packer = Packer::new();
        packer.stream(&mut made.font_file)?;
        packer.stream(&mut made.letters)?;
        Ok(made)
    }

    /// Adds it to a file.
    pub(super) fn add_to(self, file: &mut Document) -> ObjectId {
        let font_file = file.add_object(self.font_file);
        let letters = file.add_object(self.letters);
        let name = Object::Name(self.name.into_bytes());
        let face = TYPEFACE.face();
        let units = f64::from(face.units_per_em());
        let thousandths = |length: i16| (f64::from(length) * 1000.0 / units).round() as i64;
        let bounds = face.global_bounding_box();
        let bounds = [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max];
        let descriptor = file.add_object(dictionary! {
            "Type" => "FontDescriptor",
            "FontName" => name.clone(),
            // Symbolic: its letters go beyond the standard Latin set.
            "Flags" => 4,
            "FontBBox" => bounds.map(|side| thousandths(side).into()).to_vec(),
            "ItalicAngle" => 0,
            "Ascent" => thousandths(face.ascender()),
            "Descent" => thousandths(face.descender()),
            "CapHeight" => (TYPEFACE.capital * 1000.0).round() as i64,
            "StemV" => STEM,
            "FontFile2" => font_file,
        });
        let system = dictionary! {
            "Registry" => Object::string_literal("Adobe"),
            "Ordering" => Object::string_literal("Identity"),
            "Supplement" => 0,
        };
        let below = file.add_object(dictionary! {
            "Type" => "Font",
            "Subtype" => "CIDFontType2",
            "BaseFont" => name.clone(),
            "CIDSystemInfo" => system,
            "FontDescriptor" => descriptor,
            "CIDToGIDMap" => "Identity",
            "W" => vec![0.into(), self.widths.into()],
        });
        file.add_object(dictionary! {
            "Type" => "Font",
            "Subtype" => "Type0",
            "BaseFont" => name,
            "Encoding" => "Identity-H",
            "DescendantFonts" => vec![below.into()],
            "ToUnicode" => letters,
        })
    }
}

fn tag(letters: &BTreeSet<char>) -> String {
    let mut sum = letters.iter().fold(0_u32, |sum, &letter| {
        sum.wrapping_mul(31).wrapping_add(u32::from(letter))
    });
    (0..6)
        .map(|_| {
            let capital = char::from(b'A' + (sum % 26) as u8);
            sum /= 26;
            capital
        })
        .collect()
}

/// The table by which a reader finds the letters again, for searching and copying.
fn letters_of_codes(codes: &Codes) -> String {
    // Where several letters share a glyph, the first is what is found again.
    let mut letters: Vec<(u16, char)> = codes
        .iter()
        .map(|(letter, code)| (*code, *letter))
        .collect();
    letters.sort_unstable();
    letters.dedup_by_key(|(code, _)| *code);
    let mut table = String::from(
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
         /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n\
         /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
         1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n",
    );
    for block in letters.chunks(BLOCK) {
        // Writing to a string does not fail.
        let _ = writeln!(table, "{} beginbfchar", block.len());
        for (code, letter) in block {
            let mut units = [0; 2];
            let _ = write!(table, "<{code:04X}> <");
            for unit in letter.encode_utf16(&mut units) {
                let _ = write!(table, "{unit:04X}");
            }
            table.push_str(">\n");
        }
        table.push_str("endbfchar\n");
    }
    table.push_str("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
    table
}
