//! Sheets laid over the definition: the shift under which most of what they show stands where it
//! must, so that what was moved by itself is found to be what is wrong.

use super::{CUT_WITHIN, Seen};
use crate::check::verify::reference::Reference;
use crate::check::verify::seen::{CutLine, GUIDES, Index};
use kurbo::{Affine, Point, Rect, Vec2};

/// Distance between the points at which what is shown is looked at, mm: ends are always looked at,
/// and two lines of straight pieces are farthest apart at an end of one of them.
pub(super) const SHOWN_STEP: f64 = 4.0;
/// Most openings, and most pieces of a layer, by which sheets are tried.
const MOST: usize = 40;

/// The sheets, with what is to be added to each one's coordinates so that it lies as the definition
/// has it.
pub(super) fn laid(seen: &Seen<'_>, reference: &Reference) -> Vec<(usize, Vec2)> {
    let wanted = Wanted::of(reference);
    let groups = &seen.laid.groups;
    groups
        .iter()
        .flat_map(|group| {
            let shown = Shown::of(seen, group);
            let by = wanted.best(&shown, groups.len() == 1);
            group.iter().map(move |(page, own)| (*page, by + *own))
        })
        .collect()
}

/// What a group of sheets shows, in its own frame.
struct Shown {
    cut: CutLine,
    guides: [CutLine; GUIDES.len()],
}

impl Shown {
    fn of(seen: &Seen<'_>, group: &[(usize, Vec2)]) -> Self {
        let all = |part: &dyn Fn(usize) -> CutLine| CutLine {
            pieces: group
                .iter()
                .flat_map(|(page, by)| part(*page).mapped(Affine::translate(*by)).pieces)
                .collect(),
        };
        Self {
            cut: all(&|page| seen.sheets[page].cut.clone()),
            guides: std::array::from_fn(|guide| {
                all(&|page| seen.sheets[page].guides[guide].firm.clone())
            }),
        }
    }
}

struct Wanted<'r> {
    reference: &'r Reference,
    cut: Index<'r>,
    guides: [Index<'r>; GUIDES.len()],
}

impl<'r> Wanted<'r> {
    fn of(reference: &'r Reference) -> Self {
        Self {
            reference,
            cut: Index::of(&reference.cut),
            guides: std::array::from_fn(|guide| Index::of(&reference.guides[guide])),
        }
    }

    /// The first shift under which all stands right; else that under which most layers do, and of
    /// those the one that brings the cut line nearest.
    fn best(&self, shown: &Shown, whole: bool) -> Vec2 {
        let mut best: Option<((usize, f64), Vec2)> = None;
        for by in self.shifts(shown, whole) {
            let cut = off(&self.cut, &shown.cut, by, f64::INFINITY);
            let wrong = shown
                .guides
                .iter()
                .zip(&self.guides)
                .filter(|(guide, index)| off(index, guide, by, CUT_WITHIN) > CUT_WITHIN);
            let key = (wrong.count() + usize::from(cut > CUT_WITHIN), cut);
            if best.is_none_or(|(least, _)| key < least) {
                best = Some((key, by));
            }
            if key.0 == 0 {
                break;
            }
        }
        best.map_or(Vec2::ZERO, |best| best.1)
    }

    /// Ways to lay what sheets show over the definition: by the corners and the middle of the cut
    /// line, or, for sheets that do not hang together, by those of each opening; and by a piece of
    /// each other layer.
    fn shifts(&self, shown: &Shown, whole: bool) -> Vec<Vec2> {
        let mut found = vec![];
        if let Some(own) = shown.cut.bounds() {
            if whole {
                let all = self.reference.cut.bounds();
                found.extend(all.into_iter().flat_map(|all| by_box(own, all, all)));
            } else {
                let openings = || self.reference.openings.iter().take(MOST);
                for left in openings() {
                    found.extend(openings().flat_map(|low| by_box(own, *left, *low)));
                }
            }
        }
        for (shown, wanted) in shown.guides.iter().zip(&self.reference.guides) {
            let Some(first) = shown.pieces.first() else {
                continue;
            };
            let along = first.p1 - first.p0;
            let alike = wanted
                .pieces
                .iter()
                .filter(|piece| ((piece.p1 - piece.p0) - along).hypot() <= CUT_WITHIN);
            found.extend(alike.take(MOST).map(|piece| piece.p0 - first.p0));
        }
        found
    }
}

/// How far what is shown is off at most, looked at until it is `enough`.
fn off(index: &Index<'_>, shown: &CutLine, by: Vec2, enough: f64) -> f64 {
    let points = shown.points(SHOWN_STEP).map(|point: Point| point + by);
    let mut worst = 0.0_f64;
    for point in points {
        worst = worst.max(index.distance(point));
        if worst > enough {
            break;
        }
    }
    worst
}

fn by_box(own: Rect, left: Rect, low: Rect) -> impl Iterator<Item = Vec2> {
    let ends = |of: Rect| ([of.x0, of.x1, of.center().x], [of.y0, of.y1, of.center().y]);
    let (own_x, own_y) = ends(own);
    let (x, y) = (ends(left).0, ends(low).1);
    let pairs = (0..3).flat_map(|column| (0..3).map(move |row| (column, row)));
    pairs.map(move |(column, row)| Vec2::new(x[column] - own_x[column], y[row] - own_y[row]))
}
