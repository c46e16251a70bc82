//! Kits: patterns issued together, with a cover, a fitting card and a list of what was issued.

mod hold_back;
mod order;
mod ratings;

pub use hold_back::{HoldBack, held_back};
pub use order::removal_order;
pub use ratings::Ratings;
