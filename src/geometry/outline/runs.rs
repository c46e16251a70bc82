//! Sides in runs with a box round each, so that what lies far off is passed over whole.
//!
//! The sides of an outline follow one another, so those of a run lie together. With runs of the
//! square root of their number, as many runs are looked at as sides within one.

use super::Segment;
use super::nearest::nearest_points;
use kurbo::{Point, Rect};

/// Sides to be measured against, many times.
#[derive(Debug, Clone)]
pub(crate) struct Runs {
    sides: Vec<(Segment, Rect)>,
    /// Of each run, in order.
    boxes: Vec<Rect>,
    /// Sides of a run; the last may have fewer.
    length: usize,
}

impl Runs {
    /// Sides in the order that they follow one another.
    pub(crate) fn new(sides: impl IntoIterator<Item = Segment>) -> Self {
        let sides: Vec<_> = sides
            .into_iter()
            .map(|side| (side, side.bounds()))
            .collect();
        let length = sides.len().isqrt().max(1);
        let boxes = sides
            .chunks(length)
            .filter_map(|run| {
                run.iter()
                    .map(|(_, bounds)| *bounds)
                    .reduce(|a, b| a.union(b))
            })
            .collect();
        Self {
            sides,
            boxes,
            length,
        }
    }

    /// The sides themselves.
    pub(crate) fn sides(&self) -> impl Iterator<Item = &Segment> {
        self.sides.iter().map(|(side, _)| side)
    }

    /// The first and the last side of a run, less one, and its sides.
    fn run(&self, number: usize) -> impl Iterator<Item = (usize, &(Segment, Rect))> {
        let first = number * self.length;
        let sides = self.sides.iter().enumerate();
        sides.skip(first).take(self.length)
    }

    /// The point of any side here and the point of any of `those` that are nearest to each other,
    /// and nearer than `within` mm; the first of such pairs where several are as near.
    pub(crate) fn nearest_to(&self, those: &Self, within: f64) -> Option<(Point, Point)> {
        self.nearest_where(those, within, |_, _| true)
    }

    /// The same of the pairs of sides, by their places in order, that are accepted.
    pub(crate) fn nearest_where(
        &self,
        those: &Self,
        within: f64,
        mut accepts: impl FnMut(usize, usize) -> bool,
    ) -> Option<(Point, Point)> {
        let mut best = None;
        let mut least = (within * within, usize::MAX, usize::MAX);
        let mut pairs: Vec<(f64, usize, usize)> = vec![];
        for (one, bounds) in self.boxes.iter().enumerate() {
            let apart = those.boxes.iter().map(|other| between(*bounds, *other));
            let near = apart.enumerate().filter(|(_, apart)| *apart < least.0);
            pairs.extend(near.map(|(other, apart)| (apart, one, other)));
        }
        pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (apart, one, other) in pairs {
            if apart > least.0 {
                break;
            }
            for (first, (this, bounds)) in self.run(one) {
                for (second, (that, that_bounds)) in those.run(other) {
                    if between(*bounds, *that_bounds) > least.0 {
                        continue;
                    }
                    let (on_this, on_that) = nearest_points(this, that);
                    let found = (on_this.distance_squared(on_that), first, second);
                    if found < least && accepts(first, second) {
                        least = found;
                        best = Some((on_this, on_that));
                    }
                }
            }
        }
        best
    }

    /// The point of a side of its own and the point of any side here that are nearest to each other;
    /// none where there is no side here.
    pub(crate) fn nearest_to_side(&self, side: &Segment) -> Option<(Point, Point)> {
        let around = side.bounds();
        let mut best = None;
        let mut least = f64::INFINITY;
        for (number, bounds) in self.boxes.iter().enumerate() {
            if between(around, *bounds) >= least {
                continue;
            }
            for (_, (that, bounds)) in self.run(number) {
                if between(around, *bounds) >= least {
                    continue;
                }
                let pair = nearest_points(side, that);
                let squared = pair.0.distance_squared(pair.1);
                if squared < least {
                    least = squared;
                    best = Some(pair);
                }
            }
        }
        best
    }

