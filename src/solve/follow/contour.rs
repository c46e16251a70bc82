//! The opening that follows its parts.

use crate::geometry::outline::{Outline, Region, offset, union_of_regions};

/// The parts' outlines, each grown by its clearance in mm, united; true arcs kept.
///
/// Every point of the edge stands its part's clearance away from the nearest part. A hole in what
/// comes back is panel that parts enclose: a loose island.
pub fn contour(parts: &[(Outline, f64)]) -> Vec<Region> {
    union_of_regions(
        parts
            .iter()
            .flat_map(|(part, clearance)| offset(part, *clearance)),
    )
}
