//! Where something stands, in words: from the centreline and from the datum edge.

use crate::base::Direction;
use crate::geometry::outline::Outline;
use crate::solve::Pattern;

/// Where the middle of an area stands: from the centreline, and from the datum edge there.
pub(super) fn middle(pattern: &Pattern, area: &Outline) -> [String; 2] {
    let at = area.bounds().center();
    let deep = at.y - pattern.panel.edge.at(at.x);
    [
        offset_words(at.x - pattern.centreline.x_at(at.y), pattern),
        pattern.units.length(deep),
    ]
}

/// An offset with the vehicle's side: `142 mm left`.
pub(super) fn offset_words(offset: f64, pattern: &Pattern) -> String {
    if offset.abs() <= super::ON_CENTRELINE {
        return "on it".into();
    }
    let right = pattern.orientation.frame_right();
    let side: Direction = if offset > 0.0 {
        right
    } else {
        right.opposite()
    };
    format!("{} {side}", pattern.units.length(offset.abs()))
}
