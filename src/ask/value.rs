//! One answer as text, and as a value of the file.

use crate::base::length::Units;
use crate::input::keys::Kind;
use crate::input::misread;
use toml_edit::{Formatted, Item, Value};

/// A text as the value that a file has for it; bare where it is a number.
pub(super) fn value(kind: &Kind, text: &str) -> Value {
    let text = text.trim();
    match kind {
        Kind::YesOrNo => Value::from(is_yes(text)),
        Kind::Length(..)
        | Kind::ShapeValue
        | Kind::Offset
        | Kind::Number(..)
        | Kind::FindingValue => bare(text),
        Kind::Angle(..) if text.parse::<f64>().is_ok() => Value::from(format!("{text} deg")),
        _ => Value::from(text),
    }
}

/// A number as it was typed; any other text in quotes.
pub(super) fn bare(text: &str) -> Value {
    // As TOML writes numbers: `.5`, `5.` and `+5` are none.
    match text.parse::<Value>() {
        Ok(number @ (Value::Integer(_) | Value::Float(_))) => number,
        _ => Value::String(Formatted::new(text.into())),
    }
}

/// Whether an answer means yes.
pub(super) fn is_yes(text: &str) -> bool {
    ["yes", "y", "true"].contains(&text.trim().to_ascii_lowercase().as_str())
}

/// The text of a value as it would be answered.
pub(super) fn text(item: &Item) -> Option<String> {
    match item.as_value()? {
        Value::Boolean(answer) => Some(if *answer.value() { "yes" } else { "no" }.into()),
        Value::String(text) => Some(text.value().clone()),
        Value::Integer(_) | Value::Float(_) | Value::Datetime(_) => {
            Some(item.as_value()?.clone().decorated("", "").to_string())
        }
        Value::Array(_) | Value::InlineTable(_) => None,
    }
}

/// Refuses an answer that may not stand there, in the words that a file's reader has for it.
///
/// # Errors
/// What is wrong, and what to do.
pub(super) fn check(key: &str, kind: &Kind, answer: &Value, units: Units) -> Result<(), String> {
    let written = answer.clone().decorated("", "").to_string();
    match misread(key, kind, &written, units) {
        None => Ok(()),
        Some(problem) => Err(match problem.hint {
            Some(hint) => format!("{}; {hint}", problem.message),
            None => problem.message,
        }),
    }
}
