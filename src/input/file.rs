//! Reads a whole file, whatever its kind: parses it, and has its root table read.

use super::got::{Field, Got};
use super::keys::Keys;
use super::load::LARGEST_FILE;
use super::problem::{Placed, Problem};
use super::reading::Reading;
use super::report::Report;
use super::source::Source;
use super::syntax::syntax_problem;
use super::taken::take;
use crate::base::length::Units;
use crate::base::words::shown;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Bytes that a file with faults is read further at a time: a fault takes hundreds of bytes, and a
/// file may be nothing else.
const STEP: usize = 64 * 1024;
/// Faults after which nothing more of a file is read.
const MOST_FAULTS: usize = 1000;

/// The one format there is so far.
const FORMAT: &str = "1";

/// Reads a whole file of format 1 by the keys of its root table.
pub(super) fn read_file<T: Field>(source: &Source, keys: &Keys) -> Result<T, Report> {
    read_file_checked(source, keys, |_, _| ())
}

/// As [`read_file`]; `check` reports what does not go together in what was read.
pub(super) fn read_file_checked<T: Field>(
    source: &Source,
    keys: &Keys,
    check: impl Fn(&T, &Reading<'_>),
) -> Result<T, Report> {
    if source.text.len() > LARGEST_FILE {
        let message = format!(
            "the file has {} bytes: at most {LARGEST_FILE} are allowed",
            source.text.len()
        );
        let nameless = Source::new(&source.name, "");
        return Err(Report::new(&nameless, vec![Problem::new(message)]));
    }
    let (document, errors) = parse(&source.text);
    let syntax: Vec<Problem> = errors
        .iter()
        .map(|error| syntax_problem(error, source))
        .collect();
    if syntax.len() >= MOST_FAULTS {
        return Err(Report::new(source, syntax));
    }
    let reading = Reading::new(source, syntax);
    let root = document.get_ref();
    let read = if is_known_format(root, &reading) {
        reading.units.set(units(root));
        let root = take(&reading, root, keys, "the file".into(), None);
        let read = T::of(&Placed::unwritten(Got::Table(root)), &reading);
        if let Some(read) = &read {
            check(read, &reading);
        }
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

/// What a text holds, and what is wrong with it: all of it, or at least [`MOST_FAULTS`].
fn parse(text: &str) -> (Spanned<DeTable<'_>>, Vec<toml::de::Error>) {
    // Stops at the first fault, of which most files have none.
    if let Ok(document) = DeTable::parse(text) {
        return (document, vec![]);
    }
    let mut end = 0;
    loop {
        let from = text.floor_char_boundary(end + STEP);
        // A line is read whole, so that no fault comes from where the reading stopped.
        end = text[from..]
            .find('\n')
            .map_or(text.len(), |newline| from + newline + 1);
        let (document, errors) = DeTable::parse_recoverable(&text[..end]);
        if end == text.len() || errors.len() >= MOST_FAULTS {
            return (document, errors);
        }
    }
}

/// Later formats are not read by guesswork: nothing else is said about them.
fn is_known_format(root: &DeTable<'_>, reading: &Reading<'_>) -> bool {
    let Some(format) = root.get("format") else {
        return true;
    };
    let known = matches!(format.get_ref(), DeValue::Integer(number) if number.as_str() == FORMAT);
    if !known {
        let written = reading.source.text.get(format.span()).unwrap_or_default();
        let message = format!("`format = {}` is not known: {FORMAT} is", shown(written));
        reading.report(Problem::new(message).at(format.span()));
    }
    known
}

/// Units of the file's bare numbers, which must be known before any of them is read.
fn units(root: &DeTable<'_>) -> Units {
    let written = root.get("units").and_then(|units| units.get_ref().as_str());
    let known = |units: &Units| Some(units.word()) == written;
    Units::ALL.into_iter().find(known).unwrap_or_default()
}
