//! Lettering as path data: each letter of a size is written once, relative to where it starts, and
//! then copied, since most of a file is letters.

use crate::base::push_fixed;
use crate::draw::ink::{Text, lettering};
use kurbo::{BezPath, PathEl, Point};
use std::collections::HashMap;

/// Decimals of letters' outlines, mm: nothing is measured on them, and a letter is 2.5 mm high.
const DECIMALS: usize = 2;
const SCALE: f64 = 1e2;

/// Letters written so far, by glyph, height and turn.
#[derive(Default)]
pub(super) struct Letters {
    known: HashMap<(u16, u64, u64), Written>,
}

/// A letter as path data.
struct Written {
    /// Where its first contour starts, from the letter's origin, in hundredths of a mm.
    start: [i64; 2],
    /// All that follows, relative.
    rest: Vec<u8>,
}

/// Letters kept, at most: all of some ten alphabets in all sizes and turns of a sheet.
const KEPT: usize = 20_000;

impl Letters {
    /// The outlines of a text as path data, y down from the plate's height.
    pub(super) fn data(&mut self, text: &Text, plate_height: f64) -> String {
        if self.known.len() > KEPT {
            self.known.clear();
        }
        let mut out = Vec::with_capacity(text.words.len() * 160);
        for (glyph, at) in lettering::placed(text) {
            let key = (glyph, text.height.to_bits(), text.turn.to_bits());
            let letter = self
                .known
                .entry(key)
                .or_insert_with(|| written(&lettering::glyph_outline(glyph, text)));
            if letter.rest.is_empty() {
                continue;
            }
            out.push(b'M');
            let origin = [hundredths(at.x), hundredths(plate_height - at.y)];
            push(&mut out, origin[0] + letter.start[0]);
            push(&mut out, origin[1] + letter.start[1]);
            out.extend_from_slice(&letter.rest);
        }
        // Commands and numbers are always text.
        String::from_utf8(out).unwrap_or_default()
    }
}

fn hundredths(mm: f64) -> i64 {
    (mm * SCALE).round() as i64
}

/// A number as short as path data may hold it: no zero before the point, and nothing between it and
/// the number before where its sign parts them.
fn push(out: &mut Vec<u8>, hundredths: i64) {
    let mut number = Vec::with_capacity(8);
    push_fixed(&mut number, hundredths as f64 / SCALE, DECIMALS);
    let (sign, digits): (&[u8], &[u8]) = match number.as_slice() {
        [b'-', rest @ ..] => (b"-", rest),
        all => (b"", all),
    };
    let digits = match digits {
        [b'0', fraction @ ..] if !fraction.is_empty() => fraction,
        all => all,
    };
    let after_number = out.last().is_some_and(|last| !last.is_ascii_alphabetic());
    if sign.is_empty() && after_number {
        out.push(b' ');
    }
    out.extend_from_slice(sign);
    out.extend_from_slice(digits);
}

/// An outline about its letter's origin, y up, as relative path data, y down. Every point is
/// rounded by itself, so that errors do not add up.
fn written(outline: &BezPath) -> Written {
    let round = |point: Point| [hundredths(point.x), -hundredths(point.y)];
    let mut written = Written {
        start: [0, 0],
        rest: vec![],
    };
    let (mut here, mut contour) = ([0, 0], [0, 0]);
    let mut is_first = true;
    let mut before = b'M';
    for element in outline.elements() {
        let (command, points): (u8, &[Point]) = match element {
            PathEl::MoveTo(p) => (b'm', &[*p]),
            PathEl::LineTo(p) => (b'l', &[*p]),
            PathEl::QuadTo(a, p) => (b'q', &[*a, *p]),
            PathEl::CurveTo(a, b, p) => (b'c', &[*a, *b, *p]),
            PathEl::ClosePath => (b'z', &[]),
        };
        let Some(end) = points.last().map(|point| round(*point)) else {
            written.rest.push(command);
            before = command;
            here = contour;
            continue;
        };
        if command == b'm' {
            contour = end;
        }
        if is_first {
            written.start = end;
            is_first = false;
        } else if command == b'l' && (end[0] == here[0] || end[1] == here[1]) {
            let upright = end[0] == here[0];
            before = if upright { b'v' } else { b'h' };
            written.rest.push(before);
            let axis = usize::from(upright);
            push(&mut written.rest, end[axis] - here[axis]);
        } else {
            if command != before {
                written.rest.push(command);
            }
            // What follows a move is a line, unless it is said.
            before = if command == b'm' { b'l' } else { command };
            for point in points {
                let at = round(*point);
                push(&mut written.rest, at[0] - here[0]);
                push(&mut written.rest, at[1] - here[1]);
            }
        }
        here = end;
    }
    written
}
