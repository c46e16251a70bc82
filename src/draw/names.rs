//! Names as the front page gives them.

/// Longest name that the front page gives whole, letters: names may be long, the page is one.
const LONGEST: usize = 28;

/// Most things that it names one by one.
pub(super) const MOST_NAMED: usize = 3;

/// A name as the front page gives it.
pub(super) fn short(name: &str) -> String {
    match name.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}...", name[..end].trim_end()),
        None => name.into(),
    }
}

/// Names one after the other; `else_words` where there are more than can be read in passing.
pub(super) fn named(names: &[&str], else_words: &str) -> String {
    if names.len() > MOST_NAMED {
        return else_words.into();
    }
    let short: Vec<String> = names.iter().map(|name| short(name)).collect();
    short.join(", ")
}

/// Several names as a sentence begins with them.
pub(super) fn begun_with(names: &[String]) -> String {
    match names {
        [first, _, _, ..] => format!("{first} and {} more in its row", names.len() - 1),
        _ => names.join(", "),
    }
}
