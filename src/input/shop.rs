//! A shop file: what one shop drills and saws with.

use super::field::{filled_text, units};
use super::file::read_file;
use super::read_tools::tools;
use super::report::Report;
use super::source::Source;
use super::table::Table;

/// A shop file.
#[derive(Debug, Clone, PartialEq)]
pub struct ShopSpec {
    /// Name of the shop.
    pub name: String,
    /// Diameters of its drills and hole saws, mm; smallest first, each once, at least one.
    pub tools: Vec<f64>,
}

impl ShopSpec {
    /// Reads a shop file: `format = 1`, `name`, `tools`; `units` for bare numbers if need be.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, shop)
    }
}

fn shop(file: &mut Table<'_>) -> Option<ShopSpec> {
    units(file);
    let name = file.required("name", filled_text);
    let tools = file.required("tools", tools);
    Some(ShopSpec {
        name: name?.value,
        tools: tools?.value,
    })
}
