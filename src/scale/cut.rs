//! The cut of a pattern, as a scale error bears on it.

use super::Cut;
use crate::material;
use crate::pattern::Pattern;
use kurbo::Point;

impl Cut {
    /// The farthest cut of a pattern from what the pattern is laid by: across, the centreline or
    /// the nearest locator; down, the datum edge or the nearest locator. Without a gap that of the
    /// panel's material stands in, 6 mm where it is not known: design values, no source.
    pub fn of(pattern: &Pattern, gap: Option<f64>) -> Self {
        let known = material::find(&pattern.panel.material).map(|material| material.gap);
        let mut cut = Self {
            across: 0.0,
            down: 0.0,
            gap: gap.or(known.ok()).unwrap_or(6.0),
            share: Self::SHARE,
        };
        let nearest = |at: f64, own: f64, place: fn(&Point) -> f64| {
            let locators = pattern.locators.iter().map(|locator| place(&locator.at));
            std::iter::once(own)
                .chain(locators)
                .map(|anchor| (at - anchor).abs())
                .fold(f64::INFINITY, f64::min)
        };
        for opening in &pattern.openings {
            let bounds = opening.outline.bounds();
            for x in [bounds.x0, bounds.x1] {
                cut.across = cut.across.max(nearest(x, 0.0, |at| at.x));
            }
            for y in [bounds.y0, bounds.y1] {
                cut.down = cut.down.max(nearest(y, 0.0, |at| at.y));
            }
        }
        cut
    }
}
