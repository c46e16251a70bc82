//! What a page says of itself to a camera: a QR code (ISO/IEC 18004) in the corner that words and
//! rulers leave free at the lower left.
//!
//! The corner is as wide as a row of words and one of rulers, 15.5 mm, on every paper. The symbol takes
//! all of it but its quiet zone of four modules towards the window's frame; the quiet zone at the other
//! two sides is the page's margin, as far as that goes. So it costs the work no room, and covers nothing.

use super::frame::PageFrame;
use crate::draw::ink::{Layer, Mark, Shade};
use kurbo::{BezPath, Point};
use qrcode::{Color, EcLevel, QrCode, Version};
use std::collections::BTreeMap;

/// Modules that are kept free at each side (ISO/IEC 18004, from memory).
const QUIET: f64 = 4.0;
/// What the frame's own line takes, mm, and a little.
const FRAME: f64 = 0.2;
/// Largest version that is made safer against dirt; of longer texts large modules are worth more.
const LARGEST_SAFE: i16 = 3;

/// The symbol of a text in its corner; none for a text that is too long for any.
pub(super) fn symbol(text: &str, frame: &PageFrame) -> Option<Mark> {
    let encoded = |level| QrCode::with_error_correction_level(text, level).ok();
    let safe = encoded(EcLevel::M).filter(
        |code| matches!(code.version(), Version::Normal(version) if version <= LARGEST_SAFE),
    );
    let code = safe.or_else(|| encoded(EcLevel::L))?;
    let across = code.width();
    let modules = across as f64;
    let corner = frame.window.origin() - kurbo::Vec2::new(FRAME, FRAME);
    // The left margin and the lower one are alike.
    let room = corner.x - frame.margin;
    let module = (room / (modules + QUIET)).min(corner.x / (modules + 2.0 * QUIET));
    let end = QUIET * module;
    let start = Point::new(
        corner.x - end - modules * module,
        corner.y - end - modules * module,
    );
    let colours = code.to_colors();
    // Rows are told from the head down.
    let is_dark = |column: usize, row: usize| {
        let row = across - 1 - row;
        colours[row * across + column] == Color::Dark
    };
    let at = |(x, y): (usize, usize)| start + module * kurbo::Vec2::new(x as f64, y as f64);
    let mut path = BezPath::new();
    for outline in outlines(across, is_dark) {
        for (index, corner) in outline.into_iter().enumerate() {
            match index {
                0 => path.move_to(at(corner)),
                _ => path.line_to(at(corner)),
            }
        }
        path.close_path();
    }
    Some(Mark::fill(Layer::Code, path, Shade::Black))
}

/// The corners of the outlines round all dark squares of a grid, counter-clockwise round what is dark,
/// so that no seams show between squares.
fn outlines(across: usize, is_dark: impl Fn(usize, usize) -> bool) -> Vec<Vec<(usize, usize)>> {
    let dark = |column: Option<usize>, row: Option<usize>| {
        let inside = |at: Option<usize>| at.filter(|at| *at < across);
        inside(column)
            .zip(inside(row))
            .is_some_and(|(column, row)| is_dark(column, row))
    };
    let mut sides: BTreeMap<(usize, usize), Vec<(usize, usize)>> = BTreeMap::new();
    for row in 0..across {
        for column in (0..across).filter(|column| is_dark(*column, row)) {
            let [x0, y0, x1, y1] = [column, row, column + 1, row + 1];
            let (here, level) = (Some(column), Some(row));
            for (beside, from, to) in [
                (dark(here, row.checked_sub(1)), (x0, y0), (x1, y0)),
                (dark(Some(x1), level), (x1, y0), (x1, y1)),
                (dark(here, Some(y1)), (x1, y1), (x0, y1)),
                (dark(column.checked_sub(1), level), (x0, y1), (x0, y0)),
            ] {
                if !beside {
                    sides.entry(from).or_default().push(to);
                }
            }
        }
    }
    let mut all = vec![];
    while let Some((&first, _)) = sides.first_key_value() {
        let mut outline: Vec<(usize, usize)> = vec![first];
        let (mut here, mut way) = (first, None);
        while let Some(ends) = sides.get_mut(&here) {
            // Where two squares meet in a corner, each keeps to its own outline: to the left.
            let index = ends
                .iter()
                .position(|end| way.is_none_or(|way| turn(way, step(here, *end)) > 0))
                .unwrap_or(0);
            let next = ends.swap_remove(index);
            if ends.is_empty() {
                sides.remove(&here);
            }
            let onward = step(here, next);
            if way == Some(onward) {
                outline.pop();
            }
            outline.push(next);
            (here, way) = (next, Some(onward));
        }
        outline.pop();
        all.push(outline);
    }
    all
}

