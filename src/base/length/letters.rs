//! Letters as phones, word processors and keyboards of other scripts type them, and the plain one
//! that is meant.

use std::borrow::Cow;

/// A letter that stands for a plain one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Dressed {
    /// What it is called.
    pub(crate) name: &'static str,
    /// What to type instead.
    pub(crate) plain: &'static str,
}

/// What a letter that no plain keyboard types is called, and what is meant by it in a length;
/// `None` for any other letter.
pub(crate) fn dressed(letter: char) -> Option<Dressed> {
    let told = |name, plain| Some(Dressed { name, plain });
    match letter {
        '“' | '”' | '„' | '‟' | '«' | '»' => told("a typographic quotation mark", "\""),
        '‘' | '’' | '‚' | '‛' | '‹' | '›' => {
            told("a typographic single quotation mark", "'")
        }
        '″' => told("a double prime", "\""),
        '′' => told("a prime", "'"),
        '\u{a0}' => told("a non-breaking blank", " "),
        '\u{2000}'..='\u{200a}' | '\u{202f}' | '\u{205f}' | '\u{3000}' => {
            told("a blank of special width", " ")
        }
        '\u{200b}' | '\u{2060}' => told("a blank of no width", ""),
        '−' => told("a minus sign", "-"),
        '‐' | '‑' | '‒' | '–' | '—' | '―' | '﹣' => told("a dash", "-"),
        '×' | '✕' | '✖' => told("a multiplication sign", "x"),
        '⁄' | '∕' => told("a fraction stroke", "/"),
        'º' | '˚' => told("a raised ring", "°"),
        '\u{ff01}'..='\u{ff5e}' => told("a full-width letter", full_width(letter)),
        _ => vulgar_fraction(letter).map(|(_, plain)| Dressed {
            name: "a fraction in one letter",
            plain,
        }),
    }
}

/// The plain letters, to be found by that of full width.
const PLAIN: &str = "!\"#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[\\]^_`\
                     abcdefghijklmnopqrstuvwxyz{|}~";

fn full_width(letter: char) -> &'static str {
    // The block of full-width letters repeats the plain ones in their order.
    let at = (letter as usize).wrapping_sub(0xff01);
    PLAIN.get(at..=at).unwrap_or_default()
}

/// A fraction of one letter: its numerator over its denominator, and the same in plain letters.
pub(super) fn vulgar_fraction(letter: char) -> Option<((u32, u32), &'static str)> {
    Some(match letter {
        '¼' => ((1, 4), "1/4"),
        '½' => ((1, 2), "1/2"),
        '¾' => ((3, 4), "3/4"),
        '⅐' => ((1, 7), "1/7"),
        '⅑' => ((1, 9), "1/9"),
        '⅒' => ((1, 10), "1/10"),
        '⅓' => ((1, 3), "1/3"),
        '⅔' => ((2, 3), "2/3"),
        '⅕' => ((1, 5), "1/5"),
        '⅖' => ((2, 5), "2/5"),
        '⅗' => ((3, 5), "3/5"),
        '⅘' => ((4, 5), "4/5"),
        '⅙' => ((1, 6), "1/6"),
        '⅚' => ((5, 6), "5/6"),
        '⅛' => ((1, 8), "1/8"),
        '⅜' => ((3, 8), "3/8"),
        '⅝' => ((5, 8), "5/8"),
        '⅞' => ((7, 8), "7/8"),
        _ => return None,
    })
}

/// `text` in plain letters, but for fractions of one letter, which stay: `2½` is no `21/2`. Two
/// single marks in a row are an inch mark.
pub(crate) fn in_plain_letters(text: &str) -> Cow<'_, str> {
    let changes = |letter: char| dressed(letter).is_some() && vulgar_fraction(letter).is_none();
    if !text.contains(|letter| changes(letter) || letter == '\'') {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match dressed(letter) {
            Some(dressed) if changes(letter) => out.push_str(dressed.plain),
            _ => out.push(letter),
        }
    }
    Cow::Owned(out.replace("''", "\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_dress_is_taken_off() {
        for (typed, plain) in [
            ("2 1/2″", "2 1/2\""),
            ("2\u{a0}1⁄2”", "2 1/2\""),
            ("５／１６ｉｎ", "5/16in"),
            ("−4\u{202f}mm", "-4 mm"),
            ("2–1/2’’", "2-1/2\""),
            ("300×500mm", "300x500mm"),
            ("2½", "2½"),
            ("63.5 mm", "63.5 mm"),
        ] {
            assert_eq!(in_plain_letters(typed), plain, "{typed}");
        }
    }

    #[test]
    fn full_width_letters_stand_in_the_order_of_the_plain_ones() {
        for code in 0x21..=0x7e_u32 {
            let wide = char::from_u32(code + 0xfee0).unwrap();
            let plain = char::from_u32(code).unwrap().to_string();
            assert_eq!(dressed(wide).map(|told| told.plain), Some(plain.as_str()));
        }
    }

    #[test]
    fn fractions_of_one_letter_are_what_they_show() {
        for letter in "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞".chars() {
            let ((over, under), plain) = vulgar_fraction(letter).unwrap();
            assert_eq!(format!("{over}/{under}"), plain);
        }
    }
}
