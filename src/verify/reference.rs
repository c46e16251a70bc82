//! What the cut line must be: the definition's own outlines, true arcs and all, as the page
//! shows them.

use super::seen::CutLine;
use crate::outline::{Segment, Side};
use crate::panel::DatumEdge;
use crate::pattern::Pattern;
use crate::spec::LineKind;
use kurbo::{Affine, Line, Point, Rect};

/// How near straight pieces follow an arc, mm.
const FLAT: f64 = 0.002;

/// The cut line of a definition, the way it lies on the page.
#[derive(Debug, Clone)]
pub struct Reference {
    pub(crate) cut: CutLine,
    /// Box round each opening and each line to trim along.
    pub(crate) openings: Vec<Rect>,
    to_page: Affine,
    edge: DatumEdge,
    /// The centreline at the datum edge, and how far it leans in 1 mm.
    centreline: (f64, f64),
}

impl Reference {
    /// The cut line of a solved pattern, lines to trim along among it.
    pub fn of(pattern: &Pattern) -> Self {
        // Seen with the datum edge at the head, the panel lies half a turn round.
        let to_page = if pattern.orientation.datum_at_head() {
            Affine::scale(-1.0)
        } else {
            Affine::IDENTITY
        };
        let mut pieces = vec![];
        let mut openings = vec![];
        for opening in &pattern.openings {
            let from = pieces.len();
            for side in opening.outline.sides() {
                if side.side == Side::Cut {
                    append(&side, to_page, &mut pieces);
                }
            }
            let own = CutLine {
                pieces: pieces[from..].to_vec(),
            };
            openings.extend(own.bounds());
        }
        for line in pattern
            .lines
            .iter()
            .filter(|line| line.kind == LineKind::Trim)
        {
            let from = pieces.len();
            let sides = line.points.windows(2);
            pieces.extend(sides.map(|ends| to_page * Line::new(ends[0], ends[1])));
            let own = CutLine {
                pieces: pieces[from..].to_vec(),
            };
            openings.extend(own.bounds());
        }
        Self {
            cut: CutLine { pieces },
            openings,
            to_page,
            edge: pattern.panel.edge.clone(),
            centreline: (
                pattern.centreline.x_at(0.0),
                pattern.centreline.x_at(1.0) - pattern.centreline.x_at(0.0),
            ),
        }
    }

    /// How far a point of the page is from the datum edge, mm, measured away from it.
    pub(crate) fn off_datum_edge(&self, at: Point) -> f64 {
        // Half a turn is its own way back.
        let at = self.to_page * at;
        (at.y - self.edge.at(at.x)).abs()
    }

    /// How far a point of the page is from the centreline, mm, measured along the datum edge.
    pub(crate) fn off_centreline(&self, at: Point) -> f64 {
        let at = self.to_page * at;
        (at.x - self.centreline.0 - self.centreline.1 * at.y).abs()
    }
}

fn append(side: &Segment, to_page: Affine, pieces: &mut Vec<Line>) {
    let count = match side.radius() {
        Some(radius) if radius > FLAT => {
            let step = 2.0 * libm::acos(1.0 - FLAT / radius);
            (side.sweep().abs() / step).ceil().clamp(1.0, 1e5)
        }
        _ => 1.0,
    };
    for part in 0..count as usize {
        let ends = [part, part + 1].map(|end| to_page * side.at(end as f64 / count));
        pieces.push(Line::new(ends[0], ends[1]));
    }
}
