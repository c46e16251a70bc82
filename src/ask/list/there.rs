//! What is there already, round the cut and behind it.

use super::{List, MOST_ROWS, Section, kind, known};
use crate::ask::picture::Picture;
use crate::ask::place::count;
use crate::ask::question::{BlankKind, Question, Writes};
use crate::input::keys::Kind;

impl List<'_> {
    pub(super) fn there(&mut self) {
        self.ask(
            Section::Cut,
            "holes",
            "Which holes are near the cut already?",
            "Round ones that the pattern is not laid by; an opening takes one in by its name, under `take_in` in the file.",
            Picture::Locator,
            Writes::Tables("hole".into(), "old hole", &[]),
        )
        .usual("none")
        .up_to(MOST_ROWS)
        .length("hole", "across", "tape")
        .length("hole", "from_datum", "from the edge")
        .length("hole", "diameter", "diameter");
        if self.are_windows("foot") {
            let sides = self.sides();
            let asked = self.ask(
                Section::Cut,
                "feet",
                "Where does the bracket press the panel?",
                "So that what still holds it is told: width and height of its foot, and its middle.",
                Picture::Behind,
                Writes::Tables("foot".into(), "foot", &[("shape", "window")]),
            );
            asked.usual("not told").up_to(MOST_ROWS);
            rectangle(asked, "foot", sides);
        }
        if self.are_windows("feature") {
            let sides = self.sides();
            let asked = self.ask(
                Section::Cut,
                "features",
                "What stands on the panel's hidden side?",
                "Pegs, ribs, clip towers, sockets: what would foul a part is told before you cut.",
                Picture::Behind,
                Writes::Tables("feature".into(), "feature", &[("shape", "window")]),
            );
            asked
                .usual("nothing that you found")
                .up_to(MOST_ROWS)
                .choice("feature", "kind", &known("feature", "kind"));
            rectangle(asked, "feature", sides).length("feature", "height", "how high");
        }
    }

    /// Whether all tables of a list are rectangles, which can be asked for by two sizes.
    fn are_windows(&self, list: &str) -> bool {
        let is_window = |index: usize| {
            let table = format!("{list}.{index}");
            self.word(&table, "shape") == Some("window")
                && !self.has(&format!("{table}.with"), "corner_radius")
        };
        (0..count(self.definition, list)).all(is_window)
    }
}

/// Two sizes and a place.
fn rectangle<'q>(
    asked: &'q mut Question,
    list: &str,
    sides: [&'static str; 2],
) -> &'q mut Question {
    for size in ["width", "height"] {
        asked.add(
            &format!("with.{size}"),
            Kind::ShapeValue,
            BlankKind::Length,
            size,
        );
    }
    asked
        .add(
            "centre_offset",
            kind(list, "centre_offset"),
            BlankKind::Place(sides),
            "from the centreline",
        )
        .length(list, "from_datum", "from the edge")
}
