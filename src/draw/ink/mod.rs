//! Resolved ink: what the writers and the sheets know, and all they know.
//!
//! Millimetres, y up, turned as the page lies. A [`Drawing`] holds the full-size work and, as
//! [`Block`]s, what is told beside it; nothing in it refers back to panels or shapes.

mod block;
mod bounds;
mod front;
mod geometry;
pub mod lettering;
mod mark;
mod said;

pub use block::{Block, Cell, Column, TitleBlock};
pub use bounds::mark_bounds;
pub use front::Front;
pub use geometry::{Geometry, Island, Rooms, Ways};
pub use mark::{Anchor, Ink, Layer, Line, LineType, Mark, Shade, Text, Width};
pub use said::{Begins, Role, Said};

use crate::base::Direction;
use kurbo::Size;

/// A whole pattern as ink.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// What identifies the pattern, on every sheet.
    pub title: TitleBlock,
    /// The list of facts that its code is taken over, for files to carry.
    pub content: String,
    /// The vehicle directions that the page's edges point to.
    pub edges: PageEdges,
    /// What every sheet of the work must say, and what to do about it, each on a line; may be empty.
    pub warning: [String; 2],
    /// What the printed scale may be off by, a part of 1.
    pub scale_error: f64,
    /// What of the work stands at its place, and what its sheets are found by.
    pub geometry: Geometry,
    /// All marks at full size: those that stand at their place, and the lettering round them.
    pub work: Vec<Mark>,
    /// What is read before the work.
    pub front: Front,
    /// What is kept and not needed at the panel, in order.
    pub record: Vec<Block>,
}

impl Drawing {
    /// All that is told in words beside the work: the front page's, then the record's.
    pub fn told(&self) -> impl Iterator<Item = &str> {
        let record = self.record.iter().flat_map(Block::words);
        self.front.words().into_iter().chain(record)
    }
}

/// The vehicle direction that each edge of the page points to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PageEdges {
    /// At the head.
    pub head: Direction,
    /// At the foot.
    pub foot: Direction,
    /// At the left as one reads.
    pub left: Direction,
    /// At the right as one reads.
    pub right: Direction,
}

/// The whole pattern on one plate, for SVG; origin at its lower left, mm, y up.
#[derive(Debug, Clone)]
pub struct Plate {
    /// Title.
    pub title: String,
    /// What it shows and how to use it.
    pub description: String,
    /// The facts of the pattern that it shows, as the file carries them; may be empty.
    pub content: String,
    /// Size, mm.
    pub size: Size,
    /// All marks.
    pub marks: Vec<Mark>,
}