    /// Distance from `point` to the nearest side, mm, and the place on it; infinite where there is
    /// no side.
    pub(crate) fn nearest(&self, point: Point) -> (f64, Point) {
        let mut best = (f64::INFINITY, point);
        for (number, bounds) in self.boxes.iter().enumerate() {
            if outside(*bounds, point) >= best.0 {
                continue;
            }
            for (_, (side, bounds)) in self.run(number) {
                if outside(*bounds, point) >= best.0 {
                    continue;
                }
                let on_side = side.nearest(point);
                let distance = on_side.distance(point);
                if distance < best.0 {
                    best = (distance, on_side);
                }
            }
        }
        best
    }

    /// Whether any side comes within `within` mm of a point.
    pub(crate) fn come_near(&self, point: Point, within: f64) -> bool {
        self.boxes
            .iter()
            .enumerate()
            .filter(|(_, bounds)| outside(**bounds, point) <= within)
            .flat_map(|(number, _)| self.run(number))
            .any(|(_, (side, bounds))| {
                outside(*bounds, point) <= within && side.nearest(point).distance(point) <= within
            })
    }
}

/// Square of the least distance between two upright boxes.
fn between(one: Rect, other: Rect) -> f64 {
    let apart = |low: f64, high: f64| (low - high).max(0.0);
    let across = apart(one.x0, other.x1).max(apart(other.x0, one.x1));
    let up = apart(one.y0, other.y1).max(apart(other.y0, one.y1));
    across * across + up * up
}

/// How far a point lies outside an upright box.
fn outside(bounds: Rect, point: Point) -> f64 {
    between(bounds, Rect::from_points(point, point)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::super::Side;
    use super::*;
    use proptest::prelude::*;

    fn side(start: (f64, f64), end: (f64, f64), bulge: f64) -> Segment {
        Segment {
            start: start.into(),
            end: end.into(),
            bulge,
            side: Side::Cut,
        }
    }

    /// Sides that follow one another, as those of an outline do.
    fn chain(most: usize) -> impl Strategy<Value = Vec<Segment>> {
        let step = (
            -9.0..9.0_f64,
            -9.0..9.0_f64,
            prop_oneof![Just(0.0), -1.0..1.0_f64],
        );
        let begin = (-60.0..60.0_f64, -60.0..60.0_f64);
        (begin, prop::collection::vec(step, 1..most)).prop_map(|(begin, steps)| {
            let mut at = begin;
            let mut sides = vec![];
            for (x, y, bulge) in steps {
                let next = (at.0 + x, at.1 + y);
                sides.push(side(at, next, bulge));
                at = next;
            }
            sides
        })
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        #[test]
        fn what_is_passed_over_is_never_the_nearest(
            one in chain(40),
            other in chain(40),
            within in 0.0..80.0_f64,
        ) {
            let (runs, others) = (Runs::new(one.clone()), Runs::new(other.clone()));
            let all = one.iter().flat_map(|this| other.iter().map(move |that| nearest_points(this, that)));
            let least = all.map(|(from, to)| from.distance(to)).fold(f64::INFINITY, f64::min);
            let (from, to) = runs.nearest_to(&others, f64::INFINITY).unwrap();
            prop_assert_eq!(from.distance(to), least);
            prop_assert_eq!(runs.nearest_to(&others, within).is_some(), least < within);
            for side in &other {
                let pairs = one.iter().map(|that| nearest_points(side, that));
                let least = pairs.map(|(from, to)| from.distance(to)).fold(f64::INFINITY, f64::min);
                let (from, to) = runs.nearest_to_side(side).unwrap();
                prop_assert_eq!(from.distance(to), least);
            }
            for point in other.iter().map(|side| side.at(0.3)) {
                let alone = one.iter().map(|side| side.nearest(point).distance(point));
                let least = alone.fold(f64::INFINITY, f64::min);
                prop_assert!((runs.nearest(point).0 - least).abs() < 1e-12);
                prop_assert_eq!(runs.come_near(point, within), least <= within);
            }
        }
    }
}
