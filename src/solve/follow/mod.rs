//! Openings worked out from the parts that pass through them, and measured against them.
//!
//! A part clears its opening where its outline, grown by its clearance, lies inside. A clearance
//! that differs each way is the slot-shaped area of [`EachWay`](crate::model::clearance::EachWay).

mod boxed;
mod contour;
mod corner;
mod error;
mod inside;
mod measured;
mod passage;
mod swept;

#[cfg(test)]
mod proofs;
#[cfg(test)]
mod random_parts;

pub use boxed::{BoxRequest, BoxedOpening, Radius, boxed};
pub use contour::contour;
pub use error::OpeningError;
pub use measured::{Spacing, least_after_moves, least_distance};
pub use passage::open_at_edge;
