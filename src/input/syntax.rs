//! What the parser of TOML could not make out, in words that say what to type.

use super::problem::Problem;
use super::source::Source;
use crate::base::length::letters::dressed;
use crate::base::words::shown;

/// A fault of syntax; where a letter that no plain keyboard types broke it, that letter.
pub(super) fn syntax_problem(error: &toml::de::Error, source: &Source) -> Problem {
    let span = error.span().unwrap_or(0..0);
    if let Some(problem) = by_letter(source, span.start) {
        return problem;
    }
    let written = source.text.get(span.clone()).unwrap_or_default();
    let problem = match error.message() {
        "duplicate key" => Problem::new(format!("`{}` is written twice", shown(written)))
            .hint("keep one of the two"),
        "recursion limit" | "cannot recurse further; max recursion depth met" => {
            Problem::new("brackets are nested too deep: at most 80 are allowed")
        }
        message if message.starts_with("string values must be quoted")
            || message.starts_with("missing opening quote") =>
        {
            Problem::new("what is no bare number stands between quotation marks").hint(
                "write a text as `\"clip hole\"`, a length with a fraction or a unit as `\"2 1/2 in\"`",
            )
        }
        message => Problem::new(message.trim_end_matches(", expected nothing")),
    };
    problem.at(span)
}

/// The letter of a line that TOML does not know where it stands, and what to type instead.
fn by_letter(source: &Source, at: usize) -> Option<Problem> {
    let line = source.line_at(at).span;
    let text = source.text.get(line.clone())?;
    let (place, letter) = stray(text)?;
    let told = dressed(letter)?;
    let code = letter as u32;
    // A blank can't be seen: its code tells it.
    let name = match told.plain.trim() {
        "" => format!("{} (U+{code:04X})", told.name),
        _ => format!("`{letter}`, {} (U+{code:04X}),", told.name),
    };
    let hint = match told.plain {
        "" => "delete it".to_owned(),
        " " => "type a plain blank instead".to_owned(),
        plain if told.name.starts_with("a fraction") => {
            format!("put the length in plain quotation marks: `\"2 {plain} in\"`")
        }
        plain => format!(
            "type `{plain}` instead; in a text editor rather than a word processor, it stays so"
        ),
    };
    let start = line.start + place;
    let problem = Problem::new(format!("{name} is not known to TOML here")).hint(hint);
    Some(problem.at(start..start + letter.len_utf8()))
}

/// The first such letter of a line outside of texts and comments; in a text that does not end, the
/// last, which was meant to end it.
fn stray(line: &str) -> Option<(usize, char)> {
    let mut open: Option<char> = None;
    let mut escaped = false;
    let mut within = None;
    for (at, letter) in line.char_indices() {
        match open {
            Some('"') if escaped => escaped = false,
            Some('"') if letter == '\\' => escaped = true,
            Some(quote) if letter == quote => (open, within) = (None, None),
            Some(_) if dressed(letter).is_some() => within = Some((at, letter)),
            Some(_) => {}
            None if letter == '#' => return None,
            None if dressed(letter).is_some() => return Some((at, letter)),
            None if matches!(letter, '"' | '\'') => open = Some(letter),
            None => {}
        }
    }
    within.filter(|_| open.is_some())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_text_or_a_comment_holds_is_not_stray() {
        for (line, letter) in [
            ("name = “neck”", Some((7, '“'))),
            ("name\u{a0}= \"neck\"", Some((4, '\u{a0}'))),
            ("name = \"neck”", Some((12, '”'))),
            ("width = −4", Some((8, '−'))),
            ("name = \"a × b ½\" # “so”", None),
            ("name = \"a \\\" ”\"", None),
            ("name = 'a \\' × 'b'", Some((13, '×'))),
            ("width = 4", None),
        ] {
            assert_eq!(stray(line), letter, "{line}");
        }
    }
}
