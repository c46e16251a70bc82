//! Small works put together on one sheet, each in a frame of its own with its name and directions.

use super::error::SheetError;
use super::frame::{PageFrame, WORD_ROW};
use super::furniture::{Corner, Furniture};
use super::ink::InkMap;
use super::setup::Setup;
use super::text_pages::{Around, around, page_size};
use super::tiling::AIR;
use super::words::{MIDDLE, Style, outline, pitch};
use super::{Page, PageKind};
use crate::draw::ink::{Drawing, Mark, Role, Said, TitleBlock, Width, lettering};
use crate::model::clearance::PRINTER_ERROR;
use guillotiere::{SimpleAtlasAllocator, size2};
use kurbo::{Rect, Size};
use std::sync::Arc;

/// Steps of the packing in a millimetre: it reckons in whole numbers.
const STEPS: f64 = 100.0;

/// Longest name of a piece for which its frame is made wider, mm.
const WIDEST_WORDS: f64 = 150.0;

/// A small work in its frame; origin at its lower left.
#[derive(Debug, Clone)]
pub struct Piece {
    /// Size of the frame, mm.
    pub size: Size,
    /// What the printed scale may be off by, a part of 1.
    pub scale_error: f64,
    /// What it is when read out.
    pub shown: Arc<str>,
    /// The frame, the words round the work, and the work.
    pub marks: Vec<Mark>,
}

/// The work of a drawing as a piece, if it is small: two of its size, side by side or one over the
/// other, must fit on a sheet. `sheet` is what it is called there, such as `SHEET 2 OF 2`.
///
/// # Errors
/// A drawing without ink, and paper that is too small.
pub fn small_piece(
    drawing: &Drawing,
    setup: &Setup,
    sheet: &str,
) -> Result<Option<Piece>, SheetError> {
    let bounds = InkMap::of(&drawing.work)?.bounds;
    let corner = |strong: String| Corner {
        strong,
        beside: String::new(),
    };
    let words = Furniture {
        head_left: corner(drawing.title.number_and_revision()),
        head_right: corner(sheet.into()),
        foot_left: Corner {
            strong: "100 %".into(),
            beside: drawing.title.code.clone(),
        },
        foot_right: corner("DO NOT COPY".into()),
        edges: drawing.edges,
        warning: Default::default(),
        scale_error: drawing.scale_error,
        note: Default::default(),
        code: Corner::default(),
        name: None,
    };
    let width = (bounds.width() + 2.0 * AIR).max(words.whole_width().min(WIDEST_WORDS));
    let warning = warning_lines(drawing, width.ceil() - 2.0 * AIR);
    let told = pitch(MIDDLE) * warning.len() as f64;
    let inner = Size::new(width.ceil(), (bounds.height() + told + 2.0 * AIR).ceil());
    let size = Size::new(inner.width + 2.0 * WORD_ROW, inner.height + 2.0 * WORD_ROW);
    let room = setup.frame(page_size(setup))?.window.size();
    let twice = |side: f64| 2.0 * side + setup.margin;
    let (fits_across, fits_down) = (size.width <= room.width, size.height <= room.height);
    let small = (twice(size.width) <= room.width && fits_down)
        || (twice(size.height) <= room.height && fits_across);
    if !small {
        return Ok(None);
    }
    let window = Rect::from_origin_size((WORD_ROW, WORD_ROW), inner);
    let room = Rect {
        y0: window.y0 + told,
        ..window
    };
    let by = room.center() - bounds.center();
    let mut marks = vec![outline(size.to_rect(), Width::Medium)];
    marks.extend(words.words_round(window, 0.0));
    marks.extend(warning.into_iter().enumerate().map(|(line, words)| {
        let y = room.y0 - pitch(MIDDLE) * (line as f64 + 1.0) + (pitch(MIDDLE) - MIDDLE);
        Style::heavy(MIDDLE).at(words, (window.x0 + AIR, y))
    }));
    marks.extend(drawing.work.iter().map(|mark| mark.moved(by)));
    Ok(Some(Piece {
        size,
        scale_error: drawing.scale_error,
        shown: format!(
            "Pattern at full size: {}",
            drawing.title.number_and_revision()
        )
        .into(),
        marks,
    }))
}

/// What every sheet of the drawing must say, in lines of `width` mm.
fn warning_lines(drawing: &Drawing, width: f64) -> Vec<String> {
    let [what, do_this] = &drawing.warning;
    if what.is_empty() {
        return vec![];
    }
    // Heavy letters take a little more than their advances.
    lettering::wrap(&format!("{what}. {do_this}."), MIDDLE, width - 0.5)
}

