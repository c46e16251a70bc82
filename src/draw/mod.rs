//! The draughtsman: from a solved pattern to ink on the page.
//!
//! What must stand at its place comes first: edges, cut line, holes. [`ways()`] gives it, each way
//! with what its sheets are found by. Dimensions and names then look for free places round it, in
//! the rooms that the sheets leave ([`draw_in`]), and hatching fills what is left of the waste.

mod around;
mod behind;
mod budget;
mod cautions;
mod cells;
mod centre;
mod corner;
mod dimension;
mod drilling;
mod field;
mod finding_marks;
mod front;
mod hatch;
mod hold;
mod in_space;
pub mod ink;
mod inner;
mod labels;
mod leader;
mod legend;
mod locator;
mod names;
mod note;
mod oblique;
mod offer;
mod opening;
mod panel;
mod place;
mod printed;
mod reading_picture;
mod record;
mod rows;
mod side_views;
mod stance;
mod standing;
mod steps;
mod tape_check;
mod ties;
mod tools;
mod trim;
mod upright;
mod view;
mod ways;

pub(crate) use cautions::general_cautions;
pub(crate) use note::note_list;
pub use oblique::oblique_view;
pub use reading_picture::reading_picture;
pub use tools::tools;
pub(crate) use view::View;
pub use ways::{Way, ways};

use crate::draw::ink::{
    Drawing, Ink, Layer, Line as Pen, Mark, PageEdges, Rooms, TitleBlock, Width, lettering,
};
use crate::geometry::outline::CURVE_TOLERANCE;
use crate::solve::{Content, Locator, Pattern};
use field::Field;
use kurbo::{Point, Rect};
use rows::Rows;

/// An opening nearer to the centreline than this, mm, stands on it.
const ON_CENTRELINE: f64 = 0.05;

/// Draws a solved pattern with lettering wherever it likes to stand, all of it joined.
///
/// # Errors
/// A letter that the typeface lacks: it would print as a blank.
pub fn draw(pattern: &Pattern) -> Result<Drawing, lettering::MissingLetter> {
    let way = Way::joined(pattern, printed::locators(pattern));
    draw_in(pattern, &way, &Rooms::boundless())
}

/// Draws a solved pattern one of its [`ways()`], its lettering in the rooms that the sheets leave.
///
/// # Errors
/// A letter that the typeface lacks: it would print as a blank.
pub fn draw_in(
    pattern: &Pattern,
    way: &Way,
    rooms: &Rooms,
) -> Result<Drawing, lettering::MissingLetter> {
    let mut field = Field::new(rooms);
    field.numbered = pattern.findings.len();
    for mark in &way.geometry.marks {
        let never_crossed = matches!(mark.layer, Layer::Cut | Layer::Locators | Layer::KeepOut);
        field.stand(std::slice::from_ref(mark), never_crossed);
    }
    let mut work = way.geometry.marks.clone();
    work.extend(letters(pattern, way, &mut field));
    work.extend(hatching(pattern, &field));
    let content = Content::of(pattern);
    let drawing = Drawing {
        title: TitleBlock {
            code: content.code(),
            ..title_block(pattern)
        },
        content: content.text(),
        edges: page_edges(pattern),
        warning: centre::warning(pattern),
        scale_error: pattern.scale_error,
        geometry: way.geometry.clone(),
        work,
        record: record::blocks(pattern, way),
        front: front::front(pattern, way, field.notes),
    };
    check_letters(&drawing)?;
    Ok(drawing)
}

