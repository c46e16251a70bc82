//! Distances to be ticked off with a tape before anything is cut.

use super::dimension::LabelLine;
use super::field::Field;
use super::leader::{Start, around};
use super::measure::length;
use super::view::View;
use crate::draw::ink::{Block, Cell, Layer, Mark};
use crate::solve::{Locator, Pattern};
use kurbo::Point;

/// Locators that each point is checked from: two fix it.
const FROM_LOCATORS: usize = 2;

/// Most locators that are checked each against every other: more would fill page after page.
const ALL_PAIRS: usize = 6;

/// Letters of the points of all openings, in order: A, B ... Z, AA, AB ...
fn letters() -> impl Iterator<Item = String> {
    let letter = |k: usize| char::from(b'A' + (k % 26) as u8);
    (0..).map(move |k: usize| {
        let mut name = vec![letter(k)];
        let mut rest = k / 26;
        while rest > 0 {
            name.push(letter(rest - 1));
            rest = (rest - 1) / 26;
        }
        name.into_iter().rev().collect()
    })
}

/// The points of each opening with their letters.
fn points(pattern: &Pattern) -> Vec<Vec<(String, Point)>> {
    let mut letters = letters();
    pattern
        .openings
        .iter()
        .map(|opening| {
            letters
                .by_ref()
                .zip(opening.check_points.iter().copied())
                .collect()
        })
        .collect()
}

/// The letters at their points on the pattern.
pub(super) fn marks(pattern: &Pattern, view: View, field: &mut Field) -> Vec<Mark> {
    points(pattern)
        .into_iter()
        .flatten()
        .flat_map(|(letter, at)| {
            let words = [LabelLine::heavy(letter.clone(), 3.5)];
            let candidates: Vec<_> = around(
                view.point(at),
                &words,
                Layer::Dimensions,
                Start::Point,
                |_| 0.0,
            )
            .collect();
            field.place_or_list(candidates, &letter, Layer::Dimensions)
        })
        .collect()
}

/// The table: between locators, from locators to each opening's points, and its diagonals.
pub(super) fn table(pattern: &Pattern, locators: &[Locator]) -> Option<Block> {
    let mut rows: Vec<[String; 3]> = vec![];
    let mut row = |from: &str, to: &str, a: Point, b: Point| {
        rows.push([from.into(), to.into(), length(a.distance(b), pattern.units)]);
    };
    for (one, other) in pairs(locators) {
        row(&one.name, &other.name, one.at, other.at);
    }
    for corners in points(pattern) {
        for (letter, at) in &corners {
            for locator in nearest(locators, *at) {
                row(&locator.name, letter, locator.at, *at);
            }
        }
        if let [a, b, c, d] = corners.as_slice() {
            row(&a.0, &format!("{} (diagonal)", c.0), a.1, c.1);
            row(&b.0, &format!("{} (diagonal)", d.0), b.1, d.1);
        }
    }
    let heads = [
        ("From", false),
        ("To", false),
        ("Distance", true),
        ("Right?", false),
    ];
    let with_box = |words: [String; 3]| words.map(Cell::Words).into_iter().chain([Cell::TickBox]);
    (!rows.is_empty()).then(|| Block::table(&heads, rows.into_iter().map(with_box)))
}

/// Locators to be checked against each other, each pair once: all where they are few, else each
/// with those nearest to it.
fn pairs(locators: &[Locator]) -> Vec<(&Locator, &Locator)> {
    let near = |one: usize, other: usize| {
        let at = locators[one].at;
        let distance = at.distance(locators[other].at);
        let nearer = |k: &usize| *k != one && locators[*k].at.distance(at) < distance;
        (0..locators.len())
            .filter(nearer)
            .nth(FROM_LOCATORS - 1)
            .is_none()
    };
    let few = locators.len() <= ALL_PAIRS;
    let mut pairs = vec![];
    for i in 0..locators.len() {
        for j in i + 1..locators.len() {
            if few || near(i, j) || near(j, i) {
                pairs.push((&locators[i], &locators[j]));
            }
        }
    }
    pairs
}

/// The locators nearest to a point.
fn nearest(locators: &[Locator], at: Point) -> Vec<&Locator> {
    let mut order: Vec<&Locator> = locators.iter().collect();
    order.sort_by(|a, b| a.at.distance(at).total_cmp(&b.at.distance(at)));
    order.truncate(FROM_LOCATORS);
    order
}

#[cfg(test)]
mod tests {
    use super::{FROM_LOCATORS, letters, pairs};
    use crate::solve::Locator;
    use kurbo::Point;

    fn row_of(count: usize) -> Vec<Locator> {
        let locator = |i: usize| Locator {
            name: format!("hole {i}"),
            at: Point::new((i * i) as f64, 0.0),
            diameter: None,
            fixed: false,
        };
        (0..count).map(locator).collect()
    }

    #[test]
    fn few_locators_are_checked_all_against_all_and_many_against_the_nearest() {
        assert_eq!(pairs(&row_of(6)).len(), 15);
        let many = row_of(200);
        let found = pairs(&many);
        assert!(found.len() <= 200 * FROM_LOCATORS, "{}", found.len());
        for locator in &many {
            let times = found
                .iter()
                .filter(|(a, b)| a.name == locator.name || b.name == locator.name);
            assert!(times.count() >= FROM_LOCATORS, "{}", locator.name);
        }
    }

    #[test]
    fn letters_go_on_past_z() {
        let all: Vec<String> = letters().take(705).collect();
        assert_eq!([&all[701], &all[702], &all[704]], ["ZZ", "AAA", "AAC"]);
        assert_eq!(
            [&all[0], &all[25], &all[26], &all[51], &all[52]],
            ["A", "Z", "AA", "AZ", "BA"]
        );
    }
}
