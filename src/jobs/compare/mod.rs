//! Two patterns or two kits held against each other: what was written otherwise and what that
//! works out otherwise, how far the cut line moved, and both as one picture.

mod kit;
mod moved;
mod overlay;
mod pattern;
mod stands;
mod written;

pub use kit::{KitComparison, compare_kits};
pub use moved::Moved;
pub use overlay::overlay;
pub use pattern::{PatternComparison, compare_patterns};
pub use written::{Change, changes};
