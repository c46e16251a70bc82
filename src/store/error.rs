//! What keeps a definition from being read or saved.

use super::{Name, State};
use crate::output::WriteError;
use std::fmt;
use std::io;

/// Why a definition was not read or saved.
#[derive(Debug)]
pub enum StoreError {
    /// There is no such definition.
    Missing(Name),
    /// There is one of that name already.
    Taken(Name),
    /// Somebody else saved it meanwhile. What was to be saved is put aside in its history.
    Changed {
        /// Its name.
        name: Name,
        /// What stands there now; none where it was moved away.
        there: Option<State>,
    },
    /// The file can't be read as a definition.
    Unreadable {
        /// Its name.
        name: Name,
        /// Why.
        why: &'static str,
    },
    /// The text is longer than any definition.
    TooLong,
    /// What the system says.
    System(io::Error),
    /// It could not be written.
    Write(WriteError),
}

impl fmt::Display for StoreError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing(name) => write!(out, "there is no pattern `{name}` in this folder"),
            Self::Taken(name) => write!(
                out,
                "there is a pattern `{name}` already; hint: give another name"
            ),
            Self::Changed { name, .. } => write!(
                out,
                "`{name}` was saved by somebody else while you worked on it"
            ),
            Self::Unreadable { name, why } => write!(out, "`{name}` can't be read: {why}"),
            Self::TooLong => out.write_str("the definition is longer than 1 MB"),
            // Neither path nor the system's own words leave the house.
            Self::System(cause) | Self::Write(WriteError::File { cause, .. }) => {
                let why = match cause.kind() {
                    io::ErrorKind::PermissionDenied => "the folder may not be written to",
                    io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full",
                    _ => "the disk or the folder can't be used",
                };
                write!(out, "nothing was saved: {why}")
            }
            Self::Write(_) => out.write_str("nothing was saved: the file can't be written"),
        }
    }
}

impl std::error::Error for StoreError {}

impl From<WriteError> for StoreError {
    fn from(error: WriteError) -> Self {
        Self::Write(error)
    }
}

impl From<io::Error> for StoreError {
    fn from(error: io::Error) -> Self {
        Self::System(error)
    }
}
