//! Which ways a panel could slide off what passes through it, all directions looked at.
//!
//! Straight ways alone: a wall meets a part on the way exactly where the way lies among the
//! directions from a point of the wall to a point of the part. For two straight pieces these fill the
//! angle under which the parallelogram of their differences is seen; what no such angle covers is free.

use super::Part;
use crate::base::fixed;
use crate::geometry::outline::{Outline, Region};
use crate::model::panel::Orientation;
use kurbo::{Line, Point, Vec2};
use std::f64::consts::{PI, TAU};

/// How closely curves are followed, mm: contact need not be exact.
const COARSE: f64 = 0.05;

/// A part this little in the way, mm, slides along what it touches.
const CONTACT: f64 = 0.1;

/// Free stretches narrower than this, radians, are rounding.
const NARROWEST: f64 = 1e-6;

/// A way this near to one of the vehicle's, degrees, is told as that.
const STRAIGHT: f64 = 1.0;

/// A stretch of directions in which the panel could slide out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slide {
    /// Its middle, radians counter-clockwise from the panel frame's x.
    pub middle: f64,
    /// How far it reaches to either side, radians; pi where every way is free.
    pub either_way: f64,
}

impl Slide {
    /// Whether a direction, radians from the panel frame's x, lies in it.
    pub fn contains(&self, way: f64) -> bool {
        let off = (way - self.middle + PI).rem_euclid(TAU) - PI;
        off.abs() <= self.either_way
    }

    /// The stretch in words, by the vehicle's directions: `to the front, 12 degrees either way`.
    pub fn told(&self, orientation: Orientation) -> String {
        if self.either_way >= PI {
            return "any way".into();
        }
        let own = Vec2::from_angle(self.middle);
        let mut ways = orientation.frame_ways();
        ways.sort_by(|one, other| other.1.dot(own).total_cmp(&one.1.dot(own)));
        let [(nearest, along), (next, _), ..] = ways;
        let aslant = along.cross(own).atan2(along.dot(own)).to_degrees().abs();
        let middle = match aslant < STRAIGHT {
            true => format!("to the {nearest}"),
            false => format!(
                "{} degrees from the {nearest} to the {next}",
                fixed(aslant, 0)
            ),
        };
        match self.either_way.to_degrees() {
            spread if spread < STRAIGHT => middle,
            spread => format!("{middle}, {} degrees either way", fixed(spread, 0)),
        }
    }
}

/// Which ways what is left of a panel could slide off all parts that pass through it; nothing where
/// there is nothing to look at.
pub(super) fn slides(kept: &[Region], parts: &[Part]) -> Vec<Slide> {
    let through = parts.iter().filter(|part| part.behind.is_none());
    let through: Vec<Vec<Line>> = through
        .map(|part| drawn_in(&lines(&part.outline, COARSE)))
        .collect();
    if kept.is_empty() || through.is_empty() {
        return vec![];
    }
    let mut blocked = vec![];
    let rims = kept
        .iter()
        .flat_map(|region| [&region.outer].into_iter().chain(&region.holes));
    for rim in rims {
        let walls = lines(rim, COARSE);
        for part in &through {
            for wall in &walls {
                blocked.extend(part.iter().flat_map(|side| between(*wall, *side)));
            }
            // Most parts are closed in by one rim.
            blocked = merged(blocked);
            if free(&blocked).is_empty() {
                return vec![];
            }
        }
    }
    free(&blocked)
}

/// A part's sides, each corner drawn in a little.
fn drawn_in(part: &[Line]) -> Vec<Line> {
    let middle = part.iter().map(|line| line.p0.to_vec2()).sum::<Vec2>() / part.len().max(1) as f64;
    let inward = |at: Point| at + (middle - at.to_vec2()).normalize() * CONTACT;
    let sides = part.iter();
    sides
        .map(|line| Line::new(inward(line.p0), inward(line.p1)))
        .collect()
}

/// The directions from points of a wall to points of a part's side: from, to, within 0 to 2 pi.
fn between(wall: Line, side: Line) -> Vec<(f64, f64)> {
    let middle = (side.midpoint() - wall.midpoint()).normalize();
    let (mut low, mut high) = (0.0_f64, 0.0_f64);
    for from in [wall.p0, wall.p1] {
        for to in [side.p0, side.p1] {
            let off = middle.cross(to - from).atan2(middle.dot(to - from));
            (low, high) = (low.min(off), high.max(off));
        }
    }
    // They cross: seen from within, the parallelogram lies all round.
    if middle.is_nan() || high - low >= PI {
        return vec![(0.0, TAU)];
    }
    let from = (middle.atan2() + low).rem_euclid(TAU);
    let to = from + high - low;
    match to > TAU {
        true => vec![(from, TAU), (0.0, to - TAU)],
        false => vec![(from, to)],
    }
}

/// The same stretches, in order, none touching another.
fn merged(mut stretches: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    stretches.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut merged: Vec<(f64, f64)> = vec![];
    for (from, to) in stretches {
        match merged.last_mut() {
            Some(last) if from <= last.1 + NARROWEST => last.1 = last.1.max(to),
            _ => merged.push((from, to)),
        }
    }
    merged
}

/// What ordered stretches leave of the full turn.
fn free(blocked: &[(f64, f64)]) -> Vec<Slide> {
    let (Some(first), Some(last)) = (blocked.first(), blocked.last()) else {
        return vec![Slide {
            middle: 0.0,
            either_way: PI,
        }];
    };
    let inner = blocked.windows(2).map(|pair| (pair[0].1, pair[1].0));
    // The last one runs on over the frame's x.
    let over = (last.1, first.0 + TAU);
    let all = inner.chain([over]);
    let wide = all.filter(|(from, to)| to - from > NARROWEST);
    wide.map(|(from, to)| Slide {
        middle: f64::midpoint(from, to).rem_euclid(TAU),
        either_way: (to - from) / 2.0,
    })
    .collect()
}

/// An outline as straight pieces, within so many mm.
fn lines(outline: &Outline, within: f64) -> Vec<Line> {
    let mut points = vec![];
    kurbo::flatten(outline.closed_path(within), within, |element| {
        points.extend(element.end_point());
    });
    let closing = points.first().copied();
    points.extend(closing);
    points
        .windows(2)
        .map(|ends| Line::new(ends[0], ends[1]))
        .collect()
}
