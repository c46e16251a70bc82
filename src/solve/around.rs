//! Openings worked out from the parts that pass through them.

use super::allowance::Allowances;
use super::opening::{Declared, Placed, edge_below};
use super::{Clearances, Part};
use crate::base::Direction;
use crate::base::length::Told;
use crate::base::words::listed;
use crate::geometry::outline::Outline;
use crate::input::{AroundSpec, Follow, GapToSpec, OpeningSpec, Problem};
use crate::model::clearance::{Budget, EachWay, Term};
use crate::model::hardware::Tool;
use crate::model::panel::{DatumEdge, Orientation};
use crate::solve::follow::{BoxRequest, OpeningError, Radius, boxed, contour, open_at_edge};
use kurbo::{Insets, Rect};

/// What openings are worked out with.
pub(super) struct Working<'a> {
    pub(super) parts: &'a [Part],
    pub(super) allowances: &'a Allowances<'a>,
    pub(super) edge: &'a DatumEdge,
    pub(super) tools: &'a [Tool],
    pub(super) orientation: Orientation,
    /// The panel's, mm.
    pub(super) thickness: f64,
}

/// An opening that was worked out.
pub(super) struct WorkedOut {
    pub(super) placed: Vec<Placed>,
    pub(super) clearance: Clearances,
    /// What would have been cut if the panel were flat and square to its parts; none where it is.
    pub(super) flat: Option<Vec<Outline>>,
}

/// How parts are followed.
struct Followed {
    outlines: Vec<Outline>,
    tool: Option<f64>,
    grown_by: f64,
}

/// A part as its opening follows it.
struct Grown {
    outline: Outline,
    /// What is still to be added round it.
    clearance: EachWay,
    /// How much farther from it than that the sides of a box stand.
    wider: Insets,
}

