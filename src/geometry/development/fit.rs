//! Mapped outlines as straight sides and true arcs again.
//!
//! Each side of the outline becomes a smooth curve, followed with pairs of arcs that meet in a
//! common tangent (biarcs, Bolton 1975; from memory). Where curvature changes evenly, at the rate
//! `k`, arcs of length `l` follow a curve within `k l^3 / 125` if they are let cross it at their
//! ends turned by `k l^2 / 12`, and only within `k l^3 / 40` if they run along it there. So
//! joints within a side are turned that much; the ends of a side keep its tangent.

use super::{Landing, SurfaceError};
use crate::geometry::outline::{Outline, Segment, Side, Vertex};
use kurbo::{Point, Vec2};
use std::f64::consts::FRAC_PI_2;

/// The farthest that a fitted outline may lie from what it follows, mm.
pub const FIT_TOLERANCE: f64 = 0.005;

/// A curve this near to a straight line is straight, mm: a twentieth of the tolerance, so that
/// the tangents at its ends stay true.
const STRAIGHT: f64 = FIT_TOLERANCE / 20.0;

/// A curve that one arc follows may meet its neighbours at this angle, radians: over 10 mm a
/// hundredth of a millimetre, and far from any corner.
const KINK: f64 = 1e-3;

/// Places looked at along each pair of arcs.
const LOOKS: usize = 12;

/// How much longer than the even one the first leg of a pair of arcs is tried: where curvature
/// changes unevenly an uneven pair follows a tenth farther.
const SHARES: [f64; 5] = [1.0, 0.8, 1.25, 0.6, 1.6];

/// What is seen at [`LOOKS`] places falls short of the worst between them by under a twentieth.
const SEEN: f64 = 0.95;

/// The part of the tolerance that the next pair of arcs is planned for.
const NEXT: f64 = 0.95;

/// Shares of a side: shorter pairs of arcs than this mean a curve that is not smooth.
const SHORTEST: f64 = 1e-4;

/// A point of a mapped curve, and how it moves.
pub type Mapped = (Point, Vec2);

/// `outline` under a smooth mapping, within `tolerance` mm of the exact image. Flags of sides are
/// kept, straight images are straight, and tangents that meet go on meeting.
///
/// # Errors
/// The mapping's own, a curve that turns too sharply to follow, and an image that crosses itself.
pub fn mapped(
    outline: &Outline,
    map: impl Fn(Point) -> Result<Landing, SurfaceError>,
    tolerance: f64,
) -> Result<Outline, SurfaceError> {
    let mut vertices = Vec::new();
    for side in outline.sides() {
        let length = side.length();
        let curve = |t: f64| -> Result<Mapped, SurfaceError> {
            let landing = map(side.at(t))?;
            let along = side.tangent(t) * length;
            let moves = landing.by_x * along.x + landing.by_y * along.y;
            Ok((landing.point, moves))
        };
        follow(&curve, turns(&side), side.side, tolerance, &mut vertices)?;
    }
    Ok(Outline::new(vertices)?)
}

/// The least number of pairs of arcs that a side is taken for: one for each quarter turn.
pub(super) fn turns(side: &Segment) -> f64 {
    (side.sweep().abs() / FRAC_PI_2 - 1e-9).ceil().max(1.0)
}

