//! What can keep ink from becoming a file.

use crate::draw::ink::lettering::MissingLetter;
use kurbo::Size;
use std::fmt;
use std::io;
use std::path::PathBuf;

/// Why bytes could not be made or kept.
#[derive(Debug)]
pub enum WriteError {
    /// A letter that the typeface lacks would be a blank.
    Letter(MissingLetter),
    /// A set of sheets without a page.
    NoPages,
    /// A page that a PDF can't have: larger than 14 400 units, or of no size.
    PageSize(Size),
    /// The typeface could not be embedded; the library's own words.
    Typeface(String),
    /// The PDF could not be put together; the library's own words.
    Pdf(String),
    /// The list of what was issued could not be put together; the library's own words.
    Manifest(String),
    /// A name that Windows keeps for a device.
    Device(PathBuf),
    /// A link on the way to a folder that leads nowhere.
    DeadLink {
        /// The link.
        link: PathBuf,
        /// Where it leads.
        to: PathBuf,
    },
    /// A file that the pattern is read from.
    Given(PathBuf),
    /// A file could not be written.
    File {
        /// The file or folder.
        path: PathBuf,
        /// What was being done to it.
        doing: &'static str,
        /// What the system says.
        cause: io::Error,
    },
}

impl WriteError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Letter(missing) => missing.hint(),
            Self::NoPages => "this is a fault in the program, not in the pattern: report it",
            Self::PageSize(_) => "choose a smaller paper, or a shorter piece of the roll",
            Self::Typeface(_) | Self::Pdf(_) | Self::Manifest(_) => {
                "this is a fault in the program, not in the pattern: report it with the pattern"
            }
            Self::Device(_) => "choose another name",
            Self::DeadLink { .. } => {
                "make the folder that it leads to, or choose another with `--out`"
            }
            Self::Given(_) => {
                "choose another folder with `--out`, or call the pattern file `.toml`"
            }
            Self::File { cause, .. } => match cause.kind() {
                io::ErrorKind::PermissionDenied => {
                    "choose a folder that you may write to, with `--out`"
                }
                io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
                    "make room on the disk, or choose a folder on another with `--out`"
                }
                io::ErrorKind::IsADirectory => {
                    "a folder has this name: move it away, or choose another folder with `--out`"
                }
                io::ErrorKind::NotADirectory | io::ErrorKind::AlreadyExists => {
                    "a file stands where a folder is wanted: choose another folder with `--out`"
                }
                _ => "check that the folder can be written to, or choose another with `--out`",
            },
        }
    }
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Letter(missing) => missing.fmt(f),
            Self::NoPages => write!(f, "there is no sheet to write"),
            Self::PageSize(Size { width, height }) => write!(
                f,
                "a page of {width} x {height} mm can't be written; sides are from 1 to 5080 mm"
            ),
            Self::Typeface(words) => write!(f, "the typeface can't be embedded: {words}"),
            Self::Pdf(words) => write!(f, "the PDF can't be put together: {words}"),
            Self::Manifest(words) => write!(f, "the manifest can't be put together: {words}"),
            Self::Device(path) => write!(
                f,
                "`{}` can't be written: Windows keeps that name for a device",
                path.display()
            ),
            Self::DeadLink { link, to } => write!(
                f,
                "`{}` can't be made a folder: it is a link to `{}`, which is not there",
                link.display(),
                to.display()
            ),
            Self::Given(path) => write!(
                f,
                "`{}` can't be written: it is a file that this call reads",
                path.display()
            ),
            Self::File { path, doing, cause } => {
                write!(f, "`{}` can't be {doing}: {cause}", path.display())
            }
        }
    }
}

impl std::error::Error for WriteError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Letter(missing) => Some(missing),
            Self::File { cause, .. } => Some(cause),
            _ => None,
        }
    }
}

impl From<MissingLetter> for WriteError {
    fn from(missing: MissingLetter) -> Self {
        Self::Letter(missing)
    }
}
