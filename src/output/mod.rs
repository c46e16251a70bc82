//! Bytes: a set of sheets as PDF, a plate as SVG, and both into files that are whole or not there.
//!
//! Both writers know ink in millimetres, y up, and nothing else; neither knows the other. The same
//! ink gives the same bytes.

mod error;
mod file;
mod held;
mod lock;
mod pdf;
mod svg;

pub use error::WriteError;
pub(crate) use file::failed;
pub use file::{clear_leftovers, make_folder, write_together, write_whole};
pub(crate) use lock::Lock;
pub use pdf::{About, PackedPage, Part, packed_pages, pages_of_volume, pdf, volume};
pub use svg::svg;
