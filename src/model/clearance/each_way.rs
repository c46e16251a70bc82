//! A distance that differs with the direction.

/// A distance along the datum edge and one away from it, mm, each to both sides.
///
/// As a movement, or a clearance to be kept all round, it stands for a circle of the lesser of
/// the two, moved along the other's axis by the difference: a slot-shaped area with the two as
/// its half-lengths. It holds the ellipse of the same half-lengths, and where both are alike it
/// is a circle exactly, so that outlines of lines and arcs stay lines and arcs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EachWay<T = f64> {
    /// Along the datum edge, mm, 0 or more.
    pub sideways: T,
    /// Square to the datum edge, mm, 0 or more.
    pub depthways: T,
}

impl<T: Clone> EachWay<T> {
    /// The same in every direction.
    pub fn alike(both: T) -> Self {
        Self {
            sideways: both.clone(),
            depthways: both,
        }
    }
}

impl EachWay {
    /// The same in every direction.
    pub const fn even(distance: f64) -> Self {
        Self {
            sideways: distance,
            depthways: distance,
        }
    }

    /// The greater of the two, mm.
    pub fn greater(self) -> f64 {
        self.sideways.max(self.depthways)
    }

    /// The lesser of the two, mm: what is kept in every direction.
    pub fn lesser(self) -> f64 {
        self.sideways.min(self.depthways)
    }
}
