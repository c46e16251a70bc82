//! Boxes found by place: which of many overlap this one, without looking at them all.

use kurbo::Rect;
use std::collections::HashMap;

/// Side of the squares that boxes are kept by, mm: somewhat more than a word takes.
const SQUARE: f64 = 25.0;

/// A box that touches more squares than this is looked at each time instead.
const MOST_SQUARES: i64 = 400;

/// Things with the box round each.
#[derive(Debug, Clone)]
pub(super) struct Cells<T> {
    boxed: Vec<(Rect, T)>,
    squares: HashMap<(i64, i64), Vec<usize>>,
    large: Vec<usize>,
}

impl<T> Default for Cells<T> {
    fn default() -> Self {
        Self {
            boxed: vec![],
            squares: HashMap::new(),
            large: vec![],
        }
    }
}

impl<T> Cells<T> {
    pub(super) fn add(&mut self, around: Rect, thing: T) {
        let index = self.boxed.len();
        self.boxed.push((around, thing));
        let touched = Squares::of(around);
        if touched.count() > MOST_SQUARES {
            self.large.push(index);
            return;
        }
        for square in touched.each() {
            self.squares.entry(square).or_default().push(index);
        }
    }

    /// Everything, in the order it came.
    pub(super) fn all(&self) -> impl Iterator<Item = &T> {
        self.boxed.iter().map(|(_, thing)| thing)
    }

    /// Whatever has a box that shares more than an edge with `place`, each once.
    pub(super) fn overlapping(&self, place: Rect) -> impl Iterator<Item = &T> {
        let touched = Squares::of(place);
        let by_square = touched.count() <= MOST_SQUARES;
        let in_squares = by_square.then(|| self.in_squares(touched, place));
        let looked_through = if by_square { &self.large[..] } else { &[] };
        let large = looked_through.iter().map(|index| &self.boxed[*index]);
        let all = if by_square { &[] } else { &self.boxed[..] };
        large
            .chain(all)
            .filter(move |(around, _)| overlap(*around, place))
            .chain(in_squares.into_iter().flatten())
            .map(|(_, thing)| thing)
    }

    fn in_squares(&self, touched: Squares, place: Rect) -> impl Iterator<Item = &(Rect, T)> {
        touched.each().flat_map(move |square| {
            let here = self.squares.get(&square).map_or(&[][..], Vec::as_slice);
            here.iter()
                .map(|index| &self.boxed[*index])
                // What lies in several squares is met in the one that holds the corner of the
                // region shared.
                .filter(move |(around, _)| {
                    let corner = (
                        square_of(around.x0.max(place.x0)),
                        square_of(around.y0.max(place.y0)),
                    );
                    corner == square && overlap(*around, place)
                })
        })
    }
}

/// The squares that a box touches.
#[derive(Debug, Clone, Copy)]
struct Squares {
    x: (i64, i64),
    y: (i64, i64),
}

impl Squares {
    fn of(place: Rect) -> Self {
        Self {
            x: (square_of(place.x0), square_of(place.x1)),
            y: (square_of(place.y0), square_of(place.y1)),
        }
    }

    fn count(self) -> i64 {
        let side = |(from, to): (i64, i64)| to.saturating_sub(from).saturating_add(1);
        side(self.x).saturating_mul(side(self.y))
    }

    fn each(self) -> impl Iterator<Item = (i64, i64)> {
        (self.x.0..=self.x.1).flat_map(move |x| (self.y.0..=self.y.1).map(move |y| (x, y)))
    }
}

/// Whether two boxes share more than an edge.
pub(super) fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

fn square_of(at: f64) -> i64 {
    (at / SQUARE).floor() as i64
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn boxes() -> impl Strategy<Value = Vec<Rect>> {
        let side = prop_oneof![0.0..5.0_f64, 0.0..80.0, Just(25.0), Just(2000.0)];
        let one = (-300.0..300.0_f64, -300.0..300.0_f64, side.clone(), side)
            .prop_map(|(x, y, w, h)| Rect::new(x, y, x + w, y + h));
        prop::collection::vec(one, 0..60)
    }

    proptest! {
        #[test]
        fn the_same_are_found_as_by_looking_at_all(kept in boxes(), asked in boxes()) {
            let mut cells = Cells::default();
            for (index, around) in kept.iter().enumerate() {
                cells.add(*around, index);
            }
            for place in asked {
                let mut found: Vec<usize> = cells.overlapping(place).copied().collect();
                found.sort_unstable();
                let should: Vec<usize> = (0..kept.len()).filter(|i| overlap(kept[*i], place)).collect();
                prop_assert_eq!(found, should);
            }
        }
    }
}
