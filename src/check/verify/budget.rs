//! How much of one file is read: every allowance in one place, charged where each thing enters.
//!
//! A file that asks for more is not judged. The allowances are design values, without a source: a
//! volume of a thousand sheets fits in, and all that one file may ask for fits into 512 MB and
//! takes a few seconds.

use super::error::VerifyError;
use crate::check::watch::{GivenUp, Stopped};
use std::collections::BTreeMap;

/// Bytes of one file, packed.
pub const LARGEST_FILE: u64 = 128 << 20;
/// Largest coordinate, mm from the page's corner, and largest side of a page: longer than any roll
/// of paper that is cut from. In points it is just below 32 767, beyond which renderers lose lines
/// (a limit of 16 bits; seen with one of them).
pub(crate) const FARTHEST: f64 = 11_500.0;
/// How near straight pieces follow a curve when pieces are counted, mm.
const FLAT: f64 = 0.002;
/// A straight piece this long, mm, costs what two do: lines are compared point by point.
const LONG: f64 = 25.0;

/// What can be spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Cost {
    /// Bytes, unpacked; content that is shown twice counts twice.
    Bytes,
    /// Operators of content, or elements of a drawing.
    Steps,
    /// Ends of lines, and what else is kept of what is drawn.
    Elements,
    /// Straight pieces that curves and long lines come to.
    Pieces,
}

impl Cost {
    const ALL: usize = 4;

    /// What is counted, in words, and how much of it a file may hold.
    fn allowance(self) -> (&'static str, u64) {
        match self {
            Self::Bytes => ("bytes once unpacked", 128 << 20),
            Self::Steps => ("steps of drawing", 8_000_000),
            Self::Elements => ("parts of lines", 3_000_000),
            Self::Pieces => ("straight pieces once its curves are followed", 4_000_000),
        }
    }
}

/// What is left to spend on one file.
#[derive(Debug)]
pub(crate) struct Budget {
    left: [u64; Cost::ALL],
    bound: bool,
    given_up: GivenUp,
    /// Bytes of each object of a PDF that is no stream, or of a stream's dictionary.
    pub(crate) lengths: BTreeMap<u32, usize>,
}

impl Budget {
    /// For a file from anywhere.
    pub(crate) fn new(given_up: GivenUp) -> Self {
        use Cost::{Bytes, Elements, Pieces, Steps};
        Self {
            left: [Bytes, Steps, Elements, Pieces].map(|cost| cost.allowance().1),
            bound: true,
            given_up,
            lengths: BTreeMap::new(),
        }
    }

    /// For a file that this program has just written.
    pub(crate) fn unbound() -> Self {
        Self {
            bound: false,
            ..Self::new(GivenUp::default())
        }
    }

    /// Bytes that may still be unpacked.
    pub(crate) fn bytes_left(&self) -> u64 {
        if self.bound {
            self.left[Cost::Bytes as usize]
        } else {
            u64::MAX - 1
        }
    }

    /// Spends.
    ///
    /// # Errors
    /// [`VerifyError::Beyond`] where too little is left, [`VerifyError::GivenUp`] where nobody waits
    /// for the result any more.
    pub(crate) fn spend(&mut self, cost: Cost, amount: u64) -> Result<(), VerifyError> {
        if !self.bound {
            return Ok(());
        }
        if self.given_up.is_set() {
            return Err(VerifyError::GivenUp(Stopped::Time.words()));
        }
        let left = &mut self.left[cost as usize];
        match left.checked_sub(amount) {
            Some(rest) => *left = rest,
            None => {
                let (what, at_most) = cost.allowance();
                return Err(VerifyError::Beyond { what, at_most });
            }
        }
        Ok(())
    }

    /// What was spent of each kind, in no unit.
    #[cfg(test)]
    pub(crate) fn spent(&self) -> [u64; Cost::ALL] {
        use Cost::{Bytes, Elements, Pieces, Steps};
        [Bytes, Steps, Elements, Pieces].map(|cost| cost.allowance().1 - self.left[cost as usize])
    }

    /// As [`Budget::spend`], for a length in memory.
    ///
    /// # Errors
    /// As [`Budget::spend`].
    pub(crate) fn spend_len(&mut self, cost: Cost, amount: usize) -> Result<(), VerifyError> {
        self.spend(cost, u64::try_from(amount).unwrap_or(u64::MAX))
    }

    /// Spends what a path costs that is kept: its parts, and the pieces it comes to.
    ///
    /// # Errors
    /// As [`Budget::spend`].
    pub(crate) fn keep(&mut self, path: &kurbo::BezPath) -> Result<(), VerifyError> {
        // What is kept of a stroke besides its path is as large as six parts of it.
        self.spend_len(Cost::Elements, path.elements().len().saturating_add(6))?;
        let pieces: f64 = path.segments().map(pieces).sum();
        // Every segment lies on paper, so that the sum is a number of moderate size.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        self.spend(Cost::Pieces, pieces as u64)
    }
}

/// About how many straight pieces a segment comes to: for a curve by its second differences
/// (Wang's bound of 1984, from memory).
fn pieces(segment: kurbo::PathSeg) -> f64 {
    use kurbo::PathSeg;
    let bent = match segment {
        PathSeg::Line(_) => 0.0,
        PathSeg::Quad(q) => 0.25 * (q.p0 - q.p1 + (q.p2 - q.p1)).hypot(),
        PathSeg::Cubic(c) => {
            let bend =
                |a: kurbo::Point, b: kurbo::Point, c: kurbo::Point| (a - b + (c - b)).hypot();
            0.75 * bend(c.p0, c.p1, c.p2).max(bend(c.p1, c.p2, c.p3))
        }
    };
    let (start, end) = (
        kurbo::ParamCurve::start(&segment),
        kurbo::ParamCurve::end(&segment),
    );
    1.0 + (bent / FLAT).sqrt() + (end - start).hypot() / LONG
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Circle, Shape};

    #[test]
    fn what_is_spent_is_gone() {
        let mut budget = Budget::new(GivenUp::default());
        budget.spend(Cost::Bytes, 100 << 20).unwrap();
        let error = budget.spend(Cost::Bytes, 100 << 20).unwrap_err();
        assert!(error.to_string().contains("134217728"), "{error}");
        Budget::unbound().spend(Cost::Bytes, u64::MAX).unwrap();
    }

    #[test]
    fn pieces_are_at_least_those_that_a_curve_comes_to() {
        for radius in [0.5, 10.0, 400.0, 9_000.0] {
            let circle = Circle::new((0.0, 0.0), radius).to_path(1e-4);
            let mut flat = 0;
            kurbo::flatten(circle.iter(), FLAT, |_| flat += 1);
            let counted: f64 = circle.segments().map(pieces).sum();
            let share = counted / f64::from(flat);
            assert!(
                (0.8..=60.0).contains(&share),
                "{radius}: {counted} for {flat}"
            );
        }
    }
}
