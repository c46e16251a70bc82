//! One file while it is read: its units, and every problem met so far.

use super::problem::Problem;
use super::source::Source;
use crate::base::length::Units;
use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;
use std::ops::Range;

/// One file while it is read.
pub(super) struct Reading<'a> {
    /// The file.
    pub(super) source: &'a Source,
    /// Of bare numbers; set as soon as they are known.
    pub(super) units: Cell<Units>,
    line_starts: Vec<usize>,
    /// Lines that could not be parsed, counted from 1.
    bad_lines: BTreeSet<usize>,
    problems: RefCell<Vec<Problem>>,
}

impl<'a> Reading<'a> {
    /// Begins with what the parser could not make out.
    pub(super) fn new(source: &'a Source, syntax: Vec<Problem>) -> Self {
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
        // The parser puts values of no length in the place of those that it could not read.
        let is_echo = |span: &Range<usize>| {
            span.is_empty() || self.bad_lines.contains(&self.line_of(span.start))
        };
        if self.bad_lines.is_empty() || !problem.span.as_ref().is_some_and(is_echo) {
            self.problems.borrow_mut().push(problem);
        }
    }

    /// Keeps a problem about what is not there, unless it may stand where parsing failed.
    pub(super) fn report_missing(&self, problem: Problem) {
        if self.bad_lines.is_empty() {
            self.report(problem);
        }
    }

    /// Whether the parser made out every line; else it may have put other values in the place of
    /// what it could not read, and what they come to together proves nothing.
    pub(super) fn is_whole(&self) -> bool {
        self.bad_lines.is_empty()
    }

    /// How many problems were met so far.
    pub(super) fn problem_count(&self) -> usize {
        self.problems.borrow().len()
    }

    /// Everything that was wrong.
    pub(super) fn finish(self) -> Vec<Problem> {
        self.problems.into_inner()
    }
}
