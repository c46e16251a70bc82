//! The sweep where its line crosses itself: the union of images at several depths, with a strip
//! under each envelope.

use super::{ALONG_WALL, COINCIDENT, Piece, Wall, along_wall, is_inner};
use crate::geometry::development::SurfaceError;
use crate::geometry::outline::{Outline, Side, Vertex, offset, outers, union};
use kurbo::Vec2;

/// How far apart images are that are united, mm as seen along the passage: nothing that is cut is
/// as narrow.
const STEP: f64 = 1.0;

/// Most steps through one wall: a panel that needs more is no sheet.
const MOST_IMAGES: f64 = 64.0;

/// How far within the images the strips between them lie, mm: far more than what boolean operations
/// take for one place, far less than what is drawn.
const WITHIN: f64 = 5e-4;

/// How much deeper a strip is than the gap that it closes, mm.
const UNDER: f64 = 0.05;

impl Wall<'_> {
    /// The sweep as a union: of images near enough to each other to overlap wherever the outline
    /// is wider than [`STEP`], and of strips under the envelopes, which close the gaps left there.
    pub(super) fn united(&self, section: &Outline) -> Result<Vec<Outline>, SurfaceError> {
        let middle = self.face(self.thickness / 2.0)?;
        let mut most = 0.0_f64;
        for vertex in section.vertices() {
            most = most.max(middle.land(vertex.point)?.wall.hypot());
        }
        let count = (most * self.thickness / STEP)
            .ceil()
            .clamp(1.0, MOST_IMAGES) as usize;
        let mut covered = vec![];
        for image in 0..=count {
            let depth = self.thickness * image as f64 / count as f64;
            covered.push(self.image(section, depth)?);
        }
        for inner in outers(offset(section, -WITHIN)) {
            let pieces = self.pieces(&inner)?.unwrap_or_default();
            for (index, piece) in pieces.iter().enumerate() {
                let before = &pieces[(index + pieces.len() - 1) % pieces.len()];
                if before.far != piece.far {
                    covered.extend(self.strip(
                        before,
                        piece,
                        most * self.thickness / count as f64,
                    )?);
                }
            }
        }
        Ok(outers(union(&covered)))
    }

    /// What lies under the envelope where one piece follows another, deep enough for images that
    /// are `step` mm apart; none where the outline is hollow there, and images overlap.
    fn strip(
        &self,
        before: &Piece,
        piece: &Piece,
        step: f64,
    ) -> Result<Option<Outline>, SurfaceError> {
        let (side, place) = (&piece.side, piece.from);
        let middle = self.face(self.thickness / 2.0)?;
        let wall = middle.land(side.at(place))?.wall;
        if wall.hypot() * self.thickness < COINCIDENT {
            return Ok(None);
        }
        let wall = wall.normalize();
        let (arriving, leaving) = if is_inner(place) {
            (side.tangent(place), side.tangent(place))
        } else {
            (before.side.tangent(1.0), side.tangent(0.0))
        };
        let turn = arriving.cross(leaving);
        let hollow = turn < -ALONG_WALL || (is_inner(place) && side.bulge <= 0.0);
        if hollow {
            return Ok(None);
        }
        let (inwards, deep) = if turn > ALONG_WALL {
            // Two corners side by side meet this far under their points.
            let deep = step * (arriving.cross(wall) * leaving.cross(wall)).abs() / turn;
            let inwards = (leaving - arriving).normalize();
            (inwards, deep / inwards.cross(wall).abs().max(ALONG_WALL))
        } else {
            let inwards = Vec2::new(-leaving.y, leaving.x);
            let radius = side.radius().or(before.side.radius()).unwrap_or(step);
            (inwards, step * step / (8.0 * radius))
        };
        let mut vertices = vec![];
        self.envelope(side, place, (0.0, self.thickness), &mut vertices)?;
        if vertices.is_empty() {
            return Ok(None);
        }
        let (near, far) = (self.face(0.0)?, self.face(self.thickness)?);
        let end = side.at(along_wall(side, place, &far)?);
        let start = side.at(along_wall(side, place, &near)?);
        let under = inwards * (deep + UNDER);
        for point in [
            far.land(end)?.point,
            far.land(end + under)?.point,
            near.land(start + under)?.point,
        ] {
            vertices.push(Vertex {
                point,
                bulge: 0.0,
                side: Side::Cut,
            });
        }
        Ok(Some(Outline::new(vertices)?))
    }
}
