//! Lettering: how wide words are, where their ink lies, and which letters the typeface has.
//!
//! Heights are those of a capital letter (ISO 3098-1), mm. Letters stand at their plain advances
//! with no kerning, so that a line is as long in the PDF, where it is text, as in the SVG, where
//! it is outlines.

mod typeface;

use super::mark::{Anchor, Text};
use kurbo::{Affine, BezPath, Point, Rect, Vec2};
use std::fmt;

pub(crate) use typeface::{FONT, FONT_NAME, TYPEFACE};

/// Width of the stroke round heavy lettering, as a share of its height: a stem of a tenth of the
/// height becomes half as wide again, and letters still stand clear of each other.
const HEAVY: f64 = 0.05;

/// A letter that the typeface lacks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissingLetter {
    /// The letter.
    pub letter: char,
    /// The words that it stands in.
    pub words: String,
}

impl MissingLetter {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self.letter {
            '\u{300}'..='\u{36f}' => {
                "this is a mark to be set over the letter before it: write the two as one letter"
            }
            letter if letter.is_control() => "leave out tabs, line breaks and control characters",
            _ => "the typeface covers Latin, Greek and Cyrillic: write it in those letters",
        }
    }
}

impl fmt::Display for MissingLetter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { letter, words } = self;
        let code = u32::from(*letter);
        write!(f, "`{}` holds ", words.escape_debug())?;
        if letter.is_alphanumeric() || letter.is_ascii_graphic() || code >= 0x2000 {
            write!(f, "`{}`, ", letter.escape_debug())?;
        }
        write!(f, "U+{code:04X}, a letter that can't be printed")
    }
}

impl std::error::Error for MissingLetter {}

/// The first letter of `words` that the typeface lacks.
pub fn missing_letter(words: &str) -> Option<char> {
    words.chars().find(|&c| TYPEFACE.letter(c).is_none())
}

/// Whether every letter of `words` can be printed.
///
/// # Errors
///
/// Names the first letter that the typeface lacks: it would be a blank on the sheet.
pub fn check(words: &str) -> Result<(), MissingLetter> {
    match missing_letter(words) {
        None => Ok(()),
        Some(letter) => Err(MissingLetter {
            letter,
            words: words.into(),
        }),
    }
}

/// Length of a line of words at this height, mm: the sum of its letters' advances, exact for the
/// typeface. A letter that the typeface lacks counts as nothing.
pub fn width(words: &str, height: f64) -> f64 {
    advance(words) * em(height)
}

/// The box, sides along the page's, that holds the ink and the advances of a text, mm.
///
/// Above and below the baseline it reaches as far as the letters used do. Words without ink give
/// a box of no height on the baseline.
pub fn bounds(text: &Text) -> Rect {
    let mut pen = 0.0;
    let mut local = Rect::ZERO;
    for letter in text.words.chars().filter_map(|c| TYPEFACE.letter(c)) {
        if let Some(ink) = letter.ink {
            local = local.union(ink + Vec2::new(pen, 0.0));
        }
        pen += letter.advance;
        local.x1 = local.x1.max(pen);
    }
    let heavy = if text.heavy && local.height() > 0.0 {
        heavy_stroke(text.height) / (2.0 * em(text.height))
    } else {
        0.0
    };
    place(text).transform_rect_bbox(local.inflate(heavy, heavy))
}

/// The outlines of a text's letters, placed and turned, mm; to be filled by non-zero winding.
///
/// Exact: the typeface's own curves. A letter that the typeface lacks is left out; see [`check`].
pub fn outline(text: &Text) -> BezPath {
    let place = place(text);
    let mut path = BezPath::new();
    let mut pen = 0.0;
    for letter in text.words.chars().filter_map(|c| TYPEFACE.letter(c)) {
        TYPEFACE.draw(
            letter.glyph,
            place * Affine::translate((pen, 0.0)),
            &mut path,
        );
        pen += letter.advance;
    }
    path
}

