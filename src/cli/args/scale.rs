//! What `scale` is told of rulers, scan, pattern and printer.

use super::shared::{FamiliesArgs, Format, OrientationArg, UnitsArg};
use clap::Args;
use std::path::PathBuf;
use trimloft::base::length::Units;

#[derive(Debug, Args)]
pub(in crate::cli) struct ScaleArgs {
    #[command(flatten)]
    pub(in crate::cli) readings: ReadingArgs,
    #[command(flatten)]
    pub(in crate::cli) scan: ScanArgs,
    #[command(flatten)]
    pub(in crate::cli) judged: JudgedArgs,
    #[command(flatten)]
    pub(in crate::cli) printed: PrintedArgs,
    #[command(flatten)]
    pub(in crate::cli) saved: SavedArgs,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

/// What a rule read; `@` and the rule's smallest division may follow each reading.
#[derive(Debug, Args)]
pub(in crate::cli) struct ReadingArgs {
    /// What the 100 mm ruler across reads, such as 99.6 or 99.6@0.5
    #[arg(long, value_name = "READING")]
    pub(in crate::cli) across: Vec<String>,
    /// What the 100 mm ruler down reads
    #[arg(long, value_name = "READING")]
    pub(in crate::cli) down: Vec<String>,
    /// What the 4 in ruler across reads, such as "3 31/32 in@1/32 in"
    #[arg(long, value_name = "READING")]
    pub(in crate::cli) across_4in: Vec<String>,
    /// What the 4 in ruler down reads
    #[arg(long, value_name = "READING")]
    pub(in crate::cli) down_4in: Vec<String>,
    /// What the outline of the bank card reads: ACROSS,DOWN
    #[arg(long, value_name = "READINGS")]
    pub(in crate::cli) card: Vec<String>,
    /// Corner to corner of a sheet's frame: RISING,FALLING, to the right
    #[arg(long, value_name = "READINGS")]
    pub(in crate::cli) diagonals: Option<String>,
    /// The frame, as the instruction sheet has it: WIDTHxHEIGHT; that of the paper unless given
    #[arg(long, requires = "diagonals", value_name = "SIZE")]
    pub(in crate::cli) frame: Option<String>,
    /// Smallest division of the rule, where a reading does not say
    #[arg(long, default_value = "0.5 mm", value_name = "LENGTH")]
    pub(in crate::cli) graduation: String,
    /// How far the rule itself may be wrong over the length read
    #[arg(long, default_value = "0", value_name = "LENGTH")]
    pub(in crate::cli) rule_error: String,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct ScanArgs {
    /// A scan or picture of one sheet, PNG, PGM or JPEG, to be measured instead
    #[arg(long, requires = "dpi", value_name = "FILE", conflicts_with_all = ["across", "down", "across_4in", "down_4in", "card", "diagonals"])]
    pub(in crate::cli) scan: Option<PathBuf>,
    /// Its resolution, pixels to the inch
    #[arg(long, requires = "scan", value_name = "NUMBER")]
    pub(in crate::cli) dpi: Option<f64>,
    /// What the scanner makes of a true length, such as 1.002, or along width,height
    #[arg(long, requires = "scan", value_name = "SCALE")]
    pub(in crate::cli) scanner: Option<String>,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct JudgedArgs {
    /// Judge the cut of this pattern file
    #[arg(long, value_name = "PATTERN", conflicts_with = "farthest")]
    pub(in crate::cli) pattern: Option<PathBuf>,
    #[command(flatten)]
    pub(in crate::cli) families: FamiliesArgs,
    /// Units of bare numbers of the cut, and of what is told of it; those of the pattern, or mm,
    /// unless given
    #[arg(long, value_enum)]
    pub(in crate::cli) units: Option<UnitsArg>,
    /// Judge a cut this far from where the pattern is laid by: ACROSS,DOWN
    #[arg(long, value_name = "LENGTHS")]
    pub(in crate::cli) farthest: Option<String>,
    /// What its clearance leaves for the print there; 0.3 % of the distance unless given
    #[arg(long, requires = "farthest", value_name = "LENGTH")]
    pub(in crate::cli) print: Option<String>,
}

impl JudgedArgs {
    /// Those that were named; else mm.
    pub(in crate::cli) fn units(&self) -> Units {
        self.units.map_or(Units::Mm, Units::from)
    }
}

#[derive(Debug, Args)]
pub(in crate::cli) struct PrintedArgs {
    /// Paper that the sheets were drawn for; A4 or Letter unless given
    #[arg(long, value_name = "PAPER")]
    pub(in crate::cli) paper: Option<String>,
    /// Paper in the tray
    #[arg(long, value_name = "PAPER")]
    pub(in crate::cli) tray: Option<String>,
    /// Borders that the printer can't print on
    #[arg(long, value_name = "LENGTH")]
    pub(in crate::cli) borders: Option<String>,
    /// Kind of file that was printed
    #[arg(long, value_enum)]
    pub(in crate::cli) printed: Option<Format>,
    /// Which way the sheet lay on its paper
    #[arg(long, value_enum, default_value = "portrait")]
    pub(in crate::cli) orientation: OrientationArg,
    /// Margin that the sheets were drawn with
    #[arg(long, value_name = "LENGTH")]
    pub(in crate::cli) margin: Option<String>,
}

#[derive(Debug, Args)]
pub(in crate::cli) struct SavedArgs {
    /// Keep the printer's correction in this file
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) save: Option<PathBuf>,
    /// What the printer is called; the file's name unless given
    #[arg(long, requires = "save", value_name = "NAME")]
    pub(in crate::cli) name: Option<String>,
    /// When it was measured, YYYY-MM-DD
    #[arg(long, requires = "save", value_name = "DATE")]
    pub(in crate::cli) measured: Option<String>,
}
