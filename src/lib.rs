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
//!
//! Features, all on by default: `scan` reads scanned sheets, `kit` issues patterns together and compares
//! them, `page` has the questions and shows a folder in the browser, `cli` is the command. Without them
//! stays what a program needs to go from a definition's text to proven sheets.

// What only a left-out room uses stands unused where it is shared.
#![cfg_attr(not(feature = "cli"), allow(dead_code, unused_imports))]

#[cfg(feature = "page")]
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
#[cfg(feature = "page")]
pub mod serve;
pub mod solve;
#[cfg(feature = "page")]
pub mod store;
