//! The ways to print a pattern: all of it joined, openings far apart as islands of their own, or,
//! for one page, with locators left out.
//!
//! An island has enough to be laid by: two locators, or one and the datum edge with the centreline
//! or an end of the panel.

use super::View;
use super::printed::{self, Shown};
use super::standing::standing;
use crate::draw::ink::{Drawing, Geometry, Layer, Rooms, Ways, mark_bounds};
use crate::input::Extent;
use crate::solve::{Locator, Pattern};
use kurbo::{Point, Rect};
use std::borrow::Borrow;
use std::collections::BTreeMap;

/// Gap between openings from which they may be printed as islands, mm.
const APART: f64 = 60.0;

/// Most islands that are thought of.
const MOST_ISLANDS: usize = 6;

/// Least distance between two locators that lay an island by themselves, mm.
const FAR_ENOUGH: f64 = 40.0;

/// A way to print a pattern.
#[derive(Debug, Clone)]
pub struct Way {
    /// What stands at its place.
    pub(super) geometry: Geometry,
    /// The locators that are printed.
    pub(super) locators: Vec<Locator>,
    /// The part of the panel that is worked on, panel frame.
    pub(super) work: Rect,
    /// What each island holds, in order of the geometry's own.
    pub(super) shown: Vec<Shown>,
    /// It is one piece, laid by all locators that are printed and the centreline.
    joined: bool,
    /// No sheet of words goes with it.
    pub(super) alone: bool,
}

impl Borrow<Geometry> for Way {
    fn borrow(&self) -> &Geometry {
        &self.geometry
    }
}

impl Way {
    fn of(pattern: &Pattern, shown: Vec<Shown>, locators: Vec<Locator>) -> Self {
        let view = View::of(pattern.orientation);
        let work = printed::work_box(pattern, &shown, &locators);
        Self {
            geometry: standing(pattern, view, work, &shown, &locators),
            locators,
            work,
            shown,
            joined: false,
            alone: false,
        }
    }

    /// Whether all that was drawn of the joined pattern in a room without end stands in these rooms
    /// as well: it need not be drawn again.
    pub fn suits(&self, drawing: &Drawing, rooms: &Rooms) -> bool {
        let standing = self.geometry.marks.len();
        let around = drawing.work.iter().skip(standing);
        (self.joined && !self.alone)
            && drawing.front.numbered.is_empty()
            && around
                .filter(|mark| mark.layer != Layer::Waste)
                .all(|mark| rooms.hold(mark_bounds(mark)))
    }

    /// All in one piece, with the foot of the centreline.
    pub(super) fn joined(pattern: &Pattern, locators: Vec<Locator>) -> Self {
        let shown = Shown {
            openings: (0..pattern.openings.len()).collect(),
            lines: (0..pattern.lines.len()).collect(),
            locators: (0..locators.len()).collect(),
            datum_edge: locators.len() < 2,
            centreline: true,
            end: None,
        };
        Self {
            joined: true,
            ..Self::of(pattern, vec![shown], locators)
        }
    }
}

/// What each island is laid by, where the pattern is not joined.
pub(super) fn how_to_lay(pattern: &Pattern, way: &Way) -> Vec<String> {
    if way.joined {
        return vec![];
    }
    let datum = pattern.orientation.datum_edge();
    way.shown
        .iter()
        .enumerate()
        .map(|(index, own)| {
            let openings = own.openings.iter();
            let mut held: Vec<String> = openings
                .map(|index| pattern.openings[*index].name())
                .collect();
            held.extend(
                own.lines
                    .iter()
                    .map(|index| pattern.lines[*index].name.clone()),
            );
            let locators = own.locators.iter();
            let mut by: Vec<String> = locators
                .map(|index| way.locators[*index].name.clone())
                .collect();
            if own.datum_edge {
                by.push(format!("the {datum} edge"));
            }
            if own.centreline {
                by.push("the centreline".into());
            }
            if let Some(end) = own.end {
                let right = pattern.orientation.frame_right();
                let side = if end > 0.0 { right } else { right.opposite() };
                by.push(format!("the panel's {side} end"));
            }
            format!(
                "Island {}, {}: lay it by {}.",
                index + 1,
                held.join(", "),
                by.join(", ")
            )
        })
        .collect()
}

