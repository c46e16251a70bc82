//! What stands at its place whatever else is drawn, and where lettering may stand beside it.

use super::Mark;
use kurbo::{Point, Rect};

/// One way to print a pattern: the ink that stands at its place, and what its sheets are found by.
#[derive(Debug, Clone, Default)]
pub struct Geometry {
    /// Marks at full size that stand at their place, drawn as far as the sheets reach.
    pub marks: Vec<Mark>,
    /// What is laid on the panel by itself, each on sheets of its own; one where all is joined.
    pub islands: Vec<Island>,
    /// Locators that were left out to fit, by name.
    pub left_out: Vec<String>,
}

/// What hangs together on paper and is laid as one.
#[derive(Debug, Clone, Default)]
pub struct Island {
    /// What the sheets must show: what is cut, drilled and laid by.
    pub must_show: Vec<Mark>,
    /// Openings: no join crosses one that fits on a sheet, where that costs no sheet.
    pub openings: Vec<Rect>,
    /// Relief holes, locators and corners: what joins keep clear of next.
    pub places: Vec<Rect>,
    /// What the free play of the sheets is used to show, most wanted first.
    pub wanted: Vec<Rect>,
}

/// Which ways to print are thought of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ways {
    /// All joined, or islands where they take fewer sheets.
    #[default]
    Any,
    /// All joined, with whatever lies between.
    Joined,
    /// On one page without a sheet of words: locators may be left out, the farthest first.
    OnePage,
}

/// Where lettering may stand.
#[derive(Debug, Clone, Default)]
pub struct Rooms {
    /// What the sheets show.
    pub windows: Vec<Rect>,
    /// What each of them shows alone: words, numbers and arrowheads stand whole within one.
    pub rooms: Vec<Rect>,
    /// Places in them that are taken.
    pub taken: Vec<Rect>,
}

impl Rooms {
    /// One room without end.
    pub fn boundless() -> Self {
        let all = Rect::new(-1e6, -1e6, 1e6, 1e6);
        Self {
            windows: vec![all],
            rooms: vec![all],
            taken: vec![],
        }
    }

    /// Whether some room holds a box.
    pub fn hold(&self, place: Rect) -> bool {
        self.rooms.iter().any(|room| room.union(place) == *room)
    }

    /// Whether some sheet shows a place.
    pub fn show(&self, place: Point) -> bool {
        self.windows.iter().any(|window| window.contains(place))
    }
}
