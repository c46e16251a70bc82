//! What of the datum edge stays, and what is trimmed off with it.

use super::Pattern;
use crate::geometry::outline::{ON_EDGE, Side};

/// Stretches along the datum edge, each from its lower place to its higher, frame x, mm.
type Stretches = Vec<(f64, f64)>;

impl Pattern {
    /// The datum edge between two places, frame x, mm: the stretches that stay, in order, and those that
    /// a trim takes. Mouths of openings count as staying: the edge goes on beyond them.
    pub fn datum_edge_between(&self, from: f64, to: f64) -> (Stretches, Stretches) {
        let trims = self.openings.iter();
        let trims = trims.filter(|own| own.has_trim() && own.is_open());
        let sides = trims.flat_map(|own| own.outline.sides());
        let edge = &self.panel.edge;
        let on_edge = sides.filter(|side| {
            let ends = [side.start, side.end].map(|at| (at.y - edge.at(at.x)).abs());
            side.side == Side::Open && ends.into_iter().all(|off| off < 10.0 * ON_EDGE)
        });
        let mut taken: Vec<(f64, f64)> = on_edge
            .map(|side| (side.start.x.min(side.end.x), side.start.x.max(side.end.x)))
            .map(|(low, high)| (low.max(from), high.min(to)))
            .filter(|(low, high)| high - low > ON_EDGE)
            .collect();
        taken.sort_by(|one, other| one.0.total_cmp(&other.0));
        let (mut stays, mut goes): (Stretches, Stretches) = (vec![], vec![]);
        let mut reached = from;
        for (low, high) in taken {
            if low - reached > ON_EDGE {
                stays.push((reached, low));
            }
            match goes.last_mut() {
                Some(last) if low - last.1 <= ON_EDGE => last.1 = high.max(last.1),
                _ => goes.push((low, high)),
            }
            reached = reached.max(high);
        }
        if to - reached > ON_EDGE || goes.is_empty() {
            stays.push((reached, to));
        }
        (stays, goes)
    }
}
