//! The draughtsman: from a solved pattern to ink on the page.
//!
//! What must stand at its place is drawn first: edges, cut line, holes. Dimensions and names then
//! look for free places round it, and hatching fills what is left of the waste.

mod cells;
mod centre;
mod corner;
mod dimension;
mod field;
mod hatch;
mod instructions;
mod leader;
mod legend;
mod locator;
mod measure;
mod offer;
mod opening;
mod panel;
mod reading_picture;
mod tape_check;
mod view;

pub(crate) use instructions::general_cautions;
pub use reading_picture::reading_picture;
pub(crate) use view::View;

use crate::drawing::{Drawing, Ink, Layer, Mark, PageEdges, TitleBlock, lettering};
use crate::pattern::{Locator, Pattern};
use crate::spec::Extent;
use dimension::{Along, LabelLine, ROW, label, label_height, label_width, linear};
use field::{Candidate, Field};
use kurbo::{Point, Rect};

/// An opening nearer to the centreline than this, mm, stands on it.
const ON_CENTRELINE: f64 = 0.05;

/// How far the work is printed past its openings and locators, mm.
const AROUND_WORK: f64 = 14.0;

/// How far past the work the centreline's place is kept free, mm.
const RESERVED_CENTRELINE: f64 = 200.0;

/// Locators printed, at least, where the panel has them: two place a pattern.
const NEAREST_LOCATORS: usize = 2;

