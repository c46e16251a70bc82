//! Options that several commands take.

use clap::builder::NonEmptyStringValueParser;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// A pattern with no file: one shape on a panel that is not described.
#[derive(Debug, Args)]
pub(in crate::cli) struct OutrightArgs {
    /// Draw one shape, with no pattern file
    #[arg(long, value_name = "FAMILY")]
    pub(in crate::cli) shape: Option<String>,
    /// A value of the shape, such as width=92 or width="3 5/8 in"
    #[arg(long = "set", requires = "shape", value_name = "NAME=VALUE")]
    pub(in crate::cli) values: Vec<String>,
    /// Units of bare numbers, and of what is told and drawn
    #[arg(long, requires = "shape", value_enum, default_value = "mm")]
    pub(in crate::cli) units: UnitsArg,
    /// Offset from the centreline, such as "4 mm left"
    #[arg(
        long,
        requires = "shape",
        value_name = "OFFSET",
        allow_hyphen_values = true
    )]
    pub(in crate::cli) offset: Option<String>,
    /// Distance of the shape's origin from the datum edge
    #[arg(
        long,
        requires = "shape",
        value_name = "LENGTH",
        allow_hyphen_values = true
    )]
    pub(in crate::cli) from_datum: Option<String>,
    /// Where the reader stands: behind, front, below, above, left, right
    #[arg(long, requires = "shape", value_name = "FACE")]
    pub(in crate::cli) seen_from: Option<String>,
    /// The vehicle direction at the head of the page: front, rear, left, right, up, down
    #[arg(long, requires = "shape", value_name = "DIRECTION")]
    pub(in crate::cli) page_up: Option<String>,
    /// The datum edge; at the foot of the page unless given
    #[arg(long, requires = "shape", value_name = "DIRECTION")]
    pub(in crate::cli) datum: Option<String>,
}

/// Another paper in the place of the one that has the number and revision.
#[derive(Debug, Args)]
pub(in crate::cli) struct ReplaceArgs {
    /// Put another content in the place of this revision, for a draft that nobody has
    #[arg(long, requires = "because")]
    pub(in crate::cli) replace: bool,
    /// Why it is replaced, kept in the folder's `replaced.jsonl`
    #[arg(long, value_name = "REASON", requires = "replace", value_parser = NonEmptyStringValueParser::new())]
    pub(in crate::cli) because: Option<String>,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct FamiliesArgs {
    /// A folder of your own shape files
    #[arg(long, value_name = "DIR")]
    pub(in crate::cli) shapes: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct ToolsArgs {
    /// A file of your shop's drills and hole saws, used instead of any that a pattern names
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) shop: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct SheetArgs {
    /// Paper: a4, a3, letter ..., a PWG 5101.1 name, 300x500mm, or a roll such as roll-610mm
    /// [default: a4]
    #[arg(long)]
    pub(in crate::cli) paper: Option<String>,
    /// Which way the paper lies; the way that takes fewer sheets unless given
    #[arg(long, value_enum)]
    pub(in crate::cli) orientation: Option<OrientationArg>,
    /// Margin that the printer can't print on
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(in crate::cli) margin: Option<String>,
    /// Overlap of neighbouring sheets
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(in crate::cli) overlap: Option<String>,
    /// Title block and pattern on one page, without the instructions
    #[arg(long)]
    pub(in crate::cli) one_page: bool,
    /// One pattern in one piece: also what lies between openings far apart
    #[arg(long)]
    pub(in crate::cli) joined: bool,
    /// Correct the sheets by a printer file, for that printer alone
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) printer: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(in crate::cli) enum UnitsArg {
    /// Millimetres
    Mm,
    /// Inches
    In,
}

impl From<UnitsArg> for trimloft::base::length::Units {
    fn from(units: UnitsArg) -> Self {
        match units {
            UnitsArg::Mm => Self::Mm,
            UnitsArg::In => Self::In,
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum OrientationArg {
    /// Short side across
    Portrait,
    /// Long side across
    Landscape,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Format {
    /// Sheets to print
    Pdf,
    /// The whole pattern as one drawing
    Svg,
}
