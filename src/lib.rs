//! Full-size cutting patterns for vehicle trim.
//!
//! The way through, one direction and no way back:
//!
//! ```text
//! TOML -> input -> solve -> draw -> layout -> output
//! ```
//!
//! [`input`] holds a definition as written, [`solve`] the solved openings, [`draw`] the resolved
//! ink in millimetres, [`layout`] that ink cut over pages, and [`output`] the bytes.
//! After [`input`] every number is an `f64` in millimetres, y up.

pub mod ask;
pub mod base;
pub mod check;
pub mod draw;
pub mod geometry;
pub mod input;
pub mod jobs;
pub mod layout;
pub mod model;
pub mod output;
#[cfg(test)]
#[path = "../tests/suite/common/random.rs"]
mod random;
pub mod serve;
pub mod solve;
pub mod store;
