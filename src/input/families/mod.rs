//! Shape families: parameters, expressions, outline.
//!
//! A [`Family`] is data: named parameters with limits, and the corners of a closed polygon whose
//! places and radii are expressions of them. Lengths in mm, angles in degrees; x to the right as
//! one faces the panel with its datum edge at the foot, y away from that edge.

mod error;
mod expression;
mod family;
mod fault;
mod left_out;
mod library;
mod parameter;
mod parser;
mod step;

#[cfg(test)]
mod expression_tests;
#[cfg(test)]
mod family_tests;
#[cfg(test)]
mod shipped_tests;

pub use error::{Lacking, ShapeError};
pub use expression::Expression;
pub use family::Family;
pub use fault::{ExpressionError, Fault};
pub use left_out::Purpose;
pub use library::{Library, LibraryError, UnknownShape};
pub use parameter::Parameter;
