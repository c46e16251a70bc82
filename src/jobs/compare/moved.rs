//! How far a cut line moved, and where most.

use crate::geometry::outline::{Segment, Side};
use crate::solve::{Opening, Pattern};
use kurbo::Point;

/// How closely the greatest distance is found, mm.
const CLOSE: f64 = 0.002;

/// Cut lines that moved less than this, mm, stayed.
const STILL: f64 = 0.01;

/// How far the cut line of an opening moved.
#[derive(Debug, Clone, PartialEq)]
pub struct Moved {
    /// The opening's name.
    pub opening: String,
    /// The farthest that any place of either line lies from the other line, mm, within 0.002 mm:
    /// the Hausdorff distance of the two.
    pub by: f64,
    /// That place, in the panel frame, mm.
    pub at: Point,
}

/// How far the cut lines of openings moved that both patterns have, by name; nothing for those
/// that stayed.
pub(super) fn moved(old: &Pattern, new: &Pattern) -> Vec<Moved> {
    new.openings
        .iter()
        .filter_map(|opening| {
            let is_same = |other: &&Opening| {
                let names = other.declared.iter().map(|declared| &declared.name);
                let mut shared = names.filter(|name| {
                    opening
                        .declared
                        .iter()
                        .any(|declared| declared.name == **name)
                });
                shared.next().is_some()
            };
            let before: Vec<Segment> = old
                .openings
                .iter()
                .filter(is_same)
                .flat_map(cut_sides)
                .collect();
            let now: Vec<Segment> = cut_sides(opening).collect();
            let (by, at) = [(&now, &before), (&before, &now)]
                .into_iter()
                .filter_map(|(from, to)| farthest(from, to))
                .max_by(|one, other| one.0.total_cmp(&other.0))?;
            (by > STILL).then(|| Moved {
                opening: opening.name(),
                by,
                at,
            })
        })
        .collect()
}

fn cut_sides(opening: &Opening) -> impl Iterator<Item = Segment> {
    let sides = opening.outline.sides();
    sides.filter(|side| side.side == Side::Cut)
}

/// The place on `from` that lies farthest from `to`, and how far.
///
/// Distance changes no faster than one goes along a line, so a stretch whose ends and length leave
/// no room for a greater one than is known is not looked at again.
fn farthest(from: &[Segment], to: &[Segment]) -> Option<(f64, Point)> {
    let distance = |point: Point| {
        let nearest = to.iter().map(|side| side.nearest(point).distance(point));
        nearest.reduce(f64::min)
    };
    let mut best: Option<(f64, Point)> = None;
    let mut offer = |distance: f64, at: Point| {
        if best.is_none_or(|(most, _)| distance > most) {
            best = Some((distance, at));
        }
        best.map_or(0.0, |(most, _)| most)
    };
    for side in from {
        let ends = (distance(side.start)?, distance(side.end)?);
        let mut stretches = vec![(0.0, ends.0, 1.0, ends.1)];
        offer(ends.0, side.start);
        offer(ends.1, side.end);
        while let Some((t0, d0, t1, d1)) = stretches.pop() {
            let middle = (t0 + t1) / 2.0;
            let at = side.at(middle);
            let here = distance(at)?;
            let most = offer(here, at);
            let half = side.length() * (t1 - t0) / 2.0;
            for (t0, d0, t1, d1) in [(t0, d0, middle, here), (middle, here, t1, d1)] {
                if (d0 + d1 + half) / 2.0 > most + CLOSE {
                    stretches.push((t0, d0, t1, d1));
                }
            }
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(start: (f64, f64), end: (f64, f64), bulge: f64) -> Segment {
        Segment {
            start: start.into(),
            end: end.into(),
            bulge,
            side: Side::Cut,
        }
    }

    #[test]
    fn distances_by_hand() {
        let level = [line((0.0, 0.0), (100.0, 0.0), 0.0)];
        let raised = [line((0.0, 2.1), (100.0, 2.1), 0.0)];
        let (by, _) = farthest(&raised, &level).unwrap();
        assert!((by - 2.1).abs() < 1e-9, "{by}");
        // A half circle of radius 50 over the line: its crown is 50 away.
        let arc = [line((100.0, 0.0), (0.0, 0.0), 1.0)];
        let (by, at) = farthest(&arc, &level).unwrap();
        assert!((by - 50.0).abs() < CLOSE, "{by}");
        assert!(at.distance(Point::new(50.0, 50.0)) < 1.0, "{at:?}");
        // The other way round the farthest is the middle of the line, 50 from every place of it.
        let (by, at) = farthest(&level, &arc).unwrap();
        assert!((by - 50.0).abs() < CLOSE, "{by}");
        assert!((at.x - 50.0).abs() < 0.01, "{at:?}");
        assert_eq!(farthest(&level, &[]), None);
    }

    #[test]
    fn a_part_made_wider_moves_the_line_by_half_of_it_at_each_side() {
        let pattern = |width: f64| {
            let text = include_str!("../../../shapes/demo/under-panel.toml");
            let text = text.replace("width = 60", &format!("width = {width}"));
            let spec =
                crate::input::PatternSpec::read(&crate::input::Source::new("p", text)).unwrap();
            crate::solve::solve(&spec, &crate::input::families::Library::shipped()).unwrap()
        };
        let found = moved(&pattern(60.0), &pattern(63.0));
        assert_eq!(found.len(), 1);
        assert!((found[0].by - 1.5).abs() < 0.01, "{}", found[0].by);
        assert!(moved(&pattern(60.0), &pattern(60.0)).is_empty());
    }
}
