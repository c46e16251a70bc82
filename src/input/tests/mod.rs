//! Whole files read: good ones into their values, bad ones into reports.

mod around_parts;
mod bad_judging;
mod bad_parts;
mod hints;
mod kit_file;
mod odd_input;
mod pattern_file;
mod shape_file;

use super::{OpeningGiven, PatternSpec, ShapeAt, ShapeSpec, ShopSpec, Source};

const PATTERN: &str = include_str!("good_pattern.toml");
const PARTS: &str = include_str!("good_parts.toml");
const KIT: &str = include_str!("good_kit.toml");
const SHAPE: &str = include_str!("good_shape.toml");

fn read_pattern(text: &str) -> Result<PatternSpec, String> {
    PatternSpec::read(&Source::new("a.toml", text)).map_err(|report| report.to_string())
}

fn read_shape(text: &str) -> Result<ShapeSpec, String> {
    ShapeSpec::read(&Source::new("a.toml", text)).map_err(|report| report.to_string())
}

/// What is said about the good pattern with `from`, which it must hold once, turned to `to`.
fn changed(text: &str, from: &str, to: &str) -> String {
    assert_eq!(text.matches(from).count(), 1, "`{from}` stands there once");
    text.replacen(from, to, 1)
}

fn read_shop(text: &str) -> Result<ShopSpec, String> {
    ShopSpec::read(&Source::new("a.toml", text)).map_err(|report| report.to_string())
}

/// An opening that is given outright.
fn outright(pattern: &PatternSpec, index: usize) -> &ShapeAt {
    match &pattern.openings[index].given {
        OpeningGiven::Outright(shape) => shape,
        OpeningGiven::Around(_) => panic!("opening {index} is worked out"),
    }
}

fn pattern_refused(from: &str, to: &str) -> String {
    read_pattern(&changed(PATTERN, from, to)).expect_err("the file is bad")
}

fn shape_refused(from: &str, to: &str) -> String {
    read_shape(&changed(SHAPE, from, to)).expect_err("the file is bad")
}

/// The messages and hints of a report, without places and source lines.
fn said(report: &str) -> Vec<&str> {
    let said = |line| {
        let (_, message) = str::split_once(line, ": error: ").unwrap_or(("", line));
        (message != line || line.starts_with("hint: ")).then_some(message)
    };
    report.lines().filter_map(said).collect()
}
