//! The draughtsman: from a solved pattern to ink on the page.
//!
//! What must stand at its place is drawn first: edges, cut line, holes. Dimensions and names then
//! look for free places round it, and hatching fills what is left of the waste.

mod around;
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
mod in_space;
pub mod ink;
mod labels;
mod leader;
mod legend;
mod locator;
mod measure;
mod oblique;
mod offer;
mod opening;
mod panel;
mod printed;
mod reading_picture;
mod record;
mod side_views;
mod stance;
mod steps;
mod tape_check;
mod view;

pub(crate) use cautions::general_cautions;
pub use oblique::oblique_view;
pub use reading_picture::reading_picture;
pub(crate) use view::View;

use crate::draw::ink::{Drawing, Ink, Mark, PageEdges, TitleBlock, lettering};
use crate::solve::{KeepOut, Locator, Pattern};
use field::Field;
use kurbo::{Point, Rect};

/// An opening nearer to the centreline than this, mm, stands on it.
const ON_CENTRELINE: f64 = 0.05;

/// How far past the work the centreline's place is kept free, mm.
const RESERVED_CENTRELINE: f64 = 200.0;

/// Draws a solved pattern.
///
/// # Errors
/// A letter that the typeface lacks: it would print as a blank.
pub fn draw(pattern: &Pattern) -> Result<Drawing, lettering::MissingLetter> {
    let view = View::of(pattern.orientation);
    let locators = printed::locators(pattern);
    let work = printed::work_box(pattern, &locators);
    let mut sketch = Sketch::default();
    let keep_outs = printed::keep_outs(pattern);
    for (mark, cut) in standing(pattern, view, work, &locators, &keep_outs) {
        sketch.stand([mark], cut);
    }
    // The centreline runs past whatever is drawn round the openings, so its length is found last;
    // its place is kept free until then.
    let reserved = Rect::new(work.x0, work.y0, work.x1, work.y1 + RESERVED_CENTRELINE);
    sketch
        .field
        .stand(&panel::centreline(pattern, view, reserved), false);

    for locator in &locators {
        sketch.marks.extend(locator::name(
            locator,
            pattern.units,
            view,
            &mut sketch.field,
        ));
    }
    // Offsets reach over the openings; widths find their places between them.
    sketch
        .marks
        .extend(labels::offsets(pattern, view, &mut sketch.field));
    for opening in &pattern.openings {
        sketch.marks.extend(opening::dimensions(
            pattern,
            opening,
            view,
            &mut sketch.field,
        ));
    }
    sketch
        .marks
        .extend(finding_marks::marks(pattern, work, view, &mut sketch.field));
    sketch
        .marks
        .extend(tape_check::marks(pattern, view, &mut sketch.field));
    for opening in &pattern.openings {
        sketch
            .marks
            .extend(opening::name(opening, view, &mut sketch.field));
    }
    sketch
        .marks
        .extend(around::names(pattern, &keep_outs, view, &mut sketch.field));
    sketch
        .marks
        .extend(labels::edges(pattern, view, work, &mut sketch.field));

    let top = sketch.far_side(view).max(work.y1);
    let reached = Rect::new(work.x0, work.y0, work.x1, top);
    sketch
        .marks
        .extend(panel::centreline(pattern, view, reached));
    hatch_waste(pattern, view, &mut sketch);

    let mut keep_whole: Vec<Rect> = pattern
        .openings
        .iter()
        .flat_map(|opening| opening::keep_whole(opening, view))
        .collect();
    keep_whole.extend(
        locators
            .iter()
            .map(|locator| locator::keep_whole(locator, view)),
    );
    let drawing = Drawing {
        title: title_block(pattern),
        edges: page_edges(pattern),
        warning: centre::warning(pattern),
        scale_error: pattern.scale_error,
        work: sketch.marks,
        keep_whole,
        front: front::front(pattern, &locators),
        record: record::blocks(pattern, &locators),
    };
    check_letters(&drawing)?;
    Ok(drawing)
}

/// What a fitter works by: the marks that must stand at their place whatever else is drawn, with the
/// centreline as far as the work reaches.
pub(crate) fn worked_by(pattern: &Pattern) -> Vec<Mark> {
    let view = View::of(pattern.orientation);
    let locators = printed::locators(pattern);
    let work = printed::work_box(pattern, &locators);
    let keep_outs = printed::keep_outs(pattern);
    let standing = standing(pattern, view, work, &locators, &keep_outs);
    let marks = standing.into_iter().map(|(mark, _)| mark);
    marks
        .chain(panel::centreline(pattern, view, work))
        .collect()
}

/// The marks that are drawn first, and whether each may not be crossed.
fn standing(
    pattern: &Pattern,
    view: View,
    work: Rect,
    locators: &[Locator],
    keep_outs: &[&KeepOut],
) -> Vec<(Mark, bool)> {
    let mut marks: Vec<(Mark, bool)> = vec![];
    let mut add = |all: Vec<Mark>, cut: bool| marks.extend(all.into_iter().map(|mark| (mark, cut)));
    add(panel::edges(pattern, view, work), false);
    add(vec![panel::tab(pattern, view, work)], false);
    for opening in &pattern.openings {
        add(opening::cut_line(opening, view), true);
        add(opening::relief(opening, view), false);
        add(opening::axes(opening, view), false);
    }
    for locator in locators {
        add(locator::feature(locator, view), true);
    }
    add(around::parts(pattern, view), false);
    let areas = keep_outs.iter().map(|area| around::keep_out(area, view));
    add(areas.collect(), true);
    let lines = pattern.lines.iter().map(|line| around::line(line, view));
    add(lines.collect(), true);
    marks
}

/// Marks drawn so far, and the places they leave free.
#[derive(Default)]
struct Sketch {
    marks: Vec<Mark>,
    field: Field,
}

impl Sketch {
    fn stand(&mut self, marks: impl IntoIterator<Item = Mark>, cut: bool) {
        let marks: Vec<Mark> = marks.into_iter().collect();
        self.field.stand(&marks, cut);
        self.marks.extend(marks);
    }

    /// How far the marks reach from the datum edge, mm.
    fn far_side(&self, view: View) -> f64 {
        let bounds = self
            .marks
            .iter()
            .map(crate::draw::ink::mark_bounds)
            .reduce(|a, b| a.union(b));
        bounds.map_or(0.0, |bounds| view.rect(bounds).y1)
    }
}

/// Hatches the waste of every opening, clear of lettering and holes.
fn hatch_waste(pattern: &Pattern, view: View, sketch: &mut Sketch) {
    let clear: Vec<Rect> = sketch.field.texts().map(|text| view.rect(text)).collect();
    for opening in &pattern.openings {
        let holes: Vec<(Point, f64)> = opening
            .relief
            .iter()
            .map(|hole| (hole.at, hole.tool.diameter / 2.0))
            .collect();
        if let Some(Mark {
            layer,
            ink: Ink::Stroke { path, line },
        }) = hatch::hatch(&opening.outline, &clear, &holes)
        {
            sketch
                .marks
                .push(Mark::stroke(layer, view.affine() * path, line));
        }
    }
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
