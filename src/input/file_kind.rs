//! The kinds of files there are.

use super::keys::Keys;
use super::kit::KitSpec;
use super::pattern::PatternSpec;
use super::printer::PrinterFile;
use super::shape::ShapeSpec;
use super::shop::ShopSpec;

/// A kind of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FileKind {
    /// A pattern.
    Pattern,
    /// A kit of patterns.
    Kit,
    /// A shape family.
    Shape,
    /// A printer.
    Printer,
    /// What a shop drills and saws with.
    Shop,
}

impl FileKind {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Pattern,
        Self::Kit,
        Self::Shape,
        Self::Printer,
        Self::Shop,
    ];

    /// The word for it on the command line.
    pub fn word(self) -> &'static str {
        match self {
            Self::Pattern => "pattern",
            Self::Kit => "kit",
            Self::Shape => "shape",
            Self::Printer => "printer",
            Self::Shop => "shop",
        }
    }

    /// What such a file may hold.
    pub fn keys(self) -> &'static Keys {
        match self {
            Self::Pattern => &PatternSpec::KEYS,
            Self::Kit => &KitSpec::KEYS,
            Self::Shape => &ShapeSpec::KEYS,
            Self::Printer => &PrinterFile::KEYS,
            Self::Shop => &ShopSpec::KEYS,
        }
    }
}
