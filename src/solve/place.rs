//! Where shapes stand on the panel: values to outlines, offsets to places.
//!
//! A distance from the datum edge is what a tape reads that is hooked over the edge at that place,
//! square to the line through the edge's ends: it counts from the bow. Measured square-on, it
//! counts from the edge as it is seen there.

use super::{Centreline, Locator, PanelSurface};
use crate::base::length::{Offset, Told, Units};
use crate::geometry::outline::Outline;
use crate::input::families::{Family, Library, Purpose, ShapeError};
use crate::input::{Measured, Placed, Problem, SquareTo, Value};
use crate::model::centre::Measuring;
use crate::model::panel::{DatumEdge, Orientation};
use kurbo::{Point, Rect};
use std::collections::BTreeMap;

/// What everything on a panel is placed by.
pub(super) struct Placing<'a> {
    pub(super) shapes: &'a Library,
    pub(super) orientation: Orientation,
    pub(super) centreline: &'a Centreline,
    pub(super) edge: &'a DatumEdge,
    pub(super) surface: &'a PanelSurface,
    /// The panel's ends and far side, where they were told.
    pub(super) size: Option<Rect>,
    /// Locators and holes, which parts are tied to.
    pub(super) features: &'a [Locator],
    /// What was measured with.
    pub(super) measuring: Measuring,
    /// That messages are told in.
    pub(super) units: Units,
}

/// Where a point of the panel is, in the words of a tape: `12.5 mm left of the centreline, 40 mm
/// from the datum edge`.
pub(super) fn whereabouts(
    at: Point,
    centreline: &Centreline,
    edge: &DatumEdge,
    orientation: Orientation,
    units: Units,
) -> String {
    let offset = at.x - centreline.x_at(at.y);
    let right = orientation.frame_right();
    let side = if offset > 0.0 {
        right
    } else {
        right.opposite()
    };
    let across = match units.length(offset.abs()) {
        none if none == units.length(0.0) => "on the centreline".into(),
        off => format!("{off} {side} of the centreline"),
    };
    let depth = units.length(at.y - edge.at(at.x));
    format!("{across}, {depth} from the datum edge")
}

/// The place of a tape reading along the edge and another away from it, panel frame, mm.
pub(super) fn on_panel(
    across: f64,
    from_datum: f64,
    centreline: &Centreline,
    edge: &DatumEdge,
) -> Point {
    let x = centreline.frame_x(across);
    Point::new(x, edge.at(x) + from_datum)
}

/// Rounds for a place that hangs on where the edge is there, and that on the place: each is nearer
/// by the centreline's slope times the edge's.
const ROUNDS: usize = 40;

const NOT_GIVEN: &str = "it was left out, and what stands in does not fit: give it";

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
        purpose: Purpose,
        with: &BTreeMap<String, Placed<Value>>,
        shape: &Placed<String>,
    ) -> Result<Outline, Vec<Problem>> {
        let values = with
            .iter()
            .map(|(name, value)| (name.clone(), value.value))
            .collect();
        family.outline_for(purpose, &values).map_err(|errors| {
            errors
                .into_iter()
                .map(|error| {
                    let value = error.parameter().and_then(|name| with.get(name));
                    let span = value.and_then(|value| value.span.clone());
                    Problem {
                        message: error.told(self.units),
                        hint: match &error {
                            ShapeError::OutOfRange { parameter, .. }
                                if !with.contains_key(parameter) =>
                            {
                                Some(NOT_GIVEN.into())
                            }
                            other => other.hint(),
                        },
                        span: span.or_else(|| shape.span.clone()),
                    }
                })
                .collect()
        })
    }

    /// A solid shape at its place on the panel, square to the datum edge.
    pub(super) fn solid(
        &self,
        shape: &Placed<String>,
        with: &BTreeMap<String, Placed<Value>>,
        offset: &Placed<Offset>,
        from_datum: &Placed<f64>,
    ) -> Result<Outline, Vec<Problem>> {
        let outline = self.outline(self.family(shape)?, Purpose::Solid, with, shape)?;
        let place = self.at(offset, from_datum, SquareTo::DatumEdge, Measured::OnPanel)?;
        Ok(outline.placed(0.0, place.origin.to_vec2()))
    }

    /// A place given by its offset from the centreline and its distance from the datum edge; as
    /// seen square-on where it was measured so.
    pub(super) fn at(
        &self,
        offset: &Placed<Offset>,
        from_datum: &Placed<f64>,
        square_to: SquareTo,
        measured: Measured,
    ) -> Result<Place, Vec<Problem>> {
        let offset = self.offset(offset)?;
        let edge_at = |x: f64| match measured {
            Measured::SquareOn => self
                .surface
                .edge_seen(x, self.edge)
                .map_err(|error| vec![from_datum.problem(error.told(self.units))]),
            Measured::OnPanel => Ok(self.edge.at(x)),
        };
        let mut y = from_datum.value;
        for _ in 0..ROUNDS {
            let next = edge_at(self.centreline.x_at(y) + offset)? + from_datum.value;
            if next == y {
                break;
            }
            y = next;
        }
        Ok(Place {
            origin: Point::new(self.centreline.x_at(y) + offset, y),
            offset,
            turn: self.turn(square_to),
        })
    }

    /// How an axis is turned, radians.
    pub(super) fn turn(&self, square_to: SquareTo) -> f64 {
        match square_to {
            SquareTo::DatumEdge => 0.0,
            SquareTo::Centreline => self.centreline.lean(),
        }
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
