//! Directions of the vehicle, as its driver faces.

use std::fmt;

/// A direction of the vehicle, as its driver faces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Direction {
    /// The way the vehicle drives.
    Front,
    /// Against the way it drives.
    Rear,
    /// The driver's left hand.
    Left,
    /// The driver's right hand.
    Right,
    /// Away from the ground.
    Up,
    /// To the ground.
    Down,
}

impl Direction {
    /// Every direction, in the order that messages list them.
    pub const ALL: [Self; 6] = [
        Self::Front,
        Self::Rear,
        Self::Left,
        Self::Right,
        Self::Up,
        Self::Down,
    ];

    /// The word for it in files and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
            Self::Left => "left",
            Self::Right => "right",
            Self::Up => "up",
            Self::Down => "down",
        }
    }

    /// The direction named by `word`, if it names one.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|direction| direction.word() == word)
    }

    /// The direction that points the other way.
    pub fn opposite(self) -> Self {
        match self {
            Self::Front => Self::Rear,
            Self::Rear => Self::Front,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Up => Self::Down,
            Self::Down => Self::Up,
        }
    }

    /// Unit vector in the vehicle's axes: front, left, up.
    pub(crate) fn axis(self) -> [i8; 3] {
        match self {
            Self::Front => [1, 0, 0],
            Self::Rear => [-1, 0, 0],
            Self::Left => [0, 1, 0],
            Self::Right => [0, -1, 0],
            Self::Up => [0, 0, 1],
            Self::Down => [0, 0, -1],
        }
    }

    /// Cross product; `None` where the two lie along one line.
    pub(crate) fn cross(self, other: Self) -> Option<Self> {
        let ([a, b, c], [d, e, f]) = (self.axis(), other.axis());
        let product = [b * f - c * e, c * d - a * f, a * e - b * d];
        Self::ALL
            .into_iter()
            .find(|direction| direction.axis() == product)
    }
}

impl fmt::Display for Direction {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.word())
    }
}
