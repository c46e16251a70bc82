//! What gives another code and what does not.

use super::Content;
use crate::input::families::Library;
use crate::input::{PatternSpec, Source};
use crate::solve::solve;

const UNDER_PANEL: &str = include_str!("../../../shapes/demo/under-panel.toml");

fn content(text: &str) -> Content {
    let spec = PatternSpec::read(&Source::new("p.toml", text)).unwrap();
    Content::of(&solve(&spec, &Library::shipped()).unwrap())
}

/// `text` with `old` put otherwise, which must be there.
fn with(text: &str, old: &str, new: &str) -> String {
    assert!(text.contains(old), "{old}");
    text.replacen(old, new, 1)
}

#[test]
fn how_a_definition_is_written_does_not_count() {
    let code = content(UNDER_PANEL).code();
    let same = [
        format!("# said\n{UNDER_PANEL}"),
        with(UNDER_PANEL, "width = 980", "width = \"98 cm\""),
        with(UNDER_PANEL, "format = 1", "units = \"mm\"\nformat = 1"),
    ];
    for text in same {
        assert_eq!(content(&text).code(), code, "{text}");
    }
}

#[test]
fn what_is_cut_and_said_counts_and_is_told() {
    let was = content(UNDER_PANEL);
    let others = [
        ("width = 980", "width = 980.002", "panel's outline"),
        ("Under-panel, bracket neck", "Under-panel, neck", "title"),
        ("from_datum = 118", "from_datum = 119", "locator drain hole"),
    ];
    for (old, new, told) in others {
        let is = content(&with(UNDER_PANEL, old, new));
        assert_ne!(is.code(), was.code(), "{new}");
        let differences = was.differences(&is);
        assert!(
            differences.iter().any(|line| line.starts_with(told)),
            "{differences:?}"
        );
    }
    assert!(was.differences(&was).is_empty());
}

#[test]
fn a_code_is_short_and_without_letters_that_are_mistaken() {
    let code = content(UNDER_PANEL).code();
    assert_eq!(code.len(), 11, "{code}");
    let digits = code.replace('-', "");
    let allowed = |letter: char| letter.is_ascii_digit() || letter.is_ascii_uppercase();
    assert!(
        digits
            .chars()
            .all(|letter| allowed(letter) && !"ILOU".contains(letter))
    );
}

#[test]
fn a_file_gives_back_what_it_carries() {
    let was = content(&with(
        UNDER_PANEL,
        "Under-panel, bracket",
        "<Panel> & \\\"bracket\\\"",
    ));
    let escaped = was
        .text()
        .replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;");
    let file = format!("<svg><metadata>{escaped}</metadata></svg>");
    assert_eq!(Content::in_file(file.as_bytes()), Some(was));
    assert_eq!(Content::in_file(b"<svg></svg>"), None);
}
