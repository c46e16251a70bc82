//! Cuts that meet what is there: holes that an opening takes in, and what falls away at an edge,
//! held against closed forms and `geo`.

mod behind;
mod feet;
mod holes;
mod rough;
mod sides;
mod ties;
mod trims;

use geo::{Area, BooleanOps, Coord, LineString, MultiPolygon, Polygon};
use trimloft::geometry::outline::Outline;
use trimloft::input::{PatternSpec, Report, Source};
use trimloft::solve::{Pattern, solve};

use crate::common::{shipped, under_panel};

/// A panel of 400 x 300 mm with these tables.
fn panel(tables: &str) -> String {
    under_panel(400.0, 300.0, tables)
}

/// All that is wrong with a definition, as it is told.
fn refused(tables: &str) -> String {
    let source = Source::new("a.toml", panel(tables));
    let spec = match PatternSpec::read(&source) {
        Ok(spec) => spec,
        Err(report) => return report.to_string(),
    };
    let problems = solve(&spec, &shipped()).expect_err("the definition is refused");
    Report::new(&source, problems).to_string()
}

/// The ids of all findings that are no notes, with their messages.
fn found(pattern: &Pattern) -> Vec<String> {
    let findings = pattern.findings.iter();
    findings
        .map(|finding| format!("{}: {}", finding.id, finding.message))
        .collect()
}

/// An outline as `geo` has it, its arcs broken into chords 0.0001 mm off at most.
fn polygon(outline: &Outline) -> Polygon {
    let mut points = vec![];
    kurbo::flatten(outline.closed_path(1e-5), 1e-4, |element| {
        points.extend(element.end_point().map(|at| Coord { x: at.x, y: at.y }));
    });
    Polygon::new(LineString::new(points), vec![])
}

/// The area that two have in one of them alone, mm^2.
fn differing(one: &MultiPolygon, other: &MultiPolygon) -> f64 {
    one.xor(other).unsigned_area()
}
