//! One page: its boxes, and how its own units lie on paper.

use super::content::Reader;
use super::layers::Layers;
use super::look::{look, look_through};
use super::typeface::Typefaces;
use super::unpack::unpacked;
use crate::check::verify::budget::{Budget, FARTHEST};
use crate::check::verify::error::VerifyError;
use crate::check::verify::measured::MeasuredPage;
use hayro_syntax::object::{Array, Name, Number, Object, Stream};
use hayro_syntax::page::{Page, Rotation};
use kurbo::{Affine, Rect, Size};

/// Millimetres in a unit: 1/72 in (ISO 32000-1, read second-hand).
const MM: f64 = 25.4 / 72.0;

/// What is asked of a page here.
const ASKED: [&str; 6] = [
    "UserUnit", "BleedBox", "TrimBox", "ArtBox", "Annots", "Contents",
];

/// Boxes this near to the page, mm, are the page.
const SAME: f64 = 0.01;

pub(super) fn read(
    page: &Page<'_>,
    layers: &mut Layers,
    budget: &mut Budget,
    faces: &mut Typefaces,
) -> Result<MeasuredPage, VerifyError> {
    let raw = page.raw();
    look(raw, &ASKED, budget)?;
    let user_unit = raw
        .get::<Number>("UserUnit")
        .map_or(1.0, |unit| unit.as_f64());
    let turned = match page.rotation() {
        Rotation::None => 0,
        Rotation::Horizontal => 90,
        Rotation::Flipped => 180,
        Rotation::FlippedHorizontal => 270,
    };
    let media = rect(page.media_box());
    let usable = media.width() > 0.0 && media.height() > 0.0 && user_unit > 0.0;
    if !usable
        || ![media.x0, media.y0, media.x1, media.y1, user_unit]
            .iter()
            .all(|side| side.is_finite() && side.abs() < 1e7)
    {
        return Err(VerifyError::Pdf("a page of it has no size"));
    }
    if MM * user_unit * media.width().max(media.height()) > FARTHEST {
        return Err(VerifyError::Pdf("a page of it is larger than any paper"));
    }
    let plain = Affine::scale(MM * user_unit) * Affine::translate((-media.x0, -media.y0));
    let whole = plain.transform_rect_bbox(media).size();
    let to_page = turn(turned, whole) * plain;
    let size = if turned % 180 == 0 {
        whole
    } else {
        Size::new(whole.height, whole.width)
    };
    let all = size.to_rect();
    let mut measured = MeasuredPage {
        size,
        shown: to_page
            .transform_rect_bbox(rect(page.intersected_crop_box()))
            .intersect(all),
        user_unit,
        turned,
        ..MeasuredPage::default()
    };
    for (name, key) in [
        ("bleed", "BleedBox"),
        ("trim", "TrimBox"),
        ("art", "ArtBox"),
    ] {
        let Some(own) = raw.get::<hayro_syntax::object::Rect>(key) else {
            continue;
        };
        let own = to_page.transform_rect_bbox(rect(own));
        if farthest(own, measured.shown) > SAME {
            measured.odd_boxes.push((name, own));
        }
    }
    if raw.contains_key("AA") {
        measured.unread.insert("actions of its own");
    }
    if let Some(notes) = raw.get::<Array<'_>>("Annots") {
        look_through(&notes, budget)?;
        if notes.iter::<Object<'_>>().any(|note| !is_link(&note)) {
            measured.unread.insert("notes and form fields");
        }
    }
    let content = match raw.get::<Object<'_>>("Contents") {
        Some(Object::Stream(only)) => unpacked(&only, budget)?,
        Some(Object::Array(parts)) => {
            look_through(&parts, budget)?;
            let (content, whole) = joined(&parts, budget)?;
            if !whole {
                measured.unread.insert("content that is missing");
            }
            content
        }
        _ => vec![],
    };
    Reader::new(&mut measured, layers, budget, faces).page(content, page.resources(), to_page)?;
    Ok(measured)
}

/// Whether a note is a link that paints nothing: one that has no border says so (ISO 32000-1, 12.5.2:
/// unless told otherwise it is 1 wide).
fn is_link(note: &Object<'_>) -> bool {
    let Object::Dict(note) = note else {
        return false;
    };
    let kind = note.get::<Name<'_>>("Subtype");
    let paints = ["AP", "BS"].iter().any(|key| note.contains_key(key));
    let border = note.get::<Array<'_>>("Border");
    let width = border.and_then(|border| border.iter::<Number>().nth(2));
    let bare = width.is_some_and(|width| width.as_f64() == 0.0);
    kind.is_some_and(|kind| kind.as_str() == "Link") && !paints && bare
}

/// The parts of a page's content, joined as one, and whether these are all of them: other readers
/// go on behind one that is missing.
fn joined(parts: &Array<'_>, budget: &mut Budget) -> Result<(Vec<u8>, bool), VerifyError> {
    let (mut all, mut count) = (vec![], 0);
    for part in parts.iter::<Stream<'_>>() {
        all.extend(unpacked(&part, budget)?);
        all.push(b'\n');
        count += 1;
    }
    Ok((all, count == parts.raw_iter().count()))
}

/// Turns a page of this size clockwise, its lower left corner back at the origin.
fn turn(degrees: i32, whole: Size) -> Affine {
    let Size { width, height } = whole;
    match degrees {
        90 => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, width]),
        180 => Affine::new([-1.0, 0.0, 0.0, -1.0, width, height]),
        270 => Affine::new([0.0, 1.0, -1.0, 0.0, height, 0.0]),
        _ => Affine::IDENTITY,
    }
}

fn rect(of: hayro_syntax::object::Rect) -> Rect {
    Rect::from_points((of.x0, of.y0), (of.x1, of.y1))
}

/// How far two boxes are apart at most, mm.
fn farthest(a: Rect, b: Rect) -> f64 {
    [a.x0 - b.x0, a.y0 - b.y0, a.x1 - b.x1, a.y1 - b.y1]
        .iter()
        .fold(0.0, |most: f64, apart| most.max(apart.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    #[test]
    fn a_page_turns_clockwise_and_keeps_its_corner() {
        // The page's upper left corner becomes its upper right one, a quarter turn clockwise.
        let whole = Size::new(210.0, 297.0);
        for (degrees, lands) in [
            (0, Point::new(0.0, 297.0)),
            (90, Point::new(297.0, 210.0)),
            (180, Point::new(210.0, 0.0)),
            (270, Point::new(0.0, 0.0)),
        ] {
            assert_eq!(
                turn(degrees, whole) * Point::new(0.0, 297.0),
                lands,
                "{degrees}"
            );
        }
    }
}