/// Adds the vertices of one smooth curve, `t` from 0 to 1, without its end. The curve gives its
/// point and derivative.
pub(super) fn follow(
    curve: &impl Fn(f64) -> Result<Mapped, SurfaceError>,
    turns: f64,
    side: Side,
    tolerance: f64,
    vertices: &mut Vec<Vertex>,
) -> Result<(), SurfaceError> {
    let start = curve(0.0)?;
    let first = Span::look(curve, 0.0, start, 1.0)?;
    if let Some(bulge) = first.alone(tolerance) {
        vertices.push(vertex(start.0, bulge, side));
        return Ok(());
    }
    let mut from = (0.0, start, unit(start.1));
    let mut step = 1.0 / turns;
    while from.0 < 1.0 {
        let left = 1.0 - from.0;
        let to = if step > 0.98 * left {
            1.0
        } else {
            from.0 + step
        };
        let span = Span::look(curve, from.0, from.1, to)?;
        let (end, tangent) = span.end(to == 1.0);
        let best = span.best((from.2, tangent));
        let strays = best.as_ref().map_or(f64::INFINITY, |best| best.0);
        // Errors grow with the third power of the length.
        let ideal = libm::cbrt(NEXT * SEEN * tolerance / strays.max(1e-12));
        if let Some((_, arcs)) = best.filter(|best| best.0 <= SEEN * tolerance) {
            vertices.extend(arcs.0.map(|arc| vertex(arc.start, arc.bulge, side)));
            from = (to, end, tangent);
            step = ((to - span.from) * ideal.clamp(0.8, 2.0)).min(1.0 / turns);
        } else {
            step = (to - span.from) * ideal.clamp(0.2, 0.9);
            if step < SHORTEST {
                return Err(SurfaceError::NoFit { at: end.0 });
            }
        }
    }
    Ok(())
}

fn vertex(point: Point, bulge: f64, side: Side) -> Vertex {
    Vertex { point, bulge, side }
}

/// A stretch of a curve, looked at in even steps of its parameter; the last look is its end.
struct Span {
    from: f64,
    start: Mapped,
    looks: [Mapped; LOOKS],
}

impl Span {
    fn look(
        curve: &impl Fn(f64) -> Result<Mapped, SurfaceError>,
        from: f64,
        start: Mapped,
        to: f64,
    ) -> Result<Self, SurfaceError> {
        let mut looks = [start; LOOKS];
        for (index, look) in looks.iter_mut().enumerate() {
            let part = (index + 1) as f64 / LOOKS as f64;
            *look = curve(from + (to - from) * part)?;
        }
        Ok(Self { from, start, looks })
    }

    /// The bulge of the one side that follows it, if one does.
    fn alone(&self, tolerance: f64) -> Option<f64> {
        let (middle, end) = (self.looks[LOOKS / 2 - 1], self.looks[LOOKS - 1]);
        let within = |bulge: f64, limit: f64| {
            let arc = Arc::new(self.start.0, end.0, bulge);
            self.looks.iter().all(|look| arc.distance(look.0) <= limit)
        };
        if within(0.0, STRAIGHT) {
            return Some(0.0);
        }
        // Through the middle: it turns by half of its sweep there, from chord to chord.
        let (before, after) = (middle.0 - self.start.0, end.0 - middle.0);
        let half = angle(before, after);
        let bulge = libm::tan(half / 2.0);
        let chord = end.0 - self.start.0;
        let kinks = [
            angle(self.start.1, chord) - half,
            angle(chord, end.1) - half,
        ];
        let smooth = kinks.iter().all(|kink| kink.abs() <= KINK);
        (bulge.abs() <= 1.0 && smooth && within(bulge, SEEN * tolerance)).then_some(bulge)
    }

    /// The pair of arcs with these tangents at its ends that strays least, and how far, mm.
    fn best(&self, tangents: (Vec2, Vec2)) -> Option<(f64, Biarc)> {
        let end = self.looks[LOOKS - 1].0;
        let judged = |share: f64| {
            let arcs = Biarc::new(self.start.0, end, tangents, share)?;
            let strays = self.looks.iter().map(|look| arcs.distance(look.0));
            Some((strays.fold(0.0, f64::max), arcs))
        };
        SHARES
            .into_iter()
            .filter_map(judged)
            .min_by(|one, other| one.0.total_cmp(&other.0))
    }

    /// The end, and the tangent that arcs are to have there.
    fn end(&self, last: bool) -> (Mapped, Vec2) {
        let (end, middle) = (self.looks[LOOKS - 1], self.looks[LOOKS / 2 - 1]);
        let tangent = unit(end.1);
        if last {
            return (end, tangent);
        }
        let half = |one: Mapped, other: Mapped| {
            let length = (other.0 - one.0).hypot();
            (length, angle(one.1, other.1))
        };
        let (before, after) = (half(self.start, middle), half(middle, end));
        let length = (before.0 + after.0) / 2.0;
        let rate = (after.1 / after.0 - before.1 / before.0) / length;
        let turn = -rate * length * length / 12.0;
        let turned = Vec2::new(-tangent.y, tangent.x) * turn + tangent;
        (end, unit(turned))
    }
}

