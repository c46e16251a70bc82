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

    /// What to write for a word that is no direction, such as `back` or `driver's side`; `None`
    /// where nobody can say what is meant.
    pub fn hint(word: &str) -> Option<String> {
        if names_side_by_country(word) {
            return Some(format!("write `left` or `right`: {SIDES}"));
        }
        likely(word).map(|direction| format!("write `{direction}`: {SIDES}"))
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

/// The direction that a word of daily talk means, in whatever case; `None` where it is none, or
/// means another with each country or viewer.
pub(crate) fn likely(word: &str) -> Option<Direction> {
    Some(match plain(word).as_str() {
        "back" | "backward" | "backwards" | "rearward" | "rearwards" | "behind" | "aft"
        | "tail" | "tail end" | "rear end" => Direction::Rear,
        "forward" | "forwards" | "fore" | "ahead" | "nose" | "front end" => Direction::Front,
        "bottom" | "below" | "under" | "underneath" | "lower" | "downward" | "downwards"
        | "floor" | "ground" => Direction::Down,
        "top" | "above" | "over" | "upper" | "upward" | "upwards" | "roof" => Direction::Up,
        "left hand" | "left side" | "left hand side" => Direction::Left,
        "right hand" | "right side" | "right hand side" => Direction::Right,
        _ => return None,
    })
}

/// Which way left and right go.
pub(crate) const SIDES: &str = "`left` and `right` are the vehicle's own, as its driver faces; besides, there are `front`, \
     `rear`, `up` and `down`";

/// Whether a text names a side that changes with the country, or with where the viewer stands.
pub(crate) fn names_side_by_country(text: &str) -> bool {
    let text = plain(text);
    [
        "driver",
        "passenger",
        "kerb",
        "curb",
        "near side",
        "off side",
    ]
    .into_iter()
    .chain(["nearside", "offside"])
    .any(|word| text.contains(word))
}

fn plain(word: &str) -> String {
    word.trim().to_lowercase().replace(['-', '_'], " ")
}
