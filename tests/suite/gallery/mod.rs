//! A gallery of definitions of every kind, each on every kind of paper.

mod rows;

use crate::common::{produced_on, shipped};
use crate::rooms::{assert_good_sheets, work};
use std::collections::BTreeMap;
use std::path::Path;
use trimloft::draw::ink::{Ink, Layer};
use trimloft::input::{PatternSpec, Source};
use trimloft::layout::{PageKind, Paper, Setup, SheetSet};
use trimloft::solve::{Pattern, solve};

/// The definitions by the names of their files.
fn gallery() -> BTreeMap<String, PatternSpec> {
    let folder = crate::common::root().join("tests/suite/gallery/definitions");
    let files = std::fs::read_dir(folder).unwrap();
    files.map(|file| read(&file.unwrap().path())).collect()
}

fn read(path: &Path) -> (String, PatternSpec) {
    let name = path.file_stem().unwrap().to_string_lossy().into_owned();
    let source = Source::new(&name, std::fs::read_to_string(path).unwrap());
    let spec = PatternSpec::read(&source).unwrap_or_else(|report| panic!("{report}"));
    (name, spec)
}

fn solved(name: &str, spec: &PatternSpec) -> Pattern {
    solve(spec, &shipped()).unwrap_or_else(|problems| panic!("{name}: {problems:#?}"))
}

/// A definition of the gallery on its sheets.
fn sheets(name: &str, paper: &str) -> SheetSet {
    let spec = &gallery()[name];
    assert_good_sheets(&solved(name, spec), paper, name).unwrap()
}

/// All lettering within the windows of the work sheets.
fn lettering(set: &SheetSet) -> Vec<&str> {
    let marks = work(set).into_iter().flat_map(|page| &page.work);
    marks
        .filter_map(|mark| match &mark.ink {
            Ink::Text(text) => Some(text.words.as_str()),
            _ => None,
        })
        .collect()
}

/// Nothing on a work sheet is lower than 3.5 mm (ISO 3098-1), and figures and names are 5 mm.
fn assert_large_enough(set: &SheetSet, what: &str) {
    for page in work(set) {
        for mark in page.work.iter().chain(&page.furniture) {
            if let Ink::Text(text) = &mark.ink {
                let is_figure = !text.words.is_empty()
                    && text
                        .words
                        .chars()
                        .all(|letter| letter.is_ascii_digit() || letter == '.')
                    && mark.layer == Layer::Dimensions;
                let least = if is_figure { 5.0 } else { 3.5 };
                assert!(text.height >= least, "{what}: {} mm, {text:?}", text.height);
            }
        }
    }
}

#[test]
fn all_are_good_sheets_on_all_papers() {
    let all = gallery();
    assert!(all.len() >= 20, "{} definitions", all.len());
    for (name, spec) in &all {
        let pattern = solved(name, spec);
        for paper in ["a4", "letter", "a3", "roll-610mm"] {
            let what = format!("{name} on {paper}");
            let set = assert_good_sheets(&pattern, paper, &what).unwrap();
            assert_large_enough(&set, &what);
            let front = set.pages.iter();
            let front = front.filter(|page| page.kind == PageKind::Front).count();
            assert_eq!(front, 1, "{what}");
        }
    }
}

#[test]
fn all_are_proven_as_they_are_written() {
    for spec in gallery().values() {
        produced_on(spec, &Setup::new(Paper::parse("a4").unwrap()));
    }
}
