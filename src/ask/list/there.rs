//! What is there already, round the cut and behind it.

use super::{List, MOST_ROWS, Section, kind, known};
use crate::ask::choices;
use crate::ask::picture::Picture;
use crate::ask::place::count;
use crate::ask::question::{BlankKind, Writes};
use crate::input::keys::Kind;

/// Most trims that are asked for.
const MOST_TRIMS: usize = 4;

impl List<'_> {
    pub(super) fn there(&mut self) {
        self.ask(
            Section::Cut,
            "holes",
            "Which holes are near the cut already?",
            "Round ones that the pattern is not laid by; an opening may take them in.",
            Picture::Locator,
            Writes::Tables("hole".into(), "old hole", &[]),
        )
        .usual("none")
        .up_to(MOST_ROWS)
        .length("hole", "across", "tape")
        .length("hole", "from_datum", "from the edge")
        .length("hole", "diameter", "diameter");
        self.trims();
        self.ask(
            Section::Cut,
            "feet",
            "Where does the bracket press the panel?",
            "So that what still holds it is told: size of its foot, and its middle.",
            Picture::Behind,
            Writes::Tables("foot".into(), "foot", &[("shape", "window")]),
        )
        .usual("not told")
        .up_to(MOST_ROWS);
        self.solids("foot", "window", &["width", "height"]);
        self.ask(
            Section::Cut,
            "features",
            "What stands on the panel's hidden side?",
            "Pegs, ribs, clip towers, sockets: what would foul a part is told before you cut.",
            Picture::Behind,
            Writes::Tables("feature".into(), "feature", &[("shape", "window")]),
        )
        .usual("nothing that you found")
        .up_to(MOST_ROWS)
        .choice("feature", "kind", &known("feature", "kind"));
        self.solids("feature", "window", &["width", "height"]);
    }

    /// Sizes and place of all in a list, for the question asked last: sizes in its rows while each has
    /// the usual shape; then what shape each has, and the sizes of those that have another.
    pub(super) fn solids(&mut self, list: &'static str, usual: &str, sizes: &[&str]) {
        let sides = self.sides();
        let are_usual = (0..count(self.definition, list)).all(|index| {
            let table = format!("{list}.{index}");
            let has_radius = self.has(&format!("{table}.with"), "corner_radius");
            self.word(&table, "shape") == Some(usual) && !has_radius
        });
        if let Some(asked) = self.all.last_mut() {
            for size in sizes.iter().filter(|_| are_usual) {
                let key = format!("with.{size}");
                asked.add(&key, Kind::ShapeValue, BlankKind::Length, size);
            }
            let place = BlankKind::Place(sides);
            let offset = kind(list, "centre_offset");
            asked
                .add("centre_offset", offset, place, "from the centreline")
                .length(list, "from_datum", "from the edge");
            if list == "feature" {
                asked.length(list, "height", "how high");
            }
        }
        for index in 0..count(self.definition, list).min(MOST_ROWS) {
            let table = format!("{list}.{index}");
            let id = format!("{list}.{}", index + 1);
            let own = match self.word(&table, "name") {
                Some(name) => name.to_owned(),
                None => id.clone(),
            };
            self.shape(Section::Cut, &table, &id, &own);
            if !are_usual {
                self.size(Section::Cut, &table, &id, &own);
            }
        }
    }

    /// What falls away along lines; what a shape says falls away is left to the file.
    fn trims(&mut self) {
        let trims = count(self.definition, "trim");
        if (0..trims).any(|index| self.has(&format!("trim.{index}"), "shape")) {
            return;
        }
        let edges = choices::edges(choices::face(self.definition));
        let edges: Vec<(&str, &str)> = edges.iter().map(|e| (e.word(), e.word())).collect();
        self.ask(
            Section::Cut,
            "trims",
            "Does an edge, a lip or a corner fall away?",
            "For each the side of its line that goes.",
            Picture::Mouth,
            Writes::Tables("trim".into(), "trim", &[]),
        )
        .usual("no")
        .up_to(MOST_TRIMS)
        .choice("trim", "falls_away", &edges)
        .length("trim", "corner_radius", "radius of its corners")
        .last_may_be_empty();
        for index in 0..trims.min(MOST_TRIMS) {
            let number = index + 1;
            self.ask(
                Section::Cut,
                format!("trim.{number}.points"),
                format!("Along which line does trim {number} go?"),
                "From edge to edge: tape, and depth from the datum edge, of two points or more.",
                Picture::Mouth,
                Writes::Pairs(format!("trim.{index}")),
            )
            .up_to(MOST_ROWS)
            .pair("points", ["tape", "from the edge"]);
        }
    }

    /// What an opening asks for besides its parts: each side's gap, and holes that it takes in.
    pub(super) fn of_opening(&mut self, index: usize, suffix: &str, of: &str) {
        let table = format!("opening.{index}");
        if self.word(&table, "follow") != Some("contour") && self.has(&table, "around") {
            let edges = choices::edges(choices::face(self.definition));
            let asked = self.ask(
                Section::Cut,
                format!("gap-to{suffix}"),
                format!("Shall a side of{of} be wider or snugger?"),
                "Snug above, wide below: only the sides that differ from the gap.",
                Picture::Gap,
                Writes::Keys(format!("{table}.gap_to")),
            );
            asked.usual("all sides by the gap");
            for edge in edges {
                asked
                    .length("opening.gap_to", edge.word(), edge.word())
                    .last_may_be_empty();
            }
        }
        let holes = self.names_of("hole");
        if !holes.is_empty() {
            self.ask(
                Section::Cut,
                format!("take-in{suffix}"),
                format!("Which old holes become part of{of}?"),
                "Those that it runs into, or leaves too little beside.",
                Picture::Locator,
                Writes::Names(table),
            )
            .usual("none")
            .up_to(holes.len())
            .add(
                "take_in",
                Kind::FilledText,
                BlankKind::Choice(holes.into_iter().map(|name| (name.clone(), name)).collect()),
                "hole",
            );
        }
    }

    /// Names of the tables of a list.
    fn names_of(&self, list: &str) -> Vec<String> {
        let name = |index| self.word(&format!("{list}.{index}"), "name");
        let all = (0..count(self.definition, list)).filter_map(name);
        all.map(str::to_owned).collect()
    }
}
