//! Bytes: PDF and SVG.
