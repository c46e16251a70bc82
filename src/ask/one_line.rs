//! Several things written on one line, between commas and semicolons.

/// A line parted at a letter, into so many pieces at most; not within double quotes, which open where
/// a piece begins. Quotes that are never closed are letters like others, as is the sign for inches.
pub(super) fn parted(line: &str, at: char, most: usize) -> Vec<&str> {
    let mut pieces = vec![];
    let (mut from, mut begins, mut closes) = (0, true, None);
    for (place, letter) in line.char_indices() {
        if closes.is_some_and(|end| place <= end) {
            continue;
        }
        if letter == '"' && begins {
            let end = line[place + 1..].find('"');
            closes = end.map(|end| place + 1 + end);
        }
        if letter == at && pieces.len() + 1 < most {
            pieces.push(&line[from..place]);
            from = place + 1;
        }
        begins = matches!(letter, ',' | ';') || (begins && letter.is_whitespace());
    }
    pieces.push(&line[from..]);
    pieces
}

/// A piece without its quotes.
pub(super) fn unquoted(piece: &str) -> String {
    let piece = piece.trim();
    let inside = piece
        .strip_prefix('"')
        .and_then(|rest| rest.strip_suffix('"'));
    inside.unwrap_or(piece).to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_quoted_is_one_piece() {
        let pieces = |line, at| {
            parted(line, at, 4)
                .into_iter()
                .map(unquoted)
                .collect::<Vec<_>>()
        };
        assert_eq!(pieces("a, \"b, c; d\" ,e", ','), ["a", "b, c; d", "e"]);
        assert_eq!(pieces("a; \"b, c; d\", e", ';'), ["a", "\"b, c; d\", e"]);
        assert_eq!(pieces("1,2,3,4,5", ','), ["1", "2", "3", "4,5"]);
        // Inches, and quotes that are never closed.
        assert_eq!(pieces("2 1/2\", 4\", 6", ','), ["2 1/2\"", "4\"", "6"]);
        assert_eq!(pieces("\"a, b", ','), ["\"a", "b"]);
    }
}
