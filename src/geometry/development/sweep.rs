//! What an outline covers on the pattern while it is thrown on to the face at every depth of a wall.
//!
//! Seen along the passage, the wall at one place of the pattern is a straight line whose direction
//! `N` is that of the panel's normal. Going deeper, the image of a point of the outline moves over
//! the pattern by `-J N`, `J` the derivative of the projection. So where the outline's own normal
//! `n` has `n N < 0` its image moves outwards and the far face bounds the sweep; where `n N > 0`
//! the near face does; and between them the envelope, along which the outline runs with `N`. A
//! corner there draws the path of its point, and an arc that of the point whose tangent is `N`. The
//! images of a straight side that comes to run along the wall on its way simply cross.
//!
//! That line is the sweep's own wherever the outline is convex at each of these places. Where it is
//! not, the line crosses itself, and the sweep is put together in `united`.

mod united;

use super::fit::{Mapped, follow, mapped, turns};
use super::{Passage, Projection, Surface, SurfaceError};
use crate::geometry::outline::{Outline, OutlineError, Segment, Side, Vertex};
use kurbo::Vec2;

/// A wall that is seen this little aslant stands along the passage: its faces coincide, mm.
const COINCIDENT: f64 = 1e-7;

/// Sine of an angle at which a side runs along the wall: neither face bounds it alone.
const ALONG_WALL: f64 = 1e-9;

/// Stretches of a side that are looked at for a change of the face that bounds them.
const STRETCHES: usize = 6;

/// Halvings for the place of such a change, as a share of a stretch.
const HALVINGS: usize = 40;

/// Rounds for the place of a straight side whose images on both faces cross.
const CROSSING_ROUNDS: usize = 12;

/// Images are taken to cross where they come this near, mm.
const CROSSED: f64 = 1e-9;

/// Most rounds of the secant method for the place of an arc where the face that bounds it changes.
const ROUNDS: usize = 10;

/// Where the second place of that method lies, as a share of the arc: places on two faces of a panel
/// lie about so far apart.
const NEARBY: f64 = 1e-3;

/// A step of it that is too small to matter, as a share of the arc.
const SETTLED: f64 = 1e-13;

/// The part of the pattern that `section`, an outline in the plane square to the passage, covers on
/// the faces at every depth from 0 to `thickness`, mm; its line lies within `tolerance`.
///
/// # Errors
/// As [`Projection::land`].
pub(super) fn swept(
    surface: &Surface,
    passage: &Passage,
    thickness: f64,
    section: &Outline,
    tolerance: f64,
) -> Result<Vec<Outline>, SurfaceError> {
    let wall = Wall {
        surface,
        passage,
        thickness,
        tolerance,
    };
    let Some(pieces) = wall.pieces(section)? else {
        return Ok(vec![wall.image(section, 0.0)?]);
    };
    if pieces.iter().all(|piece| piece.far == pieces[0].far) {
        let depth = wall.depth_of(&pieces[0]);
        return Ok(vec![wall.image(section, depth)?]);
    }
    match wall.round(&pieces) {
        Err(SurfaceError::Outline(OutlineError::SelfCrossing { .. })) => {}
        whole => return Ok(vec![whole?]),
    }
    wall.united(section)
}

/// A wall, and how well lines on it are followed.
struct Wall<'a> {
    surface: &'a Surface,
    passage: &'a Passage,
    thickness: f64,
    tolerance: f64,
}

/// A piece of a side that one face bounds.
#[derive(Clone, Copy)]
struct Piece {
    side: Segment,
    from: f64,
    to: f64,
    /// Whether the far face bounds it, else the near one.
    far: bool,
}