/// Draws a solved pattern.
///
/// # Errors
/// A letter that the typeface lacks: it would print as a blank.
pub fn draw(pattern: &Pattern) -> Result<Drawing, lettering::MissingLetter> {
    let view = View::of(pattern.orientation);
    let locators = printed_locators(pattern);
    let work = work_box(pattern, &locators);
    let mut sketch = Sketch::default();

    sketch.stand(panel::edges(pattern, view, work), false);
    sketch.stand([panel::tab(pattern, view, work)], false);
    for opening in &pattern.openings {
        sketch.stand(opening::cut_line(opening, view), true);
        sketch.stand(opening::relief(opening, view), false);
        sketch.stand(opening::axes(opening, view), false);
    }
    for locator in &locators {
        sketch.stand(locator::feature(locator, view), true);
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
        .extend(offsets(pattern, view, &mut sketch.field));
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
        .extend(tape_check::marks(pattern, view, &mut sketch.field));
    for opening in &pattern.openings {
        sketch
            .marks
            .extend(opening::name(opening, view, &mut sketch.field));
    }
    sketch
        .marks
        .extend(edge_labels(pattern, view, work, &mut sketch.field));

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
        work: sketch.marks,
        keep_whole,
        instructions: instructions::blocks(pattern, &locators),
    };
    check_letters(&drawing)?;
    Ok(drawing)
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
            .map(crate::drawing::mark_bounds)
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
            .map(|hole| (hole.at, hole.diameter / 2.0))
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

/// The locators that are printed: those nearest to the work, one on each side where there are.
fn printed_locators(pattern: &Pattern) -> Vec<Locator> {
    if pattern.panel.extent == Extent::Panel {
        return pattern.locators.clone();
    }
    let Some(openings) = pattern
        .openings
        .iter()
        .map(|opening| opening.outline.bounds())
        .reduce(|a, b| a.union(b))
    else {
        return vec![];
    };
    let distance = |locator: &Locator| {
        let nearest = Point::new(
            locator.at.x.clamp(openings.x0, openings.x1),
            locator.at.y.clamp(openings.y0, openings.y1),
        );
        locator.at.distance(nearest)
    };
    let mut order: Vec<usize> = (0..pattern.locators.len()).collect();
    order.sort_by(|a, b| {
        distance(&pattern.locators[*a]).total_cmp(&distance(&pattern.locators[*b]))
    });
    let middle = openings.center().x;
    let mut chosen: Vec<usize> = vec![];
    for side in [-1.0, 1.0] {
        chosen.extend(
            order
                .iter()
                .copied()
                .find(|i| (pattern.locators[*i].at.x - middle) * side > 0.0),
        );
    }
    for i in order {
        if chosen.len() < NEAREST_LOCATORS && !chosen.contains(&i) {
            chosen.push(i);
        }
    }
    chosen.sort_unstable();
    chosen
        .into_iter()
        .map(|i| pattern.locators[i].clone())
        .collect()
}

/// The part of the panel that is printed, panel frame.
fn work_box(pattern: &Pattern, locators: &[Locator]) -> Rect {
    if let (Extent::Panel, Some(size)) = (pattern.panel.extent, pattern.panel.size) {
        return Rect::new(size.x0, size.y0, size.x1, size.y1);
    }
    let openings = pattern
        .openings
        .iter()
        .map(|opening| opening.outline.bounds());
    let features = locators.iter().map(|locator| {
        let radius = locator.diameter.unwrap_or(0.0) / 2.0;
        Rect::from_center_size(locator.at, (2.0 * radius, 2.0 * radius))
    });
    // The centreline is always part of the work: the pattern is placed by it.
    let start = Rect::from_points(Point::ZERO, Point::ZERO);
    let all = openings
        .chain(features)
        .fold(start, |all, one| all.union(one));
    Rect::new(
        all.x0 - AROUND_WORK,
        all.y0,
        all.x1 + AROUND_WORK,
        all.y1 + AROUND_WORK,
    )
}

/// How far each opening's axis stands from the centreline, nearest first, in rows over the work.
fn offsets(pattern: &Pattern, view: View, field: &mut Field) -> Vec<Mark> {
    let mut off_centre: Vec<_> = pattern
        .openings
        .iter()
        .flat_map(|opening| {
            opening
                .declared
                .iter()
                .map(move |declared| (declared, opening))
        })
        .filter(|(declared, _)| declared.offset.abs() > ON_CENTRELINE)
        .collect();
    off_centre.sort_by(|a, b| a.0.offset.abs().total_cmp(&b.0.offset.abs()));
    let top = pattern
        .openings
        .iter()
        .map(|opening| opening.outline.bounds().y1)
        .fold(0.0, f64::max);
    let mut marks = vec![];
    for (declared, opening) in off_centre {
        let words = measure::figure(declared.offset.abs(), pattern.units);
        let head = opening.outline.bounds().y1 + 4.0;
        let axis = Point::new(declared.origin.x, head);
        let centre = Point::new(declared.origin.x - declared.offset, head);
        let candidates = (0..24).flat_map(|row| {
            let off = top + 2.0 * ROW + ROW * f64::from(row);
            let off = view.point(Point::new(0.0, off)).y;
            linear(
                view.point(centre),
                view.point(axis),
                Along::Across,
                off,
                &words,
                f64::from(row) * 4.0,
            )
        });
        let untold = format!("{}: {words} from the centreline", declared.name);
        marks.extend(field.place_or_list(candidates, &untold, Layer::Dimensions));
    }
    marks
}

/// What the datum edge, its tab and the centreline are called.
fn edge_labels(pattern: &Pattern, view: View, work: Rect, field: &mut Field) -> Vec<Mark> {
    let datum = pattern.orientation.datum_edge().word().to_uppercase();
    let (x0, x1) = panel::along_edge(pattern, work);
    let lowest = pattern.panel.edge.lowest(x0, x1);
    let tab_words = [
        [LabelLine::new(
            format!("FOLD THIS TAB OVER THE DATUM EDGE ({datum})"),
            3.5,
        )],
        [LabelLine::new(
            format!("FOLD OVER DATUM EDGE ({datum})"),
            2.5,
        )],
        [LabelLine::new("FOLD OVER EDGE", 2.5)],
    ];
    let mut marks = vec![];
    for words in &tab_words {
        let (width, height) = (label_width(words), label_height(words));
        let middle = lowest - panel::TAB / 2.0;
        let along: Vec<Candidate> = steps(x0 + 3.0, x1 - 3.0 - width)
            .map(|x| {
                let place = view.rect(Rect::from_origin_size(
                    (x, middle - height / 2.0),
                    (width, height),
                ));
                label_at(place, words, Layer::Fold, (x + width / 2.0).abs())
            })
            .collect();
        if let Some(placed) = field.place(along) {
            marks.extend(placed);
            break;
        }
    }
    let words = panel::centreline_label(pattern);
    let (width, height) = (label_width(&words), label_height(&words));
    let up_the_line: Vec<Candidate> = steps(work.y0 + 4.0, work.y1 + 160.0)
        .flat_map(|y| [1.5, -1.5 - width].map(|x| (x, y)))
        .map(|(x, y)| {
            let place = view.rect(Rect::from_origin_size((x, y), (width, height)));
            label_at(place, &words, Layer::Centreline, (work.y1 - 8.0 - y).abs())
        })
        .collect();
    marks.extend(field.place(up_the_line).unwrap_or_default());
    marks
}

fn label_at(place: Rect, words: &[LabelLine], layer: Layer, cost: f64) -> Candidate {
    let mut candidate = label(Point::new(place.x0, place.y1), words, layer);
    candidate.cost = cost;
    candidate
}

/// Places two millimetres apart.
fn steps(from: f64, to: f64) -> impl Iterator<Item = f64> {
    let count = if to >= from {
        ((to - from) / 2.0) as usize
    } else {
        0
    };
    (0..=count)
        .filter(move |_| to >= from)
        .map(move |k| from + 2.0 * k as f64)
}

fn title_block(pattern: &Pattern) -> TitleBlock {
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
        .chain(drawing.instructions.iter().flat_map(|block| block.words()))
        .try_for_each(lettering::check)
}
