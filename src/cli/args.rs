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
    /// Find the middle of a panel from readings
    Centre(CentreArgs),
    /// Issue a kit: patterns, cover, fitting card and manifest in a folder of their own
    Kit(KitArgs),
    /// Tell what differs between two patterns or two kits
    Compare(CompareArgs),
    /// Read PDF or SVG files back and prove their scale
    Verify(VerifyArgs),
    /// Say what printed check rulers, or a scanned sheet, make of a pattern
    Scale(Box<ScaleArgs>),
    /// Print the licences of the program and of the typeface in it
    Licences,
    /// Print completions for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
}

#[derive(Debug, Args)]
pub(super) struct DrawArgs {
    /// Pattern files, or folders of them
    #[arg(required_unless_present = "shape", conflicts_with = "shape")]
    pub(super) patterns: Vec<PathBuf>,
    #[command(flatten)]
    pub(super) outright: OutrightArgs,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    #[command(flatten)]
    pub(super) tools: ToolsArgs,
    #[command(flatten)]
    pub(super) sheets: SheetArgs,
    /// Folder that files are written to
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(super) out: PathBuf,
    /// Write only one kind of file
    #[arg(long, value_enum)]
    pub(super) only: Option<Format>,
    /// Draw besides how panel and parts stand, as an SVG picture in oblique projection
    #[arg(long)]
    pub(super) view: bool,
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
pub(super) struct ToolsArgs {
    /// A file of your shop's drills and hole saws, used instead of any that a pattern names
    #[arg(long, value_name = "FILE")]
    pub(super) shop: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(super) struct SheetArgs {
    /// Paper: a4, a3, letter ..., a PWG 5101.1 name, 300x500mm, or a roll such as roll-610mm
    /// [default: a4]
    #[arg(long)]
    pub(super) paper: Option<String>,
    /// Which way the paper lies; the way that takes fewer sheets unless given
    #[arg(long, value_enum)]
    pub(super) lie: Option<LieArg>,
    /// Margin that the printer can't print on
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(super) margin: Option<String>,
    /// Overlap of neighbouring sheets
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub(super) overlap: Option<String>,
    /// Title block and pattern on one page, without the instructions
    #[arg(long)]
    pub(super) one_page: bool,
    /// Correct the sheets by a printer file, for that printer alone
    #[arg(long, value_name = "FILE")]
    pub(super) printer: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
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
    /// Pattern files, or folders of them
    #[arg(required = true)]
    pub(super) patterns: Vec<PathBuf>,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    #[command(flatten)]
    pub(super) tools: ToolsArgs,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct KitArgs {
    /// Kit file
    pub(super) kit: PathBuf,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    #[command(flatten)]
    pub(super) sheets: SheetArgs,
    /// Folder of all issues; the kit's own folder is made in it
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(super) out: PathBuf,
    /// Let small patterns share sheets
    #[arg(long)]
    pub(super) share: bool,
    /// An issue made before: patterns unchanged since are taken over from it
    #[arg(long, value_name = "FOLDER", conflicts_with = "check")]
    pub(super) from: Option<PathBuf>,
    /// Say whether the issued folder is what would be issued today; write nothing
    #[arg(long, conflicts_with = "replace")]
    pub(super) check: bool,
    /// Put another content in the place of this revision, for a draft that nobody has
    #[arg(long)]
    pub(super) replace: bool,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct CompareArgs {
    /// Pattern file or kit file, as it was
    pub(super) old: PathBuf,
    /// The same as it is
    pub(super) new: PathBuf,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    /// Folder that drawings of both, laid over each other, are written to
    #[arg(long, default_value = "out", value_name = "DIR")]
    pub(super) out: PathBuf,
    /// Tell the numbers only; write nothing
    #[arg(long)]
    pub(super) no_overlay: bool,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct VerifyArgs {
    /// PDF or SVG files
    #[arg(required = true, value_name = "FILE")]
    pub(super) files: Vec<PathBuf>,
    /// Hold the cut line against this pattern file
    #[arg(long, value_name = "PATTERN")]
    pub(super) against: Option<PathBuf>,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    #[command(flatten)]
    pub(super) tools: ToolsArgs,
    /// The printer file that the sheets were corrected by
    #[arg(long, value_name = "FILE")]
    pub(super) printer: Option<PathBuf>,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}

#[derive(Debug, Args)]
pub(super) struct ScaleArgs {
    #[command(flatten)]
    pub(super) readings: ReadingArgs,
    #[command(flatten)]
    pub(super) scan: ScanArgs,
    #[command(flatten)]
    pub(super) judged: JudgedArgs,
    #[command(flatten)]
    pub(super) printed: PrintedArgs,
    #[command(flatten)]
    pub(super) saved: SavedArgs,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
}

/// What a rule read; `@` and the rule's smallest division may follow each reading.
#[derive(Debug, Args)]
pub(super) struct ReadingArgs {
    /// What the 100 mm ruler across reads, such as 99.6 or 99.6@0.5
    #[arg(long, value_name = "READING")]
    pub(super) across: Vec<String>,
    /// What the 100 mm ruler down reads
    #[arg(long, value_name = "READING")]
    pub(super) down: Vec<String>,
    /// What the 4 in ruler across reads, such as "3 31/32 in@1/32 in"
    #[arg(long, value_name = "READING")]
    pub(super) across_4in: Vec<String>,
    /// What the 4 in ruler down reads
    #[arg(long, value_name = "READING")]
    pub(super) down_4in: Vec<String>,
    /// What the outline of the bank card reads: ACROSS,DOWN
    #[arg(long, value_name = "READINGS")]
    pub(super) card: Vec<String>,
    /// Corner to corner of a sheet's frame: RISING,FALLING, to the right
    #[arg(long, value_name = "READINGS")]
    pub(super) diagonals: Option<String>,
    /// The frame, as the instruction sheet has it: WIDTHxHEIGHT; that of the paper unless given
    #[arg(long, requires = "diagonals", value_name = "SIZE")]
    pub(super) frame: Option<String>,
    /// Smallest division of the rule, where a reading does not say
    #[arg(long, default_value = "0.5 mm", value_name = "LENGTH")]
    pub(super) graduation: String,
    /// How far the rule itself may be wrong over the length read
    #[arg(long, default_value = "0", value_name = "LENGTH")]
    pub(super) rule_error: String,
}

#[derive(Debug, Args)]
pub(super) struct ScanArgs {
    /// A scan or picture of one sheet, PNG, PGM or JPEG, to be measured instead
    #[arg(long, requires = "dpi", value_name = "FILE", conflicts_with_all = ["across", "down", "across_4in", "down_4in", "card", "diagonals"])]
    pub(super) scan: Option<PathBuf>,
    /// Its resolution, pixels to the inch
    #[arg(long, requires = "scan", value_name = "NUMBER")]
    pub(super) dpi: Option<f64>,
    /// What the scanner makes of a true length, such as 1.002, or along width,height
    #[arg(long, requires = "scan", value_name = "SCALE")]
    pub(super) scanner: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct JudgedArgs {
    /// Judge the cut of this pattern file
    #[arg(long, value_name = "PATTERN", conflicts_with = "farthest")]
    pub(super) pattern: Option<PathBuf>,
    #[command(flatten)]
    pub(super) families: FamiliesArgs,
    /// Judge a cut this far from where the pattern is laid by: ACROSS,DOWN
    #[arg(long, value_name = "LENGTHS")]
    pub(super) farthest: Option<String>,
    /// What its clearance leaves for the print there; 0.3 % of the distance unless given
    #[arg(long, requires = "farthest", value_name = "LENGTH")]
    pub(super) print: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct PrintedArgs {
    /// Paper that the sheets were drawn for; A4 or Letter unless given
    #[arg(long, value_name = "PAPER")]
    pub(super) paper: Option<String>,
    /// Paper in the tray
    #[arg(long, value_name = "PAPER")]
    pub(super) tray: Option<String>,
    /// Borders that the printer can't print on
    #[arg(long, value_name = "LENGTH")]
    pub(super) borders: Option<String>,
    /// Kind of file that was printed
    #[arg(long, value_enum)]
    pub(super) printed: Option<Format>,
    /// Which way the sheet lay on its paper
    #[arg(long, value_enum, default_value = "upright")]
    pub(super) lie: LieArg,
    /// Margin that the sheets were drawn with
    #[arg(long, value_name = "LENGTH")]
    pub(super) margin: Option<String>,
}

#[derive(Debug, Args)]
pub(super) struct SavedArgs {
    /// Keep the printer's correction in this file
    #[arg(long, value_name = "FILE")]
    pub(super) save: Option<PathBuf>,
    /// What the printer is called; the file's name unless given
    #[arg(long, requires = "save", value_name = "NAME")]
    pub(super) name: Option<String>,
    /// When it was measured, YYYY-MM-DD
    #[arg(long, requires = "save", value_name = "DATE")]
    pub(super) measured: Option<String>,
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

#[derive(Debug, Args)]
pub(super) struct CentreArgs {
    /// Left and right readings of features that mirror each other: [NAME=]LEFT,RIGHT[@DEPTH]
    #[arg(
        long = "pair",
        value_name = "READINGS",
        required_unless_present = "swings",
        conflicts_with = "swings"
    )]
    pub(super) pairs: Vec<String>,
    /// Distances from such features to one pencil mark: [NAME=]LEFT,RIGHT[,APART][@DEPTH]
    #[arg(long = "swing", value_name = "DISTANCES")]
    pub(super) swings: Vec<String>,
    /// How far the mark of the arcs lies from the datum edge
    #[arg(long, requires = "swings", value_name = "LENGTH")]
    pub(super) mark_depth: Option<String>,
    /// The vehicle's end of the panel that the tape starts from
    #[arg(long, value_enum, default_value = "left")]
    pub(super) zero: ZeroArg,
    /// Width of the panel, end to end along the datum edge
    #[arg(long, value_name = "LENGTH")]
    pub(super) width: Option<String>,
    /// A depth at which the centre is told, besides the datum edge
    #[arg(long, value_name = "DEPTH")]
    pub(super) at: Vec<String>,
    /// Units of bare numbers
    #[arg(long, value_enum, default_value = "mm")]
    pub(super) units: UnitsArg,
    /// Smallest division of the tape; 1 mm unless given
    #[arg(long, value_name = "LENGTH")]
    pub(super) graduation: Option<String>,
    /// Accuracy class of the tape: I, II or III; II unless given
    #[arg(long, value_name = "CLASS")]
    pub(super) tape_class: Option<String>,
    /// The tape's hook or butt end is used as zero
    #[arg(long)]
    pub(super) hook: bool,
    /// How well a feature's middle is found; 0.5 mm unless given
    #[arg(long, value_name = "LENGTH")]
    pub(super) reading: Option<String>,
    /// How unevenly the panel is moulded, as the standard deviation of a pair's middle; 0.7 mm
    /// unless given
    #[arg(long, value_name = "LENGTH")]
    pub(super) moulding: Option<String>,
    /// How far the centreline may lean; "0.5 deg" unless given
    #[arg(long, value_name = "ANGLE")]
    pub(super) skew_limit: Option<String>,
    /// Print the result as JSON
    #[arg(long)]
    pub(super) json: bool,
    /// Draw the panel with the readings on it
    #[arg(long, value_name = "FILE")]
    pub(super) svg: Option<PathBuf>,
    /// For the picture: where the reader stands
    #[arg(long, requires = "svg", value_name = "FACE")]
    pub(super) seen_from: Option<String>,
    /// For the picture: the vehicle direction at the head of the page
    #[arg(long, requires = "svg", value_name = "DIRECTION")]
    pub(super) page_up: Option<String>,
    /// For the picture: the datum edge; at the foot of the page unless given
    #[arg(long, requires = "svg", value_name = "DIRECTION")]
    pub(super) datum: Option<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum ZeroArg {
    /// The vehicle's left end
    Left,
    /// The vehicle's right end
    Right,
}

impl ZeroArg {
    pub(super) fn is_right(self) -> bool {
        matches!(self, Self::Right)
    }
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum UnitsArg {
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
