//! A plate as SVG: millimetres, one group a layer and in it one an opening, lettering as outlines.
//!
//! SVG's y runs down the page, so every point is written at the plate's height less its y; there
//! are no transforms. Numbers have four decimals, so each is within 0.00005 mm.

mod letters;

use super::WriteError;
use crate::base::fixed;
use crate::base::push_fixed;
use crate::draw::ink::Plate;
use crate::draw::ink::{Ink, Layer, Line, Mark, Shade, Text, lettering};
use ::svg::node::element::{Description, Element, Group, Path, Style, Title};
use ::svg::{Document, Node};
use kurbo::{BezPath, PathEl, Point};
use letters::Letters;
use std::cell::RefCell;

/// Decimals of positions and sizes, mm.
const DECIMALS: usize = 4;

/// Black, as short as it can be said.
const BLACK: &str = "#000";

/// A plate as the text of an SVG file.
///
/// `width` and `height` are in mm and `viewBox` in the same mm, so that it opens at full size. A
/// layer without marks has no group. What is of one opening stands in a group of its own, `cut-1` and
/// so on in the order of the definition, with the opening's name as its title.
///
/// # Errors
///
/// A letter that the typeface lacks.
pub fn svg(plate: &Plate) -> Result<String, WriteError> {
    LETTERS.with_borrow_mut(|letters| written(plate, letters))
}

thread_local! {
    /// Letters stay written for the next plate of the same thread.
    static LETTERS: RefCell<Letters> = RefCell::default();
}

fn written(plate: &Plate, letters: &mut Letters) -> Result<String, WriteError> {
    let (width, height) = (plate.size.width, plate.size.height);
    let mut document = Document::new()
        .set("width", format!("{}mm", fixed(width, DECIMALS)))
        .set("height", format!("{}mm", fixed(height, DECIMALS)))
        .set(
            "viewBox",
            format!("0 0 {} {}", fixed(width, DECIMALS), fixed(height, DECIMALS)),
        )
        .add(Title::new(printable(&plate.title)))
        .add(Description::new().add(::svg::node::Text::new(printable(&plate.description))))
        .add(Style::new(page_rule(width, height)));
    if !plate.content.is_empty() {
        let lines: Vec<String> = plate.content.lines().map(printable).collect();
        let mut carried = Element::new("metadata");
        carried.append(::svg::node::Text::new(lines.join("\n")));
        document = document.add(carried);
    }
    for layer in Layer::ALL {
        let mut group = Group::new()
            .set("id", layer.name())
            .set("fill", "none")
            .set("stroke", BLACK)
            .set("stroke-linejoin", "round");
        let marks = plate.marks.iter().filter(|mark| mark.layer == layer);
        let marks: Vec<&Mark> = marks.collect();
        let mut openings = 0;
        for own in marks.chunk_by(|one, next| one.of == next.of) {
            let [first, ..] = own else { continue };
            let elements = own.iter().map(|mark| element(mark, height, letters));
            let elements = elements.collect::<Result<Vec<Path>, WriteError>>()?;
            match &first.of {
                None => group = elements.into_iter().fold(group, Group::add),
                Some(name) => {
                    openings += 1;
                    let inside = Group::new()
                        .set("id", format!("{}-{openings}", layer.name()))
                        .add(Title::new(printable(name)));
                    group = group.add(elements.into_iter().fold(inside, Group::add));
                }
            }
        }
        if !marks.is_empty() {
            document = document.add(group);
        }
    }
    Ok(format!("{document}\n"))
}

/// What makes a browser print the drawing at its own size on whatever paper it fits on: without it,
/// margins shrink it (CSS Paged Media, `size` and `margin` of `@page`).
fn page_rule(width: f64, height: f64) -> String {
    format!(
        "@page{{size:{}mm {}mm;margin:0}}",
        fixed(width, DECIMALS),
        fixed(height, DECIMALS)
    )
}

fn element(mark: &Mark, plate_height: f64, letters: &mut Letters) -> Result<Path, WriteError> {
    Ok(match &mark.ink {
        Ink::Stroke { path, line } => stroked(Path::new().set("d", data(path, plate_height)), line),
        Ink::Fill { path, shade } => {
            let fill = match shade {
                Shade::Black => BLACK,
                Shade::White => "#fff",
            };
            Path::new()
                .set("d", data(path, plate_height))
                .set("fill", fill)
                .set("stroke", "none")
        }
        Ink::Text(text) => lettered(text, plate_height, letters)?,
    })
}

fn stroked(path: Path, line: &Line) -> Path {
    let mut path = path.set("stroke-width", fixed(line.width.mm(), DECIMALS));
    let dashes = line.kind.dashes(line.width);
    if dashes.is_empty() {
        return path;
    }
    let dashes: Vec<String> = dashes.iter().map(|&dash| fixed(dash, DECIMALS)).collect();
    path = path.set("stroke-dasharray", dashes.join(" "));
    if line.phase != 0.0 {
        path = path.set("stroke-dashoffset", fixed(line.phase, DECIMALS));
    }
    if line.kind.round_ends() {
        path = path.set("stroke-linecap", "round");
    }
    path
}

fn lettered(text: &Text, plate_height: f64, letters: &mut Letters) -> Result<Path, WriteError> {
    lettering::check(&text.words)?;
    let path = Path::new()
        .set("aria-label", text.words.as_str())
        .set("d", letters.data(text, plate_height))
        .set("fill", BLACK);
    Ok(if text.heavy {
        let stroke = lettering::heavy_stroke(text.height);
        path.set("stroke-width", fixed(stroke, DECIMALS))
    } else {
        path.set("stroke", "none")
    })
}

fn data(path: &BezPath, plate_height: f64) -> String {
    let mut out = Vec::with_capacity(path.elements().len() * 24);
    for element in path.elements() {
        let (command, points): (u8, &[Point]) = match element {
            PathEl::MoveTo(p) => (b'M', &[*p]),
            PathEl::LineTo(p) => (b'L', &[*p]),
            PathEl::QuadTo(a, p) => (b'Q', &[*a, *p]),
            PathEl::CurveTo(a, b, p) => (b'C', &[*a, *b, *p]),
            PathEl::ClosePath => (b'Z', &[]),
        };
        out.push(command);
        for (index, point) in points.iter().enumerate() {
            if index > 0 {
                out.push(b' ');
            }
            push_fixed(&mut out, point.x, DECIMALS);
            out.push(b' ');
            push_fixed(&mut out, plate_height - point.y, DECIMALS);
        }
    }
    // Commands and numbers are always text.
    String::from_utf8(out).unwrap_or_default()
}

/// XML has no way at all to hold most control characters.
fn printable(words: &str) -> String {
    words
        .chars()
        .map(|c| match c {
            '\n' | '\t' => ' ',
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => '\u{fffd}',
            c => c,
        })
        .collect()
}

#[cfg(test)]
mod tests;
