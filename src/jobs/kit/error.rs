//! Why a kit was not issued.

use super::Differences;
use crate::input::Report;
use crate::jobs::papers::Clash;
use crate::layout::SheetError;
use crate::output::WriteError;
use crate::solve::in_one_breath;
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
        /// Which files differ.
        differences: Differences,
        /// What differs of the kit's content and its patterns', a fact each; none where the content
        /// is the same and files were changed.
        facts: Vec<String>,
    },
    /// Patterns of it stand for other papers elsewhere in the folder of all issues.
    Clashes(Vec<Clash>),
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
                "raise the revision in the kit file; or, for a draft that nobody has, `--replace \
                 --because \"...\"`",
            ),
            Self::Clashes(_) => Some(Clash::HINT),
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
                facts,
            } => {
                let folder = folder.display();
                write!(
                    out,
                    "`{folder}` is issued already and holds something else: {differences}"
                )?;
                match facts.as_slice() {
                    [] => Ok(()),
                    facts => write!(out, ": {}", in_one_breath(facts)),
                }
            }
            Self::Clashes(all) => {
                let told: Vec<String> = all.iter().map(ToString::to_string).collect();
                out.write_str(&told.join("\n"))
            }
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