impl Working<'_> {
    /// The outlines of an opening, and the clearance that they were made for.
    pub(super) fn opening(
        &self,
        spec: &OpeningSpec,
        around: &AroundSpec,
    ) -> Result<WorkedOut, Vec<Problem>> {
        let parts: Vec<&Part> = around
            .parts
            .iter()
            .filter_map(|name| self.parts.iter().find(|part| part.name == name.value))
            .collect();
        let bounds = parts.iter().map(|part| part.outline.bounds());
        let Some(whole) = bounds.reduce(|a, b| a.union(b)) else {
            return Err(vec![
                spec.name.problem("an opening needs at least one part"),
            ]);
        };
        // One bolt that is drilled together has its hole, whatever else the opening would follow.
        let drilled_together = match around.follow {
            Follow::Contour => parts.iter().all(|part| part.drilled.is_some()),
            Follow::Box => {
                matches!(parts.as_slice(), [one] if one.drilled.is_some())
                    && !around.open_at_edge
                    && around.corner_radius.is_none()
            }
        };
        let around = &AroundSpec {
            follow: if drilled_together {
                Follow::Contour
            } else {
                around.follow
            },
            ..around.clone()
        };
        let mut budget = self.budget(&parts, whole, around.open_at_edge);
        let usual = budget.gap.value;
        let sides = self.sides(around)?;
        // The narrowest is kept all round, and the other sides stand farther out.
        let others = (sides.len() < if around.open_at_edge { 3 } else { 4 }).then_some(usual);
        let gaps = sides.iter().map(|(_, gap)| *gap).chain(others);
        let narrowest = gaps.fold(f64::INFINITY, f64::min);
        if !sides.is_empty() {
            budget.gap = Term::given(narrowest);
        }
        let wider = |part: &Part| match part.gap {
            // Both shall remain.
            Some(own) => self.wider(&sides, |side| side.map_or(own, |gap| gap.max(own)) - own),
            None => self.wider(&sides, |side| side.unwrap_or(usual) - narrowest),
        };
        let parts: Vec<(&Part, Insets)> = parts.iter().map(|part| (*part, wider(part))).collect();
        let foot = self.foot(&parts, whole, &budget);
        let grown = self.grown(spec, around, &parts, &budget)?;
        let followed = self.follow(spec, around, &grown, foot)?;
        let fitted = around.follow == Follow::Contour
            && parts.iter().any(|(part, _)| part.through.is_some());
        let placed = followed.outlines.into_iter().map(|outline| {
            let middle = outline.bounds().center();
            Placed {
                declared: Declared {
                    name: spec.name.value.clone(),
                    shape: around.follow.word().into(),
                    origin: middle,
                    offset: middle.x - self.allowances.centreline.x_at(middle.y),
                    bounds: outline.bounds(),
                    trimmed: None,
                },
                outline,
                fitted,
                drilled_together,
                holes: vec![],
                span: spec.name.span.clone(),
            }
        });
        Ok(WorkedOut {
            placed: placed.collect(),
            flat: self.flat_guess(spec, around, &parts, &budget, foot),
            clearance: Clearances {
                opening: spec.name.value.clone(),
                parts: parts.iter().map(|(part, _)| part.name.clone()).collect(),
                budget,
                sides,
                follow: around.follow,
                tool: followed.tool,
                grown_by: followed.grown_by,
            },
        })
    }

    /// The clearance round parts that fill the box `whole`: of what it makes the cut reach to, of which
    /// some of its terms are a part in turn.
    fn budget(&self, parts: &[&Part], whole: Rect, open_at_edge: bool) -> Budget {
        let mut budget = self.allowances.budget(whole);
        // Each round moves the reach by a scale error's or an expansion's share of the last.
        for _ in 0..2 {
            let reach = parts.iter().map(|part| {
                let clearance = part.budget(&budget).total();
                let bounds = part.outline.bounds();
                bounds.inflate(clearance.sideways, clearance.depthways)
            });
            let mut cut = reach.fold(whole, |cut, part| cut.union(part));
            if open_at_edge {
                cut.y0 = self.edge.lowest(cut.x0, cut.x1);
            }
            budget = self.allowances.budget(cut);
        }
        budget
    }

    /// Parts grown by what has to be met in space; the rest is added on the pattern.
    fn grown(
        &self,
        spec: &OpeningSpec,
        around: &AroundSpec,
        parts: &[(&Part, Insets)],
        budget: &Budget,
    ) -> Result<Vec<Grown>, Vec<Problem>> {
        let mut grown = vec![];
        for (part, wider) in parts {
            let clearance = part.clearance(budget);
            if part.through.is_none() {
                grown.push(Grown {
                    outline: part.outline.clone(),
                    clearance,
                    wider: *wider,
                });
                continue;
            }
            // A contour takes the greater all round. Where sideways and depthways differ it is the
            // centre that makes the difference, and the centre moves the pattern along the panel.
            let in_space = match around.follow {
                Follow::Contour => clearance.greater(),
                Follow::Box => clearance.lesser(),
            };
            let rest = EachWay {
                sideways: (clearance.sideways - in_space).max(0.0),
                depthways: (clearance.depthways - in_space).max(0.0),
            };
            let outlines = part.grown(in_space, self.thickness).map_err(|error| {
                let message = format!(
                    "opening `{}`, part `{}`: {}",
                    spec.name.value,
                    part.name,
                    error.told(self.allowances.units)
                );
                vec![spec.name.problem(message)]
            })?;
            grown.extend(outlines.into_iter().map(|outline| Grown {
                outline,
                clearance: rest,
                wider: *wider,
            }));
        }
        Ok(grown)
    }

    /// The same opening as paper would have been given it without regard to rake, curve and way.
    fn flat_guess(
        &self,
        spec: &OpeningSpec,
        around: &AroundSpec,
        parts: &[(&Part, Insets)],
        budget: &Budget,
        foot: f64,
    ) -> Option<Vec<Outline>> {
        let flat = |(part, wider): &(&Part, Insets)| Grown {
            outline: match &part.through {
                Some(way) => way.flat.clone(),
                None => part.outline.clone(),
            },
            clearance: part.clearance(budget),
            wider: *wider,
        };
        if parts.iter().all(|(part, _)| part.through.is_none()) {
            return None;
        }
        let grown: Vec<Grown> = parts.iter().map(flat).collect();
        let followed = self.follow(spec, around, &grown, foot).ok()?;
        Some(followed.outlines)
    }

    fn follow(
        &self,
        spec: &OpeningSpec,
        around: &AroundSpec,
        grown: &[Grown],
        foot: f64,
    ) -> Result<Followed, Vec<Problem>> {
        let fail = |error: OpeningError| vec![self.problem(spec, around, &error)];
        if around.follow == Follow::Box {
            let parts: Vec<(Outline, EachWay)> = grown
                .iter()
                .map(|part| (part.outline.clone(), part.clearance))
                .collect();
            let tools: Vec<f64> = self.tools.iter().map(|tool| tool.diameter).collect();
            let made = boxed(&BoxRequest {
                parts: &parts,
                radius: match &around.corner_radius {
                    Some(radius) => Radius::Given(radius.value),
                    None => Radius::Tools(&tools),
                },
                open_to: around.open_at_edge.then_some(foot),
                wider: wider_of_all(grown),
            })
            .map_err(fail)?;
            return Ok(Followed {
                outlines: vec![made.outline],
                tool: made.tool,
                grown_by: made.grown_by,
            });
        }
        let parts: Vec<(Outline, f64)> = grown
            .iter()
            .map(|part| (part.outline.clone(), part.clearance.greater()))
            .collect();
        let regions = contour(&parts);
        if regions.iter().any(|region| !region.holes.is_empty()) {
            let message = format!("opening `{}` leaves a loose island", spec.name.value);
            let hint = "follow the parts with a box, or give them an opening each";
            return Err(vec![spec.name.problem(message).hint(hint)]);
        }
        let outlines = regions.into_iter().map(|region| region.outer);
        let outlines: Vec<Outline> = if around.open_at_edge {
            let to_edge = outlines.map(|one| open_at_edge(&one, foot));
            to_edge.collect::<Result<_, _>>().map_err(fail)?
        } else {
            outlines.collect()
        };
        Ok(Followed {
            outlines,
            tool: None,
            grown_by: 0.0,
        })
    }

    /// The gaps that are given for single sides of a box.
    fn sides(&self, around: &AroundSpec) -> Result<Vec<(Direction, f64)>, Vec<Problem>> {
        let (datum, right) = (
            self.orientation.datum_edge(),
            self.orientation.frame_right(),
        );
        let given = around.gap_to.iter().flat_map(GapToSpec::each);
        let mut problems = vec![];
        let mut sides = vec![];
        for (side, gap) in given {
            let along = [right, right.opposite(), datum.opposite(), datum];
            let has = if around.open_at_edge {
                &along[..3]
            } else {
                &along[..]
            };
            if !has.contains(&side) {
                let words: Vec<&str> = has.iter().map(|side| side.word()).collect();
                let problem = gap.problem(format!("the opening has no side to the {side}"));
                problems.push(problem.hint(format!("it has {}", listed(&words, " and "))));
            }
            sides.push((side, gap.value));
        }
        if problems.is_empty() {
            Ok(sides)
        } else {
            Err(problems)
        }
    }

    /// How much farther out each side stands, from its gap where one is given.
    fn wider(&self, sides: &[(Direction, f64)], by: impl Fn(Option<f64>) -> f64) -> Insets {
        if sides.is_empty() {
            return Insets::ZERO;
        }
        let (datum, right) = (
            self.orientation.datum_edge(),
            self.orientation.frame_right(),
        );
        let to = |side: Direction| {
            let own = sides.iter().find(|(own, _)| *own == side);
            by(own.map(|(_, gap)| *gap))
        };
        Insets::new(
            to(right.opposite()),
            to(datum).max(0.0),
            to(right),
            to(datum.opposite()),
        )
    }

    /// Where an opening to the edge is cut down to, before it is cut at the edge itself.
    fn foot(&self, parts: &[(&Part, Insets)], whole: Rect, budget: &Budget) -> f64 {
        let sideways = parts
            .iter()
            .map(|(part, _)| part.budget(budget).total().sideways);
        let wide = sideways.fold(0.0, f64::max) + 50.0;
        edge_below(self.edge, whole.inflate(wide, 0.0))
    }

    fn problem(&self, spec: &OpeningSpec, around: &AroundSpec, error: &OpeningError) -> Problem {
        let at = around
            .corner_radius
            .as_ref()
            .and_then(|radius| radius.span.clone());
        Problem {
            message: format!(
                "opening `{}`: {}",
                spec.name.value,
                error.told(self.allowances.units)
            ),
            hint: error.hint().map(Into::into),
            span: at.or_else(|| spec.name.span.clone()),
        }
    }
}

/// How much farther out the sides of a box round all stand than their clearances alone put them.
fn wider_of_all(grown: &[Grown]) -> Insets {
    let boxed = |wider: &dyn Fn(&Grown) -> Insets| {
        let each = grown.iter().map(|part| {
            let (own, clearance) = (part.outline.bounds(), part.clearance);
            own.inflate(clearance.sideways, clearance.depthways) + wider(part)
        });
        each.reduce(|all, next| all.union(next)).unwrap_or_default()
    };
    let (near, far) = (boxed(&|_| Insets::ZERO), boxed(&|part| part.wider));
    Insets::new(
        near.x0 - far.x0,
        near.y0 - far.y0,
        far.x1 - near.x1,
        far.y1 - near.y1,
    )
}
