//! What is told beside the work, as blocks that a page can be set from.

use super::{Ink, Mark};
use kurbo::Size;

/// What identifies a pattern: the fields of a title block (ISO 7200:2004, read second-hand).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TitleBlock {
    /// Legal owner.
    pub owner: String,
    /// Identification number.
    pub number: String,
    /// Revision index; may be empty.
    pub revision: String,
    /// Date of issue, `YYYY-MM-DD`; may be empty.
    pub issued: String,
    /// Title.
    pub title: String,
    /// Supplementary title: vehicle, accessory.
    pub supplement: String,
    /// Creator.
    pub drawn_by: String,
    /// Approval person.
    pub approved_by: String,
    /// Document type.
    pub document_type: String,
    /// Unit of the sizes on the sheet.
    pub sizes_in: String,
    /// Code of the content that it is part of; may be empty.
    pub code: String,
}

impl TitleBlock {
    /// Number and revision as one: `LV2-UP-01 rev B`.
    pub fn number_and_revision(&self) -> String {
        if self.revision.is_empty() {
            self.number.clone()
        } else {
            format!("{} rev {}", self.number, self.revision)
        }
    }
}

/// How a column of a table is set.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Words at its head; may be empty.
    pub head: String,
    /// Numbers stand at the right.
    pub right: bool,
}

/// One cell of a table.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Words; wrapped to the column.
    Words(String),
    /// Words that lead to a page of the file, counted from 0.
    Page(String, usize),
    /// An empty box to tick by hand.
    TickBox,
    /// An empty line to write a reading on.
    Blank,
}

impl From<String> for Cell {
    fn from(words: String) -> Self {
        Self::Words(words)
    }
}

/// One block of what is told in words.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading.
    Heading(String),
    /// Words that must not be missed, in a frame.
    Notice(String),
    /// A paragraph.
    Paragraph(String),
    /// Numbered steps.
    Steps(Vec<String>),
    /// Points with no order.
    Points(Vec<String>),
    /// A ruled table.
    Table {
        /// Its columns.
        columns: Vec<Column>,
        /// Its rows, each as long as `columns`.
        rows: Vec<Vec<Cell>>,
    },
    /// A small picture, not to scale, drawn in a box of this size with y up.
    Figure {
        /// Size of the box, mm.
        size: Size,
        /// Its marks, origin at the lower left.
        marks: Vec<Mark>,
        /// Words under it; may be empty.
        caption: String,
    },
}

impl Block {
    /// A table; each head says whether what stands under it are numbers.
    pub fn table<R, C>(heads: &[(&str, bool)], rows: impl IntoIterator<Item = R>) -> Self
    where
        R: IntoIterator<Item = C>,
        C: Into<Cell>,
    {
        let column = |&(head, right): &(&str, bool)| Column {
            head: head.into(),
            right,
        };
        Self::Table {
            columns: heads.iter().map(column).collect(),
            rows: rows
                .into_iter()
                .map(|row| row.into_iter().map(Into::into).collect())
                .collect(),
        }
    }
}

impl TitleBlock {
    /// All its words.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        [
            &self.owner,
            &self.number,
            &self.revision,
            &self.issued,
            &self.title,
            &self.supplement,
            &self.drawn_by,
            &self.approved_by,
            &self.document_type,
            &self.code,
        ]
        .into_iter()
        .map(String::as_str)
    }
}

impl Block {
    /// All its words.
    pub fn words(&self) -> Vec<&str> {
        match self {
            Self::Heading(words) | Self::Notice(words) | Self::Paragraph(words) => vec![words],
            Self::Steps(lines) | Self::Points(lines) => lines.iter().map(String::as_str).collect(),
            Self::Table { columns, rows } => {
                let heads = columns.iter().map(|column| column.head.as_str());
                let cells = rows.iter().flatten().filter_map(|cell| match cell {
                    Cell::Words(words) | Cell::Page(words, _) => Some(words.as_str()),
                    Cell::TickBox | Cell::Blank => None,
                });
                heads.chain(cells).collect()
            }
            Self::Figure { marks, caption, .. } => marks
                .iter()
                .filter_map(|mark| match &mark.ink {
                    Ink::Text(text) => Some(text.words.as_str()),
                    _ => None,
                })
                .chain([caption.as_str()])
                .collect(),
        }
    }
}
