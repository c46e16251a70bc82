//! Walks a file's tables and keeps every problem it meets, each at its place.
//!
//! A table is read by taking keys out of it, one call a key; what is left over when its reading
//! function returns is unknown. Reading functions return `None` where they have reported a
//! problem, and go on with the next key first, so that one pass finds all.

use super::problem::{Placed, Problem};
use super::report::Report;
use super::source::Source;
use crate::length::Units;
use crate::words::{did_you_mean, shown};
use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::ops::{Range, RangeInclusive};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Largest file that is read, bytes: far over any definition, far under what would hurt.
const LARGEST_FILE: usize = 4 << 20;

/// The one format there is so far.
const FORMAT: &str = "1";

/// One file while it is read.
pub(super) struct Reading<'a> {
    source: &'a Source,
    /// Of bare numbers; set as soon as they are known.
    pub(super) units: Cell<Units>,
    line_starts: Vec<usize>,
    /// Lines that could not be parsed, counted from 1.
    bad_lines: BTreeSet<usize>,
    problems: RefCell<Vec<Problem>>,
}

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
    let problems = reading.problems.take();
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

fn syntax_problem(error: &toml::de::Error, source: &Source) -> Problem {
    let span = error.span().unwrap_or(0..0);
    let written = source.text.get(span.clone()).unwrap_or_default();
    let problem = match error.message() {
        "duplicate key" => Problem::new(format!("`{}` is written twice", shown(written)))
            .hint("keep one of the two"),
        "recursion limit" | "cannot recurse further; max recursion depth met" => {
            Problem::new("brackets are nested too deep: at most 80 are allowed")
        }
        message => Problem::new(message),
    };
    problem.at(span)
}

impl<'a> Reading<'a> {
    fn new(source: &'a Source, syntax: Vec<Problem>) -> Self {
        let newlines = source.text.match_indices('\n');
        let mut reading = Self {
            source,
            units: Cell::default(),
            line_starts: newlines.map(|(newline, _)| newline + 1).collect(),
            bad_lines: BTreeSet::new(),
            problems: RefCell::default(),
        };
        let spans = syntax.iter().filter_map(|problem| problem.span.as_ref());
        reading.bad_lines = spans.map(|span| reading.line_of(span.start)).collect();
        reading.problems = RefCell::new(syntax);
        reading
    }

    /// The line of a byte, to name another place in a message.
    pub(super) fn line_of(&self, byte: usize) -> usize {
        self.line_starts.partition_point(|start| *start <= byte) + 1
    }

    /// Keeps a problem, unless it is but the echo of a line that could not be parsed.
    pub(super) fn report(&self, problem: Problem) {
        let in_bad_line = |span: &Range<usize>| self.bad_lines.contains(&self.line_of(span.start));
        if !problem.span.as_ref().is_some_and(in_bad_line) {
            self.problems.borrow_mut().push(problem);
        }
    }

    /// Keeps a problem about what is not there, unless it may stand where parsing failed.
    pub(super) fn report_missing(&self, problem: Problem) {
        if self.bad_lines.is_empty() {
            self.report(problem);
        }
    }
}

/// A table whose keys are being taken.
pub(super) struct Table<'a> {
    /// The file it is in.
    pub(super) reading: &'a Reading<'a>,
    /// What messages call it.
    title: String,
    /// Its header; the whole of an inline table; none for the file itself.
    pub(super) span: Option<Range<usize>>,
    left: BTreeMap<&'a str, (Range<usize>, &'a Spanned<DeValue<'a>>)>,
    known: Vec<&'static str>,
}

impl<'a> Table<'a> {
    fn new(
        reading: &'a Reading<'a>,
        table: &'a DeTable<'a>,
        title: String,
        span: Option<Range<usize>>,
    ) -> Self {
        let left = table
            .iter()
            .map(|(key, value)| (key.get_ref().as_ref(), (key.span(), value)));
        Self {
            reading,
            title,
            span,
            left: left.collect(),
            known: Vec::new(),
        }
    }

