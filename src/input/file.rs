//! Reads a whole file, whatever its kind: parses it, and has its root table read.

use super::problem::Problem;
use super::reading::Reading;
use super::report::Report;
use super::source::Source;
use super::syntax::syntax_problem;
use super::table::Table;
use toml::de::{DeTable, DeValue};

/// Largest file that is read, bytes: far over any definition, far under what would hurt.
const LARGEST_FILE: usize = 1 << 20;

/// The one format there is so far.
const FORMAT: &str = "1";

/// Reads a whole file of format 1 by its root table.
pub(super) fn read_file<T>(
    source: &Source,
    read: impl FnOnce(&mut Table<'_>) -> Option<T>,
) -> Result<T, Report> {
    if source.text.len() > LARGEST_FILE {
        let message = format!(
            "the file has {} bytes: at most {LARGEST_FILE} are allowed",
            source.text.len()
        );
        let nameless = Source::new(&source.name, "");
        return Err(Report::new(&nameless, vec![Problem::new(message)]));
    }
    let (document, errors) = DeTable::parse_recoverable(&source.text);
    let syntax: Vec<Problem> = errors
        .iter()
        .map(|error| syntax_problem(error, source))
        .collect();
    let reading = Reading::new(source, syntax);
    let mut root = Table::new(&reading, document.get_ref(), "the file".into(), None);
    let read = if is_known_format(&mut root) {
        let read = read(&mut root);
        root.refuse_the_rest();
        read
    } else {
        None
    };
    let problems = reading.finish();
    match read {
        Some(read) if problems.is_empty() => Ok(read),
        _ => Err(Report::new(source, problems)),
    }
}

/// Later formats are not read by guesswork: nothing else is said about them.
fn is_known_format(root: &mut Table<'_>) -> bool {
    let Some(format) = root.take("format") else {
        root.missing::<()>("format", Some("write `format = 1` at the head of the file"));
        return true;
    };
    let known =
        matches!(format.value.get_ref(), DeValue::Integer(number) if number.as_str() == FORMAT);
    if !known {
        format.refuse::<()>(
            format!("`format = {}` is not known: {FORMAT} is", format.written()),
            None,
        );
    }
    known
}
