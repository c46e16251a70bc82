//! The list itself, in the order in which a fitter has the answers.

mod accepted;
mod build;
mod cut;
mod middle;
mod panel;
mod parts;
mod there;

use super::choices;
use super::picture::Picture;
use super::place::get;
use super::question::{Question, Section, Writes};
use crate::input::FileKind;
use crate::input::families::Library;
use crate::input::keys::{Keys, Kind};
use crate::model::material::MATERIALS;
use toml_edit::{DocumentMut, Item};

/// Most tape readings of one kind that are asked for.
const MOST_ROWS: usize = 30;
/// Most parts that are asked for.
const MOST_PARTS: usize = 12;

/// The questions that apply to a definition as it stands, in the order of the tape.
pub fn questions(definition: &DocumentMut, shapes: &Library) -> Vec<Question> {
    let mut list = List {
        definition,
        shapes,
        all: vec![],
    };
    list.stand();
    list.panel();
    list.surface();
    list.middle();
    list.parts();
    list.there();
    list.cut();
    list.names();
    list.accepted();
    list.all
}

/// What may stand at a key of a table of pattern files.
fn kind(table: &str, key: &str) -> Kind {
    let mut keys: &Keys = FileKind::Pattern.keys();
    let steps = table
        .split('.')
        .filter(|step| !step.is_empty() && step.parse::<usize>().is_err());
    for step in steps {
        let found = keys.keys.iter().find(|known| known.name == step);
        match found.map(|found| found.kind) {
            Some(Kind::Table(inner) | Kind::Tables(inner, ..)) => keys = inner,
            Some(kind) => return kind,
            None => return Kind::Text,
        }
    }
    let found = keys.keys.iter().find(|known| known.name == key);
    found.map_or(Kind::Text, |found| found.kind)
}

struct List<'d> {
    definition: &'d DocumentMut,
    shapes: &'d Library,
    all: Vec<Question>,
}

impl List<'_> {
    /// Adds a question; its blanks are added to it.
    fn ask(
        &mut self,
        section: Section,
        id: impl Into<String>,
        words: impl Into<String>,
        help: &'static str,
        picture: Picture,
        writes: Writes,
    ) -> &mut Question {
        self.all.push(Question {
            id: id.into(),
            section,
            words: words.into(),
            help,
            picture,
            blanks: vec![],
            most_rows: 1,
            usual: None,
            writes,
        });
        let last = self.all.len() - 1;
        &mut self.all[last]
    }

    fn has(&self, table: &str, key: &str) -> bool {
        get(self.definition, table, key).is_some()
    }

    fn word(&self, table: &str, key: &str) -> Option<&str> {
        get(self.definition, table, key).and_then(Item::as_str)
    }

    /// Sides of the vehicle that the datum edge runs between.
    fn sides(&self) -> [&'static str; 2] {
        let face = choices::face(self.definition);
        let datum = choices::datum_edge(self.definition);
        let along = |edge: &crate::base::Direction| {
            datum.is_none_or(|datum| *edge != datum && *edge != datum.opposite())
        };
        let edges: Vec<&str> = choices::edges(face)
            .into_iter()
            .filter(along)
            .map(|e| e.word())
            .collect();
        match edges.as_slice() {
            [one, other] => [one, other],
            _ => ["left", "right"],
        }
    }
}

/// What panels are made of, in words and as they are marked.
fn materials() -> Vec<(&'static str, String)> {
    let words = |name: &'static str| match MATERIALS.iter().find(|own| own.name == name) {
        Some(own) if own.is_metal || own.title.eq_ignore_ascii_case(name) => own.title.to_owned(),
        Some(own) => format!("{} ({})", own.title, name.to_uppercase()),
        None => "something else".into(),
    };
    let names = known("panel", "material").into_iter();
    names.map(|(name, _)| (name, words(name))).collect()
}

/// The names that a key takes.
fn known(table: &str, key: &str) -> Vec<(&'static str, &'static str)> {
    let names = match kind(table, key) {
        Kind::Known(known) => (known.names)(),
        Kind::Choice(words, _) => words(),
        _ => vec![],
    };
    names.into_iter().map(|name| (name, name)).collect()
}
