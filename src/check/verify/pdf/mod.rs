//! A PDF as an outsider reads it: by a library that shares no code with what writes ours.

mod catalog;
mod content;
mod cursor;
mod inline;
mod layers;
mod lettering;
mod look;
mod operators;
mod page;
mod plain;
mod predictor;
mod show;
mod state;
mod table;
mod tree;
mod typeface;
mod unpack;

use super::budget::Budget;
use super::error::VerifyError;
use super::measured::Measured;
use cursor::find;
use hayro_syntax::object::Dict;
use hayro_syntax::{LoadPdfError, Pdf};
use layers::Layers;
use std::sync::Arc;
use typeface::Typefaces;

/// Reads a PDF from anywhere.
pub(crate) fn read_foreign(bytes: Vec<u8>, budget: &mut Budget) -> Result<Measured, VerifyError> {
    let repacked = find(&bytes, b"/ObjStm").is_some();
    let (bytes, odd) = plain::plain(bytes, budget)?;
    let mut measured = read(bytes, budget)?;
    measured.repacked = repacked;
    measured.unread.extend(odd);
    Ok(measured)
}

/// Reads a PDF that is known to be well made, or laid out plainly.
pub(crate) fn read(bytes: Vec<u8>, budget: &mut Budget) -> Result<Measured, VerifyError> {
    let file = Pdf::new(Arc::new(bytes)).map_err(|error| match error {
        LoadPdfError::Decryption(_) => VerifyError::Locked,
        LoadPdfError::Invalid => VerifyError::Pdf("it is damaged"),
    })?;
    let catalog: Dict<'_> = file
        .xref()
        .get(file.xref().root_id())
        .ok_or(VerifyError::Pdf("it has no catalog"))?;
    let pages = file.pages();
    if pages.is_empty() {
        return Err(VerifyError::Pdf("it has no page"));
    }
    let mut layers = Layers::of(&catalog);
    let mut faces = Typefaces::default();
    let pages = pages
        .iter()
        .map(|page| page::read(page, &mut layers, budget, &mut faces))
        .collect::<Result<_, _>>()?;
    Ok(Measured {
        pages,
        preferences: Some(catalog::preferences(&catalog)),
        titles: catalog::titles(&catalog, file.metadata().title.as_deref(), budget)?,
        unread: catalog::actions(&catalog, budget)?,
        producer: file.metadata().producer.as_deref().map(layers::text),
        layers: layers.into_names(),
        repacked: false,
    })
}
