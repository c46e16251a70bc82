//! What a file must show, as the page shows it: the cut line from the definition's own outlines,
//! true arcs and all; what else a fitter works by as the draughtsman places it; and which pattern
//! it is.

use super::numbers::{Numbered, openings};
use super::seen::{CutLine, GUIDES, flattened, guide_of};
use crate::draw::ink::{Geometry, Ink, Mark, Ways};
use crate::draw::worked_by;
use crate::geometry::outline::{Segment, Side};
use crate::input::families::Library;
use crate::input::{LineKind, PatternSpec};
use crate::solve::Pattern;
use kurbo::{Affine, Line, Rect};

/// How near straight pieces follow an arc, mm.
const FLAT: f64 = 0.002;

/// What a definition asks of a file, the way it lies on the page.
#[derive(Debug, Clone)]
pub struct Reference {
    pub(crate) cut: CutLine,
    /// Box round each opening and each line to trim along.
    pub(crate) openings: Vec<Rect>,
    /// What else a fitter works by, in order of [`GUIDES`], for each way to print the pattern.
    pub(crate) ways: Vec<[Guided; GUIDES.len()]>,
    /// The same where all stands on one page.
    pub(crate) on_one_page: Vec<[Guided; GUIDES.len()]>,
    /// All of `ways` together.
    pub(crate) guides: [CutLine; GUIDES.len()],
    /// The panel on the page, where its size is known.
    pub(crate) panel: Option<Rect>,
    /// Names of the openings that became one each.
    pub(crate) united: Vec<Vec<String>>,
    /// Openings by the definition's own numbers; none where they were not given.
    pub(crate) numbered: Vec<Numbered>,
    /// The pattern's number.
    pub(crate) number: String,
    /// Its revision; may be empty.
    pub(crate) revision: String,
    /// Both as one, as sheets say it.
    name: String,
}

/// What one layer must show, and what of it wherever a sheet reaches.
#[derive(Debug, Clone, Default)]
pub(crate) struct Guided {
    /// What must be there.
    pub(crate) must: CutLine,
    /// What must be there as far as the sheets reach, and nothing else.
    pub(crate) may: CutLine,
}

impl Reference {
    /// What a solved pattern asks for; lines to trim along stand among its cut line.
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
        let title = crate::draw::title_block(pattern);
        let all = ways(pattern, Ways::Any);
        Self {
            cut: CutLine { pieces },
            openings,
            guides: std::array::from_fn(|guide| CutLine {
                pieces: all
                    .iter()
                    .flat_map(|way| &way[guide].may.pieces)
                    .copied()
                    .collect(),
            }),
            ways: all,
            on_one_page: ways(pattern, Ways::OnePage),
            panel: pattern
                .panel
                .size
                .map(|size| to_page.transform_rect_bbox(size)),
            united: pattern
                .openings
                .iter()
                .map(|opening| {
                    opening
                        .declared
                        .iter()
                        .map(|own| own.name.clone())
                        .collect()
                })
                .collect(),
            numbered: vec![],
            name: title.number_and_revision(),
            number: title.number,
            revision: title.revision,
        }
    }

    /// Holds openings against the definition's own numbers besides, by a second path that shares
    /// nothing with what solved the pattern: a fault there is found as well.
    #[must_use]
    pub fn by_numbers(mut self, spec: &PatternSpec, shapes: &Library) -> Self {
        self.numbered = openings(spec, shapes);
        self
    }

    /// Number and revision as sheets say them.
    pub(crate) fn name(&self) -> &str {
        &self.name
    }
}

/// What else a fitter works by in each layer, for each way to print the pattern.
fn ways(pattern: &Pattern, which: Ways) -> Vec<[Guided; GUIDES.len()]> {
    let of = |geometry: &Geometry| {
        let mut guides: [Guided; GUIDES.len()] = Default::default();
        let mut add = |marks: &[Mark], part: fn(&mut Guided) -> &mut CutLine| {
            for Mark { layer, ink, .. } in marks {
                if let (Some(place), Ink::Stroke { path, .. }) = (guide_of(*layer), ink) {
                    flattened(path, FLAT, &mut part(&mut guides[place]).pieces);
                }
            }
        };
        for island in &geometry.islands {
            add(&island.must_show, |guided| &mut guided.must);
        }
        add(&geometry.marks, |guided| &mut guided.may);
        guides
    };
    worked_by(pattern, which).iter().map(of).collect()
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
