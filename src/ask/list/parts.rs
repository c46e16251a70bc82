//! What passes through: shape, size and place.

use super::{List, MOST_PARTS, MOST_ROWS, Section, kind, known};
use crate::ask::choices::{OTHER_BODIES, USUAL};
use crate::ask::openings::{Hung, hung, parts};
use crate::ask::picture::Picture;
use crate::ask::place::count;
use crate::ask::question::{BlankKind, Writes};
use crate::input::families::Family;
use crate::input::keys::Kind;

/// What parts are that shapes are named after as openings.
const AS_PARTS: [(&str, &str); 3] = [
    ("window", "rectangular: bar, plate, square tube"),
    ("round-hole", "round: tube, bar, bolt head, washer"),
    ("slot", "long with round ends"),
];

impl List<'_> {
    pub(super) fn parts(&mut self) {
        let how = hung(self.definition);
        if how != Hung::Otherwise {
            self.ask(Section::Parts, "parts", "How many things pass through?", "Tube, neck, bolt, plug: each that needs its gap. 0 if you know the opening's own size.", Picture::None, Writes::Parts)
                .usual("1")
                .count(MOST_PARTS);
        }
        let several = parts(self.definition) > 1;
        for index in 0..parts(self.definition).min(MOST_PARTS) {
            let number = index + 1;
            let table = format!("part.{index}");
            let own = match several {
                true => format!("part {number}"),
                false => "it".into(),
            };
            let named = self.word(&table, "name").unwrap_or_default().to_owned();
            self.ask(
                Section::Parts,
                format!("part.{number}.name"),
                format!("What is {own} called?"),
                "",
                Picture::None,
                Writes::PartName(index),
            )
            .usual(format!("part {number}"))
            .name("part", "name", "name");
            let own = if named.is_empty() { own } else { named };
            let id = format!("part.{number}");
            self.what(&table, &id, &own, false);
            self.at(Section::Parts, &table, &id, &own);
            if several || self.has(&table, "gap") {
                self.ask(
                    Section::Parts,
                    format!("{id}.gap"),
                    format!("Does {own} need a gap of its own?"),
                    "Where it needs more or less than the others.",
                    Picture::Gap,
                    Writes::Keys(table),
                )
                .usual("the gap of the cut")
                .length("part", "gap", "gap");
            }
        }
    }

    /// What a part or an opening is, and its sizes.
    pub(super) fn what(&mut self, table: &str, id: &str, own: &str, is_opening: bool) {
        let section = if is_opening {
            Section::Cut
        } else {
            Section::Parts
        };
        self.shape(section, table, id, own);
        self.size(section, table, id, own);
    }

    /// Which shape something has: openings may be open at the edge, parts may be bolts.
    pub(super) fn shape(&mut self, section: Section, table: &str, id: &str, own: &str) {
        let (is_opening, is_part) = (table.starts_with("opening."), table.starts_with("part."));
        let families = self.shapes.families();
        let families: Vec<&Family> = families
            .filter(|own| is_opening || !own.is_open())
            .collect();
        let names = |own: &&Family| {
            let parameters = own.parameters().iter().map(|one| one.name.clone());
            (own.name().to_owned(), parameters.collect::<Vec<_>>())
        };
        let parameters: Vec<(String, Vec<String>)> = families.iter().map(names).collect();
        let words = |own: &&Family| {
            let part = AS_PARTS.iter().find(|(name, _)| *name == own.name());
            let words = part
                .filter(|_| !is_opening)
                .map(|(_, words)| (*words).into());
            words.unwrap_or_else(|| own.title().to_lowercase())
        };
        let mut words: Vec<(String, String)> = families
            .iter()
            .map(|own| (own.name().into(), words(own)))
            .collect();
        if is_part {
            let bolts = known("part", "bolt").into_iter();
            words.extend(bolts.map(|(size, _)| (size.into(), format!("bolt {size}"))));
        }
        let shape = self.word(table, "shape").map(str::to_owned);
        let is_other = |key: &&str| *key != "bolt" && self.has(table, key);
        if shape.is_some() || !OTHER_BODIES.iter().any(is_other) {
            let asked = self.ask(
                section,
                format!("{id}.what"),
                format!("What shape is {own}?"),
                match is_opening || is_part {
                    true => "Seen along its way through the panel.",
                    false => "As you see it, through the panel.",
                },
                Picture::Shapes,
                Writes::What(table.into(), parameters),
            );
            if !is_opening {
                asked.usual(USUAL);
            }
            asked.add(
                "shape",
                kind("part", "shape"),
                BlankKind::Choice(words),
                "shape",
            );
        }
    }

    /// Its sizes, by its shape.
    pub(super) fn size(&mut self, section: Section, table: &str, id: &str, own: &str) {
        let shape = self.word(table, "shape").map(str::to_owned);
        let family = shape.and_then(|name| self.shapes.find(&name).ok().cloned());
        let Some(family) = family else { return };
        let picture = match family.name() {
            "round-hole" => Picture::Round,
            "slot" => Picture::Slot,
            _ => Picture::Size,
        };
        let question = self.ask(
            section,
            format!("{id}.size"),
            format!("What size is {own}?"),
            "Measured, never guessed; a corner radius that is left out is 0 for a part.",
            picture,
            Writes::Keys(format!("{table}.with")),
        );
        for parameter in family.parameters() {
            let (value, kind) = match parameter.default.angle {
                true => (Kind::Angle(-360.0, 360.0), BlankKind::Angle),
                false => (Kind::ShapeValue, BlankKind::Length),
            };
            let label = parameter.name.replace('_', " ");
            question.add(&parameter.name, value, kind, &label);
            if parameter.kind == crate::input::ParameterKind::Radius {
                question.last_may_be_empty();
            }
        }
    }

    pub(super) fn at(&mut self, section: Section, table: &str, id: &str, own: &str) {
        // A part that ties place has no other place.
        if self.has(table, "ties") {
            return self.ties(table, id, own);
        }
        let sides = self.sides();
        let list = table.split('.').next().unwrap_or_default();
        self.ask(
            section,
            format!("{id}.at"),
            format!("Where is the middle of {own}?"),
            "From the centreline to a side of the vehicle (`4 mm left`, or 0), and from the edge.",
            Picture::At,
            Writes::Keys(table.into()),
        )
        .add(
            "centre_offset",
            kind(list, "centre_offset"),
            BlankKind::Place(sides),
            "from the centreline",
        )
        .length(list, "from_datum", "from the edge");
        let has_place = self.has(table, "centre_offset") || self.has(table, "from_datum");
        // The tape may place a part that has no place yet, where there is enough to lay it from.
        if list == "part" && !has_place && self.features().len() >= 2 {
            self.ties(table, id, own);
        }
    }

    /// What places a part by the tape; taken back, it has a place as others have.
    fn ties(&mut self, table: &str, id: &str, own: &str) {
        let features = self.features();
        let choice = features.into_iter().map(|name| (name.clone(), name));
        let choice = BlankKind::Choice(choice.collect());
        self.ask(
            Section::Parts,
            format!("{id}.ties"),
            format!("What does the tape read to {own}?"),
            "From two features or more, laid flat along the panel's face, to its middle or a corner as `rear left`.",
            Picture::Locator,
            Writes::Tables(format!("{table}.ties"), "", &[]),
        )
        .usual("none: its middle is told instead")
        .up_to(MOST_ROWS)
        .length("part.ties", "distance", "the tape reads")
        .name("part.ties", "to", "to its corner")
        .last_may_be_empty()
        // Last: a pair's features have a comma in their names.
        .add("from", kind("part.ties", "from"), choice, "from");
    }

    /// Names of all that a tape can be laid from.
    fn features(&self) -> Vec<String> {
        let named = |list: &str| {
            let each = 0..count(self.definition, list);
            let each = each.filter_map(|index| self.word(&format!("{list}.{index}"), "name"));
            each.map(str::to_owned).collect::<Vec<_>>()
        };
        let pairs = named("centreline.pair").into_iter();
        let sides = pairs.flat_map(|name| ["left", "right"].map(|side| format!("{name}, {side}")));
        sides.chain(named("locator")).chain(named("hole")).collect()
    }
}
