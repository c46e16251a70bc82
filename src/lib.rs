//! Full-size cutting patterns for vehicle trim.
//!
//! The way through, one direction and no way back:
//!
//! ```text
//! TOML -> spec -> pattern -> drawing -> sheets -> PDF | SVG
//! ```
//!
//! [`spec`] holds a definition as written, [`pattern`] the solved openings, [`drawing`] the
//! resolved ink in millimetres, [`sheet`] that ink cut over pages, and [`mod@write`] the bytes.
//! After [`spec`] every number is an `f64` in millimetres, y up.

pub mod centre;
pub mod clearance;
pub mod compare;
pub mod draft;
pub mod drawing;
pub mod hardware;
pub mod kit;
pub mod length;
pub mod material;
pub mod opening;
pub mod outline;
pub mod panel;
pub mod pattern;
pub mod produce;
#[cfg(test)]
#[path = "../tests/suite/common/random.rs"]
mod random;
pub mod scale;
pub mod scan;
pub mod shape;
pub mod sheet;
pub mod spec;
pub mod surface;
pub mod verify;
mod watch;
mod words;
pub mod write;
