//! The typeface put whole into a file (ISO 32000-1, 9.7: composite fonts): every letter keeps the
//! code that the font file gives it.

use super::content::Codes;
use super::pack::Packer;
use crate::drawing::lettering::{FONT, FONT_NAME, TYPEFACE};
use crate::write::WriteError;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use std::fmt::Write;
use std::sync::{LazyLock, OnceLock};

/// The last letter looked for: the typeface covers no more than Latin, Greek and Cyrillic, with
/// signs, all far below.
const LAST_LETTER: u32 = 0x1_ffff;

/// Entries of a table from codes to letters in one block (Adobe Technical Note 5411).
const BLOCK: usize = 100;

/// Thickness of the letters' stems, thousandths of an em: a hint to viewers that lack the font.
const STEM: i64 = 60;

/// The code of every letter that the typeface has: its glyph in the font file.
pub(super) static CODES: LazyLock<Codes> = LazyLock::new(|| {
    (0..=LAST_LETTER)
        .filter_map(char::from_u32)
        .filter_map(|letter| Some((letter, TYPEFACE.letter(letter)?.glyph)))
        .collect()
});

/// The font file and its table of letters, packed once: a large kit has many volumes.
static PACKED: OnceLock<[Stream; 2]> = OnceLock::new();

/// Adds the typeface to a file.
pub(super) fn add_to(file: &mut Document) -> Result<ObjectId, WriteError> {
    let packed = match PACKED.get() {
        Some(packed) => packed,
        None => {
            let made = streams()?;
            PACKED.get_or_init(|| made)
        }
    };
    let [font_file, letters] = packed.clone();
    let font_file = file.add_object(font_file);
    let letters = file.add_object(letters);
    let face = TYPEFACE.face();
    let units = f64::from(face.units_per_em());
    let thousandths = |length: i16| (f64::from(length) * 1000.0 / units).round() as i64;
    let bounds = face.global_bounding_box();
    let bounds = [bounds.x_min, bounds.y_min, bounds.x_max, bounds.y_max];
    let descriptor = file.add_object(dictionary! {
        "Type" => "FontDescriptor",
        "FontName" => FONT_NAME,
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
    let widths = (0..face.number_of_glyphs()).map(|glyph| {
        let advance = face.glyph_hor_advance(ttf_parser::GlyphId(glyph));
        let width = f64::from(advance.unwrap_or(0)) * 1000.0 / units;
        Object::Real(width as f32)
    });
    let system = dictionary! {
        "Registry" => Object::string_literal("Adobe"),
        "Ordering" => Object::string_literal("Identity"),
        "Supplement" => 0,
    };
    let below = file.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "CIDFontType2",
        "BaseFont" => FONT_NAME,
        "CIDSystemInfo" => system,
        "FontDescriptor" => descriptor,
        "CIDToGIDMap" => "Identity",
        "W" => vec![0.into(), widths.collect::<Vec<_>>().into()],
    });
    Ok(file.add_object(dictionary! {
        "Type" => "Font",
        "Subtype" => "Type0",
        "BaseFont" => FONT_NAME,
        "Encoding" => "Identity-H",
        "DescendantFonts" => vec![below.into()],
        "ToUnicode" => letters,
    }))
}

fn streams() -> Result<[Stream; 2], WriteError> {
    let length = FONT.len() as i64;
    let mut streams = [
        Stream::new(dictionary! { "Length1" => length }, FONT.to_vec()),
        Stream::new(Dictionary::new(), letters_of_codes().into_bytes()),
    ];
    let mut packer = Packer::new();
    for stream in &mut streams {
        packer.stream(stream)?;
    }
    Ok(streams)
}

/// The table by which a reader finds the letters again, for searching and copying.
fn letters_of_codes() -> String {
    // Where several letters share a glyph, the first is what is found again.
    let mut letters: Vec<(u16, char)> = CODES
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
