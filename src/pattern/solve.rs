//! From the definition as written to outlines on the panel.

use super::doubts::{about_centre, about_openings};
use super::edge::datum_edge;
use super::locator::locators;
use super::opening::{Declared, Placed, carried_past, cut_out};
use super::{Centreline, Panel, Pattern};
use crate::panel::{DatumEdge, Orientation};
use crate::shape::{Library, ShapeError};
use crate::spec::{OpeningSpec, PanelSpec, PatternSpec, Problem, SquareTo};
use kurbo::{Point, Rect, Vec2};

/// Solves a definition: places its openings on the panel, unites them, cuts them at the panel's
/// edge, and finds where to drill.
///
/// # Errors
/// Every problem of the definition that only shows when it is worked out: unknown shapes, values
/// out of a shape's range, radii that do not fit, openings off the panel, a panel left in pieces.
pub fn solve(spec: &PatternSpec, shapes: &Library) -> Result<Pattern, Vec<Problem>> {
    let orientation = spec.panel.orientation().map_err(|error| {
        vec![Problem {
            message: error.to_string(),
            hint: None,
            span: spec.panel.page_up.span.clone(),
        }]
    })?;
    let centreline = Centreline::find(spec.centreline.as_ref(), &spec.panel, orientation)?;
    let edge = datum_edge(&spec.panel, &centreline).map_err(|problem| vec![problem])?;
    let size = panel_size(&spec.panel, &centreline);

    let placing = Placing {
        shapes,
        orientation,
        centreline: &centreline,
        edge: &edge,
    };
    let mut placed = vec![];
    let mut problems = vec![];
    for opening in &spec.openings {
        match placing.place(opening) {
            Ok(one) => placed.push(one),
            Err(found) => problems.extend(found),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let (outline, openings) = cut_out(&placed, &edge, size)?;
    let panel = Panel {
        name: spec.panel.name.clone(),
        material: spec.panel.material.clone(),
        thickness: spec.panel.thickness,
        edge,
        size,
        extent: spec.panel.extent,
        outline,
    };
    let locators = locators(spec, &centreline);
    let mut findings = about_centre(&centreline, &locators);
    findings.extend(about_openings(&placed, &openings, &panel, orientation));
    Ok(Pattern {
        identity: spec.identity.clone(),
        units: spec.units,
        orientation,
        panel,
        centreline,
        openings,
        locators,
        findings,
    })
}

/// What an opening is placed by.
struct Placing<'a> {
    shapes: &'a Library,
    orientation: Orientation,
    centreline: &'a Centreline,
    edge: &'a DatumEdge,
}

impl Placing<'_> {
    fn place(&self, spec: &OpeningSpec) -> Result<Placed, Vec<Problem>> {
        let family = self.shapes.find(&spec.shape.value).map_err(|error| {
            vec![Problem {
                message: error.to_string(),
                hint: Some(error.hint()),
                span: spec.shape.span.clone(),
            }]
        })?;
        let values = spec
            .with
            .iter()
            .map(|(name, value)| (name.clone(), value.value))
            .collect();
        let outline = family
            .outline(&values)
            .map_err(|errors| shape_problems(errors, spec))?;
        let depth = spec.from_datum.value;
        if family.is_open() && depth != 0.0 {
            return Err(vec![Problem {
                message: format!(
                    "shape `{}` is open at the datum edge, so `from_datum` can only be 0",
                    spec.shape.value
                ),
                hint: Some(
                    "leave `from_datum` out, or take a closed shape such as `window`".into(),
                ),
                span: spec.from_datum.span.clone(),
            }]);
        }
        let offset = self.offset(spec)?;
        let origin = Point::new(self.centreline.x_at(depth) + offset, depth);
        let turn = match spec.square_to {
            SquareTo::DatumEdge => 0.0,
            SquareTo::Centreline => self.centreline.lean(),
        };
        let by = Vec2::new(origin.x, origin.y);
        let outline = if family.is_open() {
            carried_past(&outline, self.edge, outline.placed(turn, by).bounds()).map_err(
                |message| {
                    vec![Problem {
                        message,
                        hint: None,
                        span: spec.shape.span.clone(),
                    }]
                },
            )?
        } else {
            outline
        };
        Ok(Placed {
            declared: Declared {
                name: spec.name.value.clone(),
                shape: spec.shape.value.clone(),
                origin,
                offset,
            },
            outline: outline.placed(turn, by),
            span: spec.name.span.clone(),
        })
    }

    /// Offset from the centreline along the frame's x.
    fn offset(&self, spec: &OpeningSpec) -> Result<f64, Vec<Problem>> {
        let offset = spec.centre_offset.value;
        let Some(side) = offset.towards else {
            return Ok(0.0);
        };
        let sign = self.orientation.sign_along_edge(side).ok_or_else(|| {
            let right = self.orientation.frame_right();
            vec![Problem {
                message: format!("`{side}` does not run along this panel's datum edge"),
                hint: Some(format!("write `{right}` or `{}`", right.opposite())),
                span: spec.centre_offset.span.clone(),
            }]
        })?;
        Ok(sign * offset.distance)
    }
}

/// Trouble with a shape's values, each at the value it is about.
fn shape_problems(errors: Vec<ShapeError>, spec: &OpeningSpec) -> Vec<Problem> {
    errors
        .into_iter()
        .map(|error| {
            let value = error.parameter().and_then(|name| spec.with.get(name));
            let span = value
                .and_then(|value| value.span.clone())
                .or_else(|| spec.shape.span.clone());
            Problem {
                message: error.to_string(),
                hint: error.hint(),
                span,
            }
        })
        .collect()
}

/// The panel's ends and far side, where they were told.
fn panel_size(panel: &PanelSpec, centreline: &Centreline) -> Option<Rect> {
    let (width, height) = (panel.width?, panel.height?);
    let ends = [centreline.frame_x(0.0), centreline.frame_x(width)];
    Some(Rect::new(
        ends[0].min(ends[1]),
        0.0,
        ends[0].max(ends[1]),
        height,
    ))
}
