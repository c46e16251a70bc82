//! The cut of a pattern, as a scale error bears on it.

use super::Cut;
use crate::material;
use crate::pattern::Pattern;

impl Cut {
    /// The farthest cut of a pattern from what it is laid by: the centreline across, the datum
    /// edge down. Locators lie nearer, but which of them a fitter lays it over is not known.
    ///
    /// Without a gap the least that its parts ask for stands in, or else that of the panel's material,
    /// 6 mm where it is not known: design values, no source.
    pub fn of(pattern: &Pattern, gap: Option<f64>) -> Self {
        let asked = pattern.spacings.iter().map(|clear| clear.gap);
        let asked = asked.filter(|gap| *gap > 0.0).min_by(f64::total_cmp);
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
            gap: gap.or(asked).or(known.ok()).unwrap_or(6.0),
            share: Self::SHARE,
        }
    }
}
