//! Distances to be ticked off with a tape before anything is cut.

use super::dimension::LabelLine;
use super::field::Field;
use super::measure::length;
use super::opening::around;
use super::view::View;
use crate::drawing::{Block, Cell, Column, Layer, Mark};
use crate::pattern::{Locator, Pattern};
use kurbo::Point;

/// Locators that each point is checked from: two fix it.
const FROM_LOCATORS: usize = 2;

/// Letters of the points of all openings, in order: A, B ... Z, AA, AB ...
fn letters() -> impl Iterator<Item = String> {
    let letter = |k: usize| char::from(b'A' + (k % 26) as u8);
    (0..).map(move |k: usize| match k.checked_sub(26) {
        None => letter(k).to_string(),
        Some(past) => format!("{}{}", letter(past / 26), letter(past)),
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
            let candidates: Vec<_> =
                around(view.point(at), &words, Layer::Dimensions, false, |_| 0.0).collect();
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
    for (i, one) in locators.iter().enumerate() {
        for other in &locators[i + 1..] {
            row(&one.name, &other.name, one.at, other.at);
        }
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
    let columns = [
        ("From", false),
        ("To", false),
        ("Distance", true),
        ("Right?", false),
    ]
    .map(|(head, right)| Column {
        head: head.into(),
        right,
    });
    let rows: Vec<Vec<Cell>> = rows
        .into_iter()
        .map(|words| {
            words
                .into_iter()
                .map(Cell::Words)
                .chain([Cell::TickBox])
                .collect()
        })
        .collect();
    (!rows.is_empty()).then_some(Block::Table {
        columns: columns.into(),
        rows,
    })
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
    use super::letters;

    #[test]
    fn letters_go_on_past_z() {
        let all: Vec<String> = letters().take(54).collect();
        assert_eq!(
            [&all[0], &all[25], &all[26], &all[51], &all[52]],
            ["A", "Z", "AA", "AZ", "BA"]
        );
    }
}
