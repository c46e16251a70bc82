//! Printers that are known.
//!
//! Each printer is a file of the folder `printers`, the same that `draw --printer` takes.

use super::answer::Refusal;
use crate::check::scale::Printer;
use crate::input::Source;
use crate::store::{Name, Store, StoreError};

/// Folder of the printer files.
const FOLDER: &str = "printers";
/// The printers of a folder.
pub(super) struct Printers {
    of: Store,
}

impl Printers {
    pub(super) fn of(store: &Store) -> Self {
        Self { of: store.clone() }
    }

    /// Their names.
    pub(super) fn names(&self) -> Vec<Name> {
        // A folder that is not there holds none.
        let there = self.of.folder().join(FOLDER).is_dir();
        let listed = there.then(|| self.of.within(FOLDER).and_then(|folder| folder.list()));
        let entries = listed.and_then(Result::ok).unwrap_or_default();
        entries.into_iter().map(|entry| entry.name).collect()
    }

    /// One of them.
    pub(super) fn find(&self, name: &Name) -> Result<Printer, Refusal> {
        let state = self.of.within(FOLDER)?.read(name)?;
        let source = Source::new(name.as_str(), state.text);
        Printer::read(&source).map_err(|_| {
            Refusal::bad(format!(
                "the printer file `{name}` can't be used; hint: measure it again"
            ))
        })
    }

    /// Keeps a printer, in the place of what was known of it before.
    pub(super) fn keep(&self, name: &Name, printer: &Printer) -> Result<(), StoreError> {
        let folder = self.of.within(FOLDER)?;
        let before = folder.read(name).ok().map(|state| state.hash);
        folder.save(name, before, &printer.to_toml()).map(|_| ())
    }
}