impl Wall<'_> {
    fn face(&self, depth: f64) -> Result<Projection<'_>, SurfaceError> {
        Projection::new(self.surface, self.passage, depth)
    }

    fn depth_of(&self, piece: &Piece) -> f64 {
        if piece.far { self.thickness } else { 0.0 }
    }

    /// The outline's sides, cut where the face that bounds them changes half-way through the wall;
    /// none where the wall is seen nowhere aslant.
    fn pieces(&self, section: &Outline) -> Result<Option<Vec<Piece>>, SurfaceError> {
        let middle = self.face(self.thickness / 2.0)?;
        let (mut told, mut most) = (vec![], 0.0_f64);
        for side in section.sides() {
            let lean = |t: f64| lean(&side, t, &middle);
            let mut cuts = vec![0.0];
            // The last look at which one face bounds the side for certain: where a look falls on
            // the place of a change itself, the change shows at the next.
            let mut before: Option<(f64, f64)> = None;
            for k in 0..=STRETCHES {
                let t = k as f64 / STRETCHES as f64;
                let (at, slant) = lean(t)?;
                most = most.max(slant);
                if at.abs() <= ALONG_WALL {
                    continue;
                }
                if let Some((last, was)) = before
                    && was * at < 0.0
                {
                    let (mut low, mut high) = (last, t);
                    for _ in 0..HALVINGS {
                        let half = f64::midpoint(low, high);
                        if lean(half)?.0 * was > 0.0 {
                            low = half;
                        } else {
                            high = half;
                        }
                    }
                    cuts.push(high);
                }
                before = Some((t, at));
            }
            cuts.push(1.0);
            for pair in cuts.windows(2) {
                let (from, to) = (pair[0], pair[1]);
                let lean = lean(f64::midpoint(from, to))?.0;
                let far = (lean.abs() > ALONG_WALL).then_some(lean < 0.0);
                told.push((side, from, to, far));
            }
        }
        if most * self.thickness < COINCIDENT {
            return Ok(None);
        }
        // A side along the wall goes with what comes before it.
        let Some(mut last) = told.iter().rev().find_map(|one| one.3) else {
            return Ok(None);
        };
        let pieces = told.into_iter().map(|(side, from, to, far)| {
            last = far.unwrap_or(last);
            Piece {
                side,
                from,
                to,
                far: last,
            }
        });
        Ok(Some(pieces.collect()))
    }

    /// The line all round: each piece on its face, and the envelope where the face changes.
    fn round(&self, pieces: &[Piece]) -> Result<Outline, SurfaceError> {
        let mut vertices = vec![];
        for (index, piece) in pieces.iter().enumerate() {
            let before = &pieces[(index + pieces.len() - 1) % pieces.len()];
            if before.far != piece.far {
                let depths = (self.depth_of(before), self.depth_of(piece));
                self.envelope(&piece.side, piece.from, depths, &mut vertices)?;
            }
            self.on_face(piece, self.depth_of(piece), &mut vertices)?;
        }
        Ok(Outline::new(vertices)?)
    }

    fn image(&self, section: &Outline, depth: f64) -> Result<Outline, SurfaceError> {
        let face = self.face(depth)?;
        mapped(section, |point| face.land(point), self.tolerance)
    }

    /// One piece on one face.
    fn on_face(
        &self,
        piece: &Piece,
        depth: f64,
        vertices: &mut Vec<Vertex>,
    ) -> Result<(), SurfaceError> {
        let face = self.face(depth)?;
        let ends = [piece.from, piece.to].map(|t| self.end(&piece.side, t, &face, depth));
        let (from, to) = match ends {
            [Ok(from), Ok(to)] => (from, to),
            [Err(error), _] | [_, Err(error)] => return Err(error),
        };
        let length = piece.side.length() * (to - from);
        let curve = |t: f64| -> Result<Mapped, SurfaceError> {
            let t = from + (to - from) * t;
            let landing = face.land(piece.side.at(t))?;
            let along = piece.side.tangent(t) * length;
            Ok((
                landing.point,
                landing.by_x * along.x + landing.by_y * along.y,
            ))
        };
        follow(
            &curve,
            turns(&piece.side),
            Side::Cut,
            self.tolerance,
            vertices,
        )
    }

    /// The envelope between two depths, of the place of a side that runs along the wall.
    fn envelope(
        &self,
        side: &Segment,
        place: f64,
        (from, to): (f64, f64),
        vertices: &mut Vec<Vertex>,
    ) -> Result<(), SurfaceError> {
        let curve = |t: f64| -> Result<Mapped, SurfaceError> {
            let face = self.face(from + (to - from) * t)?;
            let point = side.at(along_wall(side, place, &face)?);
            let landing = face.land(point)?;
            let wall = landing.wall * (from - to);
            Ok((landing.point, landing.by_x * wall.x + landing.by_y * wall.y))
        };
        // Where the wall is seen end-on nothing moves.
        let ends = (curve(0.0)?, curve(1.0)?);
        let crosses = is_inner(place) && !side.is_arc();
        if crosses || ends.0.0.distance(ends.1.0) < COINCIDENT {
            return Ok(());
        }
        follow(&curve, 1.0, Side::Cut, self.tolerance, vertices)
    }

    /// Where on a side the line changes from one face to the other, on one of them, from its place
    /// half-way through the wall.
    fn end(
        &self,
        side: &Segment,
        place: f64,
        face: &Projection<'_>,
        depth: f64,
    ) -> Result<f64, SurfaceError> {
        if side.is_arc() || !is_inner(place) {
            return along_wall(side, place, face);
        }
        let (near, far) = (self.face(0.0)?, self.face(self.thickness)?);
        let along = side.end - side.start;
        // How far the far image of a place lies off the near image of the side, and beside which
        // place of it, both in the plane.
        let beside = |t: f64| -> Result<(f64, f64), SurfaceError> {
            let from = near.back(far.land(side.at(t))?.point) - side.start;
            Ok((
                along.cross(from) / along.hypot(),
                along.dot(from) / along.hypot2(),
            ))
        };
        let (mut before, mut on_far) = (0.5 * place, place);
        let mut off_before = beside(before)?.0;
        let (mut off, mut on_near) = beside(on_far)?;
        for _ in 0..CROSSING_ROUNDS {
            if off.abs() < CROSSED || off == off_before {
                break;
            }
            let next = on_far - off * (on_far - before) / (off - off_before);
            (before, off_before) = (on_far, off);
            on_far = next.clamp(0.0, 1.0);
            (off, on_near) = beside(on_far)?;
        }
        Ok(if depth > 0.0 {
            on_far
        } else {
            on_near.clamp(0.0, 1.0)
        })
    }
}

