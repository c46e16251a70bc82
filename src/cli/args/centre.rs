//! What `centre` is told of tape and panel.

use super::shared::UnitsArg;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(in crate::cli) struct CentreArgs {
    /// Left and right readings of features that mirror each other: [NAME=]LEFT,RIGHT[@DEPTH]
    #[arg(
        long = "pair",
        value_name = "READINGS",
        required_unless_present = "swings",
        conflicts_with = "swings"
    )]
    pub(in crate::cli) pairs: Vec<String>,
    /// Distances from such features to one pencil mark: [NAME=]LEFT,RIGHT[,APART][@DEPTH]
    #[arg(long = "swing", value_name = "DISTANCES")]
    pub(in crate::cli) swings: Vec<String>,
    /// How far the mark of the arcs lies from the datum edge
    #[arg(long, requires = "swings", value_name = "LENGTH")]
    pub(in crate::cli) mark_depth: Option<String>,
    /// The vehicle's end of the panel that the tape starts from
    #[arg(long, value_enum, default_value = "left")]
    pub(in crate::cli) zero: ZeroArg,
    /// Width of the panel, end to end along the datum edge
    #[arg(long, value_name = "LENGTH")]
    pub(in crate::cli) width: Option<String>,
    /// A depth at which the centre is told, besides the datum edge
    #[arg(long, value_name = "DEPTH")]
    pub(in crate::cli) at: Vec<String>,
    /// Units of bare numbers, and of what is told
    #[arg(long, value_enum, default_value = "mm")]
    pub(in crate::cli) units: UnitsArg,
    /// Smallest division of the tape; 1 mm unless given
    #[arg(long, value_name = "LENGTH")]
    pub(in crate::cli) graduation: Option<String>,
    /// Accuracy class of the tape: I, II or III; II unless given
    #[arg(long, value_name = "CLASS")]
    pub(in crate::cli) tape_class: Option<String>,
    /// The tape's hook or butt end is used as zero
    #[arg(long)]
    pub(in crate::cli) hook: bool,
    /// How well a feature's middle is found; 0.5 mm unless given
    #[arg(long, value_name = "LENGTH")]
    pub(in crate::cli) reading: Option<String>,
    /// How unevenly the panel is moulded, as the standard deviation of a pair's middle; 0.7 mm
    /// unless given
    #[arg(long, value_name = "LENGTH")]
    pub(in crate::cli) moulding: Option<String>,
    /// How far the centreline may lean; "0.5 deg" unless given
    #[arg(long, value_name = "ANGLE")]
    pub(in crate::cli) skew_limit: Option<String>,
    /// Print the result as JSON
    #[arg(long)]
    pub(in crate::cli) json: bool,
    /// Draw the panel with the readings on it
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) svg: Option<PathBuf>,
    /// For the picture: where the reader stands
    #[arg(long, requires = "svg", value_name = "FACE")]
    pub(in crate::cli) seen_from: Option<String>,
    /// For the picture: the vehicle direction at the head of the page
    #[arg(long, requires = "svg", value_name = "DIRECTION")]
    pub(in crate::cli) page_up: Option<String>,
    /// For the picture: the datum edge; at the foot of the page unless given
    #[arg(long, requires = "svg", value_name = "DIRECTION")]
    pub(in crate::cli) datum: Option<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
pub(in crate::cli) enum ZeroArg {
    /// The vehicle's left end
    Left,
    /// The vehicle's right end
    Right,
}

impl ZeroArg {
    pub(in crate::cli) fn is_right(self) -> bool {
        matches!(self, Self::Right)
    }
}
