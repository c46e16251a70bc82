//! What was typed.

mod centre;
mod files;
mod new;
mod scale;
mod serve;
mod shared;

pub(super) use centre::CentreArgs;
pub(super) use files::{
    CheckArgs, CompareArgs, DrawArgs, DrawnArgs, KitArgs, ShapesArgs, VerifyArgs, WhichArgs,
};
pub(super) use new::{MeasuringSheetArgs, NewArgs};
pub(super) use scale::{PrintedArgs, ReadingArgs, ScaleArgs};
pub(super) use serve::ServeArgs;
pub(super) use shared::{FamiliesArgs, Format, OrientationArg, OutrightArgs, SheetArgs, ToolsArgs};

use clap::builder::PossibleValuesParser;
use clap::{Parser, Subcommand};
use trimloft::input::FileKind;

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
    /// Make a pattern by questions, or change one, and draw it
    New(Box<NewArgs>),
    /// Solve patterns and report findings; write nothing
    Check(CheckArgs),
    /// Write one page to print and fill in at the vehicle
    MeasuringSheet(MeasuringSheetArgs),
    /// List shape families, or one family's parameters
    Shapes(ShapesArgs),
    /// Find the middle of a panel from readings
    Centre(CentreArgs),
    /// Issue a kit: patterns, cover, fitting card and manifest in a folder of their own
    Kit(KitArgs),
    /// Tell what differs between two patterns or two kits
    Compare(CompareArgs),
    /// Read PDF or SVG files back and prove their scale
    Verify(VerifyArgs),
    /// Tell which paper a code or a drawn file is, and whether it still holds
    Which(WhichArgs),
    /// Say what printed check rulers, or a scanned sheet, make of a pattern
    Scale(Box<ScaleArgs>),
    /// Serve a folder of patterns as a page in the browser
    Serve(ServeArgs),
    /// Print a JSON Schema of a kind of file, for editors
    Schema {
        /// The kind of file
        #[arg(value_parser = PossibleValuesParser::new(FileKind::ALL.map(FileKind::word)))]
        kind: String,
    },
    /// Print the licences of the program and of the typeface in it
    Licences,
    /// Print completions for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
}
