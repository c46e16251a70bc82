//! What was typed.

use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

/// Full-size cutting patterns for vehicle trim.
#[derive(Debug, Parser)]
#[command(name = "trimloft", version, about, max_term_width = 100)]
pub(super) struct Cli {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write PDF and SVG patterns
    Draw(DrawArgs),
    /// Solve patterns and report findings; write nothing
    Check(CheckArgs),
    /// List shape families, or one family's parameters
    Shapes(ShapesArgs),
    /// Print completions for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
}

#[derive(Debug, Args)]
pub(super) struct DrawArgs {
    /// Pattern files
    #[arg(required_unless_present = "shape", conflicts_with = "shape")]
    pub(super) patterns: Vec<PathBuf>,
    #[command(flatten)]
    pub(super) outright: OutrightArgs,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    #[command(flatten)]
    pub(super) sheets: SheetArgs,
    /// Folder that files are written to
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(super) out: PathBuf,
    /// Write only one kind of file
    #[arg(long, value_enum)]
    pub(super) only: Option<Format>,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// A pattern with no file: one shape on a panel that is not described.
#[derive(Debug, Args)]
pub(super) struct OutrightArgs {
    /// Draw one shape, with no pattern file
    #[arg(
        long,
        requires = "seen_from",
        requires = "page_up",
        value_name = "FAMILY"
    )]
    pub(super) shape: Option<String>,
    /// A value of the shape, such as width=92 or width="3 5/8 in"
    #[arg(long = "set", requires = "shape", value_name = "NAME=VALUE")]
    pub(super) values: Vec<String>,
    /// Offset from the centreline, such as "4 mm left"
    #[arg(
        long,
        requires = "shape",
        value_name = "OFFSET",
        allow_hyphen_values = true
    )]
    pub(super) offset: Option<String>,
    /// Distance of the shape's origin from the datum edge
    #[arg(
        long,
        requires = "shape",
        value_name = "LENGTH",
        allow_hyphen_values = true
    )]
    pub(super) from_datum: Option<String>,
    /// Where the reader stands: behind, front, below, above, left, right
    #[arg(long, requires = "shape", value_name = "FACE")]
    pub(super) seen_from: Option<String>,
    /// The vehicle direction at the head of the page: front, rear, left, right, up, down
    #[arg(long, requires = "shape", value_name = "DIRECTION")]
    pub(super) page_up: Option<String>,
    /// The datum edge; at the foot of the page unless given
    #[arg(long, requires = "shape", value_name = "DIRECTION")]
    pub(super) datum: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct FamiliesArgs {
    /// A folder of your own shape files
    #[arg(long, value_name = "DIR")]
    pub(super) shapes: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct SheetArgs {
    /// Paper: a4, a3, letter ..., a PWG 5101.1 name, 300x500mm, or a roll such as roll-610mm
    #[arg(long, default_value = "a4")]
    pub(super) paper: String,
    /// Which way the paper lies; the way that takes fewer sheets unless given
    #[arg(long, value_enum)]
    pub(super) lie: Option<LieArg>,
    /// Margin that the printer can't print on
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(super) margin: Option<String>,
    /// Overlap of neighbouring sheets
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(super) overlap: Option<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum LieArg {
    /// Short side across
    Upright,
    /// Long side across
    Lying,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// Sheets to print
    Pdf,
    /// The whole pattern as one drawing
    Svg,
}

#[derive(Debug, Args)]
pub(super) struct CheckArgs {
    /// Pattern files
    #[arg(required = true)]
    pub(super) patterns: Vec<PathBuf>,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct ShapesArgs {
    /// A family's name
    pub(super) name: Option<String>,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}
