//! Measured rather than trusted: how near each part comes to the cut line.

use super::allowance::Allowances;
use super::part::LOOK_AT;
use super::place::whereabouts;
use super::seen_along::least_in_space;
use super::{Opening, Part};
use crate::base::Direction;
use crate::base::length::{Told, Units};
use crate::geometry::development::SurfaceError;
use crate::geometry::outline::intersection;
use crate::input::{Follow, Problem};
use crate::model::clearance::{Budget, EachWay};
use crate::model::panel::Orientation;
use crate::solve::follow::{Spacing, least_after_moves, least_distance};

/// What rounding may take from a clearance, mm.
pub(super) const WITHIN: f64 = 0.01;

/// The clearance that an opening was worked out for.
#[derive(Debug, Clone)]
pub struct Clearances {
    /// Name of the opening.
    pub opening: String,
    /// Names of the parts that pass through.
    pub parts: Vec<String>,
    /// Its terms.
    pub budget: Budget,
    /// Gaps of a box's single sides, mm, where they are not that of its terms.
    pub sides: Vec<(Direction, f64)>,
    /// How it follows its parts.
    pub follow: Follow,
    /// Diameter of the tool for a box's corners, mm, where one was chosen.
    pub tool: Option<f64>,
    /// How far a box was grown so that the smallest tool clears, mm; mostly 0.
    pub grown_by: f64,
}

/// How a part stands in its opening, measured on the finished outline.
#[derive(Debug, Clone)]
pub struct Clear {
    /// Name of the part.
    pub part: String,
    /// Name of the opening.
    pub opening: String,
    /// The least distance from the part to the cut line, and where.
    pub now: Spacing,
    /// The same with the part moved every way by the combined allowance.
    pub after_moves: Spacing,
    /// What would be left with every allowance at its worst at once, mm: for information.
    pub at_worst: f64,
    /// What shall be left, mm.
    pub gap: f64,
    /// What was asked for between part and cut line, mm: gap and all allowances.
    pub asked: f64,
}

impl Clear {
    /// Whether the part meets the panel as they stand.
    pub(super) fn touches(&self) -> bool {
        // Where no clearance at all was asked for, the part may lie on the cut line.
        self.now.distance < if self.asked > 0.0 { WITHIN } else { -WITHIN }
    }

    /// Whether less than the gap is left when all has moved as far as it may.
    pub(super) fn falls_short(&self) -> bool {
        self.after_moves.distance < self.gap - WITHIN
    }
}

/// What parts are measured in.
pub(super) struct Measuring<'a> {
    pub(super) parts: &'a [Part],
    pub(super) openings: &'a [Opening],
    pub(super) allowances: &'a Allowances<'a>,
    pub(super) orientation: Orientation,
    /// The panel's, mm.
    pub(super) thickness: f64,
    /// That messages are told in.
    pub(super) units: Units,
}

