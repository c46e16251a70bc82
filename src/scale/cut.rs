//! The cut of a pattern, as a scale error bears on it.

use super::Cut;
use crate::material;
use crate::pattern::Pattern;

impl Cut {
    /// The farthest cut of a pattern from what it is laid by: the centreline across, the datum
    /// edge down. Locators lie nearer, but which of them a fitter lays it over is not known.
    ///
    /// Without a gap that of the panel's material stands in, 6 mm where it is not known: design
    /// values, no source.
    pub fn of(pattern: &Pattern, gap: Option<f64>) -> Self {
        let known = material::find(&pattern.panel.material).map(|material| material.gap);
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
            gap: gap.or(known.ok()).unwrap_or(6.0),
            share: Self::SHARE,
        }
    }
}
