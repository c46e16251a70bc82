//! Points and directions in space.
//!
//! The frame is the reader's: `x` to the right with the datum edge at the foot, `z` up the page
//! as the panel is seen square-on, `depth` away from the reader; mm, or no unit for directions.

use std::ops::{Add, Mul, Sub};

/// A point or a direction in the reader's frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Space {
    /// Across, to the right, mm.
    pub x: f64,
    /// Up the page as seen square-on, mm.
    pub z: f64,
    /// Away from the reader, mm.
    pub depth: f64,
}

impl Space {
    /// The origin: the datum edge on the centreline, on the face that the reader sees.
    pub const ORIGIN: Self = Self::new(0.0, 0.0, 0.0);

    /// From its three numbers.
    pub const fn new(x: f64, z: f64, depth: f64) -> Self {
        Self { x, z, depth }
    }

    /// Scalar product.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.z * other.z + self.depth * other.depth
    }

    /// Length, mm.
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }
}

impl Add for Space {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.z + other.z, self.depth + other.depth)
    }
}

impl Sub for Space {
    type Output = Self;

    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.z - other.z, self.depth - other.depth)
    }
}

impl Mul<f64> for Space {
    type Output = Self;

    fn mul(self, by: f64) -> Self {
        Self::new(self.x * by, self.z * by, self.depth * by)
    }
}
