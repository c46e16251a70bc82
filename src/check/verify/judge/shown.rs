//! The marks that a page shows.

use crate::check::verify::measured::{Area, Clip, Letters, MeasuredPage, Painted, Stroke};
use crate::check::verify::paint::Tone;
use kurbo::{Rect, Shape};

/// One mark that a page shows.
#[derive(Debug, Clone, Copy)]
pub(super) enum Shown<'p> {
    Stroke(&'p Stroke),
    Area(&'p Area),
    Letters(&'p Letters),
}

impl Shown<'_> {
    pub(super) fn painted(&self) -> Painted {
        match self {
            Self::Stroke(stroke) => stroke.painted,
            Self::Area(area) => area.painted,
            Self::Letters(letters) => letters.painted,
        }
    }

    /// Whether it only hides: it leaves no ink of its own.
    pub(super) fn hides_only(&self) -> bool {
        self.painted().tone == Tone::Paper
    }

    /// Where in the file's list its layer stands.
    pub(super) fn layer(&self) -> Option<usize> {
        match self {
            Self::Stroke(stroke) => stroke.layer,
            Self::Area(area) => area.layer,
            Self::Letters(letters) => letters.layer,
        }
    }

    /// Box round what of it can be seen on the page, `None` where nothing can.
    pub(super) fn bounds(&self, page: &MeasuredPage) -> Option<Rect> {
        let bounds = match self {
            Self::Stroke(stroke) => {
                let reach = stroke.reach;
                stroke.path.bounding_box().inflate(reach, reach)
            }
            Self::Area(area) => area.path.bounding_box(),
            Self::Letters(letters) => {
                let reach = letters.along.hypot().max(letters.up.hypot());
                let points = letters.glyphs.iter().map(|(_, at)| *at);
                let boxes = points.map(|at| Rect::from_points(at, at));
                let all = boxes.reduce(|all, next| all.union(next))?;
                all.inflate(reach, reach)
            }
        };
        let room = seen_through(self.painted().clip, page);
        let seen = bounds.intersect(room);
        (bounds.x0 <= room.x1
            && room.x0 <= bounds.x1
            && bounds.y0 <= room.y1
            && room.y0 <= bounds.y1)
            .then_some(seen)
    }
}

pub(super) fn seen_through(clip: Clip, page: &MeasuredPage) -> Rect {
    clip.bounds
        .map_or(page.shown, |clip| clip.intersect(page.shown))
}
