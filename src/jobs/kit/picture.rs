//! A small picture of a pattern, taken from its own SVG: cut line, edges and centreline.

use crate::base::fixed;
use crate::draw::ink::Layer;
use std::fmt::Write;

/// Layers shown, each as one path.
const SHOWN: [Layer; 6] = [
    Layer::Panel,
    Layer::Fold,
    Layer::Centreline,
    Layer::Locators,
    Layer::Relief,
    Layer::Cut,
];

/// How a layer's group begins, up to its name.
const GROUP: &str = "<g fill=\"none\" id=\"";

/// The picture as an element of a page; `None` for a text that is no plate of this program's.
///
/// Nothing of the SVG goes into it but numbers and the letters of path data.
pub(super) fn picture(svg: &str) -> Option<String> {
    let view_box = value(svg, "viewBox")?;
    if !view_box.bytes().all(|byte| is_number(byte) || byte == b' ') {
        return None;
    }
    let mut out = format!("<svg viewBox=\"{view_box}\" aria-hidden=\"true\">");
    // Groups stand in the order of the layers. What comes after the cut line is most of the file,
    // and is not looked at.
    let mut rest = svg;
    while let Some((_, group)) = rest.split_once(GROUP) {
        let Some((name, group)) = group.split_once('"') else {
            break;
        };
        let Some((group, after)) = group.split_once("</g>") else {
            break;
        };
        if SHOWN.iter().any(|layer| layer.name() == name) {
            let mut data = String::new();
            paths(group).for_each(|path| push_coarse(&mut data, path));
            // Writing to a string does not fail.
            let _ = write!(out, "<path class=\"{name}\" d=\"{data}\"/>");
        }
        if name == Layer::Cut.name() {
            break;
        }
        rest = after;
    }
    out.push_str("</svg>");
    Some(out)
}

/// Path data of a group, without its lettering.
fn paths(group: &str) -> impl Iterator<Item = &str> {
    group
        .split("<path ")
        .skip(1)
        .filter(|path| !path.starts_with("aria-label"))
        .filter_map(|path| value(path, "d"))
        .filter(|data| data.bytes().all(is_path_data))
}

/// Path data with its numbers to a tenth of a millimetre: a picture shows no more.
fn push_coarse(out: &mut String, data: &str) {
    let mut rest = data;
    while let Some(first) = rest.bytes().next() {
        let end = match is_number(first) {
            true => rest.bytes().position(|byte| !is_number(byte)),
            false => Some(1),
        };
        // Path data holds single bytes only.
        let (part, after) = rest.split_at(end.unwrap_or(rest.len()));
        match part.parse::<f64>() {
            Ok(number) => out.push_str(&fixed(number, 1)),
            Err(_) => out.push_str(part),
        }
        rest = after;
    }
}

/// What stands between the quotation marks of an attribute.
fn value<'a>(element: &'a str, name: &str) -> Option<&'a str> {
    let (_, rest) = element.split_once(&format!("{name}=\""))?;
    rest.split_once('"').map(|(value, _)| value)
}

fn is_number(byte: u8) -> bool {
    byte.is_ascii_digit() || matches!(byte, b'.' | b'-')
}

fn is_path_data(byte: u8) -> bool {
    is_number(byte) || matches!(byte, b'M' | b'L' | b'Q' | b'C' | b'Z' | b' ')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_lines_are_taken_and_nothing_but_numbers() {
        let svg = "<svg height=\"9mm\" viewBox=\"0 0 20 9\"><title>d=\"M1 1\"</title>\
                   <g fill=\"none\" id=\"fold\" stroke=\"#000\">\n<path d=\"M0 0L20 0\"/>\n\
                   <path aria-label=\"FOLD d=&quot;\" d=\"M7 7\"/>\n</g>\n\
                   <g fill=\"none\" id=\"cut\"><path d=\"M1.04 2L3.96 -4.26Z\"/><path d=\"M5 6\"/>\
                   <path d=\"M1 1&#34;onload\"/></g></svg>";
        assert_eq!(
            picture(svg).unwrap(),
            "<svg viewBox=\"0 0 20 9\" aria-hidden=\"true\"><path class=\"fold\" d=\"M0 0L20 0\"/>\
             <path class=\"cut\" d=\"M1 2L4 -4.3ZM5 6\"/></svg>"
        );
        assert_eq!(picture("<svg viewBox=\"0 0 x\">"), None);
        assert_eq!(picture("no svg"), None);
    }
}
