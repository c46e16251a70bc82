//! Sheets laid side by side by their register marks.
//!
//! Sheets follow row by row, so the one to the right is the next of the file, and those below
//! stand in the same order as those above them.

use super::cross::Edge;
use super::sheet::Sheet;
use kurbo::{Point, Vec2};

/// Marks farther apart than this once laid, mm, are not the same one.
const SAME: f64 = 1.5;

/// Two sheets that share marks.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Join {
    /// Their places in the file, from 0.
    pub(crate) pages: [usize; 2],
    /// Marks shared.
    pub(crate) marks: usize,
    /// How far a mark of the one is from the same mark of the other at most, mm.
    pub(crate) apart: f64,
    /// Marks of either that the other lacks.
    pub(crate) alone: usize,
}

/// Sheets in one frame.
#[derive(Debug, Default)]
pub(crate) struct Laid {
    /// Groups of sheets that hang together: place in the file, and what is to be added to its
    /// coordinates.
    pub(crate) groups: Vec<Vec<(usize, Vec2)>>,
    pub(crate) joins: Vec<Join>,
    /// Sheets with marks at an edge that no sheet answers, places in the file.
    pub(crate) unanswered: Vec<usize>,
    /// How far a sheet that can be reached by two ways is from itself at most, mm.
    pub(crate) closing: f64,
}

struct Found {
    join: Join,
    /// From the second sheet's coordinates to the first's.
    by: Vec2,
}

/// Lays sheets, given with their places in the file.
pub(crate) fn lay(sheets: &[(usize, &Sheet)]) -> Laid {
    let mut laid = Laid::default();
    let marks = |sheet: &Sheet, edge: Edge| -> Vec<Point> {
        let own = sheet.crosses.iter().filter(|cross| cross.edge == edge);
        own.map(|cross| cross.at).collect()
    };
    let mut found: Vec<(usize, usize, Found)> = vec![];
    let mut pair = |laid: &mut Laid, first: usize, second: usize, edges: [Edge; 2]| {
        let (a, b) = (sheets[first], sheets[second]);
        match join(a.0, b.0, &marks(a.1, edges[0]), &marks(b.1, edges[1])) {
            Some(join) => found.push((first, second, join)),
            None => laid.unanswered.extend([a.0, b.0]),
        }
    };
    let has = |index: usize, edge: Edge| marks(sheets[index].1, edge).len() >= 2;
    for index in 0..sheets.len() {
        let next = index + 1;
        match (
            has(index, Edge::Right),
            next < sheets.len() && has(next, Edge::Left),
        ) {
            (true, true) => pair(&mut laid, index, next, [Edge::Right, Edge::Left]),
            (true, false) => laid.unanswered.push(sheets[index].0),
            (false, true) => laid.unanswered.push(sheets[next].0),
            (false, false) => {}
        }
    }
    let with = |edge: Edge| -> Vec<usize> {
        (0..sheets.len())
            .filter(|index| has(*index, edge))
            .collect()
    };
    let (above, below) = (with(Edge::Foot), with(Edge::Head));
    for (first, second) in above.iter().zip(&below) {
        pair(&mut laid, *first, *second, [Edge::Foot, Edge::Head]);
    }
    let shorter = above.len().min(below.len());
    let lone = above[shorter..].iter().chain(&below[shorter..]);
    laid.unanswered.extend(lone.map(|index| sheets[*index].0));
    laid.unanswered.sort_unstable();
    laid.unanswered.dedup();

    let mut places: Vec<Option<Vec2>> = vec![None; sheets.len()];
    for start in 0..sheets.len() {
        if places[start].is_some() {
            continue;
        }
        let mut group = vec![start];
        places[start] = Some(Vec2::ZERO);
        let mut at = 0;
        while at < group.len() {
            let here = group[at];
            at += 1;
            let Some(own) = places[here] else { continue };
            for (first, second, join) in &found {
                let (other, by) = if *first == here {
                    (*second, own + join.by)
                } else if *second == here {
                    (*first, own - join.by)
                } else {
                    continue;
                };
                match places[other] {
                    Some(known) => laid.closing = laid.closing.max((known - by).hypot()),
                    None => {
                        places[other] = Some(by);
                        group.push(other);
                    }
                }
            }
        }
        let placed = group
            .iter()
            .map(|index| (sheets[*index].0, places[*index].unwrap_or_default()));
        laid.groups.push(placed.collect());
    }
    laid.joins = found.into_iter().map(|(.., found)| found.join).collect();
    laid
}

/// The shift under which most marks meet, two at least.
fn join(first: usize, second: usize, here: &[Point], there: &[Point]) -> Option<Found> {
    let mut best: Vec<(Point, Point)> = vec![];
    for a in here {
        for b in there {
            let by = *a - *b;
            let meet: Vec<(Point, Point)> = here
                .iter()
                .filter_map(|p| {
                    let other = there.iter().min_by(|q, r| {
                        let far = |q: &Point| (*q + by - *p).hypot();
                        far(q).total_cmp(&far(r))
                    })?;
                    ((*other + by - *p).hypot() <= SAME).then_some((*p, *other))
                })
                .collect();
            if meet.len() > best.len() {
                best = meet;
            }
        }
    }
    if best.len() < 2 {
        return None;
    }
    let sum = best.iter().fold(Vec2::ZERO, |sum, (p, q)| sum + (*p - *q));
    let by = sum / best.len() as f64;
    let apart = best
        .iter()
        .map(|(p, q)| (*q + by - *p).hypot())
        .fold(0.0, f64::max);
    Some(Found {
        join: Join {
            pages: [first, second],
            marks: best.len(),
            apart,
            alone: here.len() + there.len() - 2 * best.len(),
        },
        by,
    })
}
