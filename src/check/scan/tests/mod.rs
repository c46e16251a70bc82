//! Sheets of this crate, drawn by another's rasteriser, scaled, turned and spoilt.

mod errors;
mod files;
mod picture;
mod recovery;
