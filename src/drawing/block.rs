//! What is told beside the work, as blocks that a page can be set from.

use super::Mark;
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
    /// An empty box to tick by hand.
    TickBox,
    /// An empty line to write a reading on.
    Blank,
}

/// One block of an instruction sheet.
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