/// The ways to print a pattern, the one to be preferred first.
pub fn ways(pattern: &Pattern, which: Ways) -> Vec<Way> {
    let locators = printed::locators(pattern);
    let joined = || Way::joined(pattern, locators.clone());
    match which {
        Ways::Joined => vec![joined()],
        Ways::Any => {
            let items = items(pattern);
            let links = links(&items);
            let apart =
                (1..=MOST_ISLANDS).filter_map(|count| islands(pattern, &items, &links, count));
            [joined()].into_iter().chain(apart).collect()
        }
        Ways::OnePage => fewer_and_fewer(pattern, locators.clone()),
    }
}

/// All locators, then one less each time, the farthest from the openings first.
fn fewer_and_fewer(pattern: &Pattern, mut locators: Vec<Locator>) -> Vec<Way> {
    let openings = pattern.openings.iter();
    let around = openings
        .map(|opening| opening.outline.bounds())
        .reduce(|a, b| a.union(b))
        .unwrap_or_default();
    locators.sort_by(|a, b| distance(around, a.at).total_cmp(&distance(around, b.at)));
    let mut ways = vec![];
    let mut left_out = vec![];
    loop {
        let mut way = Way::joined(pattern, locators.clone());
        way.alone = true;
        way.geometry.left_out = left_out.clone();
        // Words stand under the work, so that nothing of it may run off its room.
        for island in &mut way.geometry.islands {
            island.must_show = way.geometry.marks.clone();
        }
        ways.push(way);
        match locators.pop() {
            Some(farthest) => left_out.push(farthest.name),
            None => return ways,
        }
    }
}

/// Boxes round the openings, then round the lines to fold along.
fn items(pattern: &Pattern) -> Vec<Rect> {
    let openings = pattern.openings.iter();
    let openings = openings.map(|opening| opening.outline.bounds());
    let lines = pattern.lines.iter().map(|line| {
        let mut points = line.points.iter();
        let first = points.next().copied().unwrap_or_default();
        points.fold(Rect::from_points(first, first), |all, p| all.union_pt(*p))
    });
    openings.chain(lines).collect()
}

/// The pattern in so many islands, where it falls apart so and each has enough to be laid by.
fn islands(
    pattern: &Pattern,
    items: &[Rect],
    links: &[(f64, usize, usize)],
    count: usize,
) -> Option<Way> {
    if pattern.panel.extent == Extent::Panel {
        return None;
    }
    let mut locators: Vec<Locator> = vec![];
    let mut shown = vec![];
    for group in groups(items.len(), links, count)? {
        let around = group
            .iter()
            .map(|item| items[*item])
            .reduce(|a, b| a.union(b))?;
        let of_lines = pattern.openings.len();
        let openings = group.iter().filter_map(|item| pattern.openings.get(*item));
        let nearest = printed::nearest_to_cuts(pattern, openings);
        let (mut own, laid_by) = anchored(pattern, around, nearest)?;
        own.openings = group.iter().copied().filter(|i| *i < of_lines).collect();
        own.lines = group
            .iter()
            .filter_map(|i| i.checked_sub(of_lines))
            .collect();
        for index in laid_by {
            let locator = &pattern.locators[index];
            let known = locators.iter().position(|other| other.name == locator.name);
            own.locators.push(known.unwrap_or(locators.len()));
            if known.is_none() {
                locators.push(locator.clone());
            }
        }
        shown.push(own);
    }
    Some(Way::of(pattern, shown, locators))
}

/// What hangs boxes together, each to the one nearest to it of those before: gap, and the two, the
/// widest gap first.
fn links(items: &[Rect]) -> Vec<(f64, usize, usize)> {
    let mut links = vec![];
    // For each item that hangs on nothing yet, the nearest of those that hang together (Prim).
    let mut left: Vec<(f64, usize, usize)> = (1..items.len())
        .map(|item| (between(items[0], items[item]), 0, item))
        .collect();
    while let Some(nearest) = (0..left.len()).min_by(|a, b| left[*a].0.total_cmp(&left[*b].0)) {
        let link = left.swap_remove(nearest);
        for (gap, from, item) in &mut left {
            let to_new = between(items[link.2], items[*item]);
            if to_new < *gap {
                (*gap, *from) = (to_new, link.2);
            }
        }
        links.push(link);
    }
    links.sort_by(|a, b| b.0.total_cmp(&a.0));
    links
}

