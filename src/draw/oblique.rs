//! The panel with its openings and the parts through them, in oblique projection: a mistake in rake
//! or direction is seen before it is cut.
//!
//! What is seen square-on stays as it is, and what goes away from the reader goes up to the right at
//! 30 degrees, at half its length: a cabinet projection (ISO 5456-3; from memory) with the receding
//! axis laid lower than its usual 45 degrees, where a panel that leans by 20 hides its own curve.

use super::dimension::{LabelLine, beside_picture};
use super::field::Field;
use super::in_space::{
    SpaceLine, extent, flattened, outline_on, over_panel, section_at, surface_of, way_of,
};
use super::leader::{Start, around};
use super::note::note_list;
use crate::base::Direction;
use crate::draw::ink::{Layer, Line as Pen, LineType, Mark, Width, lettering};
use crate::draw::ink::{Plate, Rooms};
use crate::geometry::development::{Passage, Projection, Space, Surface};
use crate::geometry::outline::Outline;
use crate::solve::{Part, Pattern};
use kurbo::{BezPath, Point, Rect, Size, Vec2};

/// What the picture fits into, mm.
const ROOM: Size = Size::new(250.0, 180.0);

/// Room for lettering round it, mm.
const BORDER: f64 = 26.0;

/// Lines that show the panel's shape, each way.
const GRID: usize = 8;

/// How far a part is drawn past the panel, as a share of the larger side of what is cut.
const PAST: f64 = 0.8;

/// A picture of a solved pattern's panel as it stands, not full size.
///
/// # Errors
/// A name with a letter that the typeface lacks.
pub fn oblique_view(pattern: &Pattern) -> Result<Plate, lettering::MissingLetter> {
    let scene = Scene::of(pattern);
    let names = pattern.parts.iter().map(|part| part.name.as_str());
    let names = names.chain([pattern.identity.title.as_str()]);
    names.clone().try_for_each(lettering::check)?;
    let bounds = scene.bounds();
    let scale = (ROOM.width / bounds.width().max(1.0)).min(ROOM.height / bounds.height().max(1.0));
    let size = Size::new(
        bounds.width() * scale + 2.0 * BORDER,
        bounds.height() * scale + 2.0 * BORDER,
    );
    let paper = |at: Point| ((at - bounds.origin()) * scale + Vec2::new(BORDER, BORDER)).to_point();
    let mut field = Field::new(&Rooms::boundless());
    let mut marks = vec![];
    for (line, layer, pen) in &scene.lines {
        let mut path = BezPath::new();
        for (i, at) in line.iter().enumerate() {
            let at = paper(scene.flat(*at));
            if i == 0 {
                path.move_to(at);
            } else {
                path.line_to(at);
            }
        }
        marks.push(Mark::stroke(*layer, path, *pen));
    }
    field.stand(&marks, false);
    for (words, at) in scene.names() {
        let line = [LabelLine::new(words.clone(), 3.5)];
        let at = paper(scene.flat(at));
        let candidates: Vec<_> = around(at, &line, Layer::Text, Start::Point, |_| 0.0).collect();
        marks.extend(field.place_or_note(candidates, at, &words, Layer::Text));
    }
    let beside = Point::new(BORDER, size.height - BORDER);
    marks.extend(note_list(&field.notes, beside));
    marks.extend(scene.words(size));
    Ok(Plate {
        title: format!("{}: how panel and parts stand", pattern.identity.title),
        description: format!(
            "The panel as seen from {} in oblique projection, not full size, with its openings and \
             the parts through them.",
            pattern.orientation.seen_from()
        ),
        content: String::new(),
        size,
        marks,
    })
}

/// All lines in space, and how they lie on the page.
struct Scene<'a> {
    pattern: &'a Pattern,
    lines: Vec<(SpaceLine, Layer, Pen)>,
    /// -1 where the datum edge lies at the head of the page.
    sense: f64,
}

impl<'a> Scene<'a> {
    fn of(pattern: &'a Pattern) -> Self {
        let mut scene = Self {
            pattern,
            lines: vec![],
            sense: if pattern.orientation.datum_at_head() {
                -1.0
            } else {
                1.0
            },
        };
        scene.panel();
        scene.openings();
        for part in &pattern.parts {
            scene.part(part);
        }
        scene
    }

