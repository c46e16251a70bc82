//! The middle, what the pattern is laid by, and names.

use super::{List, MOST_ROWS, Section};
use crate::ask::picture::Picture;
use crate::ask::place::count;
use crate::ask::question::Writes;

impl List<'_> {
    pub(super) fn middle(&mut self) {
        let [left, right] = self.sides();
        let ends = [(left, left), (right, right)];
        // On other edges nothing mirrors anything.
        if [left, right].contains(&"left") || self.has("centreline", "pair") {
            self.pairs();
        }
        self.ask(Section::Middle, "locators", "What can you find by hand near the cut?", "Holes, clips or steps that the pattern is laid over: read from the same end, two or more.", Picture::Locator, Writes::Tables("locator".into(), "locator", &[]))
            .usual("none: laid by the edge and the centreline")
            .up_to(MOST_ROWS)
            .length("locator", "across", "from the end")
            .length("locator", "from_datum", "from the edge")
            .length("locator", "diameter", "diameter")
            .last_may_be_empty()
            .name("locator", "name", "name")
            .last_may_be_empty();
        if self.has("", "centreline") || count(self.definition, "locator") > 0 {
            self.ask(
                Section::Middle,
                "zero",
                "From which end did you read?",
                "",
                Picture::Pair,
                Writes::Keys("centreline".into()),
            )
            .usual(left)
            .choice("centreline", "zero", &ends);
        }
    }

    fn pairs(&mut self) {
        self.ask(Section::Middle, "pairs", "Which features mirror each other?", "Holes or clips that sit alike on both sides: both read from one end, and how deep they lie. Without them the middle is ASSUMED.", Picture::Pair, Writes::Tables("centreline.pair".into(), "pair", &[]))
            .usual("none: the middle is ASSUMED at half the width")
            .up_to(MOST_ROWS)
            .length("centreline.pair", "left", "left")
            .length("centreline.pair", "right", "right")
            .length("centreline.pair", "from_datum", "from the edge")
            .yes_or_no("centreline.pair", "fixed", "panel held there")
            .last_may_be_empty();
    }

    pub(super) fn names(&mut self) {
        let keys = || Writes::Keys("pattern".into());
        self.ask(
            Section::Names,
            "title",
            "What is the pattern for?",
            "",
            Picture::None,
            keys(),
        )
        .usual("its number")
        .name("pattern", "title", "title");
        self.ask(
            Section::Names,
            "number",
            "Its number?",
            "Names the files: letters, digits, `-`, `_` and `.`.",
            Picture::None,
            keys(),
        )
        .usual("the name of the file")
        .name("pattern", "number", "number");
        self.ask(
            Section::Names,
            "vehicle",
            "Which vehicle?",
            "",
            Picture::None,
            keys(),
        )
        .usual("not said")
        .name("pattern", "vehicle", "vehicle");
        self.ask(
            Section::Names,
            "panel-name",
            "What is the panel called?",
            "",
            Picture::None,
            Writes::Keys("panel".into()),
        )
        .usual("not said")
        .name("panel", "name", "name");
    }
}
