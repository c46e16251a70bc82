//! The narrowest place of a region: where two of its sides come nearest to each other through it.
//!
//! A horn that runs out to a point is no bridge, and has a width of nothing. So a place counts only
//! where the region widens to both hands of it, or where it is not cut further: sides that meet have
//! none between them, and from an end of a side neither the next cut nor what goes on smoothly may
//! lead nearer.

use super::nearest::nearest_points;
use super::{Region, Runs, Segment, Side};
use kurbo::{Point, Vec2};

/// Sides that come as near as this meet, mm.
const MEET: f64 = 0.01;

/// Distances that differ by less are one, mm.
const ALIKE: f64 = 1e-6;

/// Cosine of the angle to the way across from which a side leads nearer.
const NEARER: f64 = 1e-6;

/// Sine of the angle up to which a side goes on smoothly in the next.
const SMOOTH: f64 = 1e-3;

/// How far to either hand of a way the region is looked at, mm: it may run along a side.
const BESIDE: f64 = 1e-4;

/// The narrowest place of `region` beside a side that `is_cut`: its width, mm, and both its ends, the
/// first on such a side. None where there is none, as where all of it runs out to points.
///
/// Sides that are not cut may end a place as it stands: what lies beyond them is not looked at.
pub(crate) fn narrowest(
    region: &Region,
    is_cut: impl Fn(&Segment) -> bool,
) -> Option<(f64, Point, Point)> {
    let necks = Necks::of(region, is_cut);
    let runs = Runs::new(necks.sides.iter().map(|side| side.segment));
    let mut found = None;
    runs.nearest_where(&runs, f64::INFINITY, |one, other| {
        let place = necks.place(one, other);
        if place.is_some() {
            found = place;
        }
        place.is_some()
    });
    found.map(|(from, to)| (from.distance(to), from, to))
}

/// A side with those before and after it.
struct Linked {
    segment: Segment,
    before: usize,
    after: usize,
    is_cut: bool,
}

struct Necks<'r> {
    region: &'r Region,
    sides: Vec<Linked>,
}

impl<'r> Necks<'r> {
    fn of(region: &'r Region, is_cut: impl Fn(&Segment) -> bool) -> Self {
        let mut sides = vec![];
        for rim in [&region.outer].into_iter().chain(&region.holes) {
            let (first, count) = (sides.len(), rim.sides().len());
            sides.extend(rim.sides().enumerate().map(|(place, segment)| Linked {
                is_cut: is_cut(&segment),
                segment,
                before: first + (place + count - 1) % count,
                after: first + (place + 1) % count,
            }));
        }
        Self { region, sides }
    }

    /// Where two sides come nearest, if that is a narrow place; the first end lies on a cut.
    fn place(&self, one: usize, other: usize) -> Option<(Point, Point)> {
        let (a, b) = (&self.sides[one], &self.sides[other]);
        if one == other || !(a.is_cut || b.is_cut) {
            return None;
        }
        let nearest = nearest_points(&a.segment, &b.segment);
        let least = nearest.0.distance(nearest.1);
        if least < MEET {
            return None;
        }
        // Sides that run alongside each other are as near at many places.
        let from_here = [a.segment.start, a.segment.end].map(|at| (at, b.segment.nearest(at)));
        let from_there = [b.segment.start, b.segment.end].map(|at| (a.segment.nearest(at), at));
        let mut places = vec![nearest];
        places.extend(
            from_here
                .into_iter()
                .chain(from_there)
                .filter(|(from, to)| from.distance(*to) < least + ALIKE),
        );
        if let (Some(first), Some(last)) = (places.get(1), places.last()) {
            let middle = a.segment.nearest(first.0.midpoint(last.0));
            places.push((middle, b.segment.nearest(middle)));
        }
        let is_narrow = |(from, to): &(Point, Point)| {
            let way = (*to - *from).normalize();
            from.distance(*to) < least + ALIKE
                && self.is_least(a, *from, way)
                && self.is_least(b, *to, -way)
                && self.is_clear(*from, *to)
        };
        let (from, to) = places.into_iter().find(is_narrow)?;
        Some(if a.is_cut { (from, to) } else { (to, from) })
    }

    /// Whether nothing that goes on from an end of a side, cut or smoothly, leads nearer.
    fn is_least(&self, side: &Linked, at: Point, way: Vec2) -> bool {
        let leads = |next: usize, out: Vec2, own: Vec2| {
            let goes_on = own.dot(out) > 0.0 && own.cross(out).abs() < SMOOTH;
            (self.sides[next].is_cut || goes_on) && out.dot(way) > NEARER
        };
        let (own, before, after) = (
            &side.segment,
            &self.sides[side.before].segment,
            &self.sides[side.after].segment,
        );
        !(at.distance(own.start) < ALIKE
            && leads(side.before, -before.tangent(1.0), -own.tangent(0.0))
            || at.distance(own.end) < ALIKE
                && leads(side.after, after.tangent(0.0), own.tangent(1.0)))
    }

    /// Whether the way between lies in the region, or along a side of it that is not cut.
    fn is_clear(&self, from: Point, to: Point) -> bool {
        let way = Segment {
            start: from,
            end: to,
            bulge: 0.0,
            side: Side::Open,
        };
        let along = way.tangent(0.5);
        let beside = Vec2::new(-along.y, along.x) * BESIDE;
        let middle = way.at(0.5);
        let crosses = |side: &Linked| {
            let runs_along = !side.is_cut
                && !side.segment.is_arc()
                && side.segment.tangent(0.5).cross(along).abs() < NEARER;
            let (on_way, on_side) = nearest_points(&way, &side.segment);
            !runs_along
                && on_way.distance(on_side) < ALIKE
                && on_way.distance(from).min(on_way.distance(to)) > MEET
        };
        [middle + beside, middle - beside]
            .into_iter()
            .any(|at| self.region.contains(at))
            && !self.sides.iter().any(crosses)
    }
}
