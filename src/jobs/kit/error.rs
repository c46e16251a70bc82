//! Why a kit was not issued.

use super::Differences;
use crate::input::Report;
use crate::layout::SheetError;
use crate::output::WriteError;
use std::fmt;
use std::path::PathBuf;

/// Why a kit was not issued.
#[derive(Debug)]
pub enum KitError {
    /// Definitions have problems, each with its place: the kit's own, or its patterns'.
    Definitions(Vec<Report>),
    /// The kit's own pages do not fit the paper.
    Sheets(SheetError),
    /// Files could not be made or kept.
    Write(WriteError),
    /// The revision is issued already, and holds something else.
    Issued {
        /// The issue's folder.
        folder: PathBuf,
        /// What differs.
        differences: Differences,
    },
    /// A folder of that name is there and is no issue of a kit.
    Foreign(PathBuf),
    /// The folder to take unchanged patterns from is no issue.
    NoIssue(PathBuf),
}

impl KitError {
    /// What to do about it.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::Definitions(_) | Self::Sheets(_) => None,
            Self::Write(error) => Some(error.hint()),
            Self::Issued { .. } => Some(
                "raise the revision in the kit file; or, for a draft that nobody has, `--replace`",
            ),
            Self::Foreign(_) => Some("move it away, or choose another folder with `--out`"),
            Self::NoIssue(_) => Some("name the folder of an issue: it holds a `manifest.json`"),
        }
    }
}

impl fmt::Display for KitError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Definitions(reports) => write!(out, "{} definitions fall short", reports.len()),
            Self::Sheets(error) => error.fmt(out),
            Self::Write(error) => error.fmt(out),
            Self::Issued {
                folder,
                differences,
            } => write!(
                out,
                "`{}` is issued already and holds something else: {differences}",
                folder.display()
            ),
            Self::Foreign(folder) => write!(
                out,
                "`{}` is there already and is no issue of a kit",
                folder.display()
            ),
            Self::NoIssue(folder) => write!(out, "`{}` is no issue of a kit", folder.display()),
        }
    }
}

impl std::error::Error for KitError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Write(error) => Some(error),
            Self::Sheets(error) => Some(error),
            _ => None,
        }
    }
}

impl From<WriteError> for KitError {
    fn from(error: WriteError) -> Self {
        Self::Write(error)
    }
}

impl From<SheetError> for KitError {
    fn from(error: SheetError) -> Self {
        Self::Sheets(error)
    }
}
