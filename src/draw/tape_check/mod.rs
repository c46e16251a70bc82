//! Distances to be ticked off with a tape before anything is cut.

mod check;
mod chosen;

use self::check::{Check, End, Laid};
use super::dimension::{LabelLine, WORKED_BY};
use super::field::Field;
use super::leader::{Start, around};
use super::names::short;
use super::view::View;
use crate::base::Direction;
use crate::draw::ink::{Block, Cell, Layer, Mark};
use crate::solve::{Locator, Part, Pattern, TiedPlace};
use kurbo::Point;

/// Locators that each point is checked from: two fix it.
const FROM_LOCATORS: usize = 2;

/// Most locators that are checked each against every other: more would fill page after page.
const ALL_PAIRS: usize = 6;

/// A point nearer to the datum edge than this, mm, is not checked from it: a hooked tape is too thick.
const LEAST_DEPTH: f64 = 10.0;

/// Points nearer to each other than this, mm, are one.
const ONE_POINT: f64 = 0.01;

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

/// Points of parts that tapes were held to, with their letters; none where an opening has one there.
fn held(pattern: &Pattern, of_openings: &[Vec<(String, Point)>]) -> Vec<(String, Point)> {
    let openings = || of_openings.iter().flatten();
    let tied = pattern.parts.iter().filter_map(|part| part.tied.as_ref());
    let is_new = |at: &Point| openings().all(|(_, other)| other.distance(*at) >= ONE_POINT);
    let held = tied.flat_map(TiedPlace::held).filter(is_new);
    letters().skip(openings().count()).zip(held).collect()
}

/// What the points are of that tapes were held to.
const HELD: &str = "ties";

/// The letters at their points on the pattern.
pub(super) fn marks(pattern: &Pattern, view: View, field: &mut Field) -> Vec<Mark> {
    let points = points(pattern);
    let held = held(pattern, &points);
    let held = held.into_iter().map(|point| (HELD.into(), point));
    let openings = pattern.openings.iter().zip(points);
    openings
        .flat_map(|(opening, points)| points.into_iter().map(|point| (opening.name(), point)))
        .chain(held)
        .flat_map(|(of, (letter, at))| {
            let at = view.point(at);
            // No opening's corner: said beside the letter.
            let shown = match of == HELD {
                true => format!("{letter} ({HELD})"),
                false => letter.clone(),
            };
            let words = [LabelLine::heavy(shown, WORKED_BY)];
            let candidates = around(at, &words, Layer::Dimensions, Start::Point, |_| 0.0);
            let untold = format!("point {letter} of {of}");
            field.place_or_note(candidates, at, &untold, Layer::Dimensions)
        })
        .collect()
}

/// All checks: between locators, from locators and the datum edge to each opening's points, its
/// diagonals, from each opening to the next, and the ties of parts again. Where locators are too few to place the pattern, the
/// panel's ends and the mark of its middle stand in for them.
fn all<'a>(pattern: &'a Pattern, locators: &[Locator]) -> Vec<Check<'a>> {
    let mut checks = vec![];
    let mut add = |from: &str, to: &str, ends: [End<'a>; 2], openings: &[usize]| {
        checks.push(Check {
            from: from.into(),
            to: to.into(),
            ends,
            openings: openings.to_vec(),
        });
    };
    for (one, other) in pairs(locators) {
        let ends = [End::Panel(one.at), End::Panel(other.at)];
        add(&one.name, &other.name, ends, &[]);
    }
    let edge = &pattern.panel.edge;
    let datum = format!("{} edge", pattern.orientation.datum_edge());
    let stand_ins = stand_ins(pattern, locators);
    let points = points(pattern);
    for (number, corners) in points.iter().enumerate() {
        for (letter, at) in corners {
            let to = End::Paper(*at);
            for locator in nearest(locators, *at) {
                add(
                    &locator.name,
                    letter,
                    [End::Panel(locator.at), to],
                    &[number],
                );
            }
            for (name, from) in &stand_ins {
                add(name, letter, [End::Panel(*from), to], &[number]);
            }
            if at.y - edge.at(at.x) >= LEAST_DEPTH {
                add(&datum, letter, [End::Edge(edge), to], &[number]);
            }
        }
        if let [a, b, c, d] = corners.as_slice() {
            for (one, other) in [(a, c), (b, d)] {
                let ends = [End::Paper(one.1), End::Paper(other.1)];
                add(&one.0, &format!("{} (diagonal)", other.0), ends, &[number]);
            }
        }
    }
    for (number, pair) in points.windows(2).enumerate() {
        if let [Some(one), Some(other)] = [pair[0].first(), pair[1].first()] {
            let ends = [End::Paper(one.1), End::Paper(other.1)];
            add(&one.0, &other.0, ends, &[number, number + 1]);
        }
    }
    for again in ties_again(pattern, &points) {
        let is_there = |own: &Check<'_>| (&own.from, &own.to) == (&again.from, &again.to);
        if !checks.iter().any(is_there) {
            checks.push(again);
        }
    }
    checks
}