fn step(from: (usize, usize), to: (usize, usize)) -> (i8, i8) {
    let sign = |from: usize, to: usize| match from.cmp(&to) {
        std::cmp::Ordering::Less => 1,
        std::cmp::Ordering::Equal => 0,
        std::cmp::Ordering::Greater => -1,
    };
    (sign(from.0, to.0), sign(from.1, to.1))
}

/// Above 0 for a turn to the left.
fn turn(one: (i8, i8), other: (i8, i8)) -> i8 {
    one.0 * other.1 - one.1 * other.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::ink::{Ink, mark_bounds};
    use kurbo::{Rect, Shape, Size};

    const NAME: &str = "TL1 LV2-UP-01 B 7K3MQ-9XDT2 2/3";

    #[test]
    fn it_stands_in_its_corner_with_its_quiet_zone() {
        for margin in [0.0, 1.0, 6.35, 50.0] {
            for text in [
                NAME.to_owned(),
                format!("TL1 {0} {0} 7K3MQ-9XDT2 1/1", "n".repeat(64)),
            ] {
                let frame = PageFrame::of(Size::new(330.0, 483.0), margin).unwrap();
                let mark = symbol(&text, &frame).unwrap();
                let bounds = mark_bounds(&mark);
                let across = QrCode::with_error_correction_level(
                    &text,
                    if text == NAME { EcLevel::M } else { EcLevel::L },
                );
                let module = bounds.width() / across.unwrap().width() as f64;
                let with_quiet = bounds.inflate(4.0 * module, 4.0 * module);
                let free = Rect::new(0.0, 0.0, frame.window.x0 - 0.125, frame.window.y0 - 0.125);
                assert_eq!(free.union(with_quiet.inset(-1e-9)), free, "{margin} {text}");
                assert!(bounds.x0 >= margin - 1e-9 && bounds.y0 >= margin - 1e-9);
                if margin > 6.0 && text == NAME {
                    assert!(module > 0.5, "{module}");
                }
            }
        }
    }

    #[test]
    fn every_module_is_dark_or_light_as_it_must_be() {
        let frame = PageFrame::of(Size::new(210.0, 297.0), 6.35).unwrap();
        let mark = symbol(NAME, &frame).unwrap();
        let Ink::Fill { path, .. } = &mark.ink else {
            panic!("{mark:?}");
        };
        let code = QrCode::with_error_correction_level(NAME, EcLevel::M).unwrap();
        let across = code.width();
        let bounds = mark_bounds(&mark);
        let module = bounds.width() / across as f64;
        let mut dark = 0;
        for row in 0..across {
            for column in 0..across {
                let at = Point::new(
                    bounds.x0 + (column as f64 + 0.5) * module,
                    bounds.y1 - (row as f64 + 0.5) * module,
                );
                let is_dark = code[(column, row)] == Color::Dark;
                assert_eq!(path.winding(at), i32::from(is_dark), "{column} {row}");
                dark += usize::from(is_dark);
            }
        }
        let area = dark as f64 * module * module;
        assert!((path.area() - area).abs() < 1e-6, "{} {area}", path.area());
    }
}
