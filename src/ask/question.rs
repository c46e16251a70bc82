//! What is asked: one question with its blanks.

use super::list::Section;
use super::picture::Picture;
use super::{choices, one_line, openings, place, rows, units};
use crate::input::keys::Kind;
use toml_edit::{DocumentMut, Table};

/// One question.
#[derive(Debug, Clone)]
pub struct Question {
    /// Its name on a command line and in a form: letters, digits, `-` and `.`. It stays.
    pub id: String,
    /// The part of the job that it belongs to.
    pub section: Section,
    /// The question itself.
    pub words: String,
    /// Where the tape goes, or what to look for; may be empty.
    pub help: &'static str,
    /// The same as a picture.
    pub picture: Picture,
    /// What is written down, at least one.
    pub blanks: Vec<Blank>,
    /// The most rows that the blanks may be answered in; most questions take one.
    pub most_rows: usize,
    /// What stands where it is not answered; `None` where it must be.
    pub usual: Option<String>,
    pub(super) writes: Writes,
}

/// One thing to write down.
#[derive(Debug, Clone)]
pub struct Blank {
    /// What it is: `from the left end to the hole`.
    pub label: String,
    /// What may be written.
    pub kind: BlankKind,
    /// Whether it may be left empty where others of its row are not.
    pub may_be_empty: bool,
    pub(super) key: String,
    pub(super) value: Kind,
}

/// What may be written in a blank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BlankKind {
    /// A length as people write it.
    Length,
    /// A distance with one of these sides of the vehicle, or 0.
    Place([&'static str; 2]),
    /// An angle in degrees.
    Angle,
    /// One of a few: the word that is kept, and what people call it.
    Choice(Vec<(String, String)>),
    /// Yes or no.
    YesOrNo,
    /// A whole number up to this one.
    Count(usize),
    /// A name.
    Name,
}

/// Where an answer goes.
#[derive(Debug, Clone)]
pub(super) enum Writes {
    /// Into the keys of a table.
    Keys(String),
    /// A table of a list for each row; new ones are named by this and their number, or have no name
    /// where it is empty, and have these keys besides.
    Tables(
        String,
        &'static str,
        &'static [(&'static str, &'static str)],
    ),
    /// The units of bare numbers, which all stay the lengths that they are.
    Units,
    /// A list of pairs at the one key that all blanks have, in a table.
    Pairs(String),
    /// A list of names at the key of the one blank, in a table.
    Names(String),
    /// What a part or an opening is, a shape or a bolt: its table, and all shapes with the names of
    /// their parameters.
    What(String, Vec<(String, Vec<String>)>),
    /// How many parts there are.
    Parts,
    /// Whether parts share an opening.
    Openings,
    /// The name of a part.
    PartName(usize),
    /// The datum edge, and with it what lies at the head of the page.
    DatumEdge,
}

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

    /// Whether an answer is one, with nothing left empty that may not be.
    pub fn is_whole(&self, answer: &[Vec<String>]) -> bool {
        let is_full = |row: &Vec<String>| {
            let texts = row.iter().map(String::as_str).chain(std::iter::repeat(""));
            let mut each = self.blanks.iter().zip(texts);
            each.all(|(blank, text)| blank.may_be_empty || !text.is_empty())
        };
        !answer.is_empty() && answer.iter().all(is_full)
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

    /// An answer on one line as rows: blanks lie between commas, rows between semicolons, and what is
    /// in double quotes is one blank whatever it holds.
    pub fn rows(&self, line: &str) -> Vec<Vec<String>> {
        let count = self.blanks.len().max(1);
        let row = |row: &str| -> Vec<String> {
            let blanks = one_line::parted(row, ',', count).into_iter();
            blanks.map(one_line::unquoted).collect()
        };
        match (self.most_rows, count) {
            (1, 1) => vec![vec![line.trim().to_owned()]],
            (1, _) => vec![row(line)],
            _ => one_line::parted(line, ';', usize::MAX)
                .into_iter()
                .map(row)
                .collect(),
        }
    }

    /// Rows on one line, as [`Question::rows`] reads them.
    pub fn line(&self, rows: &[Vec<String>]) -> String {
        let last = self.blanks.len().saturating_sub(1);
        // The last blank takes all commas that follow.
        let blank = |(place, text): (usize, &String)| match (place < last, self.most_rows > 1) {
            (true, _) if text.contains([',', ';']) => format!("\"{text}\""),
            (_, true) if text.contains(';') => format!("\"{text}\""),
            _ => text.clone(),
        };
        let row = |row: &Vec<String>| {
            let full = row.iter().rposition(|text| !text.is_empty());
            let told = row[..full.map_or(0, |last| last + 1)].iter();
            told.enumerate().map(blank).collect::<Vec<_>>().join(", ")
        };
        rows.iter().map(row).collect::<Vec<_>>().join("; ")
    }

    /// How an answer is written on one line: `left, right, depth`.
    pub fn form(&self) -> String {
        let labels: Vec<String> = self
            .blanks
            .iter()
            .map(|blank| {
                let form = match &blank.kind {
                    BlankKind::Choice(words) => {
                        let words: Vec<&str> =
                            words.iter().map(|(word, _)| word.as_str()).collect();
                        words.join("|")
                    }
                    BlankKind::YesOrNo => format!("{}: yes|no", blank.label),
                    _ => blank.label.clone(),
                };
                match blank.may_be_empty {
                    true => format!("[{form}]"),
                    false => form,
                }
            })
            .collect();
        let row = labels.join(", ");
        match self.most_rows {
            1 => row,
            _ => format!("{row}; and so on"),
        }
    }
}

impl Blank {
    /// The table and the key that it fills, in its question's table.
    pub(super) fn place(&self, table: &str) -> (String, String) {
        match self.key.split_once('.') {
            Some((inner, key)) => (format!("{table}.{inner}"), key.to_owned()),
            None => (table.to_owned(), self.key.clone()),
        }
    }

    /// Whether less than 0 may be written.
    pub fn may_be_negative(&self) -> bool {
        matches!(self.value, Kind::Length(least, _) if least < 0.0)
    }

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
                let value = super::value::value(&self.value, text);
                super::value::check(&self.label, &self.value, &value, rows::units(definition))
            }
        }
    }
}
