//! How panel and parts stand to each other, in words and in two small views.

use super::dimension::arrow_in;
use super::in_space::{SpaceLine, extent, over_panel, surface_of, way_of};
use super::measure::length;
use crate::drawing::{Anchor, Block, Layer, Line as Pen, LineType, Mark, Text, Width, fixed};
use crate::panel::Direction;
use crate::pattern::{Developed, Part, Pattern};
use crate::spec::{CircleSize, FormSpec};
use crate::surface::{Along, Bulge, Space, Whereabouts, radius_of};
use kurbo::{Affine, BezPath, Point, Rect, Size};

/// Each view, and the air between them, mm.
const VIEW: Size = Size::new(40.0, 38.0);
const AIR: f64 = 6.0;

/// Room for lettering round a view, mm.
const ROUND: f64 = 6.0;

/// How far a part is drawn past the panel, as a share of what is shown.
const PAST: f64 = 0.35;

/// Words and views; nothing where the panel is flat and every part meets it squarely.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    if pattern.surface.is_plain() && pattern.developed.is_empty() {
        return vec![];
    }
    let mut points = vec![];
    points.extend(lean(pattern));
    points.extend(curve(pattern));
    points.extend(pattern.parts.iter().filter_map(|part| way(part, pattern)));
    points.extend(
        pattern
            .developed
            .iter()
            .map(|one| beside_flat(one, pattern)),
    );
    points.push(
        "Press the paper to the panel all over, from the centreline outwards: it is the panel's own \
         skin, rolled flat. Paper that bridges a hollow cuts wrong."
            .into(),
    );
    vec![
        Block::Heading("How the panel stands".into()),
        Block::Points(points),
        views(pattern),
    ]
}

/// A side of something on a panel, before its noun.
fn side(direction: Direction) -> &'static str {
    match direction {
        Direction::Up => "upper",
        Direction::Down => "lower",
        other => other.word(),
    }
}

/// Which way something runs.
fn towards(direction: Direction) -> String {
    match direction {
        Direction::Up => "upwards".into(),
        Direction::Down => "downwards".into(),
        other => format!("to the {other}"),
    }
}

fn degrees(radians: f64) -> String {
    format!("{} degrees", fixed(radians.to_degrees().abs(), 1))
}

/// An angle told for the page: the frame is turned where the datum edge lies at the head.
fn on_page(radians: f64, pattern: &Pattern) -> f64 {
    if pattern.orientation.datum_at_head() {
        -radians
    } else {
        radians
    }
}

fn lean(pattern: &Pattern) -> Option<String> {
    let rake = on_page(pattern.surface.surface.rake(), pattern);
    if rake == 0.0 {
        return None;
    }
    let head = side(pattern.orientation.page_up());
    let away = if rake > 0.0 { "away from" } else { "towards" };
    Some(format!(
        "The panel leans {}: its {head} edge leans {away} you.",
        degrees(rake)
    ))
}

fn curve(pattern: &Pattern) -> Option<String> {
    let surface = &pattern.surface;
    let way = match surface.surface.along() {
        Along::Across => "across",
        Along::EdgeToEdge => "from edge to edge",
    };
    match surface.form.as_ref()? {
        FormSpec::Flat => None,
        FormSpec::Circle { size, bulges, .. } => {
            let radius = match *size {
                CircleSize::Chord { chord, rise } => radius_of(chord, rise),
                CircleSize::Radius(radius) => radius,
            };
            let side = match bulges {
                Bulge::Towards => "towards you",
                Bulge::Away => "away from you",
            };
            Some(format!(
                "It is curved {way}, bulging {side}, to a radius of {}.",
                length(radius, pattern.units)
            ))
        }
        FormSpec::Profile { one, error, .. } => {
            let farthest = surface
                .smoothings
                .iter()
                .flat_map(|smoothing| &smoothing.residuals)
                .fold(0.0, |most: f64, residual| most.max(residual.abs()));
            let left = match fixed(farthest, 2).as_str() {
                "0" => "goes through them all".to_owned(),
                mm => format!("leaves the farthest by {mm} mm"),
            };
            Some(format!(
                "It is curved {way} as {} readings tell, each known to {}; the smooth curve {left}.",
                one.readings.value.len(),
                length(*error, pattern.units),
            ))
        }
    }
}

fn way(part: &Part, pattern: &Pattern) -> Option<String> {
    let along = part.through.as_ref()?.passage.along();
    let (up, right) = (on_page(along.z, pattern), on_page(along.x, pattern));
    let level = libm::hypot(along.x, along.depth);
    let (slope, yaw) = (libm::atan2(up, level), libm::atan2(right, along.depth));
    let mut told = vec![];
    for (angle, direction) in [
        (slope, pattern.orientation.page_up()),
        (yaw, pattern.orientation.page_right()),
    ] {
        if angle.abs() > 1e-9 {
            let to = if angle > 0.0 {
                direction
            } else {
                direction.opposite()
            };
            told.push(format!("{} {}", degrees(angle), towards(to)));
        }
    }
    (!told.is_empty()).then(|| {
        format!(
            "Going away from you, {} runs off {}.",
            part.name,
            told.join(" and ")
        )
    })
}

fn beside_flat(one: &Developed, pattern: &Pattern) -> String {
    let datum = pattern.orientation.datum_edge();
    let right = pattern.orientation.frame_right();
    let place = match one.guess.place {
        Whereabouts::Top => datum.opposite(),
        Whereabouts::Bottom => datum,
        Whereabouts::Left => right.opposite(),
        Whereabouts::Right => right,
    };
    let by = one.guess.short_by;
    let off = length(by.abs(), pattern.units);
    if by >= 0.0 {
        format!(
            "A flat pattern would have been {off} short at the {} edge of {}.",
            side(place),
            one.opening
        )
    } else {
        format!(
            "A flat pattern would have cut {off} too far at the {} edge of {}.",
            side(place),
            one.opening
        )
    }
}

/// Two views: along the datum edge, and along the way up the panel.
fn views(pattern: &Pattern) -> Block {
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
    let by = kurbo::Vec2::new(VIEW.width + AIR, 0.0);
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
