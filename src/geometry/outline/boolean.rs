//! Union, intersection and difference, true arcs kept.
//!
//! The library works on pairs of outlines without holes. A region with holes is taken apart for
//! it: what is open in `R + C` is what lies outside both outer lines, in a hole of the one and
//! outside the other, or in holes of both.

use super::Outline;
use super::sound::{Loops, outcome};
use cavalier_contours::polyline::BooleanOp;
use kurbo::{Point, Rect};

/// The outer lines alone: what falls out with the waste, islands and all.
pub(crate) fn outers(regions: Vec<Region>) -> Vec<Outline> {
    regions.into_iter().map(|region| region.outer).collect()
}

/// An area with one outer line and any number of holes.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// The outer line, all of it to be cut.
    pub outer: Outline,
    /// The holes, each counter-clockwise as every outline is.
    pub holes: Vec<Outline>,
}

impl Region {
    /// Area less that of the holes, mm^2.
    pub fn area(&self) -> f64 {
        let holes: f64 = self.holes.iter().map(Outline::area).sum();
        self.outer.area() - holes
    }

    /// Whether `point` lies within it and in none of its holes. On a line either may be told.
    pub fn contains(&self, point: Point) -> bool {
        self.outer.contains(point) && !self.holes.iter().any(|hole| hole.contains(point))
    }

    fn whole(outer: Outline) -> Self {
        Self {
            outer,
            holes: Vec::new(),
        }
    }
}

/// The regions that the outlines cover together, none overlapping another.
///
/// Outlines that touch along a side become one; those that touch at a point stay apart. Points
/// nearer than 1e-5 mm are one; slivers narrower than 1e-4 mm are dropped. All sides come back
/// as to be cut.
pub fn union(outlines: &[Outline]) -> Vec<Region> {
    union_of_regions(outlines.iter().cloned().map(Region::whole))
}

/// As [`union`], each region with the outlines that it is made of, by their place, in order.
pub(crate) fn union_by_members(outlines: &[Outline]) -> Vec<(Region, Vec<usize>)> {
    let areas = outlines.iter().cloned().map(Region::whole);
    let united = united(areas.enumerate().map(Grown::of).collect());
    let told = united.into_iter().map(|mut grown| {
        grown.members.sort_unstable();
        (grown.region, grown.members)
    });
    told.collect()
}

/// As [`union`], for areas that may have holes.
pub fn union_of_regions(areas: impl IntoIterator<Item = Region>) -> Vec<Region> {
    let areas = areas.into_iter().enumerate().map(Grown::of).collect();
    let regions = united(areas).into_iter().map(|grown| grown.region);
    regions.collect()
}

/// A region on its way, the areas that it is made of, and the box round it.
struct Grown {
    region: Region,
    members: Vec<usize>,
    bounds: Rect,
}

impl Grown {
    fn of((place, region): (usize, Region)) -> Self {
        Self {
            bounds: region.outer.bounds(),
            members: vec![place],
            region,
        }
    }

    /// Takes the other in where they share area or part of a side; gives it back where not.
    fn take_in(&mut self, other: Self) -> Option<Self> {
        if !meet(self.bounds, other.bounds) {
            return Some(other);
        }
        let Some(whole) = merged(&self.region, &other.region) else {
            return Some(other);
        };
        self.region = whole;
        self.members.extend(other.members);
        self.bounds = self.bounds.union(other.bounds);
        None
    }
}

/// Halves are united first: an outline that grew by one area at a time would be walked round once
/// for each of them.
fn united(mut areas: Vec<Grown>) -> Vec<Grown> {
    if areas.len() < 2 {
        return areas;
    }
    let later = united(areas.split_off(areas.len().div_ceil(2)));
    let mut regions = united(areas);
    for mut grown in later {
        let mut apart = Vec::with_capacity(regions.len() + 1);
        for region in regions {
            apart.extend(grown.take_in(region));
        }
        apart.push(grown);
        regions = apart;
    }
    regions
}

