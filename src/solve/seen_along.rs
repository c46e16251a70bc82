//! Parts measured against the cut wall in space: along the way that the part comes through.
//!
//! The distance from a prism is the distance from its outline in the plane square to its way. The
//! blade is held square to the panel, so each place of the cut line is a straight line through the
//! wall: it is thrown back into that plane, where it is straight again, and measured there whole.
//! What moves farther sideways than depthways is the middle: that shifts the pattern along the
//! panel, and is met where the panel is.

use super::Through;
use crate::geometry::development::{Landing, Projection, SurfaceError, mapped};
use crate::geometry::outline::{Outline, Runs, Segment, Side};
use crate::model::clearance::EachWay;
use crate::solve::follow::{Spacing, least_distance};
use kurbo::{Point, Vec2};

/// How well the cut line is followed when it is looked at along a part's way, mm.
const LOOKED_AT: f64 = 0.001;

/// Stretches that are looked at along a straight side.
const ALONG_LINE: usize = 8;

/// The most that a stretch of an arc turns by, radians.
const TURN: f64 = std::f64::consts::FRAC_PI_8;

/// Steps to close in on the nearest place, each to 0.62 of the stretch before it.
const CLOSING_IN: usize = 16;

/// How much nearer a stretch may come than its middle, mm: stretches are short, and run along the
/// part.
const SLACK: f64 = 4.0;

/// Parts nearer than this may reach into the panel, mm: then more than the line counts.
const TOUCHING: f64 = 0.01;

/// A wall shorter than this as it is seen along the part's way is a point, mm.
const END_ON: f64 = 1e-7;

/// Places through the wall that are looked at for how deep a part reaches into it.
const THROUGH: usize = 8;

/// Stretches of the cut line that are closed in on: the nearest of those looked at.
const STRETCHES: usize = 3;

/// The least distance from a part's body to the cut wall, all through the panel, as it stands and
/// when it has moved; places are on the pattern.
///
/// # Errors
/// Where the panel is met edge-on or from behind, nothing can be measured.
pub(super) fn least_in_space(
    way: &Through,
    opening: &Outline,
    thickness: f64,
    moves: EachWay,
) -> Result<(Spacing, Spacing), SurfaceError> {
    let aside = moves.sideways - moves.lesser();
    let shifts: &[f64] = if aside > 0.0 { &[-aside, aside] } else { &[] };
    let wall = Wall {
        way,
        near: Projection::new(&way.surface, &way.passage, 0.0)?,
        far: Projection::new(&way.surface, &way.passage, thickness)?,
        thickness,
        sides: Runs::new(way.section.sides()),
        opening,
    };
    let (now, mut after) = wall.nearest(shifts)?;
    after.distance -= moves.lesser();
    Ok((now, after))
}

fn nearer(one: Spacing, other: Spacing) -> Spacing {
    if other.distance < one.distance {
        other
    } else {
        one
    }
}

/// The cut wall, and the part that comes through it. Seen along the part's way, each place of the
/// cut line is a straight line from the near face to the far one.
struct Wall<'a> {
    way: &'a Through,
    near: Projection<'a>,
    far: Projection<'a>,
    thickness: f64,
    sides: Runs,
    opening: &'a Outline,
}

/// A stretch of the cut line, and the places of its ends along it.
type Stretch = (Segment, f64, f64);