fn unit(vector: Vec2) -> Vec2 {
    vector * (1.0 / vector.hypot2().sqrt())
}

/// The angle from one direction to another, radians, positive to the left.
fn angle(from: Vec2, to: Vec2) -> f64 {
    libm::atan2(from.cross(to), from.dot(to))
}

/// Bulge of the arc that leaves along `tangent` and ends at the chord's end.
fn bulge_from(tangent: Vec2, chord: Vec2) -> f64 {
    tangent.cross(chord) / (chord.hypot2().sqrt() + tangent.dot(chord))
}

/// One arc, with what its distances need.
#[derive(Clone, Copy)]
struct Arc {
    start: Point,
    bulge: f64,
    chord: Vec2,
    centre: Point,
    radius: f64,
}

impl Arc {
    fn new(start: Point, end: Point, bulge: f64) -> Self {
        let chord = end - start;
        let left = Vec2::new(-chord.y, chord.x);
        let centre = start.midpoint(end) + left * ((1.0 - bulge * bulge) / (4.0 * bulge));
        let radius = chord.hypot2().sqrt() * (1.0 + bulge * bulge) / (4.0 * bulge.abs());
        Self {
            start,
            bulge,
            chord,
            centre,
            radius,
        }
    }

    /// Distance of a point beside it from its line, mm.
    fn distance(&self, point: Point) -> f64 {
        let from = point - self.start;
        // A circle of kilometres is a line with a bow, and its centre would cost digits.
        if self.bulge.abs() < 1e-6 {
            let length = self.chord.hypot2().sqrt();
            let t = self.chord.dot(from) / (length * length);
            let bow = -2.0 * self.bulge * length * t * (1.0 - t);
            (self.chord.cross(from) / length - bow).abs()
        } else {
            ((point - self.centre).hypot2().sqrt() - self.radius).abs()
        }
    }
}

/// Two arcs that meet in a common tangent.
struct Biarc([Arc; 2]);

impl Biarc {
    /// From `start` along `tangents.0` to `end` along `tangents.1`, the first control leg `share`
    /// times as long as it is where both are alike; none where no two short arcs do it.
    fn new(start: Point, end: Point, tangents: (Vec2, Vec2), share: f64) -> Option<Self> {
        let (from, to) = tangents;
        let chord = end - start;
        let both = chord.dot(from + to);
        let square = chord.hypot2();
        // Legs that meet in one tangent: square - 2 chord.(d1 from + d2 to) = 2 d1 d2 (1 - from.to).
        let apart = 1.0 - from.dot(to);
        let alike = square / (both + (both * both + 2.0 * apart * square).sqrt());
        let first = alike * share;
        let second = (square / 2.0 - first * chord.dot(from)) / (chord.dot(to) + first * apart);
        let (near, far) = (from * first, chord - to * second);
        let joint = start + (near * second + far * first) * (1.0 / (first + second));
        // The second arc, run backwards, leaves its end against the tangent there.
        let last = -bulge_from(-to, joint - end);
        let bulges = [bulge_from(from, joint - start), last];
        // Legs that point backwards, or arcs that go the long way round.
        let sound = first > 0.0 && second > 0.0 && bulges.iter().all(|bulge| bulge.abs() <= 1.0);
        sound.then(|| {
            Self([
                Arc::new(start, joint, bulges[0]),
                Arc::new(joint, end, bulges[1]),
            ])
        })
    }

    fn distance(&self, point: Point) -> f64 {
        let [first, second] = &self.0;
        let along = first.chord + second.chord;
        let before = (point - second.start).dot(along) < 0.0;
        if before { first } else { second }.distance(point)
    }
}