/// Which pieces stand on which shared sheet, and where: lower left corners in the sheet's window.
///
/// Pieces stand at least the margin apart. A piece that would stand alone is left out. The same
/// sizes give the same places.
pub fn packed(sizes: &[Size], setup: &Setup) -> Result<Vec<Vec<(usize, Rect)>>, SheetError> {
    let room = setup.frame(page_size(setup))?.window.size();
    let gap = setup.margin;
    // Rounded so that neither a piece nor its gap is ever made smaller.
    let up = |length: f64| ((length * STEPS).ceil()) as i32;
    let down = |length: f64| ((length * STEPS).floor()) as i32;
    let sheet = size2(down(room.width + gap), down(room.height + gap));
    let mut order: Vec<usize> = (0..sizes.len()).collect();
    order.sort_by(|a, b| {
        let key = |at: &usize| (sizes[*at].height, sizes[*at].width);
        let (one, other) = (key(a), key(b));
        other
            .0
            .total_cmp(&one.0)
            .then(other.1.total_cmp(&one.1))
            .then(a.cmp(b))
    });
    let mut sheets: Vec<(SimpleAtlasAllocator, Vec<(usize, Rect)>)> = vec![];
    for piece in order {
        let size = sizes[piece];
        let wanted = size2(up(size.width + gap), up(size.height + gap));
        let taken = sheets
            .iter_mut()
            .find_map(|(free, pieces)| Some((free.allocate(wanted)?, pieces)));
        let place = match taken {
            Some((place, pieces)) => {
                pieces.push((piece, placed(place.min.x, place.min.y, size)));
                continue;
            }
            None => {
                let mut free = SimpleAtlasAllocator::new(sheet);
                let place = free.allocate(wanted);
                sheets.push((free, vec![]));
                place
            }
        };
        if let (Some(place), Some((_, pieces))) = (place, sheets.last_mut()) {
            pieces.push((piece, placed(place.min.x, place.min.y, size)));
        }
    }
    let shared = sheets.into_iter().map(|(_, pieces)| pieces);
    Ok(shared.filter(|pieces| pieces.len() > 1).collect())
}

fn placed(x: i32, y: i32, size: Size) -> Rect {
    let corner = (f64::from(x) / STEPS, f64::from(y) / STEPS);
    Rect::from_origin_size(corner, size)
}

/// Pages that show these pieces at these places, with the kit's own words round them.
///
/// # Errors
/// Paper that is too small.
pub fn shared_pages(
    title: &TitleBlock,
    sheets: &[Vec<(&Piece, Rect)>],
    setup: &Setup,
) -> Result<Vec<Page>, SheetError> {
    let frame: PageFrame = setup.frame(page_size(setup))?;
    let count = sheets.len();
    Ok(sheets
        .iter()
        .enumerate()
        .map(|(index, pieces)| {
            let number = index + 1;
            let scale_errors = pieces.iter().map(|(piece, _)| piece.scale_error);
            let words = Around {
                page: "PAGE",
                place: "Shared sheet",
                number,
                count,
                scale_error: scale_errors.fold(PRINTER_ERROR, f64::min),
            };
            let mut furniture = around(title, setup, &frame, &words);
            let window = frame.window;
            for (piece, place) in pieces {
                // Packed from the head of the sheet down.
                let by = kurbo::Vec2::new(window.x0 + place.x0, window.y1 - place.y1);
                let part = |mark: &Mark| {
                    mark.moved(by)
                        .said(Said::first(Role::Figure(piece.shown.clone())))
                };
                furniture.extend(piece.marks.iter().map(part));
            }
            Page {
                kind: PageKind::Work,
                bookmark: format!("Shared sheet {number}"),
                furniture,
                work: vec![],
                window,
            }
        })
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::{PageOrientation, Paper};
    use proptest::prelude::*;

    fn setup(margin: f64) -> Setup {
        Setup {
            margin,
            orientation: PageOrientation::Portrait,
            ..Setup::new(Paper::parse("a3").unwrap())
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..Default::default() })]

        #[test]
        fn nothing_stands_nearer_than_the_margin(
            sides in prop::collection::vec((20.0..125.0_f64, 20.0..180.0_f64), 0..30),
            margin in 0.0..15.0_f64,
        ) {
            let setup = setup(margin);
            let sizes: Vec<Size> = sides.iter().map(|(w, h)| Size::new(*w, *h)).collect();
            let room = setup.frame(page_size(&setup)).unwrap().window.size().to_rect();
            let sheets = packed(&sizes, &setup).unwrap();
            let mut seen = std::collections::BTreeSet::new();
            for sheet in &sheets {
                prop_assert!(sheet.len() > 1);
                for (at, (piece, place)) in sheet.iter().enumerate() {
                    prop_assert!(seen.insert(*piece), "each once");
                    prop_assert!((place.size().width - sizes[*piece].width).abs() < 1e-9);
                    let within = room.inflate(1e-6, 1e-6);
                    prop_assert!(within.union(*place) == within, "{place:?} in {room:?}");
                    for (_, other) in &sheet[at + 1..] {
                        let apart = [
                            other.x0 - place.x1,
                            place.x0 - other.x1,
                            other.y0 - place.y1,
                            place.y0 - other.y1,
                        ];
                        let most = apart.into_iter().fold(f64::MIN, f64::max);
                        prop_assert!(most >= margin - 1e-6, "{most} is nearer than {margin}");
                    }
                }
            }
        }
    }

    #[test]
    fn equal_pieces_fill_a_sheet() {
        // The window of A3 portrait with a margin of 6 leaves room for 2 across and 3 down.
        let setup = setup(6.0);
        let room = setup.frame(page_size(&setup)).unwrap().window.size();
        let side = |room: f64, count: f64| ((room + 6.0) / count - 6.0).floor();
        let piece = Size::new(side(room.width, 2.0), side(room.height, 3.0));
        let sheets = packed(&[piece; 12], &setup).unwrap();
        assert_eq!(sheets.len(), 2);
        assert!(sheets.iter().all(|sheet| sheet.len() == 6));
    }
}
