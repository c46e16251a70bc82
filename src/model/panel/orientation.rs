//! Which way round: from the vehicle's directions to the reader's right and up.
//!
//! Axes are the vehicle's own, right-handed: front, left, up. The reader of a pattern stands
//! at a [`Face`] and looks at the panel; the page's right is `look x up`, with `look` the way
//! the reader faces and `up` what lies at the head of the page.

use crate::base::{Direction, direction};
use kurbo::Vec2;
use std::fmt;

/// Where the reader of the pattern stands: the face that the pattern is taped to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Face {
    /// Behind the vehicle, looking to its front.
    Behind,
    /// In front of the vehicle, looking to its rear.
    Front,
    /// Under the vehicle, looking up.
    Below,
    /// Over the vehicle, looking down.
    Above,
    /// At the vehicle's left, looking to its right.
    Left,
    /// At the vehicle's right, looking to its left.
    Right,
}

impl Face {
    /// Every face, in the order that messages list them.
    pub const ALL: [Self; 6] = [
        Self::Behind,
        Self::Front,
        Self::Below,
        Self::Above,
        Self::Left,
        Self::Right,
    ];

    /// The word for it in files and on sheets.
    pub fn word(self) -> &'static str {
        match self {
            Self::Behind => "behind",
            Self::Front => "front",
            Self::Below => "below",
            Self::Above => "above",
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The face named by `word`, if it names one.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|face| face.word() == word)
    }

    /// What to write for a word that is no face, where that can be said: the face at which one
    /// stands who looks from there.
    pub fn hint(word: &str) -> Option<String> {
        if direction::names_side_by_country(word) {
            return Direction::hint(word);
        }
        let from = Direction::from_word(word).or(direction::likely(word))?;
        let face = Self::ALL
            .into_iter()
            .find(|face| face.look() == from.opposite())?;
        Some(format!("write `{face}`: it is where the reader stands"))
    }

    /// The way the reader faces.
    pub fn look(self) -> Direction {
        match self {
            Self::Behind => Direction::Front,
            Self::Front => Direction::Rear,
            Self::Below => Direction::Up,
            Self::Above => Direction::Down,
            Self::Left => Direction::Right,
            Self::Right => Direction::Left,
        }
    }
}

impl fmt::Display for Face {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.word())
    }
}

/// How the panel lies before its reader.
///
/// Two frames follow from it. The *page* has its right and up as printed. The *panel frame* has
/// the datum edge at its foot: x to the reader's right then, y away from the datum edge. They
/// are one where the datum edge lies at the foot of the page, and half a turn apart where it
/// lies at the head; never mirrored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Orientation {
    seen_from: Face,
    datum_edge: Direction,
    page_up: Direction,
}

impl Orientation {
    /// Checks that the three directions go together.
    ///
    /// # Errors
    /// The datum edge must lie across the way the reader looks, and at the head or the foot of
    /// the page.
    pub fn new(
        seen_from: Face,
        datum_edge: Direction,
        page_up: Direction,
    ) -> Result<Self, OrientationError> {
        if seen_from.look().cross(page_up).is_none() {
            return Err(OrientationError::UpAlongLook { seen_from, page_up });
        }
        if datum_edge != page_up && datum_edge != page_up.opposite() {
            return Err(OrientationError::DatumAtSide {
                datum_edge,
                page_up,
            });
        }
        Ok(Self {
            seen_from,
            datum_edge,
            page_up,
        })
    }

    /// Where the reader stands.
    pub fn seen_from(self) -> Face {
        self.seen_from
    }

    /// The vehicle direction that the datum edge lies towards.
    pub fn datum_edge(self) -> Direction {
        self.datum_edge
    }

    /// The vehicle direction at the head of the page.
    pub fn page_up(self) -> Direction {
        self.page_up
    }

    /// The vehicle direction at the right of the page.
    pub fn page_right(self) -> Direction {
        // `new` refused the only pairs that have no cross product.
        self.seen_from
            .look()
            .cross(self.page_up)
            .unwrap_or(Direction::Right)
    }

    /// Whether the datum edge lies at the head of the page, half a turn from the panel frame.
    pub fn datum_at_head(self) -> bool {
        self.datum_edge == self.page_up
    }

    /// The vehicle direction of the panel frame's x.
    pub fn frame_right(self) -> Direction {
        if self.datum_at_head() {
            self.page_right().opposite()
        } else {
            self.page_right()
        }
    }

    /// The vehicle directions of the panel frame's four ways, each as a unit of it.
    pub fn frame_ways(self) -> [(Direction, Vec2); 4] {
        let (datum, right) = (self.datum_edge(), self.frame_right());
        [
            (datum, Vec2::new(0.0, -1.0)),
            (datum.opposite(), Vec2::new(0.0, 1.0)),
            (right, Vec2::new(1.0, 0.0)),
            (right.opposite(), Vec2::new(-1.0, 0.0)),
        ]
    }

    /// +1 or -1 for a direction along the datum edge, in the panel frame; `None` for others.
    pub fn sign_along_edge(self, direction: Direction) -> Option<f64> {
        if direction == self.frame_right() {
            Some(1.0)
        } else if direction == self.frame_right().opposite() {
            Some(-1.0)
        } else {
            None
        }
    }
}

/// Directions that do not go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OrientationError {
    /// The head of the page lies along the reader's look.
    UpAlongLook {
        /// Where the reader stands.
        seen_from: Face,
        /// What was to lie at the head of the page.
        page_up: Direction,
    },
    /// The datum edge lies at a side of the page.
    DatumAtSide {
        /// The edge named.
        datum_edge: Direction,
        /// What lies at the head of the page.
        page_up: Direction,
    },
}

impl fmt::Display for OrientationError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UpAlongLook { seen_from, page_up } => write!(
                out,
                "`page_up = \"{page_up}\"` lies along the reader's look when the panel is \
                 `seen_from = \"{seen_from}\"`"
            ),
            Self::DatumAtSide {
                datum_edge,
                page_up,
            } => write!(
                out,
                "`datum_edge = \"{datum_edge}\"` would lie at a side of the page when \
                 `page_up = \"{page_up}\"`; it must lie at the head or the foot: \
                 `{page_up}` or `{}`",
                page_up.opposite()
            ),
        }
    }
}

impl std::error::Error for OrientationError {}
