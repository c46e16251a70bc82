//! Sheets as a whole, over every paper, and the parts against their rules.

mod clipping;
mod fitting;
mod pages;
mod sample;
mod tiles;