    /// A value that must be there.
    pub(super) fn required<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&Entry<'a>) -> Option<T>,
    ) -> Option<Placed<T>> {
        match self.take(key) {
            Some(entry) => entry.read(read),
            None => self.missing(key, None),
        }
    }

    /// A value that may be left out; `None` also where it is wrong, which has been reported.
    pub(super) fn optional<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&Entry<'a>) -> Option<T>,
    ) -> Option<Placed<T>> {
        self.take(key)?.read(read)
    }

    /// A table that must be there: `[key]`.
    pub(super) fn table<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Table<'a>) -> Option<T>,
    ) -> Option<T> {
        match self.take(key) {
            Some(entry) => entry.table(format!("`[{key}]`"), read),
            None => {
                let message = format!("`[{key}]` is missing");
                self.reading.report_missing(Problem::new(message));
                None
            }
        }
    }

    /// A table that may be left out.
    pub(super) fn optional_table<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Table<'a>) -> Option<T>,
    ) -> Option<T> {
        self.take(key)?.table(format!("`[{key}]`"), read)
    }

    /// Every table of a list, `[[key]]`, that could be read. `allowed` is how many there may be;
    /// where the fewest is not 0, the list must be there.
    pub(super) fn tables<T>(
        &mut self,
        key: &'static str,
        allowed: RangeInclusive<usize>,
        mut read: impl FnMut(&mut Table<'a>) -> Option<T>,
    ) -> Vec<T> {
        let (least, most) = (*allowed.start(), *allowed.end());
        let Some(entry) = self.take(key) else {
            if least > 0 {
                let message = format!("`[[{key}]]` is missing: at least {least} must be there");
                self.reading.report_missing(Problem::new(message));
            }
            return Vec::new();
        };
        let DeValue::Array(items) = entry.value.get_ref() else {
            let hint = format!("write `[[{key}]]`, with two brackets, before each");
            entry.wrong_kind::<T>("a list of tables", &hint);
            return Vec::new();
        };
        if !allowed.contains(&items.len()) {
            let times = items.len();
            let message =
                format!("`[[{key}]]` is there {times} times: {least} to {most} are allowed");
            entry.refuse::<T>(message, None);
            return Vec::new();
        }
        let items = items.iter().map(|item| entry.item(item));
        let title = format!("`[[{key}]]`");
        items
            .filter_map(|item| item.table(title.clone(), &mut read))
            .collect()
    }

    /// Everything left, in the order of the file, where the writer chooses the keys.
    pub(super) fn take_all(&mut self) -> Vec<(Placed<&'a str>, Entry<'a>)> {
        let reading = self.reading;
        let left = std::mem::take(&mut self.left).into_iter();
        let mut all: Vec<_> = left
            .map(|(key, (span, value))| {
                let entry = Entry {
                    reading,
                    key,
                    value,
                    is_item: false,
                };
                (Placed::at(key, span), entry)
            })
            .collect();
        all.sort_by_key(|(key, _)| key.span.as_ref().map(|span| span.start));
        all
    }

    fn take(&mut self, key: &'static str) -> Option<Entry<'a>> {
        self.known.push(key);
        let (_, value) = self.left.remove(key)?;
        Some(Entry {
            reading: self.reading,
            key,
            value,
            is_item: false,
        })
    }

    fn missing<T>(&self, key: &str, hint: Option<&str>) -> Option<T> {
        let mut problem = Problem::new(format!("`{key}` is missing in {}", self.title));
        problem.hint = hint.map(Into::into);
        problem.span = self.span.clone();
        self.reading.report_missing(problem);
        None
    }

    fn refuse_the_rest(&mut self) {
        for (key, _) in self.take_all() {
            let message = format!("unknown key `{}` in {}", shown(key.value), self.title);
            let hint = did_you_mean(key.value, &self.known);
            self.reading.report(key.problem(message).hint(hint));
        }
    }
}

/// One value, with its key.
pub(super) struct Entry<'a> {
    /// The file it is in.
    pub(super) reading: &'a Reading<'a>,
    /// Its key; of the list, for an item.
    pub(super) key: &'a str,
    /// The value.
    pub(super) value: &'a Spanned<DeValue<'a>>,
    is_item: bool,
}

impl<'a> Entry<'a> {
    /// An item of the list that this entry is.
    pub(super) fn item(&self, value: &'a Spanned<DeValue<'a>>) -> Entry<'a> {
        Entry {
            value,
            is_item: true,
            ..*self
        }
    }

    /// What messages call it.
    pub(super) fn title(&self) -> String {
        let key = shown(self.key);
        if self.is_item {
            format!("an item of `{key}`")
        } else {
            format!("`{key}`")
        }
    }

    /// The value as the user wrote it.
    pub(super) fn written(&self) -> std::borrow::Cow<'a, str> {
        let written = self.reading.source.text.get(self.value.span());
        shown(written.unwrap_or_default())
    }

    /// The kind of value that was written, with its article.
    pub(super) fn kind(&self) -> &'static str {
        match self.value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "`true` or `false`",
            DeValue::Datetime(_) => "a date or time",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        }
    }

    /// The value read, with its place.
    pub(super) fn read<T>(self, read: impl FnOnce(&Self) -> Option<T>) -> Option<Placed<T>> {
        read(&self).map(|value| Placed::at(value, self.value.span()))
    }

    /// The value read as a table; keys that `read` did not take are reported.
    pub(super) fn table<T>(
        self,
        title: String,
        read: impl FnOnce(&mut Table<'a>) -> Option<T>,
    ) -> Option<T> {
        let DeValue::Table(table) = self.value.get_ref() else {
            return self.wrong_kind(
                "a table",
                &format!("write {title}, then a line for each key"),
            );
        };
        let mut table = Table::new(self.reading, table, title, Some(self.value.span()));
        let read = read(&mut table);
        table.refuse_the_rest();
        read
    }

    /// Reports that another kind of value belongs here.
    pub(super) fn wrong_kind<T>(&self, wanted: &str, hint: &str) -> Option<T> {
        let message = format!("{} must be {wanted}, not {}", self.title(), self.kind());
        self.refuse(message, Some(hint.into()))
    }

    /// Reports that this value is wrong.
    pub(super) fn refuse<T>(&self, message: String, hint: Option<String>) -> Option<T> {
        self.reading.report(Problem {
            message,
            hint,
            span: Some(self.value.span()),
        });
        None
    }
}
