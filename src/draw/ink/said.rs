//! What ink is to somebody who has the page read out (ISO 32000-1, 14.8.4).

use std::sync::Arc;

/// A mark's part in what is read out; marks of one part follow each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Said {
    /// What it is.
    pub role: Role,
    /// What begins with it.
    pub begins: Begins,
}

/// What is read out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Role {
    /// Title of the page.
    Title,
    /// Heading of what follows.
    Heading,
    /// Words of their own.
    Paragraph,
    /// Number of one of a list.
    Label,
    /// One of a list.
    Item,
    /// Head of a table's column.
    Head,
    /// Cell of a table.
    Datum,
    /// Cell with nothing to read, by what is to be done there.
    Empty(&'static str),
    /// Cell that leads to a page of the file, counted from 0.
    Link(usize),
    /// Part of a picture, by what it shows.
    Figure(Arc<str>),
}

/// What begins with a mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Begins {
    /// Nothing: it goes on with what the mark before it is part of.
    Nothing,
    /// What it is part of.
    Itself,
    /// A table's row, with it as the first cell.
    Row,
}

impl Said {
    /// The first mark of this role's own.
    pub fn first(role: Role) -> Self {
        Self {
            role,
            begins: Begins::Itself,
        }
    }

    /// Line `index` of what is broken over several.
    pub fn line(role: Role, index: usize) -> Self {
        Self {
            role,
            begins: if index == 0 {
                Begins::Itself
            } else {
                Begins::Nothing
            },
        }
    }
}
