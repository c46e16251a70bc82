//! Words in messages: the user's own, lists of known ones, and the nearest of them.

use std::borrow::Cow;

/// Longest piece of a user's text that a message repeats, in characters.
const LONGEST_SHOWN: usize = 60;

/// Bytes as hexadecimal digits, two each, in small letters.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// `text` as a message shows it: one line, cut where it is long, with nothing in it that would
/// command a terminal.
pub(crate) fn shown(text: &str) -> Cow<'_, str> {
    let text = printable(text);
    match text.char_indices().nth(LONGEST_SHOWN) {
        Some((end, _)) => Cow::Owned(format!("{}...", &text[..end])),
        None => text,
    }
}

/// `text` with line ends, control characters and marks that turn the writing direction escaped.
pub(crate) fn printable(text: &str) -> Cow<'_, str> {
    if !text.contains(is_unprintable) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        if is_unprintable(letter) {
            out.extend(letter.escape_default());
        } else {
            out.push(letter);
        }
    }
    Cow::Owned(out)
}

/// Whether a letter commands the reader's screen rather than standing on it.
pub(crate) fn is_unprintable(letter: char) -> bool {
    letter.is_control()
        || matches!(letter,
            '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

/// Words in backticks, with commas, and `last_joint` before the last.
pub(crate) fn listed<W: AsRef<str>>(words: &[W], last_joint: &str) -> String {
    let mut out = String::new();
    for (index, word) in words.iter().enumerate() {
        if index > 0 {
            out.push_str(if index + 1 == words.len() {
                last_joint
            } else {
                ", "
            });
        }
        out.push('`');
        out.push_str(word.as_ref());
        out.push('`');
    }
    out
}

/// The known word that `word` was most likely meant to be; `None` where none is near.
pub(crate) fn nearest<'k>(word: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    // A longer word is no slip of the pen, and measuring it would cost time.
    if word.len() > LONGEST_SHOWN {
        return None;
    }
    let plain = |word: &str| word.to_lowercase().replace(['-', ' '], "_");
    let word = plain(word);
    let length = word.chars().count();
    known
        .into_iter()
        .filter_map(|candidate| {
            let known = plain(candidate);
            let begins_it = length >= 3 && known.starts_with(&word);
            let distance = strsim::damerau_levenshtein(&word, &known);
            let near = distance <= (length / 3).max(1) && distance < length;
            (near || begins_it).then_some((distance, candidate))
        })
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// Words with a capital first.
pub(crate) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}

/// The hint for a word that is not among `known`: the nearest of them, or all.
pub(crate) fn did_you_mean<W: AsRef<str>>(word: &str, known: &[W]) -> String {
    match nearest(word, known.iter().map(AsRef::as_ref)) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => "none is known here".into(),
        None => format!("known here: {}", listed(known, " and ")),
    }
}

/// Names that Windows keeps for devices, whatever ending follows them: "Naming Files, Paths, and
/// Namespaces", Microsoft; `CONIN$` and `CONOUT$` are from memory.
const DEVICES: [&str; 6] = ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"];

/// Whether Windows takes a file's name for that of a device: in any case, with any ending, and with
/// blanks or dots behind it.
pub(crate) fn is_device_name(name: &str) -> bool {
    let stem = name.split(['.', ':']).next().unwrap_or_default();
    let stem = stem.trim_end().to_uppercase();
    let port = ["COM", "LPT"]
        .iter()
        .find_map(|port| stem.strip_prefix(port));
    let is_port = port.is_some_and(|number| {
        let mut letters = number.chars();
        // The raised digits are ports as well.
        let digit = letters
            .next()
            .is_some_and(|digit| "0123456789\u{b9}\u{b2}\u{b3}".contains(digit));
        digit && letters.next().is_none()
    });
    is_port || DEVICES.contains(&stem.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn devices_of_windows_are_known_in_every_dress() {
        for name in [
            "CON",
            "con",
            "Nul.toml",
            "aux.",
            "PRN...",
            "com1",
            "COM9.a.b",
            "lpt\u{b2}",
            "nul .pdf",
            "Com0",
        ] {
            assert!(is_device_name(name), "{name}");
        }
        for name in [
            "CON-A",
            "console",
            "COM",
            "COM10",
            "LPTX",
            "xnul",
            "",
            "LV2-UP-01",
            "nul_",
        ] {
            assert!(!is_device_name(name), "{name}");
        }
    }

    #[test]
    fn the_nearest_word_forgives_a_slip_and_no_more() {
        let known = ["datum_edge", "seen_from", "page_up", "width"];
        assert_eq!(nearest("dautm_edge", known), Some("datum_edge"));
        assert_eq!(nearest("Datum-Edge", known), Some("datum_edge"));
        assert_eq!(nearest("datum", known), Some("datum_edge"));
        assert_eq!(nearest("with", known), Some("width"));
        assert_eq!(nearest("colour", known), None);
        assert_eq!(nearest("", known), None);
        assert_eq!(nearest("x", known), None);
        assert_eq!(nearest("raer fascia", ["Rear fascia"]), Some("Rear fascia"));
    }

    #[test]
    fn texts_are_cut_and_made_harmless() {
        assert_eq!(shown("plain"), "plain");
        assert_eq!(shown("a\u{1b}[2Jb\n"), "a\\u{1b}[2Jb\\n");
        assert_eq!(shown(&"ř".repeat(61)), format!("{}...", "ř".repeat(60)));
    }

    #[test]
    fn lists_end_with_the_joint_asked_for() {
        assert_eq!(listed(&["a"], " or "), "`a`");
        assert_eq!(listed(&["a", "b", "c"], " or "), "`a`, `b` or `c`");
    }
}
