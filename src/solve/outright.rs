//! Openings given outright, by a shape and its place.

use super::opening::{Declared, PAST_EDGE, Placed, carried_past};
use super::place::{Place, Placing};
use crate::base::length::Told;
use crate::geometry::development::{Passage, SurfaceError, carried};
use crate::geometry::outline::Outline;
use crate::input::families::Purpose;
use crate::input::{self, Measured, Problem, ShapeAt};
use kurbo::{Point, Rect};

/// An opening that was given, placed.
pub(super) struct Given {
    pub(super) placed: Vec<Placed>,
    /// What would have been cut if the panel were flat; none where it was measured on the panel.
    pub(super) flat: Option<Vec<Outline>>,
}

pub(super) fn outright(
    name: &input::Placed<String>,
    spec: &ShapeAt,
    placing: &Placing<'_>,
) -> Result<Given, Vec<Problem>> {
    let family = placing.family(&spec.shape)?;
    let outline = placing.outline(family, Purpose::Opening, &spec.with, &spec.shape)?;
    if family.is_open() && spec.from_datum.value != 0.0 {
        let message = format!(
            "shape `{}` is open at the datum edge, so `from_datum` can only be 0",
            spec.shape.value
        );
        let hint = "write `from_datum = 0`, or take a closed shape such as `window`";
        return Err(vec![spec.from_datum.problem(message).hint(hint)]);
    }
    let at = |measured| {
        placing.at(
            &spec.centre_offset,
            &spec.from_datum,
            spec.square_to,
            measured,
        )
    };
    let place = at(spec.measured)?;
    let by = place.origin.to_vec2();
    let seen_square_on = spec.measured == Measured::SquareOn && !placing.surface.is_plain();
    let outline = if family.is_open() {
        let bounds = outline.placed(place.turn, by).bounds();
        let bounds = if seen_square_on {
            below_edge_as_seen(bounds, place, placing)
                .map_err(|error| vec![spec.shape.problem(error.told(placing.units))])?
        } else {
            bounds
        };
        carried_past(&outline, placing.edge, bounds, place)
            .map_err(|error| vec![spec.shape.problem(error.told(placing.units))])?
    } else {
        outline
    };
    let outline = outline.placed(place.turn, by);
    let declared = |origin: Point, bounds: Rect| Declared {
        name: name.value.clone(),
        shape: spec.shape.value.clone(),
        origin,
        offset: origin.x - placing.centreline.x_at(origin.y),
        bounds,
        trimmed: None,
    };
    let placed = |declared: Declared, outline: Outline, fitted: bool| Placed {
        declared,
        outline,
        fitted,
        drilled_together: false,
        holes: vec![],
        span: name.span.clone(),
    };
    if !seen_square_on {
        return Ok(Given {
            placed: vec![placed(
                declared(place.origin, outline.bounds()),
                outline,
                false,
            )],
            flat: None,
        });
    }
    let on_flat = at(Measured::OnPanel)?.origin;
    let (origin, outlines) = developed(&outline, place, placing).map_err(|error| {
        let message = format!("opening `{}`: {error}", name.value);
        vec![name.problem(message)]
    })?;
    let placed = outlines
        .into_iter()
        .map(|outline| placed(declared(origin, outline.bounds()), outline, true));
    Ok(Given {
        placed: placed.collect(),
        flat: Some(vec![outline.placed(0.0, on_flat - place.origin)]),
    })
}

/// An outline as seen square-on, through the whole wall, on the pattern.
fn developed(
    seen: &Outline,
    place: Place,
    placing: &Placing<'_>,
) -> Result<(Point, Vec<Outline>), SurfaceError> {
    let (origin, surface) = placing.surface.develop(place.origin)?;
    let thickness = placing.surface.thickness();
    let outlines = carried(&surface, thickness, &Passage::square_on(), seen)?;
    Ok((origin, outlines))
}

/// A box that reaches under the datum edge as it is seen square-on: where the panel curves and
/// leans, its edge is not seen straight.
fn below_edge_as_seen(
    bounds: Rect,
    place: Place,
    placing: &Placing<'_>,
) -> Result<Rect, SurfaceError> {
    let (_, surface) = placing.surface.develop(place.origin)?;
    let lowest = placing.edge.lowest(bounds.x0, bounds.x1) - PAST_EDGE;
    let seen = [bounds.x0, bounds.center().x, bounds.x1]
        .map(|x| surface.seen(Point::new(x, lowest)).y)
        .into_iter()
        .fold(bounds.y0, f64::min);
    Ok(Rect::new(bounds.x0, seen, bounds.x1, bounds.y1))
}