/// Whether a place is none of a side's ends.
fn is_inner(place: f64) -> bool {
    place > 0.0 && place < 1.0
}

/// Where on an arc, from a first guess, the face that bounds it changes as the wall is seen on a face:
/// where it runs along the wall, or where the wall is seen end-on, as at the crown of a curve. Ends
/// of sides, and places of straight ones, stay.
fn along_wall(side: &Segment, guess: f64, face: &Projection<'_>) -> Result<f64, SurfaceError> {
    if !side.is_arc() || !is_inner(guess) {
        return Ok(guess);
    }
    let away = if guess < 0.5 { NEARBY } else { -NEARBY };
    let (mut before, mut t) = (guess, guess + away);
    let (mut was, mut now) = (lean(side, before, face)?.0, lean(side, t, face)?.0);
    for _ in 0..ROUNDS {
        if now == was || (t - before).abs() < SETTLED {
            break;
        }
        let next = (t - now * (t - before) / (now - was)).clamp(0.0, 1.0);
        (before, was) = (t, now);
        t = next;
        now = lean(side, t, face)?.0;
    }
    Ok(t)
}

/// How far a side's outward normal lies along the wall where it meets a face, negative where the far
/// face bounds the sweep; and how far aslant the wall is seen there.
fn lean(side: &Segment, t: f64, face: &Projection<'_>) -> Result<(f64, f64), SurfaceError> {
    let wall = face.land(side.at(t))?.wall;
    let tangent = side.tangent(t);
    Ok((Vec2::new(tangent.y, -tangent.x).dot(wall), wall.hypot()))
}
