//! Where shapes stand on the panel: values to outlines, offsets to places.

use super::{Centreline, PanelSurface};
use crate::drawing::fixed;
use crate::length::Offset;
use crate::outline::Outline;
use crate::panel::{DatumEdge, Orientation};
use crate::shape::{Family, Library};
use crate::spec::{Placed, Problem, SquareTo, Value};
use kurbo::Point;
use std::collections::BTreeMap;

/// What everything on a panel is placed by.
pub(super) struct Placing<'a> {
    pub(super) shapes: &'a Library,
    pub(super) orientation: Orientation,
    pub(super) centreline: &'a Centreline,
    pub(super) edge: &'a DatumEdge,
    pub(super) surface: &'a PanelSurface,
}

/// Where a point of the panel is, in the words of a tape: `12.5 mm left of the centreline, 40 mm
/// from the datum edge`.
pub(super) fn whereabouts(at: Point, centreline: &Centreline, orientation: Orientation) -> String {
    let offset = at.x - centreline.x_at(at.y);
    let right = orientation.frame_right();
    let side = if offset > 0.0 {
        right
    } else {
        right.opposite()
    };
    let across = match fixed(offset.abs(), 1).as_str() {
        "0" => "on the centreline".into(),
        off => format!("{off} mm {side} of the centreline"),
    };
    format!("{across}, {} mm from the datum edge", fixed(at.y, 1))
}

/// Where a shape's origin stands, and how it is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Place {
    /// Panel frame, mm.
    pub(super) origin: Point,
    /// From the centreline at that depth, along the frame's x, mm.
    pub(super) offset: f64,
    /// Radians, counter-clockwise.
    pub(super) turn: f64,
}

impl Placing<'_> {
    /// The family of that name.
    pub(super) fn family(&self, name: &Placed<String>) -> Result<&Family, Vec<Problem>> {
        self.shapes
            .find(&name.value)
            .map_err(|error| vec![name.problem(error.to_string()).hint(error.hint())])
    }

    /// A shape's outline about its own origin; trouble is told at the value it is about.
    pub(super) fn outline(
        &self,
        family: &Family,
        with: &BTreeMap<String, Placed<Value>>,
        shape: &Placed<String>,
    ) -> Result<Outline, Vec<Problem>> {
        let values = with
            .iter()
            .map(|(name, value)| (name.clone(), value.value))
            .collect();
        family.outline(&values).map_err(|errors| {
            errors
                .into_iter()
                .map(|error| {
                    let value = error.parameter().and_then(|name| with.get(name));
                    let span = value.and_then(|value| value.span.clone());
                    Problem {
                        message: error.to_string(),
                        hint: error.hint(),
                        span: span.or_else(|| shape.span.clone()),
                    }
                })
                .collect()
        })
    }

    /// A place given by its offset from the centreline and its distance from the datum edge.
    pub(super) fn at(
        &self,
        offset: &Placed<Offset>,
        from_datum: &Placed<f64>,
        square_to: SquareTo,
    ) -> Result<Place, Vec<Problem>> {
        let depth = from_datum.value;
        let offset = self.offset(offset)?;
        Ok(Place {
            origin: Point::new(self.centreline.x_at(depth) + offset, depth),
            offset,
            turn: match square_to {
                SquareTo::DatumEdge => 0.0,
                SquareTo::Centreline => self.centreline.lean(),
            },
        })
    }

    /// Offset from the centreline along the frame's x.
    fn offset(&self, offset: &Placed<Offset>) -> Result<f64, Vec<Problem>> {
        let Some(side) = offset.value.towards else {
            return Ok(0.0);
        };
        let sign = self.orientation.sign_along_edge(side).ok_or_else(|| {
            let right = self.orientation.frame_right();
            vec![
                offset
                    .problem(format!(
                        "`{side}` does not run along this panel's datum edge"
                    ))
                    .hint(format!("write `{right}` or `{}`", right.opposite())),
            ]
        })?;
        Ok(sign * offset.value.distance)
    }
}
