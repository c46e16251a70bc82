//! Parts that pass through the panel, in the panel frame.

use super::place::Placing;
use crate::hardware::bolt;
use crate::outline::{Corner, Outline, Side, rounded};
use crate::spec::{PartBody, PartSpec, Problem};
use kurbo::{Point, Vec2};

/// A part, solved.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its name.
    pub name: String,
    /// Its outline, panel frame, mm.
    pub outline: Outline,
    /// Where its origin stands, panel frame, mm.
    pub origin: Point,
    /// How far that is from the centreline, along the frame's x, mm.
    pub offset: f64,
    /// The outline is a clearance hole of ISO 273 already: nothing is added to it.
    pub is_clearance: bool,
    /// What it is, for the instruction sheet.
    pub what: String,
}

/// A part at its place.
pub(super) fn part(spec: &PartSpec, placing: &Placing<'_>) -> Result<Part, Vec<Problem>> {
    let (own, what) = own_outline(spec, placing)?;
    let place = placing.at(&spec.centre_offset, &spec.from_datum, spec.square_to)?;
    Ok(Part {
        name: spec.name.value.clone(),
        outline: own.placed(place.turn, Vec2::new(place.origin.x, place.origin.y)),
        origin: place.origin,
        offset: place.offset,
        is_clearance: matches!(spec.body, PartBody::Bolt { .. }),
        what,
    })
}

/// The outline about the part's own origin.
fn own_outline(spec: &PartSpec, placing: &Placing<'_>) -> Result<(Outline, String), Vec<Problem>> {
    match &spec.body {
        PartBody::Shape { shape, with } => {
            let family = placing.family(shape)?;
            if family.is_open() {
                return Err(vec![
                    shape
                        .problem(format!(
                            "shape `{}` is open, and a part is whole",
                            shape.value
                        ))
                        .hint("take a closed shape such as `window` or `round-hole`"),
                ]);
            }
            Ok((placing.outline(family, with, shape)?, shape.value.clone()))
        }
        PartBody::Bolt { thread, fit } => {
            let known =
                bolt(&thread.value).map_err(|error| vec![thread.problem(error.to_string())])?;
            let hole = known.hole(*fit);
            let what = format!("bolt {}, its ISO 273 hole", known.name);
            Ok((square(hole, hole / 2.0, spec)?, what))
        }
        PartBody::Round { kind, diameter } => Ok((
            square(*diameter, diameter / 2.0, spec)?,
            format!("{}, measured", kind.word()),
        )),
        PartBody::Tube {
            nominal,
            outside,
            corner_radius,
        } => Ok((
            square(*outside, *corner_radius, spec)?,
            format!("{} receiver, measured outside", nominal.value),
        )),
    }
}

/// A square of this side with round corners; a circle where the radius is half of it.
fn square(side: f64, radius: f64, spec: &PartSpec) -> Result<Outline, Vec<Problem>> {
    let half = side / 2.0;
    let corners =
        [(-half, -half), (half, -half), (half, half), (-half, half)].map(|(x, y)| Corner {
            point: Point::new(x, y),
            radius,
            side: Side::Cut,
        });
    rounded(&corners).map_err(|error| vec![spec.name.problem(error.to_string())])
}
