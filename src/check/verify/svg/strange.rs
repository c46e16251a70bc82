//! What bears on the picture and is not read.

use super::size::length;
use roxmltree::Node;
use std::collections::BTreeSet;

/// Elements of this name space a browser obeys wherever they stand.
const XHTML: &str = "http://www.w3.org/1999/xhtml";
/// Sides of a page this near to each other are one, mm.
const SAME: f64 = 0.01;

/// Notes what bears on the picture and is not read, wherever it stands.
pub(super) fn strange(node: Node<'_, '_>, root: Node<'_, '_>, unread: &mut BTreeSet<&'static str>) {
    if node.is_element() && node.tag_name().namespace() == Some(XHTML) {
        unread.insert("parts of a web page");
    }
    if node.tag_name().namespace() != root.tag_name().namespace() || !node.is_element() {
        return;
    }
    match node.tag_name().name() {
        "style"
            if node
                .children()
                .any(|part| part.text().is_none_or(|text| !is_page_rule(text, root))) =>
        {
            unread.insert("a style sheet");
        }
        "script" => {
            unread.insert("a script");
        }
        "text" => {
            unread.insert("lettering that is no outline");
        }
        "set" => {
            unread.insert("what moves");
        }
        name if name.starts_with("animate") => {
            unread.insert("what moves");
        }
        _ => {}
    }
    for attribute in node.attributes() {
        match attribute.name() {
            "clip-path" | "transform" if node == root => {
                unread.insert("clips and turns of the whole drawing");
            }
            "systemLanguage" | "requiredExtensions" | "requiredFeatures" => {
                unread.insert("parts that only some programs show");
            }
            "pathLength" => {
                unread.insert("lengths of its own");
            }
            name if name.starts_with("on") => {
                unread.insert("a script");
            }
            _ => {}
        }
    }
}

/// Whether a style sheet says no more than that the drawing is printed at its own size.
fn is_page_rule(sheet: &str, root: Node<'_, '_>) -> bool {
    let sheet = sheet.trim();
    if sheet.is_empty() {
        return true;
    }
    let sides = sheet
        .strip_prefix("@page{size:")
        .and_then(|rest| rest.strip_suffix(";margin:0}"))
        .and_then(|sides| sides.split_once(' '));
    let same = |said: &str, name: &str| {
        let own = root.attribute(name).and_then(length);
        own.zip(length(said))
            .is_some_and(|(own, said)| (own - said).abs() <= SAME)
    };
    sides.is_some_and(|(width, height)| same(width, "width") && same(height, "height"))
}
