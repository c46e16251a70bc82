//! The solved pattern: outlines on the panel, and every finding.
//!
//! Everything here stands in the panel frame: x along the datum edge from the point where the
//! centreline meets it, to the reader's right when the datum edge lies at the foot; y away from
//! the datum edge. Millimetres.

mod allowance;
mod around;
mod centreline;
mod check_points;
mod content;
mod developed;
mod doubts;
mod doubts_of_surface;
mod drilling;
mod edge;
mod edge_left;
mod feature;
mod finding;
mod finding_id;
pub mod follow;
mod foot;
mod guard;
mod hole;
mod judge;
mod laid;
mod locator;
mod opening;
mod outright;
mod panel;
mod panel_surface;
mod part;
mod pattern;
mod place;
mod relief;
mod rough;
mod seen_along;
mod slide;
mod spacing;
mod tied;
mod trim;

pub use centreline::{Basis, Centreline};
pub(crate) use content::facts::Facts;
#[cfg(feature = "kit")]
pub(crate) use content::volume_text;
pub use content::{Content, in_one_breath, volume_in_file};
pub use developed::Developed;
pub use drilling::{BETWEEN_HOLES, Relief};
pub use feature::{Feature, Foul};
pub use finding::{Accepted, Finding, Measure, Severity};
pub use finding_id::{FindingId, Piece};
pub use foot::{Foot, Hold, Land};
pub use guard::{KeepOut, PanelLine};
pub use locator::Locator;
pub use opening::{Declared, Opening};
pub use panel::Panel;
pub use panel_surface::PanelSurface;
pub use part::{Drilled, Part, Through};
pub use pattern::solve;
pub use rough::RoughCut;
pub use slide::Slide;
pub use spacing::{Clear, Clearances};
pub use tied::{ReadTie, TiedPlace};

use crate::base::length::Units;
use crate::input::Identity;
use crate::model::panel::Orientation;

/// A pattern with every outline worked out.
#[derive(Debug, Clone)]
pub struct Pattern {
    /// What identifies it.
    pub identity: Identity,
    /// Units of the dimensions on the sheet.
    pub units: Units,
    /// Which way round the panel lies.
    pub orientation: Orientation,
    /// The panel.
    pub panel: Panel,
    /// How the panel stands and curves.
    pub surface: PanelSurface,
    /// The centreline and how it was found.
    pub centreline: Centreline,
    /// What passes through.
    pub parts: Vec<Part>,
    /// The clearance of each opening that was worked out from parts.
    pub clearances: Vec<Clearances>,
    /// Scale error of the print that the clearances allow, a part of 1.
    pub scale_error: f64,
    /// Openings, united where they overlap, each with its outline cut at the panel's edge.
    pub openings: Vec<Opening>,
    /// What each part keeps in its opening, measured.
    pub spacings: Vec<Clear>,
    /// What development did to each opening that is not flat.
    pub developed: Vec<Developed>,
    /// Features that place the pattern.
    pub locators: Vec<Locator>,
    /// Round holes that the panel has already, besides its locators.
    pub holes: Vec<Locator>,
    /// Areas that no cut may come near.
    pub keep_outs: Vec<KeepOut>,
    /// Where the accessory presses it.
    pub feet: Vec<Foot>,
    /// What holds it once all is cut.
    pub hold: Hold,
    /// What stands on the panel's hidden side.
    pub features: Vec<Feature>,
    /// How near that comes to parts as the panel is brought up.
    pub fouls: Vec<Foul>,
    /// Lines to fold along.
    pub lines: Vec<PanelLine>,
    /// What was found while solving.
    pub findings: Vec<Finding>,
}