/// Names, dimensions and numbers, each where there is room for it.
fn letters(pattern: &Pattern, way: &Way, field: &mut Field) -> Vec<Mark> {
    let view = View::of(pattern.orientation);
    // The tab is folded away: figures that are checked before may stand on it, names may not.
    let tabs = panel::tab_places(pattern, way.work).into_iter();
    let tab: Vec<Rect> = tabs.map(|own| view.rect(own)).collect();
    let mut marks = vec![];
    field.closed = tab.clone();
    let holes = printed::holes(pattern).filter(|hole| field.rooms.show(view.point(hole.at)));
    let holes: Vec<&Locator> = holes.collect();
    for locator in way.locators.iter().chain(holes) {
        marks.extend(locator::name(locator, pattern.units, view, field));
    }
    field.closed.clear();
    // Offsets reach over the openings; widths find their places between them.
    let rows = Rows::of(pattern);
    marks.extend(labels::offsets(pattern, &rows, view, field));
    marks.extend(rows.holes(pattern, view, field));
    for alike in rows.others(pattern) {
        marks.extend(opening::dimensions(pattern, &alike, view, field));
    }
    marks.extend(labels::tab(pattern, view, way.work, field));
    field.closed = tab;
    // Numbers and letters that a sheet of words explains.
    if !way.alone {
        marks.extend(finding_marks::marks(pattern, view, field));
        marks.extend(tape_check::marks(pattern, view, field));
    }
    for opening in &pattern.openings {
        marks.extend(opening::name(opening, view, field));
    }
    marks.extend(around::names(pattern, view, field));
    marks.extend(labels::centreline(pattern, view, way.work, field));
    marks
}

/// Hatches the waste of every opening, clear of lettering and holes, and every keep-out area.
fn hatching(pattern: &Pattern, field: &Field) -> Vec<Mark> {
    let view = View::of(pattern.orientation);
    let clear: Vec<Rect> = field.texts().map(|text| view.rect(text)).collect();
    let mut paths = vec![];
    for opening in &pattern.openings {
        let holes: Vec<(Point, f64)> = opening
            .relief
            .iter()
            .map(|hole| (hole.at, hole.tool.diameter / 2.0))
            .chain(
                opening
                    .holes
                    .iter()
                    .filter_map(|hole| Some((hole.at, hole.diameter? / 2.0))),
            )
            .collect();
        paths.push((Layer::Waste, hatch::hatch(&opening.outline, &clear, &holes)));
    }
    for area in printed::keep_outs(pattern) {
        let outline = area.outline.closed_path(CURVE_TOLERANCE);
        paths.push((Layer::KeepOut, hatch::keep_out(&outline, &clear)));
    }
    let hatched = paths.into_iter().filter(|(_, path)| !path.is_empty());
    let pen = Pen::continuous(Width::Fine);
    hatched
        .map(|(layer, path)| Mark::stroke(layer, view.affine() * path, pen))
        .collect()
}

pub(crate) fn title_block(pattern: &Pattern) -> TitleBlock {
    let identity = &pattern.identity;
    let about = [&identity.vehicle, &identity.accessory, &pattern.panel.name];
    let supplement: Vec<&str> = about
        .into_iter()
        .map(String::as_str)
        .filter(|words| !words.is_empty())
        .collect();
    TitleBlock {
        owner: identity.owner.clone(),
        number: identity.number.value.clone(),
        revision: identity.revision.clone(),
        issued: identity.issued.clone(),
        title: identity.title.clone(),
        supplement: supplement.join(" · "),
        drawn_by: identity.drawn_by.clone(),
        approved_by: identity.approved_by.clone(),
        sizes_in: pattern.units.word().into(),
        document_type: "Cutting pattern".into(),
        code: String::new(),
    }
}

fn page_edges(pattern: &Pattern) -> PageEdges {
    let (up, right) = (
        pattern.orientation.page_up(),
        pattern.orientation.page_right(),
    );
    PageEdges {
        head: up,
        foot: up.opposite(),
        left: right.opposite(),
        right,
    }
}

/// Refuses words with a letter that the typeface lacks.
fn check_letters(drawing: &Drawing) -> Result<(), lettering::MissingLetter> {
    let marks = drawing.work.iter().filter_map(|mark| match &mark.ink {
        Ink::Text(text) => Some(text.words.as_str()),
        _ => None,
    });
    marks
        .chain(drawing.title.words())
        .chain(drawing.warning.iter().map(String::as_str))
        .chain(drawing.told())
        .try_for_each(lettering::check)
}