    fn surface(&self) -> &'a Surface {
        surface_of(None, self.pattern)
    }

    fn panel(&mut self) {
        let thin = Pen::continuous(Width::Fine);
        let size = extent(self.pattern);
        let share = |k: usize| k as f64 / GRID as f64;
        for k in 1..GRID {
            let x = size.x0 + size.width() * share(k);
            let y = size.y0 + size.height() * share(k);
            let up = (Point::new(x, size.y0), Point::new(x, size.y1));
            let across = (Point::new(size.x0, y), Point::new(size.x1, y));
            for ends in [up, across] {
                for line in over_panel(self.pattern, self.surface(), ends, 0.0) {
                    self.lines.push((line, Layer::Panel, thin));
                }
            }
        }
        let foot = self.pattern.panel.edge.points(size.x0, size.x1);
        let corner = |x: f64, at: Option<&Point>| Point::new(x, at.map_or(0.0, |at| at.y));
        let round = [
            corner(size.x1, foot.last()),
            Point::new(size.x1, size.y1),
            Point::new(size.x0, size.y1),
            corner(size.x0, foot.first()),
        ];
        for (points, width) in [(&foot[..], Width::Thick), (&round[..], Width::Medium)] {
            for pair in points.windows(2) {
                for line in over_panel(self.pattern, self.surface(), (pair[0], pair[1]), 0.0) {
                    self.lines
                        .push((line, Layer::Panel, Pen::continuous(width)));
                }
            }
        }
        let centre = (Point::new(0.0, size.y0), Point::new(0.0, size.y1));
        let pen = Pen::of(LineType::LongDashDot, Width::Thin);
        for line in over_panel(self.pattern, self.surface(), centre, 0.0) {
            self.lines.push((line, Layer::Centreline, pen));
        }
    }

    fn openings(&mut self) {
        let thickness = self.pattern.surface.thickness();
        for opening in &self.pattern.openings {
            let near = outline_on(self.surface(), &opening.outline, 0.0);
            self.lines
                .push((near, Layer::Cut, Pen::continuous(Width::Thick)));
            if thickness > 0.0 {
                let far = outline_on(self.surface(), &opening.outline, thickness);
                self.lines
                    .push((far, Layer::Cut, Pen::continuous(Width::Thin)));
            }
        }
    }

    /// A part's body: what stands before the panel in full lines, what lies behind it dashed.
    fn part(&mut self, part: &Part) {
        let Some((passage, section)) = way_of(part, self.pattern) else {
            return;
        };
        let bounds = section.bounds();
        let past = PAST * bounds.width().max(bounds.height());
        let surface = surface_of(Some(part), self.pattern);
        let along = passage.along();
        // A plain part's plane stands on the panel itself; others meet it where their way does.
        let meets = |at: Point| {
            let start = passage.in_space(at);
            let place = Projection::new(surface, &passage, 0.0).and_then(|near| near.land(at));
            place.map_or(0.0, |landing| {
                (surface.on_face(landing.point, 0.0) - start).dot(along)
            })
        };
        let (front, behind) = (
            Pen::continuous(Width::Medium),
            Pen::of(LineType::Dashed, Width::Thin),
        );
        self.lines
            .push((section_at(&passage, &section, -past), Layer::Parts, front));
        self.lines
            .push((section_at(&passage, &section, past), Layer::Parts, behind));
        for at in self.silhouette(&passage, &section) {
            let start = passage.in_space(at);
            let middle = meets(at);
            let piece = |from: f64, to: f64| vec![start + along * from, start + along * to];
            self.lines.push((piece(-past, middle), Layer::Parts, front));
            self.lines.push((piece(middle, past), Layer::Parts, behind));
        }
    }

    /// The two places of a section where its body shows its sides on the page.
    fn silhouette(&self, passage: &Passage, section: &Outline) -> Vec<Point> {
        let along = self.flat(passage.along()).to_vec2();
        let aside = |at: &Point| along.cross(self.flat(passage.in_space(*at)).to_vec2());
        let points = flattened(section);
        let by_side = |a: &&Point, b: &&Point| aside(a).total_cmp(&aside(b));
        let ends = [points.iter().min_by(by_side), points.iter().max_by(by_side)];
        ends.into_iter().flatten().copied().collect()
    }

    /// A point in space on the page, at full size.
    fn flat(&self, at: Space) -> Point {
        let away = Vec2::new(3.0_f64.sqrt() / 2.0, 0.5) * (at.depth / 2.0);
        Point::new(self.sense * at.x, self.sense * at.z) + away
    }

    fn bounds(&self) -> Rect {
        self.lines
            .iter()
            .flat_map(|(line, _, _)| line)
            .map(|at| self.flat(*at))
            .map(|at| Rect::from_points(at, at))
            .reduce(|a, b| a.union(b))
            .unwrap_or_default()
    }

    /// Parts by name, each at the end of its body that is nearest to the reader.
    fn names(&self) -> Vec<(String, Space)> {
        let parts = self.pattern.parts.iter().filter_map(|part| {
            let (passage, section) = way_of(part, self.pattern)?;
            let bounds = section.bounds();
            let past = PAST * bounds.width().max(bounds.height());
            let at = passage.in_space(Point::new(bounds.x1, bounds.y1));
            Some((part.name.clone(), at - passage.along() * past))
        });
        parts.collect()
    }

    /// The vehicle's directions round the picture, and what it is.
    fn words(&self, size: Size) -> Vec<Mark> {
        let way = &self.pattern.orientation;
        let upper = |direction: Direction| direction.word().to_uppercase();
        let (up, right) = (way.page_up(), way.page_right());
        let datum = |direction: Direction| {
            if direction == way.datum_edge() {
                format!("{}: datum edge", upper(direction))
            } else {
                upper(direction)
            }
        };
        let middle = Point::new(size.width / 2.0, size.height / 2.0);
        [
            (datum(up), Point::new(middle.x, size.height - 7.0), 0.0),
            (datum(up.opposite()), Point::new(middle.x, 5.0), 0.0),
            (upper(right.opposite()), Point::new(7.0, middle.y), 90.0),
            (upper(right), Point::new(size.width - 7.0, middle.y), -90.0),
            (
                format!("not full size, seen from {}", way.seen_from()),
                Point::new(40.0, size.height - 7.0),
                0.0,
            ),
        ]
        .into_iter()
        .map(|(words, at, turn)| beside_picture(words, at, turn))
        .collect()
    }
}
