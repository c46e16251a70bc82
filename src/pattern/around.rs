//! Openings worked out from the parts that pass through them.

use super::allowance::Allowances;
use super::opening::{Declared, Placed, edge_below};
use super::{Clearances, Part};
use crate::clearance::{Budget, EachWay};
use crate::hardware::Tool;
use crate::opening::{BoxRequest, OpeningError, Radius, boxed, contour, open_at_edge};
use crate::outline::Outline;
use crate::panel::DatumEdge;
use crate::spec::{AroundSpec, Follow, OpeningSpec, Problem};
use kurbo::Rect;

/// What openings are worked out with.
pub(super) struct Working<'a> {
    pub(super) parts: &'a [Part],
    pub(super) allowances: &'a Allowances<'a>,
    pub(super) edge: &'a DatumEdge,
    pub(super) tools: &'a [Tool],
}

impl Working<'_> {
    /// The outlines of an opening, and the clearance that they were made for.
    pub(super) fn opening(
        &self,
        spec: &OpeningSpec,
        around: &AroundSpec,
    ) -> Result<(Vec<Placed>, Clearances), Vec<Problem>> {
        let parts: Vec<&Part> = around
            .parts
            .iter()
            .filter_map(|name| self.parts.iter().find(|part| part.name == name.value))
            .collect();
        let Some(whole) = parts
            .iter()
            .map(|part| part.outline.bounds())
            .reduce(|a, b| a.union(b))
        else {
            return Err(vec![
                spec.name.problem("an opening needs at least one part"),
            ]);
        };
        let budget = self.allowances.budget(whole.center());
        let grown: Vec<(Outline, EachWay)> = parts
            .iter()
            .map(|part| (part.outline.clone(), clearance_of(part, &budget)))
            .collect();
        let fail = |error: OpeningError| vec![self.problem(spec, around, &error)];
        let mut tool = None;
        let mut grown_by = 0.0;
        let outlines = match around.follow {
            Follow::Contour => {
                let parts: Vec<(Outline, f64)> = grown
                    .iter()
                    .map(|(part, clearance)| (part.clone(), clearance.greater()))
                    .collect();
                let regions = contour(&parts);
                if regions.iter().any(|region| !region.holes.is_empty()) {
                    return Err(vec![
                        spec.name
                            .problem(format!(
                                "opening `{}` leaves a loose island",
                                spec.name.value
                            ))
                            .hint("follow the parts with a box, or give them an opening each"),
                    ]);
                }
                let outlines = regions.into_iter().map(|region| region.outer);
                if around.open_at_edge {
                    let foot = self.foot(whole, &budget);
                    outlines
                        .map(|one| open_at_edge(&one, foot))
                        .collect::<Result<_, _>>()
                        .map_err(fail)?
                } else {
                    outlines.collect()
                }
            }
            Follow::Box => {
                let tools: Vec<f64> = self.tools.iter().map(|tool| tool.diameter).collect();
                let made = boxed(&BoxRequest {
                    parts: &grown,
                    radius: match &around.corner_radius {
                        Some(radius) => Radius::Given(radius.value),
                        None => Radius::Tools(&tools),
                    },
                    open_to: around.open_at_edge.then(|| self.foot(whole, &budget)),
                })
                .map_err(fail)?;
                tool = made.tool;
                grown_by = made.grown_by;
                vec![made.outline]
            }
        };
        let placed = outlines
            .into_iter()
            .map(|outline| {
                let middle = outline.bounds().center();
                let declared = Declared {
                    name: spec.name.value.clone(),
                    shape: around.follow.word().into(),
                    origin: middle,
                    offset: middle.x - self.allowances.centreline.x_at(middle.y),
                };
                Placed {
                    declared,
                    outline,
                    span: spec.name.span.clone(),
                }
            })
            .collect();
        let clearances = Clearances {
            opening: spec.name.value.clone(),
            parts: parts.iter().map(|part| part.name.clone()).collect(),
            budget,
            follow: around.follow,
            open_at_edge: around.open_at_edge,
            tool,
            grown_by,
        };
        Ok((placed, clearances))
    }

    /// Where an opening to the edge is cut down to, before it is cut at the edge itself.
    fn foot(&self, parts: Rect, budget: &Budget) -> f64 {
        let wide = budget.total().sideways + 50.0;
        edge_below(self.edge, parts.inflate(wide, 0.0))
    }

    fn problem(&self, spec: &OpeningSpec, around: &AroundSpec, error: &OpeningError) -> Problem {
        let at = around
            .corner_radius
            .as_ref()
            .and_then(|radius| radius.span.clone());
        // The error's words end in what to do about it.
        let words = error.to_string();
        let (message, hint) = words.split_once("\nhint: ").unwrap_or((&words, ""));
        Problem {
            message: format!("opening `{}`: {message}", spec.name.value),
            hint: (!hint.is_empty()).then(|| hint.into()),
            span: at.or_else(|| spec.name.span.clone()),
        }
    }
}

/// What is added round a part; nothing to a hole that is clearance already.
pub(super) fn clearance_of(part: &Part, budget: &Budget) -> EachWay {
    if part.is_clearance {
        EachWay::even(0.0)
    } else {
        budget.total()
    }
}
