//! What passes through: shape, size and place.

use super::{List, MOST_PARTS, Section, kind, known};
use crate::ask::choices::USUAL;
use crate::ask::openings::{Hung, hung, parts};
use crate::ask::picture::Picture;
use crate::ask::question::{BlankKind, Writes};
use crate::input::families::Family;
use crate::input::keys::Kind;

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
            let of = match several {
                true => format!(" part {number}"),
                false => " it".into(),
            };
            let named = self.word(&table, "name").unwrap_or_default().to_owned();
            self.ask(
                Section::Parts,
                format!("part.{number}.name"),
                format!("What is{of} called?"),
                "",
                Picture::None,
                Writes::PartName(index),
            )
            .usual(format!("part {number}"))
            .name("part", "name", "name");
            let of = match named.is_empty() {
                true => String::new(),
                false => format!(" of {named}"),
            };
            self.what(&table, &format!("part.{number}"), &of, false);
            self.at(Section::Parts, &table, &format!("part.{number}"), &of);
        }
    }

    /// What a part or an opening is, and its sizes.
    pub(super) fn what(&mut self, table: &str, id: &str, of: &str, is_opening: bool) {
        let section = if is_opening {
            Section::Cut
        } else {
            Section::Parts
        };
        let families = self.shapes.families();
        let families: Vec<&Family> = families
            .filter(|own| is_opening || !own.is_open())
            .collect();
        let names = |own: &&Family| {
            let parameters = own.parameters().iter().map(|one| one.name.clone());
            (own.name().to_owned(), parameters.collect::<Vec<_>>())
        };
        let parameters: Vec<(String, Vec<String>)> = families.iter().map(names).collect();
        let mut words: Vec<(String, String)> = families
            .iter()
            .map(|own| (own.name().into(), own.title().to_lowercase()))
            .collect();
        if !is_opening {
            let bolts = known("part", "bolt").into_iter();
            words.extend(bolts.map(|(size, _)| (size.into(), format!("bolt {size}"))));
        }
        let shape = self.word(table, "shape").map(str::to_owned);
        let own_body = shape.is_some() || self.has(table, "bolt") || self.all_new(table);
        if own_body {
            let asked = self.ask(
                section,
                format!("{id}.what"),
                format!("What shape{of}?"),
                "Seen along its way through the panel.",
                Picture::Size,
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
        let family = shape.and_then(|name| self.shapes.find(&name).ok().cloned());
        let Some(family) = family else { return };
        let question = self.ask(
            section,
            format!("{id}.size"),
            format!("What size{of}?"),
            "Measured, never guessed; a corner radius that is left out is 0 for a part.",
            Picture::Size,
            Writes::Keys(format!("{table}.with")),
        );
        for parameter in family.parameters() {
            let is_angle = parameter.default.angle;
            let kind = if is_angle {
                BlankKind::Angle
            } else {
                BlankKind::Length
            };
            let label = parameter.name.replace('_', " ");
            question.add(&parameter.name, Kind::ShapeValue, kind, &label);
            if parameter.kind == crate::input::ParameterKind::Radius {
                question.last_may_be_empty();
            }
        }
    }

    /// A table that nothing is said of but its name.
    pub(super) fn all_new(&self, table: &str) -> bool {
        crate::ask::place::table(self.definition, table).is_some_and(|own| own.len() <= 1)
    }

    pub(super) fn at(&mut self, section: Section, table: &str, id: &str, of: &str) {
        // A part that ties place has no other place.
        if self.has(table, "ties") {
            return;
        }
        let sides = self.sides();
        let list = table.split('.').next().unwrap_or_default();
        self.ask(
            section,
            format!("{id}.at"),
            format!("Where is the middle{of}?"),
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
    }
}
