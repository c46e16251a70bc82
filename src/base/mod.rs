//! Numbers and words: lengths as people write them, directions of the vehicle, and how both are
//! printed. Knows nothing of patterns.

pub(crate) mod direction;
pub mod length;
mod number;
pub mod paper;
pub(crate) mod words;

pub use direction::Direction;
pub use number::fixed;
pub(crate) use number::push_fixed;
