//! Ways to draw one label or dimension; those that are many are drawn only where their cost leaves
//! them a chance.

use crate::draw::ink::{Ink, Mark, lettering, mark_bounds};
use kurbo::{Line, Rect};

/// A way to draw one label or dimension, to be weighed against others.
#[derive(Debug, Clone, Default)]
pub(super) struct Candidate {
    /// What would be drawn.
    pub(super) marks: Vec<Mark>,
    /// Lines among it that should cross as little as they can.
    pub(super) lines: Vec<Line>,
    /// A strip that no other dimension line may share.
    pub(super) rail: Option<Rect>,
    /// What must stand free and whole besides its lettering.
    pub(super) area: Option<Rect>,
    /// How unwelcome it is before anything is crossed.
    pub(super) cost: f64,
}

impl Candidate {
    pub(super) fn texts(&self) -> impl Iterator<Item = Rect> {
        self.marks.iter().filter_map(|mark| match &mark.ink {
            Ink::Text(text) => Some(lettering::bounds(text)),
            _ => None,
        })
    }

    /// Boxes of arrowheads.
    pub(super) fn fills(&self) -> impl Iterator<Item = Rect> {
        let fills = self.marks.iter();
        fills
            .filter(|mark| matches!(mark.ink, Ink::Fill { .. }))
            .map(mark_bounds)
    }
}

/// A candidate, made or yet to be made.
pub(super) trait Offer {
    /// How unwelcome it is before anything is crossed.
    fn cost(&self) -> f64;

    /// What would be drawn.
    fn made(self) -> Candidate;
}

impl Offer for Candidate {
    fn cost(&self) -> f64 {
        self.cost
    }

    fn made(self) -> Candidate {
        self
    }
}

/// A candidate yet to be made: of some hundred places round a target, few are worth drawing.
pub(super) struct Later<F> {
    cost: f64,
    make: F,
}

impl<F: FnOnce() -> Candidate> Later<F> {
    /// A candidate of this cost; `make` draws the rest of it.
    pub(super) fn new(cost: f64, make: F) -> Self {
        Self { cost, make }
    }
}

impl<F: FnOnce() -> Candidate> Offer for Later<F> {
    fn cost(&self) -> f64 {
        self.cost
    }

    fn made(self) -> Candidate {
        Candidate {
            cost: self.cost,
            ..(self.make)()
        }
    }
}