impl Wall<'_> {
    /// The nearest that part and wall come as they stand, and when the pattern lies any of `shifts`
    /// mm to the right.
    fn nearest(&self, shifts: &[f64]) -> Result<(Spacing, Spacing), SurfaceError> {
        let held = self.holds_part()?;
        let mut looks: Vec<(f64, Stretch)> = vec![];
        for side in self.opening.sides().filter(|side| side.side == Side::Cut) {
            let turns = (side.sweep().abs() / TURN).ceil().max(1.0) as usize;
            let stretches = if side.is_arc() { turns } else { ALONG_LINE };
            let place = |k: usize| k as f64 / (2 * stretches) as f64;
            let at = |k: usize| self.distance(side.at(place(k)));
            let distances: Vec<f64> = (0..=2 * stretches).map(at).collect();
            looks.extend((0..stretches).map(|k| {
                let looked = least_of([0, 1, 2].map(|look| distances[2 * k + look]));
                (looked, (side, place(2 * k), place(2 * k + 2)))
            }));
        }
        looks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let Some(least) = looks.first().map(|look| look.0) else {
            let now = self.measured_whole(&self.near, Vec2::ZERO)?;
            return Ok((now, now));
        };
        let now = self.closest(&looks, Vec2::ZERO, held)?;
        let mut after = now;
        for &shift in shifts {
            // A shift brings a place nearer by no more than itself.
            let within = least + 2.0 * shift.abs() + SLACK;
            let by = Vec2::new(shift, 0.0);
            let mut shifted: Vec<(f64, Stretch)> = looks
                .iter()
                .take_while(|look| look.0 <= within)
                .map(|&(_, (side, from, to))| {
                    let places = [from, f64::midpoint(from, to), to];
                    let looked = places.map(|t| self.distance(side.at(t) + by));
                    (least_of(looked), (side, from, to))
                })
                .collect();
            shifted.sort_by(|a, b| a.0.total_cmp(&b.0));
            after = nearer(after, self.closest(&shifted, by, held)?);
        }
        Ok((now, after))
    }

    /// The nearest place of those stretches that were looked at first; of the whole line, fitted
    /// on either face, for a part that its opening does not hold, or that reaches into the panel.
    fn closest(
        &self,
        looks: &[(f64, Stretch)],
        shift: Vec2,
        held: bool,
    ) -> Result<Spacing, SurfaceError> {
        let closed_in = looks
            .iter()
            .take(STRETCHES)
            .map(|(_, stretch)| self.close_in(stretch, shift));
        let Some((_, at)) = closed_in.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            return self.measured_whole(&self.near, shift);
        };
        let by_line = self.at(at, shift)?;
        if held && by_line.distance > TOUCHING {
            return Ok(by_line);
        }
        let near = self.measured_whole(&self.near, shift)?;
        let far = self.measured_whole(&self.far, shift)?;
        Ok(nearer(by_line, nearer(near, far)))
    }

    /// What is left between the part and the wall at one place of the cut line.
    fn at(&self, at: Point, shift: Vec2) -> Result<Spacing, SurfaceError> {
        let wall = self.seen(at + shift);
        let (on_wall, on_part) = self.nearest_points(&wall);
        let length = (wall.end - wall.start).hypot();
        let along = (on_wall - wall.start).hypot();
        let depth = if length > 0.0 {
            self.thickness * (along / length).min(1.0)
        } else {
            0.0
        };
        let face = Projection::new(&self.way.surface, &self.way.passage, depth)?;
        let section = &self.way.section;
        let within = (0..=THROUGH)
            .map(|k| wall.start.lerp(wall.end, k as f64 / THROUGH as f64))
            .filter(|&point| section.contains(point))
            .map(|point| section.distance(point).0)
            .fold(0.0, f64::max);
        Ok(Spacing {
            distance: if within > 0.0 {
                -within
            } else {
                on_wall.distance(on_part)
            },
            on_part: face.land(on_part)?.point,
            on_opening: at,
        })
    }

    /// Whether all corners of the part stand within the opening on both faces: else more than its
    /// line counts.
    fn holds_part(&self) -> Result<bool, SurfaceError> {
        for vertex in self.way.section.vertices() {
            for face in [&self.near, &self.far] {
                if !self.opening.contains(face.land(vertex.point)?.point) {
                    return Ok(false);
                }
            }
        }
        Ok(true)
    }

    /// The wall at a place of the pattern, as it is seen along the part's way.
    fn seen(&self, on_pattern: Point) -> Segment {
        Segment {
            start: self.near.back(on_pattern),
            end: self.far.back(on_pattern),
            bulge: 0.0,
            side: Side::Cut,
        }
    }

    /// The point of a wall and the point of the part that are nearest to each other.
    fn nearest_points(&self, wall: &Segment) -> (Point, Point) {
        let square = wall.start.distance_squared(wall.end) < END_ON * END_ON;
        let pair = if square {
            None
        } else {
            self.sides.nearest_to_side(wall)
        };
        pair.unwrap_or_else(|| (wall.start, self.way.section.distance(wall.start).1))
    }

    fn distance(&self, on_pattern: Point) -> f64 {
        let (on_wall, on_part) = self.nearest_points(&self.seen(on_pattern));
        on_wall.distance(on_part)
    }

    /// The nearest place of a stretch and its neighbours, by golden section.
    fn close_in(&self, &(side, from, to): &Stretch, shift: Vec2) -> (f64, Point) {
        const SHARE: f64 = 0.618_033_988_749_894_9;
        let reach = to - from;
        let (mut low, mut high) = ((from - reach).max(0.0), (to + reach).min(1.0));
        let look = |t: f64| self.distance(side.at(t) + shift);
        let ends = [low, high].map(|t| (look(t), side.at(t)));
        let (mut left, mut right) = (high - SHARE * (high - low), low + SHARE * (high - low));
        let (mut at_left, mut at_right) = (look(left), look(right));
        for _ in 0..CLOSING_IN {
            if at_left < at_right {
                (high, right, at_right) = (right, left, at_left);
                left = high - SHARE * (high - low);
                at_left = look(left);
            } else {
                (low, left, at_left) = (left, right, at_right);
                right = low + SHARE * (high - low);
                at_right = look(right);
            }
        }
        let t = f64::midpoint(low, high);
        let middle = (look(t), side.at(t));
        ends.into_iter()
            .fold(middle, |best, end| if end.0 < best.0 { end } else { best })
    }

    /// The whole cut line of one face, fitted in the plane.
    fn measured_whole(&self, face: &Projection<'_>, shift: Vec2) -> Result<Spacing, SurfaceError> {
        let thrown = |point: Point| thrown_back(face, point + shift);
        let seen = mapped(self.opening, thrown, LOOKED_AT)?;
        let spacing = least_distance(&self.way.section, &seen);
        Ok(Spacing {
            on_part: face.land(spacing.on_part)?.point,
            on_opening: face.land(spacing.on_opening)?.point - shift,
            ..spacing
        })
    }
}

/// The least of a stretch, from what is seen at its start, its middle and its end: that of the
/// parabola through them.
fn least_of([start, middle, end]: [f64; 3]) -> f64 {
    let bend = 2.0 * (start - 2.0 * middle + end);
    let slope = 4.0 * middle - 3.0 * start - end;
    let at = -slope / (2.0 * bend);
    let seen = start.min(middle).min(end);
    if bend > 0.0 && (0.0..=1.0).contains(&at) {
        seen.min(start + at * (slope + bend * at))
    } else {
        seen
    }
}

/// A point of a face in the plane square to the way, and how it moves with the pattern's x and y.
fn thrown_back(face: &Projection<'_>, pattern: Point) -> Result<Landing, SurfaceError> {
    let point = face.back(pattern);
    let there = face.land(point)?;
    let (x, y) = (there.by_x, there.by_y);
    let turn = x.cross(y);
    Ok(Landing {
        point,
        by_x: Vec2::new(y.y, -x.y) / turn,
        by_y: Vec2::new(-y.x, x.x) / turn,
        ..there
    })
}
