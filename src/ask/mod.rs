//! The questions that make a definition, in the order of the tape.
//!
//! A definition is its own state: an answer is written into it and read out of it again, so that a
//! file made by hand keeps its comments and its order, and going back to one answer changes nothing
//! else. [`questions`] gives those that apply to a definition as it stands; [`blank`] is one with
//! nothing answered. What may stand in a blank is what the tables of [`crate::input::keys`] say.

mod answer;
mod asked_by;
mod choices;
mod list;
mod one_line;
mod openings;
mod picture;
mod place;
mod question;
mod rows;
mod sheet;
#[cfg(test)]
mod tests;
mod units;
mod value;

pub use asked_by::{asked_by, asked_of};
pub use list::questions;
pub use openings::blank;
pub use picture::Picture;
pub use question::{Blank, BlankKind, Question, Section};
pub use sheet::{Standing, measuring_sheet};
pub use units::units;