/// What two outlines have in common; accuracy as [`union`].
pub fn intersection(one: &Outline, other: &Outline) -> Vec<Outline> {
    if !boxes_meet(one, other) {
        return Vec::new();
    }
    // Two areas without holes have none in common either.
    outcome(one, other, BooleanOp::And).outers
}

/// What is left of an outline without all of some that do not meet one another; accuracy as
/// [`union`].
pub fn without<'a>(whole: &Outline, removed: impl Iterator<Item = &'a Outline>) -> Vec<Region> {
    let whole = vec![Region::whole(whole.clone())];
    removed.fold(whole, |left, removed| {
        let less = |region: Region| {
            let mut holes = region.holes;
            let mut pieces = difference(&region.outer, removed);
            // Holes go to the piece that they lie in: where there is but one, to that.
            let is_whole = pieces.len() == 1;
            for piece in &mut pieces {
                let is_in = |hole: &Outline| {
                    let mut corners = hole.vertices().iter();
                    is_whole
                        || corners
                            .next()
                            .is_some_and(|v| piece.outer.contains(v.point))
                };
                let (own, others): (Vec<_>, Vec<_>) = holes.drain(..).partition(is_in);
                piece.holes.extend(own);
                holes = others;
            }
            pieces
        };
        left.into_iter().flat_map(less).collect()
    })
}

/// What is left of `from` without `removed`; accuracy as [`union`].
pub fn difference(from: &Outline, removed: &Outline) -> Vec<Region> {
    if !boxes_meet(from, removed) {
        return vec![Region::whole(from.clone())];
    }
    let Loops { outers, holes } = outcome(from, removed, BooleanOp::Not);
    with_holes(outers, holes)
}

/// One region of two that share area or part of a side; none where they are apart.
fn merged(one: &Region, other: &Region) -> Option<Region> {
    let Loops {
        mut outers,
        mut holes,
    } = outcome(&one.outer, &other.outer, BooleanOp::Or);
    if outers.len() != 1 || lies_in_hole(one, other) || lies_in_hole(other, one) {
        return None;
    }
    for (holed, cover) in [(one, other), (other, one)] {
        for hole in &holed.holes {
            holes.extend(uncovered(hole, cover));
        }
    }
    for mine in &one.holes {
        for theirs in &other.holes {
            holes.extend(intersection(mine, theirs));
        }
    }
    let outer = outers.pop()?;
    Some(Region { outer, holes })
}

/// Whether `inner` is an island in one hole of `holed`, touching its line nowhere.
fn lies_in_hole(inner: &Region, holed: &Region) -> bool {
    holed.holes.iter().any(|hole| {
        let left = difference(hole, &inner.outer);
        left.len() == 1 && left[0].holes.len() == 1
    })
}

/// The parts of a hole that the outer line of `cover` leaves open.
fn uncovered(hole: &Outline, cover: &Region) -> Vec<Outline> {
    difference(hole, &cover.outer)
        .into_iter()
        .map(|left| left.outer)
        .collect()
}

/// Each hole given to the outer line that it lies in.
pub(super) fn with_holes(outers: Vec<Outline>, holes: Vec<Outline>) -> Vec<Region> {
    let mut regions: Vec<Region> = outers.into_iter().map(Region::whole).collect();
    for hole in holes {
        let middle = hole.sides().next().map(|side| side.at(0.5));
        let only = regions.len() == 1;
        let home = regions
            .iter_mut()
            .find(|region| only || middle.is_some_and(|point| region.outer.contains(point)));
        if let Some(region) = home {
            region.holes.push(hole);
        }
    }
    regions
}

fn boxes_meet(one: &Outline, other: &Outline) -> bool {
    meet(one.bounds(), other.bounds())
}

fn meet(one: Rect, other: Rect) -> bool {
    one.x0 <= other.x1 && other.x0 <= one.x1 && one.y0 <= other.y1 && other.y0 <= one.y1
}
