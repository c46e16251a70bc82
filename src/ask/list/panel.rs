//! Where the fitter stands, the panel, and how it leans and curves.

use super::{List, MOST_ROWS, Section, materials};
use crate::ask::choices;
use crate::ask::picture::Picture;
use crate::ask::question::Writes;
use crate::base::Direction;
use crate::model::panel::Face;

/// What an edge on that side is called.
fn of_edge(side: Direction) -> &'static str {
    match side {
        Direction::Up => "upper",
        Direction::Down => "lower",
        other => other.word(),
    }
}

impl List<'_> {
    pub(super) fn stand(&mut self) {
        self.ask(
            Section::Stand,
            "units",
            "Millimetres or inches?",
            "Of what you write without a unit, and on the sheet. What is written already stays as long as it is.",
            Picture::None,
            Writes::Units,
        )
        .usual("mm")
        .choice("", "units", &[("mm", "millimetres"), ("in", "inches")]);
        let faces: [(Face, &str); 6] = [
            (Face::Below, "from below, lying under it"),
            (Face::Behind, "from behind the vehicle"),
            (Face::Front, "from the front of the vehicle"),
            (Face::Above, "from above"),
            (Face::Left, "from the vehicle's left"),
            (Face::Right, "from the vehicle's right"),
        ];
        let words = faces.map(|(face, words)| (face.word(), words));
        self.ask(
            Section::Stand,
            "seen-from",
            "From where do you look at the panel?",
            "The face that you see is the one that the pattern is taped to.",
            Picture::Stand,
            Writes::Keys("panel".into()),
        )
        .choice("panel", "seen_from", &words);
        let edges = choices::edges(choices::face(self.definition));
        let words: Vec<(&str, String)> = edges
            .iter()
            .map(|edge| (edge.word(), format!("the {} edge", of_edge(*edge))))
            .collect();
        self.ask(Section::Stand, "datum-edge", "Which edge do you hook the tape over?", "Depths are measured from it; left and right are those of the vehicle, as its driver faces.", Picture::Hook, Writes::DatumEdge)
            .choice("panel", "datum_edge", &words);
    }

    pub(super) fn panel(&mut self) {
        let panel = || Writes::Keys("panel".into());
        self.ask(
            Section::Panel,
            "width",
            "How long is that edge, from end to end?",
            "Half of it is the middle until you measure the middle.",
            Picture::Width,
            panel(),
        )
        .length("panel", "width", "end to end");
        self.ask(
            Section::Panel,
            "material",
            "What is the panel made of?",
            "It sets the gap, how it grows in the sun, and the cautions. Plastics are marked on the \
             hidden side: `>PP<`.",
            Picture::None,
            panel(),
        )
        .usual("not said")
        .choice("panel", "material", &materials());
        if self.word("panel", "material") == Some("other") {
            self.ask(
                Section::Panel,
                "expansion",
                "How much does it grow, in millionths per K?",
                "From its maker's data sheet.",
                Picture::None,
                panel(),
            )
            .length("panel", "expansion", "millionths per K");
        }
        self.ask(
            Section::Panel,
            "thickness",
            "How thick is it?",
            "At the cut.",
            Picture::Thickness,
            panel(),
        )
        .length("panel", "thickness", "thickness");
        // A wall that may be met aslant must be known: see the reader of definitions.
        let is_square = crate::ask::place::table(self.definition, "panel.surface").is_none();
        if let Some(thickness) = self.all.last_mut().filter(|_| is_square) {
            thickness.usual("not said");
        }
        self.ask(Section::Panel, "edge", "Does the edge bow?", "Lay a straightedge from end to end: tape reading, and how far the edge stands out past it (negative where it is hollow), three places or more, the ends 0.", Picture::Bow, Writes::Pairs("panel".into()))
            .usual("straight")
            .up_to(MOST_ROWS)
            .pair("edge", ["tape reading", "stands out"]);
    }

    pub(super) fn surface(&mut self) {
        const SURFACE: &str = "panel.surface";
        let keys = || Writes::Keys(SURFACE.into());
        self.ask(
            Section::Surface,
            "rake",
            "Does the panel lean?",
            "How far its head leans away from you, in degrees by an angle gauge.",
            Picture::Lean,
            keys(),
        )
        .usual("0 deg")
        .angle(SURFACE, "rake", "away at the head");
        let (circle, profile) = (self.has(SURFACE, "chord"), self.has(SURFACE, "profile"));
        let round = circle || self.has(SURFACE, "radius");
        if !profile && !self.has(SURFACE, "radius") {
            self.ask(Section::Surface, "rise", "Is it curved like a part of a circle?", "A straightedge across the curve: its length, how far the panel stands off it in the middle, and whether the curve bulges towards you or away.", Picture::Rise, keys())
                .usual("flat")
                .length(SURFACE, "chord", "straightedge")
                .length(SURFACE, "rise", "stands off")
                .choice(SURFACE, "bulges", &[("towards", "towards you"), ("away", "away from you")]);
        }
        if !round {
            self.ask(Section::Surface, "profile", "Is it curved otherwise?", "Straightedge across the curve: place (right of the middle is positive; or from the edge, where it is rolled), and how far the panel falls away from you there.", Picture::Profile, Writes::Pairs(SURFACE.into()))
                .usual("flat")
                .up_to(MOST_ROWS)
                .pair("profile", ["place", "falls away"]);
        }
        if profile {
            self.ask(
                Section::Surface,
                "profile-error",
                "How well are those readings known?",
                "Half of what your rule and straightedge leave in doubt.",
                Picture::Profile,
                keys(),
            )
            .usual("0.5 mm")
            .length(SURFACE, "error", "each reading");
        }
        if profile || round {
            self.ask(
                Section::Surface,
                "curved-along",
                "Which way does it curve?",
                "",
                Picture::Rise,
                keys(),
            )
            .usual("across")
            .choice(
                SURFACE,
                "along",
                &[
                    ("across", "across the edge"),
                    ("edge", "along it, as a rolled edge"),
                ],
            );
        }
        if round && self.word(SURFACE, "along") == Some("edge") {
            self.ask(
                Section::Surface,
                "crown",
                "Where does it stand out most?",
                "From the datum edge.",
                Picture::Rise,
                keys(),
            )
            .length(SURFACE, "crown", "from the edge");
        }
    }
}
