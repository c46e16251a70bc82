//! Answers of questions: read from a definition, checked, and written into it.

use super::question::{Blank, BlankKind, Question, Writes};
use super::{choices, openings, place, rows, units, value};
use toml_edit::{DocumentMut, Table};

impl Question {
    /// The answer that a definition holds: a row for each thing, a text for each blank, empty where
    /// it is not answered; no row where nothing of it is.
    pub fn read(&self, definition: &DocumentMut) -> Vec<Vec<String>> {
        let one = |text: Option<String>| text.map(|text| vec![vec![text]]).unwrap_or_default();
        match &self.writes {
            Writes::Keys(table) => rows::keys(self, definition, table),
            Writes::Tables(list, ..) => rows::tables(self, definition, list),
            Writes::Pairs(table) => rows::pairs(self, definition, table),
            Writes::Names(table) => rows::names(self, definition, table),
            Writes::What(table, _) => one(choices::what(definition, table)),
            Writes::Parts => one(Some(openings::parts(definition).to_string())),
            Writes::Openings => one(openings::shared(definition)),
            Writes::PartName(index) => one(openings::part_name(definition, *index)),
            Writes::DatumEdge => rows::keys(self, definition, "panel"),
            Writes::Units => rows::keys(self, definition, ""),
        }
    }

    /// Whether a definition holds all that the question wants.
    pub fn is_answered(&self, definition: &DocumentMut) -> bool {
        self.is_whole(&self.read(definition))
    }

    /// Whether it must be answered and is not.
    pub fn is_lacking(&self, definition: &DocumentMut) -> bool {
        self.usual.is_none() && !self.is_answered(definition)
    }

    /// Writes an answer, or with no row takes it back; nothing else of the definition changes.
    /// Nothing is written where something is wrong.
    ///
    /// # Errors
    /// What is wrong with it and what to do, in the words of the question.
    pub fn write(
        &self,
        definition: &mut DocumentMut,
        answer: &[Vec<String>],
    ) -> Result<(), String> {
        let answer: Vec<Vec<String>> = answer
            .iter()
            .filter(|row| row.iter().any(|text| !text.trim().is_empty()))
            .map(|row| row.iter().map(|text| text.trim().to_owned()).collect())
            .collect();
        self.check(definition, &answer)?;
        let first = answer.first().and_then(|row| row.first());
        match &self.writes {
            Writes::Keys(table) => rows::write_keys(self, definition, table, &answer),
            Writes::Tables(list, named, besides) => {
                rows::write_tables(self, definition, list, (named, besides), &answer)
            }

            Writes::Pairs(table) => rows::write_pairs(self, definition, table, &answer),
            Writes::Names(table) => rows::write_names(self, definition, table, &answer),
            Writes::What(table, families) => {
                choices::write_what(definition, table, families, first)
            }
            Writes::Parts => openings::write_parts(definition, first),
            Writes::Openings => openings::write_shared(definition, first),
            Writes::PartName(index) => openings::write_part_name(definition, *index, first),
            Writes::DatumEdge => choices::write_datum_edge(definition, first),
            Writes::Units => units::write_units(definition, first),
        }
        .ok_or_else(|| {
            format!(
                "`{}`: the file has something else there; change it by hand",
                self.words
            )
        })
    }

    /// Tables and keys of a definition that hold the answer.
    pub(super) fn places(&self, definition: &Table) -> Vec<(String, String)> {
        let at = |table: &str, key: &str| vec![(table.to_owned(), key.to_owned())];
        match &self.writes {
            Writes::Keys(table) => self.blanks.iter().map(|blank| blank.place(table)).collect(),
            Writes::Tables(list, named, _) => {
                let mut places = place::keys_of_all(definition, list);
                // Of what has no name of its own, a problem may be about the whole list.
                if let ("", Some((table, key))) = (*named, list.rsplit_once('.')) {
                    places.extend(at(table, key));
                }
                places
            }
            Writes::Pairs(table) | Writes::Names(table) => at(table, rows::pair_key(self)),
            Writes::What(table, _) => [at(table, "shape"), at(table, "bolt")].concat(),
            Writes::Parts => at("", "part"),
            Writes::Openings => at("", "opening"),
            Writes::PartName(index) => at(&format!("part.{index}"), "name"),
            Writes::DatumEdge => [at("panel", "datum_edge"), at("panel", "page_up")].concat(),
            Writes::Units => at("", "units"),
        }
    }

    /// Refuses an answer that the blanks do not take.
    fn check(&self, definition: &DocumentMut, answer: &[Vec<String>]) -> Result<(), String> {
        let refuse = |why: String| Err(format!("{} {why}", self.words));
        if answer.len() > self.most_rows {
            return refuse(match self.most_rows {
                1 => "One answer is wanted.".into(),
                most => format!("At most {most} are taken."),
            });
        }
        for row in answer {
            if row.len() > self.blanks.len() {
                return refuse(format!("It takes {}.", self.form()));
            }
            for (place, blank) in self.blanks.iter().enumerate() {
                match row.get(place).map_or("", String::as_str) {
                    "" if blank.may_be_empty => {}
                    "" => return refuse(format!("`{}` is missing.", blank.label)),
                    text => blank.check(definition, text).or_else(refuse)?,
                }
            }
        }
        Ok(())
    }
}

impl Blank {
    fn check(&self, definition: &DocumentMut, text: &str) -> Result<(), String> {
        match &self.kind {
            BlankKind::Choice(words) if !words.iter().any(|(word, _)| word == text) => {
                let known: Vec<&str> = words.iter().map(|(word, _)| word.as_str()).collect();
                Err(format!("`{text}` is none of {}.", known.join(", ")))
            }
            BlankKind::YesOrNo
                if !["yes", "no", "y", "n", "true", "false"]
                    .contains(&text.to_ascii_lowercase().as_str()) =>
            {
                Err(format!("`{text}` is neither yes nor no."))
            }
            BlankKind::Count(most) => match text.parse::<usize>() {
                Ok(count) if count <= *most => Ok(()),
                _ => Err(format!("`{text}` is no whole number from 0 to {most}.")),
            },
            _ => {
                let value = value::value(&self.value, text);
                value::check(&self.label, &self.value, &value, units::units(definition))
            }
        }
    }
}
