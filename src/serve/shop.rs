//! What every route is given.

use super::key::Key;
use super::printers::Printers;
use super::work::Pool;
use crate::input::families::Library;
use crate::input::{PatternSpec, Report, ShopSpec, Source};
use crate::store::{Name, Store};

/// The folder that is served, and what is needed to draw what stands in it.
pub(super) struct Shop {
    pub(super) store: Store,
    pub(super) printers: Printers,
    pub(super) shapes: Library,
    pub(super) tools: Option<ShopSpec>,
    /// Given where the folder is served beyond this machine.
    pub(super) key: Option<Key>,
    /// Names that the server is called by.
    pub(super) hosts: Vec<String>,
    /// Where definitions are worked out.
    pub(super) pool: Pool,
    /// Where scans are measured: each takes much memory.
    pub(super) scans: Pool,
}

impl Shop {
    /// The definition that a text holds, with the shop's tools.
    pub(super) fn understood(&self, name: &Name, text: &str) -> Result<PatternSpec, Report> {
        let mut spec = PatternSpec::read(&Source::new(name.as_str(), text))?;
        if let Some(shop) = &self.tools {
            spec.tools = Some(shop.tools.clone());
        }
        Ok(spec)
    }
}
