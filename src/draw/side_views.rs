//! Two small views of the panel, cut through, and of a part that comes through it.

use super::dimension::arrow_in;
use super::in_space::{SpaceLine, extent, on_page, over_panel, surface_of, way_of};
use crate::draw::ink::{Anchor, Block, Layer, Line as Pen, LineType, Mark, Text, Width};
use crate::geometry::development::Space;
use crate::solve::{Part, Pattern};
use kurbo::{Affine, BezPath, Point, Rect, Size, Vec2};

/// Each view, and the air between them, mm.
const VIEW: Size = Size::new(40.0, 38.0);
const AIR: f64 = 6.0;

/// Room for lettering round a view, mm.
const ROUND: f64 = 6.0;

/// How far a part is drawn past the panel, as a share of what is shown.
const PAST: f64 = 0.35;

/// Two views: along the datum edge, and along the way up the panel.
pub(super) fn side_views(pattern: &Pattern) -> Block {
    let part = pattern.parts.iter().find(|part| part.through.is_some());
    let middle = part.map_or_else(
        || {
            let opening = pattern.openings.first();
            opening.map_or(Point::ZERO, |opening| opening.outline.bounds().center())
        },
        |part| part.origin,
    );
    let way = &pattern.orientation;
    let size = extent(pattern);
    let sense = on_page(1.0, pattern);
    let upright = Line {
        from: Point::new(middle.x, size.y0),
        to: Point::new(middle.x, size.y1),
    };
    let level = Line {
        from: Point::new(size.x0, middle.y),
        to: Point::new(size.x1, middle.y),
    };
    let side = View {
        flat: |at: Space, sense: f64| Point::new(at.depth, sense * at.z),
        sense,
        title: "from the side",
        ends: [
            (way.page_up().word(), Point::new(0.5, 1.0)),
            (way.page_up().opposite().word(), Point::new(0.5, 0.0)),
        ],
        look: 0.0,
    };
    let plan = View {
        flat: |at: Space, sense: f64| Point::new(sense * at.x, at.depth),
        sense,
        title: "along the page",
        ends: [
            (way.page_right().opposite().word(), Point::new(0.0, 1.0)),
            (way.page_right().word(), Point::new(1.0, 1.0)),
        ],
        look: 90.0,
    };
    let mut marks = side.marks(pattern, part, &upright);
    let by = Vec2::new(VIEW.width + AIR, 0.0);
    let beside = plan.marks(pattern, part, &level);
    marks.extend(beside.into_iter().map(|mark| mark.moved(by)));
    let about = part.map_or_else(String::new, |part| format!(", at {}", part.name));
    Block::Figure {
        size: Size::new(2.0 * VIEW.width + AIR, VIEW.height),
        marks,
        caption: format!(
            "Panel cut through{about}: {} and {}; not full size",
            side.title, plan.title
        ),
    }
}

/// A line on the pattern that the panel is cut along.
struct Line {
    from: Point,
    to: Point,
}

