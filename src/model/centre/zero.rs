//! Where a tape is hooked.

/// The end of the panel that the tape starts from, by the vehicle's own side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Zero {
    /// Readings grow towards the vehicle's right.
    #[default]
    Left,
    /// Readings grow towards the vehicle's left.
    Right,
}

impl Zero {
    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The other end.
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// How far a point read at `reading` lies to the vehicle's right of one read at `from`, mm;
    /// negative where it lies to the left.
    pub fn to_the_right(self, reading: f64, from: f64) -> f64 {
        match self {
            Self::Left => reading - from,
            Self::Right => from - reading,
        }
    }
}
