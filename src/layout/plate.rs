//! The whole pattern on one plate, for SVG.

use super::error::SheetError;
use super::frame::PageFrame;
use super::furniture::{Corner, Furniture, page_name};
use super::ink::InkMap;
use super::ruler;
use crate::draw::ink::Drawing;
use crate::draw::ink::Plate;
use crate::draw::note_list;
use kurbo::{Point, Size, Vec2};

/// Free border of the plate, mm.
const MARGIN: f64 = 4.0;
/// Air between the work and the frame round it, mm.
const AIR: f64 = 8.0;

/// Widest window that a plate is given for the sake of its title, mm: longer ones are shortened.
const WIDEST_WORDS: f64 = 400.0;

/// The work at full size in a border with title, directions and check rulers.
///
/// The plate is as large as the work asks, and at least as large as its rulers need.
///
/// # Errors
/// [`SheetError::NoWork`], [`SheetError::NotFinite`] and [`SheetError::TooFar`].
pub fn plate(drawing: &Drawing) -> Result<Plate, SheetError> {
    plate_and_shift(drawing).map(|(plate, _)| plate)
}

/// As [`plate`], with how far the work was moved to stand on it.
///
/// # Errors
/// As [`plate`].
pub(crate) fn plate_and_shift(drawing: &Drawing) -> Result<(Plate, Vec2), SheetError> {
    // Nothing else is told with a plate: what found no place is listed beside the work.
    let mut work = drawing.work.clone();
    let bounds = InkMap::of(&work)?.bounds;
    work.extend(note_list(
        &drawing.front.numbered,
        Point::new(bounds.x1 + AIR, bounds.y1),
    ));
    let bounds = InkMap::of(&work)?.bounds;
    let title = &drawing.title;
    let furniture = Furniture {
        head_left: Corner {
            strong: title.number_and_revision(),
            beside: title.title.clone(),
        },
        head_right: Corner {
            strong: "SCALE 1:1".into(),
            beside: title.issued.clone(),
        },
        foot_left: Corner {
            strong: "USE AT ACTUAL SIZE (100 %)".into(),
            beside: String::new(),
        },
        foot_right: Corner {
            strong: "DO NOT COPY".into(),
            beside: title.code.clone(),
        },
        edges: drawing.edges,
        warning: drawing.warning.clone(),
        scale_error: drawing.scale_error,
        note: Default::default(),
        code: Corner::default(),
        name: page_name(title, None),
    };
    let words = furniture.whole_width().min(WIDEST_WORDS);
    let [across, down] = ruler::lengths();
    let around = PageFrame::around(MARGIN);
    let side = |work: f64, least: f64, around: f64| ((work + 2.0 * AIR).max(least) + around).ceil();
    let size = Size::new(
        side(bounds.width(), across.max(words), around.width),
        side(bounds.height(), down, around.height),
    );
    let frame = PageFrame::of(size, MARGIN)?;
    let by = frame.window.center() - bounds.center();
    let mut marks = furniture.marks(&frame);
    marks.extend(work.iter().map(|mark| mark.moved(by)));
    let heading = [title.number_and_revision(), title.title.clone()];
    let heading: Vec<String> = heading
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect();
    let plate = Plate {
        title: heading.join(" "),
        description: description(drawing),
        content: drawing.content.clone(),
        size,
        marks,
    };
    Ok((plate, by))
}

fn description(drawing: &Drawing) -> String {
    let about = match drawing.title.supplement.as_str() {
        "" => String::new(),
        supplement => format!("{supplement}. "),
    };
    format!(
        "{about}Cutting pattern at full size, in millimetres: {} at the head, {} at the foot, {} \
         at the left, {} at the right. Use it at actual size (100 %): its check rulers must \
         measure 100 mm and 4 in.",
        drawing.edges.head, drawing.edges.foot, drawing.edges.left, drawing.edges.right
    )
}
