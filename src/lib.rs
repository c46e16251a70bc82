//! Full-size cutting patterns for vehicle trim.
//!
//! The way through, one direction and no way back:
//!
//! ```text
//! TOML -> input -> solve -> draw -> layout -> output
//! ```
//!
//! [`input`] holds a definition as written, [`mod@solve`] the solved openings, [`draw`] the resolved
//! ink in millimetres, [`layout`] that ink cut over pages, and [`output`] the bytes.
//! After [`input`] every number is an `f64` in millimetres, y up.
//!
//! The whole way in one go is [`produce`], and [`verify`] reads back what anybody made of it:
//!
//! ```
//! use trimloft::{Against, Formats, Library, Paper, PatternSpec, Reference, Setup, Source};
//! use trimloft::{produce, solve, verify};
//!
//! let text = r#"
//! format = 1
//! [pattern]
//! number = "T-1"
//! title = "Socket"
//! [panel]
//! name = "Fascia"
//! material = "pp"
//! width = 400
//! height = 200
//! datum_edge = "down"
//! seen_from = "behind"
//! page_up = "up"
//! [[opening]]
//! name = "socket window"
//! shape = "window"
//! with = { width = 80, height = 50, corner_radius = 8 }
//! centre_offset = "20 mm left"
//! from_datum = 90
//! "#;
//! let shapes = Library::shipped();
//! // A mistake is told with its line, its column and what to do.
//! let spec = PatternSpec::read(&Source::new("fascia.toml", text))?;
//! let setup = Setup::new(Paper::parse("a4")?);
//! let formats = Formats { pdf: true, svg: true, view: false, closed: false };
//! let made = produce(&spec, &shapes, &setup, formats)?;
//! for finding in &made.findings {
//!     println!("{}: {}", finding.id, finding.message);
//! }
//! // Later, or of a file that came back: is it still this pattern, full size?
//! let pattern = solve(&spec, &shapes).map_err(|_| "the definition can't be solved")?;
//! let reference = Reference::of(&pattern).by_numbers(&spec, &shapes);
//! let against = Against { reference: Some(&reference), ..Against::default() };
//! let report = verify(made.pdf.expect("it was asked for"), against)?;
//! assert!(report.is_sound());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
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

pub use check::verify::{Against, Outcome, Reference, verify};
pub use input::families::Library;
pub use input::{PatternSpec, Source};
pub use jobs::produce::{Formats, Product, produce};
pub use layout::{Paper, Setup};
pub use solve::{Finding, Pattern, Severity, solve};
