//! The cut of a pattern, as a scale error bears on it.

use super::Cut;
use crate::solve::Pattern;

impl Cut {
    /// The farthest cut of a pattern from what its sheets are laid by: see [`Pattern::farthest_cut`].
    pub fn of(pattern: &Pattern) -> Self {
        let farthest = pattern.farthest_cut();
        Self {
            across: farthest.x.abs(),
            down: farthest.y.abs(),
            scale_error: pattern.scale_error,
        }
    }
}
