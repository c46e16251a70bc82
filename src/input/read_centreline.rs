//! Reads `[centreline]`.

use super::centreline::{CentrelineSpec, MarkSpec, PairSpec, SwingSpec};
use super::field::{
    ANY_LENGTH, DIAMETER, angle, choice, direction, filled_text, length, yes_or_no,
};
use super::problem::Problem;
use super::table::Table;
use crate::base::length::LONGEST;
use crate::model::centre::{Measuring, Tape, TapeClass, TapeEnd};
use std::ops::RangeInclusive;

/// Most pairs or swings: more would only be noise.
const MOST_READ: usize = 50;

/// Smallest divisions of tapes and rules, mm.
const GRADUATION: RangeInclusive<f64> = 0.01..=50.0;

/// How well a feature's middle is found, mm either way.
const READING: RangeInclusive<f64> = 0.0..=50.0;

/// How unevenly a panel may be moulded, mm.
const MOULDING: RangeInclusive<f64> = 0.0..=20.0;

/// How far a centreline may lean, degrees either way.
const SKEW_LIMIT: RangeInclusive<f64> = 0.0..=10.0;

/// Distances between features, mm.
const APART: RangeInclusive<f64> = 1.0..=LONGEST;

pub(super) fn centreline(table: &mut Table<'_>) -> Option<CentrelineSpec> {
    let span = table.span.clone();
    let zero = table.optional("zero", direction);
    let measuring = measuring(table);
    let pairs = table.tables("pair", 0..=MOST_READ, pair);
    let mark = table.optional_table("mark", mark);
    let swings = table.tables("swing", 0..=MOST_READ, swing);
    if !pairs.is_empty() && !swings.is_empty() {
        table.reading.report(Problem {
            message: "`[centreline]` has both pairs and swings".into(),
            hint: Some("keep the way that you trust more, and leave the other out".into()),
            span: span.clone(),
        });
    }
    if swings.is_empty() != mark.is_none() {
        table.reading.report_missing(Problem {
            message: "`[[centreline.swing]]` and `[centreline.mark]` go together".into(),
            hint: Some("give the mark that the arcs are swung to, and at least one swing".into()),
            span: span.clone(),
        });
    }
    Some(CentrelineSpec {
        span,
        zero,
        measuring,
        pairs,
        mark,
        swings,
    })
}

fn measuring(table: &mut Table<'_>) -> Measuring {
    let usual = Measuring::default();
    let graduation = table.optional("graduation", |entry| length(entry, GRADUATION));
    let classes = [TapeClass::I, TapeClass::II, TapeClass::III];
    let class = table.optional("tape_class", |entry| {
        choice(entry, &classes, TapeClass::word)
    });
    let ends = [TapeEnd::Mark, TapeEnd::HookOrButt];
    let end = table.optional("tape_end", |entry| choice(entry, &ends, TapeEnd::word));
    let reading = table.optional("reading", |entry| length(entry, READING));
    let moulding = table.optional("moulding", |entry| length(entry, MOULDING));
    let skew_limit = table.optional("skew_limit", |entry| angle(entry, SKEW_LIMIT));
    Measuring {
        tape: Tape {
            class: class.map_or(usual.tape.class, |class| class.value),
            end: end.map_or(usual.tape.end, |end| end.value),
            graduation: graduation.map_or(usual.tape.graduation, |graduation| graduation.value),
        },
        reading: reading.map_or(usual.reading, |reading| reading.value),
        moulding: moulding.map_or(usual.moulding, |moulding| moulding.value),
        skew_limit: skew_limit.map_or(usual.skew_limit, |limit| limit.value),
    }
}

fn pair(table: &mut Table<'_>) -> Option<PairSpec> {
    let name = table.required("name", filled_text);
    let left = table.required("left", |entry| length(entry, ANY_LENGTH));
    let right = table.required("right", |entry| length(entry, ANY_LENGTH));
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    let diameter = table.optional("diameter", |entry| length(entry, DIAMETER));
    let reading = table.optional("reading", |entry| length(entry, READING));
    let fixed = table.optional("fixed", yes_or_no);
    Some(PairSpec {
        name: name?,
        left: left?,
        right: right?,
        from_datum: from_datum?,
        diameter: diameter.map(|diameter| diameter.value),
        reading: reading.map(|reading| reading.value),
        fixed: fixed.is_some_and(|fixed| fixed.value),
    })
}

fn mark(table: &mut Table<'_>) -> Option<MarkSpec> {
    let across = table.required("across", |entry| length(entry, ANY_LENGTH));
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    Some(MarkSpec {
        across: across?,
        from_datum: from_datum?,
    })
}

fn swing(table: &mut Table<'_>) -> Option<SwingSpec> {
    let name = table.required("name", filled_text);
    let left = table.required("left", |entry| length(entry, APART));
    let right = table.required("right", |entry| length(entry, APART));
    let apart = table.optional("apart", |entry| length(entry, APART));
    let from_datum = table.required("from_datum", |entry| length(entry, ANY_LENGTH));
    Some(SwingSpec {
        name: name?,
        left: left?,
        right: right?,
        apart: apart.map(|apart| apart.value),
        from_datum: from_datum?,
    })
}
