//! The cut: openings, gaps, and what lies behind.

use super::{List, MOST_PARTS, MOST_ROWS, Section, known};
use crate::ask::openings::{EACH, Hung, TOGETHER, hung, parts};
use crate::ask::picture::Picture;
use crate::ask::place::count;
use crate::ask::question::{BlankKind, Writes};
use crate::input::keys::Kind;

impl List<'_> {
    pub(super) fn cut(&mut self) {
        let how = hung(self.definition);
        if how == Hung::ByItself {
            self.what("opening.0", "opening", "the opening", true);
            self.at(Section::Cut, "opening.0", "opening", "the opening");
        }
        if matches!(how, Hung::Together | Hung::Each) {
            if parts(self.definition) > 1 {
                self.ask(
                    Section::Cut,
                    "openings",
                    "One opening round all, or one each?",
                    "",
                    Picture::Gap,
                    Writes::Openings,
                )
                .usual(TOGETHER)
                .add(
                    "",
                    Kind::Text,
                    BlankKind::Choice(vec![
                        (TOGETHER.into(), "one round all".into()),
                        (EACH.into(), "one each".into()),
                    ]),
                    "openings",
                );
            }
            for index in 0..count(self.definition, "opening").min(MOST_PARTS) {
                let table = format!("opening.{index}");
                let (suffix, of) = match how {
                    Hung::Each => (format!(".{}", index + 1), format!(" opening {}", index + 1)),
                    _ => (String::new(), " the opening".into()),
                };
                self.ask(
                    Section::Cut,
                    format!("open-at-edge{suffix}"),
                    format!("Does{of} run out at the edge?"),
                    "So that the panel can be brought past a part that is fitted.",
                    Picture::Mouth,
                    Writes::Keys(table.clone()),
                )
                .usual("no")
                .yes_or_no("opening", "open_at_edge", "open at the edge");
                self.ask(
                    Section::Cut,
                    format!("rough-cut{suffix}"),
                    format!("Cut{of} roughly first?"),
                    "A dashed line inside, to offer the part up before the last cut.",
                    Picture::Gap,
                    Writes::Keys(table.clone()),
                )
                .usual("no")
                .yes_or_no("opening", "rough_cut", "rough cut first");
                self.ask(
                    Section::Cut,
                    format!("follow{suffix}"),
                    format!("How does{of} follow its parts?"),
                    "",
                    Picture::Gap,
                    Writes::Keys(table),
                )
                .usual("box")
                .choice(
                    "opening",
                    "follow",
                    &[
                        ("box", "the simplest box round them"),
                        ("contour", "their own contour"),
                    ],
                );
            }
        }
        for index in 0..count(self.definition, "opening").min(MOST_PARTS) {
            let (suffix, of) = match count(self.definition, "opening") {
                1 => (String::new(), " the opening".into()),
                _ => (format!(".{}", index + 1), format!(" opening {}", index + 1)),
            };
            self.of_opening(index, &suffix, &of);
        }
        let clearance = || Writes::Keys("clearance".into());
        self.ask(
            Section::Cut,
            "gap",
            "How wide shall the gap be?",
            "What is left when all has moved as far as it may.",
            Picture::Gap,
            clearance(),
        )
        .usual("by the material: 6 mm, 4 mm for aluminium")
        .length("clearance", "gap", "gap");
        self.ask(
            Section::Cut,
            "position",
            "How far may the part stand from where you measured it?",
            "Either way.",
            Picture::Gap,
            clearance(),
        )
        .usual("2 mm")
        .length("clearance", "position", "either way");
        self.ask(
            Section::Cut,
            "keep-outs",
            "What lies behind that no cut may come near?",
            "Sensor, wiring or exhaust: the area that it takes, and its middle.",
            Picture::Behind,
            Writes::Tables("keep_out".into(), "area", &[("shape", "round-hole")]),
        )
        .usual("nothing that you found: look again before you cut")
        .up_to(MOST_ROWS)
        .choice("keep_out", "guards", &known("keep_out", "guards"));
        self.solids("keep_out", "round-hole", &["diameter"]);
    }
}
