//! Pictures that are written into content itself.
//!
//! Where such a picture ends can't be told for sure, and the library tries all ways: each of a
//! chain of pictures doubles the work. So content that holds one is not given to it.

use super::cursor::is_space;

/// Whether a picture begins anywhere in this content outside of its words: the operator `BI`.
pub(super) fn holds_picture(content: &[u8]) -> bool {
    let mut rest = content;
    while let Some((first, after)) = rest.split_first() {
        rest = match first {
            b'(' => past_words(after),
            b'%' => past(after, |byte| matches!(byte, b'\n' | b'\r')),
            first if is_regular(*first) => {
                let length = rest.iter().take_while(|byte| is_regular(**byte)).count();
                let (word, after) = rest.split_at_checked(length).unwrap_or((rest, &[]));
                // Letters may be written as `#42` (ISO 32000-1, 7.3.5), which no operator needs.
                let odd = word.contains(&b'#') && word.len() <= 6;
                if word == b"BI" || odd {
                    return true;
                }
                after
            }
            // The letters of a name are regular ones, but it is no operator.
            b'/' => past(after, |byte| !is_regular(byte)),
            _ => after,
        };
    }
    false
}

/// What stands after words in brackets, which may hold brackets in pairs.
fn past_words(mut rest: &[u8]) -> &[u8] {
    let mut depth = 1_usize;
    while let Some((first, after)) = rest.split_first() {
        rest = match first {
            b'\\' => after.get(1..).unwrap_or_default(),
            _ => after,
        };
        match first {
            b'(' => depth = depth.saturating_add(1),
            b')' => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    rest
}

fn past(rest: &[u8], end: impl Fn(u8) -> bool) -> &[u8] {
    let at = rest.iter().position(|byte| end(*byte));
    rest.get(at.unwrap_or(rest.len())..).unwrap_or_default()
}

/// Neither white space nor a delimiter (ISO 32000-1, 7.2.2).
fn is_regular(byte: u8) -> bool {
    !is_space(byte) && !b"()<>[]{}/%".contains(&byte)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_told_from_words_and_names() {
        for with in [
            "q BI /W 1 ID x EI Q",
            "BI",
            "(\\)) BI",
            "(a(b)c) B#49 ID",
            "%\nBI ID",
        ] {
            assert!(holds_picture(with.as_bytes()), "{with}");
        }
        for without in [
            "(BI ) Tj",
            "/BI gs",
            "BIN",
            "% BI\nq",
            "(a\\( BI (x) ) Tj",
            "<42> Tj",
        ] {
            assert!(!holds_picture(without.as_bytes()), "{without}");
        }
    }
}
