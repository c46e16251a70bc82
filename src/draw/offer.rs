//! Candidates that are drawn only where their cost leaves them a chance.

use super::field::Candidate;

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