/// Boxes in so many groups, cut at their widest gaps; `None` where they don't fall apart so.
fn groups(
    count_of_items: usize,
    links: &[(f64, usize, usize)],
    count: usize,
) -> Option<Vec<Vec<usize>>> {
    let (cut, kept) = links.split_at_checked(count - 1)?;
    if cut.iter().any(|(gap, ..)| *gap < APART) {
        return None;
    }
    let mut group: Vec<usize> = (0..count_of_items).collect();
    for (_, one, other) in kept {
        let (to, from) = (group[*one], group[*other]);
        group
            .iter_mut()
            .filter(|own| **own == from)
            .for_each(|own| *own = to);
    }
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (item, own) in group.into_iter().enumerate() {
        groups.entry(own).or_default().push(item);
    }
    Some(groups.into_values().collect())
}

fn between(a: Rect, b: Rect) -> f64 {
    let side = |a0: f64, a1: f64, b0: f64, b1: f64| (b0 - a1).max(a0 - b1).max(0.0);
    side(a.x0, a.x1, b.x0, b.x1).hypot(side(a.y0, a.y1, b.y0, b.y1))
}

fn distance(around: Rect, at: Point) -> f64 {
    between(around, Rect::from_points(at, at))
}

/// What lays an island, and the locators among it, those nearest to its cuts in any case: whatever
/// makes the island least large.
fn anchored(
    pattern: &Pattern,
    around: Rect,
    mut nearest: Vec<usize>,
) -> Option<(Shown, Vec<usize>)> {
    let at = |index: usize| pattern.locators[index].at;
    let around = nearest
        .iter()
        .fold(around, |all, own| all.union_pt(at(*own)));
    let far = |one: &usize, other: &usize| at(*one).distance(at(*other)) >= FAR_ENOUGH;
    if nearest
        .iter()
        .any(|one| nearest.iter().any(|other| far(one, other)))
    {
        return Some((Shown::default(), nearest));
    }
    let mut order: Vec<usize> = (0..pattern.locators.len()).collect();
    order.sort_by(|a, b| distance(around, at(*a)).total_cmp(&distance(around, at(*b))));
    let first = *order.first()?;
    let second = order.iter().copied().find(|other| far(&first, other));
    let size = |points: &[Point]| {
        let all = points.iter().fold(around, |all, p| all.union_pt(*p));
        all.width() + all.height()
    };
    let edge_at = |x: f64| Point::new(x, pattern.panel.edge.at(x));
    let by_two = second.map(|second| {
        let shown = Shown::default();
        (size(&[at(first), at(second)]), shown, vec![first, second])
    });
    let by_edge = |x: f64, shown: Shown| {
        let points = [
            at(first),
            edge_at(x),
            edge_at(around.x0),
            edge_at(around.x1),
        ];
        let shown = Shown {
            datum_edge: true,
            ..shown
        };
        (size(&points), shown, vec![first])
    };
    let centreline = Shown {
        centreline: true,
        ..Shown::default()
    };
    let ends = pattern
        .panel
        .size
        .map_or(vec![], |size| vec![size.x0, size.x1]);
    let by_ends = ends.into_iter().map(|x| {
        let shown = Shown {
            end: Some(x),
            ..Shown::default()
        };
        by_edge(x, shown)
    });
    // An edge that goes lays nothing.
    let goes = pattern.datum_edge_between(around.x0, around.x1).1;
    let edges = [by_edge(0.0, centreline)].into_iter().chain(by_ends);
    by_two
        .into_iter()
        .chain(edges.filter(|_| goes.is_empty()))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, shown, laid_by)| {
            nearest.extend(laid_by);
            nearest.sort_unstable();
            nearest.dedup();
            (shown, nearest)
        })
}

#[cfg(test)]
mod tests {
    use super::{groups, links};
    use kurbo::Rect;

    #[test]
    fn boxes_fall_apart_at_their_widest_gaps() {
        let at = |x: f64| Rect::new(x, 0.0, x + 20.0, 20.0);
        let items = [at(0.0), at(30.0), at(300.0), at(1000.0), at(1030.0)];
        let sorted = |count: usize| {
            let mut groups = groups(items.len(), &links(&items), count)?;
            groups.iter_mut().for_each(|group| group.sort_unstable());
            groups.sort();
            Some(groups)
        };
        assert_eq!(sorted(1), Some(vec![vec![0, 1, 2, 3, 4]]));
        assert_eq!(sorted(2), Some(vec![vec![0, 1, 2], vec![3, 4]]));
        assert_eq!(sorted(3), Some(vec![vec![0, 1], vec![2], vec![3, 4]]));
        // The next gap is of 10 mm.
        assert_eq!(sorted(4), None);
        assert_eq!(sorted(6), None);
    }
}
