//! Why a file can't be read at all.

use std::fmt;
use std::path::PathBuf;

/// Why nothing can be said of a file.
#[derive(Debug)]
pub enum VerifyError {
    /// It can't be read from the disk.
    Read {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: std::io::Error,
    },
    /// It is larger than is taken.
    TooLarge {
        /// Bytes, as far as they were counted.
        given: u64,
        /// Bytes taken.
        at_most: u64,
    },
    /// It holds more than is read of one file.
    Beyond {
        /// Of what.
        what: &'static str,
        /// How many are read.
        at_most: u64,
    },
    /// It was given up, in words that follow `reading it`.
    GivenUp(&'static str),
    /// Neither PDF nor SVG.
    NeitherKind,
    /// A PDF that is encrypted.
    Locked,
    /// A PDF that can't be read.
    Pdf(&'static str),
    /// An SVG that can't be read.
    Svg(String),
}

impl VerifyError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Read { .. } => "check the name, and that the file may be read",
            Self::TooLarge { .. } | Self::Beyond { .. } | Self::GivenUp(_) => {
                "verify the file that was drawn, before other programs added to it"
            }
            Self::NeitherKind => "give a PDF or an SVG; a scan goes to `trimloft scale --scan`",
            Self::Locked => {
                "open it with its password, save a copy without one, and verify that copy; better, \
                 draw the pattern again"
            }
            Self::Pdf(_) | Self::Svg(_) => "draw the pattern again, and verify that file",
        }
    }
}

impl fmt::Display for VerifyError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read { path, cause } => {
                write!(out, "`{}` can't be read: {cause}", path.display())
            }
            Self::TooLarge { given, at_most } => write!(
                out,
                "a file of {given} bytes is not read; allowed: up to {at_most} bytes"
            ),
            Self::Beyond { what, at_most } => {
                write!(
                    out,
                    "the file holds too many {what}; allowed: up to {at_most}"
                )
            }
            Self::GivenUp(why) => write!(out, "reading it {why}"),
            Self::NeitherKind => write!(out, "this is neither a PDF nor an SVG"),
            Self::Locked => write!(out, "the PDF is encrypted: nothing of it is read"),
            Self::Pdf(words) => write!(out, "the PDF can't be read: {words}"),
            Self::Svg(words) => write!(out, "the SVG can't be read: {words}"),
        }
    }
}

impl std::error::Error for VerifyError {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Self::Read { cause, .. } => Some(cause),
            _ => None,
        }
    }
}
