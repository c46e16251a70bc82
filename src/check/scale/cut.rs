//! The cut of a pattern, as a scale error bears on it.

use super::Cut;
use crate::solve::Pattern;

impl Cut {
    /// The farthest cut of a pattern from what it is laid by: the centreline across, the datum
    /// edge down. Locators lie nearer, but which of them a fitter lays it over is not known.
    pub fn of(pattern: &Pattern) -> Self {
        let bounds = pattern
            .openings
            .iter()
            .map(|opening| opening.outline.bounds());
        let (across, down) = bounds.fold((0.0_f64, 0.0_f64), |(across, down), of| {
            (
                across.max(of.x0.abs()).max(of.x1.abs()),
                down.max(of.y0.abs()).max(of.y1.abs()),
            )
        });
        Self {
            across,
            down,
            scale_error: pattern.scale_error,
        }
    }
}
