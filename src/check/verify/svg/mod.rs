//! An SVG as an outsider reads it: the words of the standard, and no help from what writes ours.
//!
//! What is not read is noted, so that nothing is called sound that may look otherwise.

mod guard;
mod shape;
mod size;
mod strange;
mod style;
mod walk;

use super::budget::Budget;
use super::error::VerifyError;
use super::measured::Measured;
use roxmltree::{Document, ParsingOptions};

/// Most elements and texts that are read: about 100 bytes each are kept.
const MOST_NODES: u32 = 1_000_000;

/// Reads an SVG.
pub(crate) fn read(bytes: &[u8], budget: &mut Budget) -> Result<Measured, VerifyError> {
    let text = std::str::from_utf8(bytes)
        .map_err(|_| VerifyError::Svg("it is not written in UTF-8".into()))?;
    guard::guard(text)?;
    if text.contains("<!ATTLIST") {
        return Err(VerifyError::Svg(
            "it sets attributes in its head, which are not read here".into(),
        ));
    }
    let options = ParsingOptions {
        allow_dtd: true,
        nodes_limit: MOST_NODES,
        ..ParsingOptions::default()
    };
    let document = Document::parse_with_options(text, options)
        .map_err(|error| VerifyError::Svg(error.to_string()))?;
    let root = document.root_element();
    if root.tag_name().name() != "svg" {
        return Err(VerifyError::Svg("it holds no drawing".into()));
    }
    let (mut page, to_page) = size::page(root)?;
    let mut around = document.root().children();
    if around.any(|node| node.pi().is_some_and(|pi| pi.target == "xml-stylesheet")) {
        page.unread.insert("a style sheet");
    }
    let layers = walk::strokes(&document, to_page, &mut page, budget)?;
    Ok(Measured {
        pages: vec![page],
        layers,
        ..Measured::default()
    })
}
