//! Kits: patterns issued together, with a cover, a fitting card and a list of what was issued.
//!
//! A [`Plan`] is a kit file read with all its patterns. [`fn@issue`] makes it into a folder of its
//! own: PDFs of at most 250 patterns, each with one of their records beside it, an SVG for each
//! pattern, `manifest.json` and `index.html`.

mod block;
mod card;
mod content;
mod cover;
mod difference;
mod error;
mod facts;
mod handover;
mod hold_back;
mod index;
mod made;
mod make;
mod manifest;
mod order;
mod outcome;
mod picture;
mod place;
mod plan;
mod previous;
mod ratings;
mod sink;
mod standing;
mod volume;

pub use difference::Differences;
pub use error::KitError;
pub use hold_back::{HoldBack, held_back};
pub use make::Watch;
pub use manifest::{
    FileEntry, FindingEntry, KitEntry, Manifest, OpeningEntry, PagesEntry, PatternEntry,
};
pub use order::removal_order;
pub use outcome::{Outcome, State};
pub use place::{check, issue};
pub use plan::Plan;
pub use previous::Previous;
pub use ratings::Ratings;
