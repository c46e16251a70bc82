//! Areas that no cut may come near, and lines to fold along, in the panel frame.

use super::Centreline;
use super::place::{Placing, on_panel};
use crate::base::length::Units;
use crate::geometry::outline::Outline;
use crate::input::{Guarded, KeepOutSpec, LineKind, LineSpec, Problem};
use crate::model::panel::DatumEdge;
use kurbo::Point;

/// An area that no cut may cross or come near.
#[derive(Debug, Clone)]
pub struct KeepOut {
    /// Its name.
    pub name: String,
    /// What it guards.
    pub guards: Guarded,
    /// Its outline, mm.
    pub outline: Outline,
    /// How near a cut may come, mm.
    pub distance: f64,
    /// Whether that was given: else it is the design value for what the area guards.
    pub is_given: bool,
}

impl KeepOut {
    /// Its distance, and where that comes from: `15 mm, given`.
    pub fn asked(&self, units: Units) -> String {
        let from = if self.is_given {
            "given"
        } else {
            "not given: design value"
        };
        format!("{}, {from}", units.length(self.distance))
    }
}

/// A line to fold along.
#[derive(Debug, Clone)]
pub struct PanelLine {
    /// Its name.
    pub name: String,
    /// What is done along it.
    pub kind: LineKind,
    /// Its points, mm.
    pub points: Vec<Point>,
}

pub(super) fn keep_out(spec: &KeepOutSpec, placing: &Placing<'_>) -> Result<KeepOut, Vec<Problem>> {
    let (offset, from_datum) = (&spec.centre_offset, &spec.from_datum);
    Ok(KeepOut {
        name: spec.name.value.clone(),
        guards: spec.guards,
        outline: placing.solid(&spec.shape, &spec.with, offset, from_datum)?,
        distance: spec.distance.unwrap_or(spec.guards.distance()),
        is_given: spec.distance.is_some(),
    })
}

pub(super) fn lines(
    specs: &[LineSpec],
    centreline: &Centreline,
    edge: &DatumEdge,
) -> Vec<PanelLine> {
    let placed =
        |&(across, from_datum): &(f64, f64)| on_panel(across, from_datum, centreline, edge);
    specs
        .iter()
        .map(|spec| PanelLine {
            name: spec.name.value.clone(),
            kind: spec.kind,
            points: spec
                .points
                .iter()
                .map(|point| placed(&point.value))
                .collect(),
        })
        .collect()
}