impl Measuring<'_> {
    /// Measures every part against the opening that it passes through: the one that was worked out
    /// round it, or the one given outright that it stands in.
    ///
    /// # Errors
    /// An opening that was worked out and does not keep its gap: by how much and where. A part that
    /// passes through no opening.
    pub(super) fn measure(&self, clearances: &[Clearances]) -> Result<Vec<Clear>, Vec<Problem>> {
        let (mut measured, mut problems) = (vec![], vec![]);
        for clearance in clearances {
            for part in self.named(clearance) {
                match self.in_worked_out(clearance, part) {
                    Ok(Some(clear)) => {
                        if clear.falls_short() {
                            problems.push(self.too_near(&clear));
                        }
                        measured.push(clear);
                    }
                    Ok(None) => {}
                    Err(problem) => problems.push(problem),
                }
            }
        }
        let worked_out = |part: &&Part| clearances.iter().any(|one| one.parts.contains(&part.name));
        let through = self.parts.iter().filter(|part| part.behind.is_none());
        for part in through.filter(|part| !worked_out(part)) {
            match self.in_given(part) {
                Ok(Some(clear)) => measured.push(clear),
                Err(problem) => problems.push(problem),
                Ok(None) => problems.push(
                    Problem::new(format!("part `{}` passes through no opening", part.name))
                        .hint("look at its place, or name it in an opening's `around`"),
                ),
            }
        }
        if problems.is_empty() {
            Ok(measured)
        } else {
            Err(problems)
        }
    }

    fn named(&self, clearance: &Clearances) -> impl Iterator<Item = &Part> {
        self.parts
            .iter()
            .filter(|part| clearance.parts.contains(&part.name))
    }

    fn in_worked_out(&self, clearance: &Clearances, part: &Part) -> Result<Option<Clear>, Problem> {
        let is_its_own = |opening: &&Opening| opening.includes(&clearance.opening);
        self.roomiest(
            part,
            self.openings.iter().filter(is_its_own),
            &clearance.budget,
        )
    }

    fn in_given(&self, part: &Part) -> Result<Option<Clear>, Problem> {
        let meets = |opening: &&Opening| !intersection(&opening.outline, &part.outline).is_empty();
        let cut = self.openings.iter().filter(meets);
        let cut = cut.map(|opening| opening.outline.bounds());
        let cut = cut.reduce(|a, b| a.union(b));
        let cut = cut.unwrap_or_else(|| part.outline.bounds());
        let budget = self.allowances.budget(cut);
        self.roomiest(part, self.openings.iter().filter(meets), &budget)
    }

    /// The part in that of some openings which leaves it the most room, of those in which it can be
    /// measured.
    ///
    /// # Errors
    /// There are some, and it can be measured in none of them.
    fn roomiest<'a>(
        &self,
        part: &Part,
        openings: impl Iterator<Item = &'a Opening>,
        budget: &Budget,
    ) -> Result<Option<Clear>, Problem> {
        let (mut best, mut untold): (Option<Clear>, _) = (None, None);
        for opening in openings {
            match spaced(part, opening, budget, self.thickness) {
                Ok(clear) => {
                    let roomier = |best: &Clear| clear.now.distance >= best.now.distance;
                    if best.as_ref().is_none_or(roomier) {
                        best = Some(clear);
                    }
                }
                Err(error) => untold = Some(unmeasured(part, opening, &error.told(self.units))),
            }
        }
        match (best, untold) {
            (None, Some(problem)) => Err(problem),
            (best, _) => Ok(best),
        }
    }

    fn too_near(&self, clear: &Clear) -> Problem {
        let at = clear.after_moves.on_opening;
        let message = format!(
            "part `{}` keeps {} in opening `{}` when all has moved as far as it may, {} less \
             than its gap of {}, {}",
            clear.part,
            self.units.close(clear.after_moves.distance),
            clear.opening,
            self.units.close(clear.gap - clear.after_moves.distance),
            self.units.close(clear.gap),
            whereabouts(
                at,
                self.allowances.centreline,
                self.allowances.edge,
                self.orientation,
                self.units
            )
        );
        Problem::new(message).hint("look at where the part and the panel's edge stand")
    }
}

/// What a part keeps in an opening, where that can't be told.
fn unmeasured(part: &Part, opening: &Opening, error: &str) -> Problem {
    let message = format!(
        "what part `{}` keeps in opening `{}` can't be measured: {error}",
        part.name,
        opening.name()
    );
    Problem::new(message).hint(LOOK_AT)
}

fn spaced(
    part: &Part,
    opening: &Opening,
    budget: &Budget,
    thickness: f64,
) -> Result<Clear, SurfaceError> {
    let asked = part.clearance(budget).greater();
    let (gap, moves, worst) = match part.drilled {
        Some(drilled) => (drilled.clearance(), EachWay::even(0.0), 0.0),
        None => {
            let own = part.budget(budget);
            let gap = own.gap.value;
            (gap, own.movement(), own.worst_case().greater() - gap)
        }
    };
    let (now, after_moves) = match &part.through {
        Some(way) => least_in_space(way, &opening.outline, thickness, moves)?,
        None => (
            least_distance(&part.outline, &opening.outline),
            least_after_moves(&part.outline, &opening.outline, moves),
        ),
    };
    Ok(Clear {
        part: part.name.clone(),
        opening: opening.name(),
        after_moves,
        at_worst: now.distance - worst,
        now,
        gap,
        asked,
    })
}