/// The distances that placed parts, which the pattern must give again.
fn ties_again<'a>(pattern: &Pattern, of_openings: &[Vec<(String, Point)>]) -> Vec<Check<'a>> {
    let held = held(pattern, of_openings);
    let lettered = |at: Point| {
        let mut each = of_openings.iter().flatten().chain(&held);
        each.find(|(_, other)| other.distance(at) < ONE_POINT)
    };
    let opening = |part: &Part| {
        let mut openings = pattern.openings.iter();
        openings.position(|own| own.outline.contains(part.origin))
    };
    let tied = pattern.parts.iter();
    let ties = tied.flat_map(|part| {
        let ties = part.tied.iter().flat_map(|tied| &tied.ties);
        ties.map(move |tie| (part, tie))
    });
    let again = ties.filter_map(|(part, tie)| {
        let (letter, at) = lettered(tie.held)?;
        Some(Check {
            from: tie.from.clone(),
            to: letter.clone(),
            ends: [End::Panel(tie.feature), End::Paper(*at)],
            openings: opening(part).into_iter().collect(),
        })
    });
    again.collect()
}

/// Known places of the panel that any pattern can be checked from.
fn stand_ins(pattern: &Pattern, locators: &[Locator]) -> Vec<(String, Point)> {
    if locators.len() >= FROM_LOCATORS {
        return vec![];
    }
    let edge = &pattern.panel.edge;
    let right = pattern.orientation.frame_right();
    let end = |side: Direction, x: f64| (format!("{side} end"), Point::new(x, edge.at(x)));
    let ends = pattern
        .panel
        .size
        .map(|size| [end(right.opposite(), size.x0), end(right, size.x1)]);
    let middle = (
        "your mark of the middle".into(),
        Point::new(0.0, edge.at(0.0)),
    );
    ends.into_iter().flatten().chain([middle]).collect()
}

/// A check in words: from, to, distance.
fn told(check: &Check<'_>, pattern: &Pattern) -> [String; 3] {
    let reading = check.reading(&Laid::right(Point::ZERO));
    [
        check.from.clone(),
        check.to.clone(),
        pattern.units.length(reading),
    ]
}

/// The few that show a pattern that is shifted, turned, mirrored or not full size.
pub(super) fn that_matter(pattern: &Pattern, locators: &[Locator]) -> Vec<[String; 3]> {
    let all = all(pattern, locators);
    let chosen = chosen::chosen(&all);
    chosen
        .into_iter()
        .map(|at| told(&all[at], pattern))
        .collect()
}

/// The check that can only be right on the right face, in words: `clip to B at 251 mm is the wrong
/// face`. None where the pattern is the same either way round.
pub(super) fn of_the_face(pattern: &Pattern, locators: &[Locator]) -> Option<String> {
    let all = all(pattern, locators);
    let at = chosen::shows_mirror(&all, &chosen::chosen(&all))?;
    let check = &all[at];
    let wrong = Laid {
        mirrored: true,
        ..Laid::right(Point::ZERO)
    };
    Some(format!(
        "{} to {} at {} is the wrong face",
        short(&check.from),
        check.to,
        pattern.units.length(check.reading(&wrong))
    ))
}

/// The table of all.
pub(super) fn table(pattern: &Pattern, locators: &[Locator]) -> Option<Block> {
    let heads = [
        ("From", false),
        ("To", false),
        ("Distance", true),
        ("Right?", false),
    ];
    let all = all(pattern, locators);
    let rows = all.iter().map(|check| told(check, pattern));
    let with_box = |words: [String; 3]| words.map(Cell::Words).into_iter().chain([Cell::TickBox]);
    (!all.is_empty()).then(|| Block::table(&heads, rows.map(with_box)))
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
