//! What the commands that take pattern, kit or drawn files are told.

use super::shared::{
    FamiliesArgs, Format, OutrightArgs, ReplaceArgs, SheetArgs, ToolsArgs, UnitsArg,
};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(in crate::cli) struct DrawArgs {
    /// Pattern files, or folders of them
    #[arg(required_unless_present = "shape", conflicts_with = "shape")]
    pub(in crate::cli) patterns: Vec<PathBuf>,
    #[command(flatten)]
    pub(in crate::cli) outright: OutrightArgs,
    #[command(flatten)]
    pub(in crate::cli) drawn: DrawnArgs,
}

/// How definitions are drawn.
#[derive(Debug, Args)]
pub(in crate::cli) struct DrawnArgs {
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    #[command(flatten)]
    pub(in crate::cli) tools: ToolsArgs,
    #[command(flatten)]
    pub(in crate::cli) sheets: SheetArgs,
    /// Folder that files are written to; `-` writes the one file of one pattern to standard output
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(in crate::cli) out: PathBuf,
    #[command(flatten)]
    pub(in crate::cli) replace: ReplaceArgs,
    /// Write only one kind of file
    #[arg(long, value_enum)]
    pub(in crate::cli) only: Option<Format>,
    /// Print the record after the work: clearances, all tape checks, notes, legend
    #[arg(long)]
    pub(in crate::cli) record: bool,
    /// Close outlines in the SVG where a mouth is open, for a cutter that takes closed ones alone
    #[arg(long)]
    pub(in crate::cli) closed: bool,
    /// Draw besides how panel and parts stand, as an SVG picture in oblique projection
    #[arg(long)]
    pub(in crate::cli) view: bool,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct CheckArgs {
    /// Pattern files, or folders of them
    #[arg(required = true)]
    pub(in crate::cli) patterns: Vec<PathBuf>,
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    #[command(flatten)]
    pub(in crate::cli) tools: ToolsArgs,
    /// Let warnings that nobody accepted fail, as errors do
    #[arg(long)]
    pub(in crate::cli) strict: bool,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct KitArgs {
    /// Kit file
    pub(in crate::cli) kit: PathBuf,
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    #[command(flatten)]
    pub(in crate::cli) tools: ToolsArgs,
    #[command(flatten)]
    pub(in crate::cli) sheets: SheetArgs,
    /// Folder of all issues; the kit's own folder is made in it
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(in crate::cli) out: PathBuf,
    /// Let small patterns share sheets
    #[arg(long)]
    pub(in crate::cli) share: bool,
    /// An issue made before: patterns unchanged since are taken over from it
    #[arg(long, value_name = "FOLDER", conflicts_with = "check")]
    pub(in crate::cli) from: Option<PathBuf>,
    /// Say whether the issued folder is what would be issued today; write nothing
    #[arg(long, conflicts_with = "replace")]
    pub(in crate::cli) check: bool,
    #[command(flatten)]
    pub(in crate::cli) replace: ReplaceArgs,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct CompareArgs {
    /// Pattern file or kit file, as it was
    pub(in crate::cli) old: PathBuf,
    /// The same as it is
    pub(in crate::cli) new: PathBuf,
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    /// Folder that drawings of both, laid over each other, are written to
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(in crate::cli) out: PathBuf,
    /// Tell the numbers only; write nothing
    #[arg(long)]
    pub(in crate::cli) no_overlay: bool,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct VerifyArgs {
    /// PDF or SVG files; `-` is standard input
    #[arg(required = true, value_name = "FILE")]
    pub(in crate::cli) files: Vec<PathBuf>,
    /// Hold the cut line against this pattern file
    #[arg(long, value_name = "PATTERN")]
    pub(in crate::cli) against: Option<PathBuf>,
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    #[command(flatten)]
    pub(in crate::cli) tools: ToolsArgs,
    /// The drawing was made with `--closed`
    #[arg(long, requires = "against")]
    pub(in crate::cli) closed: bool,
    /// The printer file that the sheets were corrected by
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) printer: Option<PathBuf>,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct ShapesArgs {
    /// A family's name
    pub(in crate::cli) name: Option<String>,
    /// Units of what is told
    #[arg(long, value_enum, default_value = "mm")]
    pub(in crate::cli) units: UnitsArg,
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct WhichArgs {
    /// Content codes as sheets print them, drawn files, or pictures of sheets
    #[arg(required = true, value_name = "CODE|FILE")]
    pub(in crate::cli) things: Vec<String>,
    /// Folder of drawn files and issues to look in
    #[arg(long = "in", default_value = "out", value_name = "DIR")]
    pub(in crate::cli) folder: PathBuf,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}
