//! What sheets are laid by, and how far from it they cut: a scale error grows with that distance.

use super::{Centreline, Locator, Opening, Pattern};
use crate::geometry::outline::Side;
use crate::model::panel::DatumEdge;
use kurbo::{ParamCurve, Point, Rect, Shape, Vec2};

/// Places along each side that is looked at: the farthest may lie between its ends.
const PLACES: u32 = 16;

/// What sheets are laid by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Laid<'a> {
    pub(super) locators: &'a [Locator],
    pub(super) centreline: &'a Centreline,
    pub(super) edge: &'a DatumEdge,
}

impl Laid<'_> {
    /// From what the sheets are laid by to a point, mm along and away from the datum edge: from the
    /// nearest locator, whose print is laid over it; where there is none, from the ticks of the
    /// centreline and from the real edge that the tab is hooked over, however it bows.
    pub(super) fn reach(&self, at: Point) -> Vec2 {
        let from = self.locators.iter().map(|locator| at - locator.at);
        let nearest = from.min_by(|a, b| a.hypot2().total_cmp(&b.hypot2()));
        nearest.unwrap_or_else(|| {
            Vec2::new(at.x - self.centreline.x_at(at.y), at.y - self.edge.at(at.x))
        })
    }

    /// The same to the farthest of some points; 0 where there are none.
    fn farthest(&self, points: impl Iterator<Item = Point>) -> Vec2 {
        let reaches = points.map(|point| self.reach(point));
        let farthest = reaches.max_by(|a, b| a.hypot2().total_cmp(&b.hypot2()));
        farthest.unwrap_or_default()
    }

    /// To the farthest point of a box's rim.
    pub(super) fn reach_of_rim(&self, cut: Rect) -> Vec2 {
        let path = cut.to_path(1.0);
        self.farthest(path.segments().flat_map(|side| {
            (0..PLACES).map(move |place| side.eval(f64::from(place) / f64::from(PLACES)))
        }))
    }

    /// To the farthest point that is cut.
    pub(super) fn reach_of_cut(&self, openings: &[Opening]) -> Vec2 {
        let sides = openings.iter().flat_map(|opening| opening.outline.sides());
        let cut = sides.filter(|side| side.side == Side::Cut);
        self.farthest(cut.flat_map(|side| {
            (0..=PLACES).map(move |place| side.at(f64::from(place) / f64::from(PLACES)))
        }))
    }
}

impl Pattern {
    /// From what the sheets are laid by to the farthest point that is cut, mm along and away from the
    /// datum edge: the nearest locator, or where there is none the centreline and the real datum edge.
    pub fn farthest_cut(&self) -> Vec2 {
        let laid = Laid {
            locators: &self.locators,
            centreline: &self.centreline,
            edge: &self.panel.edge,
        };
        laid.reach_of_cut(&self.openings)
    }
}
