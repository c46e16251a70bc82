//! The typeface cut down to the letters that a document shows: some 20 KB less than 200.

use crate::drawing::lettering::{FONT, FONT_NAME, TYPEFACE};
use crate::write::WriteError;
use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::subset::{CmapTarget, SubsetProfile};
use printpdf::ParsedFont;
use std::collections::BTreeSet;

/// A font of these letters and no others.
///
/// Its name carries a tag of six capitals, as a cut-down font's must (ISO 32000-1, 9.6.4, read
/// second-hand), worked out from the letters.
pub(super) fn subset(letters: &BTreeSet<char>) -> Result<ParsedFont, WriteError> {
    let bytes = cut_down(letters).map_err(WriteError::Typeface)?;
    let mut warnings = Vec::new();
    let Some(mut font) = ParsedFont::from_bytes(&bytes, 0, &mut warnings) else {
        let words = warnings.into_iter().map(|warning| warning.message);
        return Err(WriteError::Typeface(words.collect::<Vec<_>>().join(", ")));
    };
    font.font_name = Some(format!("{}+{FONT_NAME}", tag(letters)));
    Ok(font)
}

fn cut_down(letters: &BTreeSet<char>) -> Result<Vec<u8>, String> {
    let glyphs: BTreeSet<u16> = letters
        .iter()
        .filter_map(|&letter| TYPEFACE.letter(letter))
        .map(|letter| letter.glyph)
        .collect();
    // The glyph for what is missing stands first in every font.
    let glyphs: Vec<u16> = std::iter::once(0).chain(glyphs).collect();
    let font = ReadScope::new(FONT)
        .read::<FontData<'_>>()
        .map_err(|cause| cause.to_string())?;
    let tables = font.table_provider(0).map_err(|cause| cause.to_string())?;
    allsorts::subset::subset(
        &tables,
        &glyphs,
        &SubsetProfile::Minimal,
        CmapTarget::Unicode,
    )
    .map_err(|cause| cause.to_string())
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
