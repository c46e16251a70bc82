//! Parts measured against the cut wall in space: along the way that the part comes through.
//!
//! The distance from a prism is the distance from its outline in the plane square to its way, so
//! the cut line of each face is thrown back into that plane and measured there. What moves farther
//! sideways than depthways is the middle: that shifts the pattern along the panel, and is met where
//! the panel is.

use super::Through;
use crate::clearance::EachWay;
use crate::opening::{Spacing, least_distance};
use crate::outline::{Outline, Segment, Side};
use crate::surface::{Landing, Projection, SurfaceError, mapped};
use kurbo::{Point, Vec2};

/// How well the cut line is followed when it is looked at along a part's way, mm.
const LOOKED_AT: f64 = 0.001;

/// Places looked at along a straight side, and along an arc: fitted arcs are short.
const ALONG_LINE: usize = 12;
const ALONG_ARC: usize = 2;

/// Steps to close in on the nearest place, each to 0.62 of the stretch before it.
const CLOSING_IN: usize = 16;

/// How much nearer a stretch may come than its middle, mm: stretches are short, and run along the
/// part.
const SLACK: f64 = 4.0;

/// Stretches of the cut line that are closed in on: the nearest of those looked at.
const STRETCHES: usize = 3;

/// The least distance from a part's body to the cut wall, at both faces of the panel, as it stands
/// and when it has moved; places are on the pattern.
pub(super) fn least_in_space(
    way: &Through,
    opening: &Outline,
    thickness: f64,
    moves: EachWay,
) -> Result<(Spacing, Spacing), SurfaceError> {
    let aside = moves.sideways - moves.lesser();
    let shifts: &[f64] = if aside > 0.0 { &[-aside, aside] } else { &[] };
    let faces: &[f64] = if thickness > 0.0 {
        &[0.0, thickness]
    } else {
        &[0.0]
    };
    let mut least: Option<(Spacing, Spacing)> = None;
    for &behind in faces {
        let wall = Wall {
            face: Projection::new(&way.surface, &way.passage, behind)?,
            section: &way.section,
            opening,
        };
        let (now, mut after) = wall.nearest(shifts)?;
        after.distance -= moves.lesser();
        least = Some(match least {
            Some((least_now, least_after)) => (nearer(least_now, now), nearer(least_after, after)),
            None => (now, after),
        });
    }
    least.ok_or(SurfaceError::Hidden { at: Point::ZERO })
}

fn nearer(one: Spacing, other: Spacing) -> Spacing {
    if other.distance < one.distance {
        other
    } else {
        one
    }
}

/// The cut wall at one face, and the part that comes through it.
struct Wall<'a> {
    face: Projection<'a>,
    section: &'a Outline,
    opening: &'a Outline,
}

/// A stretch of the cut line, and the places of its ends along it.
type Stretch = (Segment, f64, f64);

impl Wall<'_> {
    /// The nearest that part and wall come as they stand, and when the pattern lies any of `shifts`
    /// mm to the right.
    fn nearest(&self, shifts: &[f64]) -> Result<(Spacing, Spacing), SurfaceError> {
        let straight = Vec2::ZERO;
        if !self.holds_part()? {
            let now = self.measured_whole(straight)?;
            let mut after = now;
            for &shift in shifts {
                after = nearer(after, self.measured_whole(Vec2::new(shift, 0.0))?);
            }
            return Ok((now, after));
        }
        let mut looks: Vec<(f64, Stretch)> = vec![];
        for side in self.opening.sides().filter(|side| side.side == Side::Cut) {
            let places = if side.is_arc() { ALONG_ARC } else { ALONG_LINE };
            for k in 0..places {
                let (from, to) = (k as f64 / places as f64, (k + 1) as f64 / places as f64);
                let middle = self.distance(side.at(f64::midpoint(from, to)));
                looks.push((middle, (side, from, to)));
            }
        }
        looks.sort_by(|a, b| a.0.total_cmp(&b.0));
        let Some(least) = looks.first().map(|look| look.0) else {
            let now = self.measured_whole(straight)?;
            return Ok((now, now));
        };
        let now = self.closest(&looks, straight)?;
        let mut after = now;
        for &shift in shifts {
            // A shift brings a place nearer by no more than itself.
            let within = least + 2.0 * shift.abs() + SLACK;
            let by = Vec2::new(shift, 0.0);
            let mut shifted: Vec<(f64, Stretch)> = looks
                .iter()
                .take_while(|look| look.0 <= within)
                .map(|&(_, (side, from, to))| {
                    let middle = side.at(f64::midpoint(from, to));
                    (self.distance(middle + by), (side, from, to))
                })
                .collect();
            shifted.sort_by(|a, b| a.0.total_cmp(&b.0));
            after = nearer(after, self.closest(&shifted, by)?);
        }
        Ok((now, after))
    }

    /// The nearest place of those stretches that were looked at first.
    fn closest(&self, looks: &[(f64, Stretch)], shift: Vec2) -> Result<Spacing, SurfaceError> {
        let closed_in = looks
            .iter()
            .take(STRETCHES)
            .map(|(_, stretch)| self.close_in(stretch, shift));
        let Some((_, at)) = closed_in.min_by(|a, b| a.0.total_cmp(&b.0)) else {
            return self.measured_whole(shift);
        };
        let seen = self.face.back(at + shift);
        let (distance, on_part) = self.section.distance(seen);
        let inside = self.section.contains(seen);
        Ok(Spacing {
            distance: if inside { -distance } else { distance },
            on_part: self.face.land(on_part)?.point,
            on_opening: at,
        })
    }

    /// Whether all corners of the part stand within the opening: else more than its line counts.
    fn holds_part(&self) -> Result<bool, SurfaceError> {
        for vertex in self.section.vertices() {
            let landing = self.face.land(vertex.point)?;
            if !self.opening.contains(landing.point) {
                return Ok(false);
            }
        }
        Ok(true)
    }

    fn distance(&self, on_pattern: Point) -> f64 {
        self.section.distance(self.face.back(on_pattern)).0
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

    /// The whole cut line fitted in the plane, for a part that its opening does not hold.
    fn measured_whole(&self, shift: Vec2) -> Result<Spacing, SurfaceError> {
        let thrown = |point: Point| thrown_back(&self.face, point + shift);
        let seen = mapped(self.opening, thrown, LOOKED_AT)?;
        let spacing = least_distance(self.section, &seen);
        Ok(Spacing {
            on_part: self.face.land(spacing.on_part)?.point,
            on_opening: self.face.land(spacing.on_opening)?.point - shift,
            ..spacing
        })
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