/// The glyphs of a text with the places of their origins, mm. A letter that the typeface lacks is
/// left out; see [`check`].
pub(crate) fn placed(text: &Text) -> impl Iterator<Item = (u16, Point)> + '_ {
    let place = place(text);
    let mut pen = 0.0;
    let letters = text.words.chars().filter_map(|c| TYPEFACE.letter(c));
    letters.map(move |letter| {
        let at = place * Point::new(pen, 0.0);
        pen += letter.advance;
        (letter.glyph, at)
    })
}

/// A glyph's outline as it is turned and sized in a text, about its own origin, mm.
pub(crate) fn glyph_outline(glyph: u16, text: &Text) -> BezPath {
    let along = direction(text.turn) * em(text.height);
    let turned = Affine::new([along.x, along.y, -along.y, along.x, 0.0, 0.0]);
    let mut path = BezPath::new();
    TYPEFACE.draw(glyph, turned, &mut path);
    path
}

/// Words broken into lines no longer than `width`, mm, each as full as it goes.
///
/// Breaks fall at white space, but not at a no-break space; a word longer than a line is broken
/// between its letters, and a line holds one letter at least. No words give no lines.
pub fn wrap(words: &str, height: f64, width: f64) -> Vec<String> {
    // A line measured as exactly full must not be broken by the rounding of a sum.
    let room = width / em(height) + 1e-9;
    let space = advance(" ");
    let mut lines = Vec::new();
    let mut line = String::new();
    let mut used = 0.0;
    for word in words.split(|c: char| c.is_whitespace() && c != '\u{a0}') {
        if word.is_empty() {
            continue;
        }
        let length = advance(word);
        if !line.is_empty() && used + space + length > room {
            lines.push(std::mem::take(&mut line));
            used = 0.0;
        }
        if !line.is_empty() {
            line.push(' ');
            used += space;
        }
        if used + length <= room {
            line.push_str(word);
            used += length;
            continue;
        }
        for letter in word.chars() {
            let step = letter_advance(letter);
            if !line.is_empty() && used + step > room {
                lines.push(std::mem::take(&mut line));
                used = 0.0;
            }
            line.push(letter);
            used += step;
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Size of an em, mm, at which a capital letter is `height` tall.
pub(crate) fn em(height: f64) -> f64 {
    height / TYPEFACE.capital
}

/// Width of the stroke round heavy lettering of this height, mm.
pub(crate) fn heavy_stroke(height: f64) -> f64 {
    HEAVY * height
}

/// Where a text's first letter stands, and the unit vector along its baseline.
pub(crate) fn baseline(text: &Text) -> (Point, Vec2) {
    let along = direction(text.turn);
    let before = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => 0.5,
        Anchor::End => 1.0,
    };
    let start = text.at - along * (before * width(&text.words, text.height));
    (start, along)
}

/// Exact for quarter turns, so that upright lettering has no noise in its numbers.
fn direction(degrees: f64) -> Vec2 {
    let turn = degrees.rem_euclid(360.0);
    if turn % 90.0 == 0.0 {
        return match turn as u16 / 90 {
            0 => Vec2::new(1.0, 0.0),
            1 => Vec2::new(0.0, 1.0),
            2 => Vec2::new(-1.0, 0.0),
            _ => Vec2::new(0.0, -1.0),
        };
    }
    let (sin, cos) = libm::sincos(turn.to_radians());
    Vec2::new(cos, sin)
}

/// From em along the baseline to where the text stands.
fn place(text: &Text) -> Affine {
    let (start, along) = baseline(text);
    let along = along * em(text.height);
    Affine::new([along.x, along.y, -along.y, along.x, start.x, start.y])
}

fn letter_advance(letter: char) -> f64 {
    TYPEFACE.letter(letter).map_or(0.0, |letter| letter.advance)
}

fn advance(words: &str) -> f64 {
    words.chars().map(letter_advance).sum()
}

#[cfg(test)]
mod tests;