/// A small view of the panel, cut through.
struct View {
    /// From space to the view's plane.
    flat: fn(Space, f64) -> Point,
    sense: f64,
    title: &'static str,
    /// Directions, and where they stand in the view's box.
    ends: [(&'static str, Point); 2],
    /// Which way the reader looks in the view, degrees.
    look: f64,
}

impl View {
    fn marks(&self, pattern: &Pattern, part: Option<&Part>, line: &Line) -> Vec<Mark> {
        let surface = surface_of(part, pattern);
        let thickness = pattern.surface.thickness();
        let ends = (line.from, line.to);
        let near = over_panel(pattern, surface, ends, 0.0);
        let far = over_panel(pattern, surface, ends, thickness);
        let reach = near
            .iter()
            .flatten()
            .map(|at| (self.flat)(*at, self.sense))
            .fold(None, |all: Option<Rect>, at| {
                let here = Rect::from_points(at, at);
                Some(all.map_or(here, |all| all.union(here)))
            })
            .unwrap_or_default();
        let past = PAST * reach.width().max(reach.height()).max(1.0);
        let body = part.map_or_else(Vec::new, |part| body(part, pattern, past, self.look));
        let on_paper = self.fitted(&near, &body);
        let draw = |lines: &[SpaceLine], layer: Layer, pen: Pen| -> Vec<Mark> {
            let one = |line: &SpaceLine| Mark::stroke(layer, on_paper * self.path(line), pen);
            lines.iter().map(one).collect()
        };
        let mut marks = draw(&near, Layer::Frame, Pen::continuous(Width::Broad));
        if thickness > 0.0 {
            marks.extend(draw(&far, Layer::Frame, Pen::continuous(Width::Thin)));
        }
        let pen = Pen::of(LineType::LongDashDoubleDot, Width::Thin);
        marks.extend(draw(&body, Layer::Frame, pen));
        marks.extend(self.words());
        marks
    }

    fn path(&self, points: &[Space]) -> BezPath {
        let mut path = BezPath::new();
        for (i, at) in points.iter().enumerate() {
            let at = (self.flat)(*at, self.sense);
            if i == 0 {
                path.move_to(at);
            } else {
                path.line_to(at);
            }
        }
        path
    }

    /// What brings panel and part into the view's box, lettering left room for.
    fn fitted(&self, near: &[SpaceLine], body: &[SpaceLine]) -> Affine {
        let all = near.iter().chain(body).flatten();
        let bounds = all
            .map(|at| (self.flat)(*at, self.sense))
            .map(|at| Rect::from_points(at, at))
            .reduce(|a, b| a.union(b))
            .unwrap_or_default();
        let room = Rect::from_origin_size((0.0, 0.0), VIEW).inset(-ROUND);
        let scale =
            (room.width() / bounds.width().max(1.0)).min(room.height() / bounds.height().max(1.0));
        Affine::translate(room.center().to_vec2())
            * Affine::scale(scale)
            * Affine::translate(-bounds.center().to_vec2())
    }

    /// The directions at its ends, and the way the reader looks.
    fn words(&self) -> Vec<Mark> {
        let text = |words: &str, at: Point, anchor: Anchor| {
            let text = Text {
                words: words.into(),
                at,
                height: 2.5,
                anchor,
                turn: 0.0,
                heavy: false,
            };
            Mark::text(Layer::Text, text)
        };
        let mut marks: Vec<Mark> = self
            .ends
            .iter()
            .map(|(word, place)| {
                let anchor = if place.x < 0.25 {
                    Anchor::Start
                } else if place.x > 0.75 {
                    Anchor::End
                } else {
                    Anchor::Middle
                };
                let at = Point::new(place.x * VIEW.width, place.y * (VIEW.height - 2.5));
                text(word, at, anchor)
            })
            .collect();
        let (from, to, at, anchor) = if self.look == 0.0 {
            let middle = VIEW.height / 2.0;
            (
                Point::new(0.0, middle),
                Point::new(4.5, middle),
                Point::new(0.0, middle + 1.0),
                Anchor::Start,
            )
        } else {
            let middle = VIEW.width / 2.0;
            (
                Point::new(middle, 0.0),
                Point::new(middle, 4.5),
                Point::new(middle + 1.5, 0.5),
                Anchor::Start,
            )
        };
        marks.push(text("you", at, anchor));
        marks.push(stroke(from, to));
        marks.push(arrow_in(Layer::Frame, to, (to - from).normalize()));
        marks
    }
}

fn stroke(from: Point, to: Point) -> Mark {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    Mark::stroke(Layer::Frame, path, Pen::continuous(Width::Thin))
}

/// A part's body where it is cut through: its two sides along its way.
fn body(part: &Part, pattern: &Pattern, past: f64, look: f64) -> Vec<SpaceLine> {
    let Some((passage, section)) = way_of(part, pattern) else {
        return vec![];
    };
    let bounds = section.bounds();
    let middle = bounds.center();
    let sides = if look == 0.0 {
        [
            Point::new(middle.x, bounds.y0),
            Point::new(middle.x, bounds.y1),
        ]
    } else {
        [
            Point::new(bounds.x0, middle.y),
            Point::new(bounds.x1, middle.y),
        ]
    };
    sides
        .map(|at| {
            [-past, past]
                .map(|off| passage.in_space(at) + passage.along() * off)
                .to_vec()
        })
        .into()
}
