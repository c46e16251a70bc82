//! Files that are made to cost as much as files of their size can: one function a kind, of any size.
//!
//! Only the standard library and a packer are used here, so that unit tests of the readers make
//! the same files.

mod pdf;
mod pdf_pages;
mod svg;

/// A kind of such a file.
#[derive(Clone, Copy)]
pub struct Kind {
    pub name: &'static str,
    /// The file, of about this many bytes.
    pub make: fn(usize) -> Vec<u8>,
}

/// All kinds.
pub fn kinds() -> Vec<Kind> {
    let all = [pdf::KINDS, pdf_pages::KINDS, svg::KINDS].concat();
    all.into_iter()
        .map(|(name, make)| Kind { name, make })
        .collect()
}

/// As many of a part as come to a size.
fn times(part: &str, size: usize) -> String {
    part.repeat(size / part.len())
}

/// Parts that differ by their number, as many as come to a size.
fn numbered(size: usize, part: impl Fn(usize) -> String) -> String {
    let mut all = String::new();
    let mut number = 0;
    while all.len() < size {
        all += &part(number);
        number += 1;
    }
    all
}
