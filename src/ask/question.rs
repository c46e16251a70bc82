//! What is asked: one question with its blanks.

use super::one_line;
use super::picture::Picture;
use crate::input::keys::Kind;

/// The parts of the job that questions belong to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Section {
    /// Where the fitter stands, and which edge the tape hangs on.
    Stand,
    /// The panel.
    Panel,
    /// How it leans and curves.
    Surface,
    /// The middle, and what the pattern is laid by.
    Middle,
    /// What passes through.
    Parts,
    /// The cut.
    Cut,
    /// What the pattern is called.
    Names,
    /// What somebody answers for though it was found.
    Accepted,
}

impl Section {
    /// What it is called.
    pub fn title(self) -> &'static str {
        match self {
            Self::Stand => "Where you stand",
            Self::Panel => "The panel",
            Self::Surface => "Leaning or curved",
            Self::Middle => "Middle and locators",
            Self::Parts => "What passes through",
            Self::Cut => "The cut",
            Self::Names => "Names",
            Self::Accepted => "What you answer for",
        }
    }
}

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
    /// Whether an answer is one, with nothing left empty that may not be.
    pub fn is_whole(&self, answer: &[Vec<String>]) -> bool {
        let is_full = |row: &Vec<String>| {
            let texts = row.iter().map(String::as_str).chain(std::iter::repeat(""));
            let mut each = self.blanks.iter().zip(texts);
            each.all(|(blank, text)| blank.may_be_empty || !text.is_empty())
        };
        !answer.is_empty() && answer.iter().all(is_full)
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
}
