//! One distance to be ticked off, and what it reads where the pattern is laid wrongly.

use crate::model::panel::DatumEdge;
use kurbo::{Point, Vec2};

/// What a tape is laid to.
#[derive(Debug, Clone, Copy)]
pub(super) enum End<'a> {
    /// A feature of the panel, which stays where it is however the pattern is laid; mm, panel frame.
    Panel(Point),
    /// A point printed on the pattern, where it stands if the pattern is laid right.
    Paper(Point),
    /// The datum edge, which the tape is hooked over, square to the line through its ends.
    Edge(&'a DatumEdge),
}

/// A distance with the names of its ends.
#[derive(Debug, Clone)]
pub(super) struct Check<'a> {
    pub(super) from: String,
    pub(super) to: String,
    pub(super) ends: [End<'a>; 2],
    /// Places of the openings that its printed points belong to.
    pub(super) openings: Vec<usize>,
}

/// A pattern laid otherwise than it should be.
#[derive(Debug, Clone, Copy)]
pub(super) struct Laid {
    /// What it is turned, scaled about, mm.
    pub(super) about: Point,
    /// How far it is shifted, mm.
    pub(super) shift: Vec2,
    /// How far it is turned, radians.
    pub(super) turn: f64,
    /// What it is printed at: 1 at full size.
    pub(super) scale: f64,
    /// Whether left and right are exchanged about the centreline.
    pub(super) mirrored: bool,
}

impl Laid {
    /// As it should be.
    pub(super) fn right(about: Point) -> Self {
        Self {
            about,
            shift: Vec2::ZERO,
            turn: 0.0,
            scale: 1.0,
            mirrored: false,
        }
    }

    fn place(&self, point: Point) -> Point {
        let point = if self.mirrored {
            Point::new(-point.x, point.y)
        } else {
            point
        };
        let from = (point - self.about) * self.scale;
        let (sin, cos) = libm::sincos(self.turn);
        let turned = Vec2::new(cos * from.x - sin * from.y, sin * from.x + cos * from.y);
        self.about + turned + self.shift
    }
}

impl Check<'_> {
    /// What the tape reads, mm.
    pub(super) fn reading(&self, laid: &Laid) -> f64 {
        let at = |end: End<'_>| match end {
            End::Panel(point) => Some(point),
            End::Paper(point) => Some(laid.place(point)),
            End::Edge(_) => None,
        };
        match (self.ends, self.ends.map(at)) {
            (_, [Some(a), Some(b)]) => a.distance(b),
            ([End::Edge(edge), _], [None, Some(point)])
            | ([_, End::Edge(edge)], [Some(point), None]) => (point.y - edge.at(point.x)).abs(),
            _ => 0.0,
        }
    }

    /// Its printed points.
    pub(super) fn printed(&self) -> impl Iterator<Item = Point> {
        self.ends.into_iter().filter_map(|end| match end {
            End::Paper(point) => Some(point),
            End::Panel(_) | End::Edge(_) => None,
        })
    }
}
