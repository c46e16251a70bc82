//! Free places: where lettering and dimension lines can stand without touching other ink.

use super::cells::{Cells, overlap};
use super::offer::{Candidate, Offer};
use crate::draw::ink::{Ink, Mark, Rooms, lettering};
use kurbo::{Line, ParamCurve, PathEl, Point, Rect, Vec2};

/// Clear space around lettering, mm.
const AROUND_TEXT: f64 = 0.8;

/// How closely curves are followed when looking for free places, mm.
const COARSE: f64 = 0.1;

/// What crossing one line costs a candidate: a line of the cut weighs most.
const CROSSING: f64 = 4.0;

/// What running on over a join costs.
const CROSSING_JOIN: f64 = 3.0;

/// What covering a line of the cut costs.
const CROSSING_CUT: f64 = 40.0;

/// Ink that stands already, and the rooms between it.
#[derive(Debug, Clone)]
pub(super) struct Field {
    /// Boxes that no other lettering touches.
    texts: Cells<Rect>,
    lines: Cells<Standing>,
    rails: Cells<()>,
    pub(super) rooms: Rooms,
    /// Areas in which no lettering may stand.
    pub(super) closed: Vec<Rect>,
    /// Numbers that stand for something else already.
    pub(super) numbered: usize,
    /// What found no place, each beginning with its number.
    pub(super) notes: Vec<String>,
}

/// A line that stands.
#[derive(Debug, Clone, Copy)]
struct Standing {
    line: Line,
    cut: bool,
}

impl Field {
    /// Nothing stands yet, but what is taken in the rooms.
    pub(super) fn new(rooms: &Rooms) -> Self {
        let mut texts = Cells::default();
        for taken in &rooms.taken {
            texts.add(*taken, *taken);
        }
        Self {
            texts,
            lines: Cells::default(),
            rails: Cells::default(),
            rooms: rooms.clone(),
            closed: vec![],
            numbered: 0,
            notes: vec![],
        }
    }

    /// Marks whose lines and lettering stand from now on; `cut` where they are the line to cut.
    pub(super) fn stand(&mut self, marks: &[Mark], cut: bool) {
        for mark in marks {
            match &mark.ink {
                Ink::Text(text) => {
                    let bounds = lettering::bounds(text);
                    self.texts.add(bounds, bounds);
                }
                Ink::Stroke { path, .. } | Ink::Fill { path, .. } => {
                    for line in flattened(path.elements()) {
                        self.lines.add(round(line), Standing { line, cut });
                    }
                }
            }
        }
    }

    /// Boxes of the lettering that stands, with clear space round it.
    pub(super) fn texts(&self) -> impl Iterator<Item = Rect> {
        self.texts
            .all()
            .map(|text| text.inflate(AROUND_TEXT, AROUND_TEXT))
    }

    /// Whether a box touches no ink.
    pub(super) fn is_free(&self, place: Rect) -> bool {
        let clear = place.inflate(AROUND_TEXT, AROUND_TEXT);
        self.clears_words(place)
            && !self
                .lines
                .overlapping(clear)
                .any(|other| meets(clear, other.line))
    }

    /// Whether a box touches no lettering.
    fn clears_words(&self, place: Rect) -> bool {
        let clear = place.inflate(AROUND_TEXT, AROUND_TEXT);
        self.texts.overlapping(clear).next().is_none()
    }

    /// Draws the best of the candidates that leave all lettering clear, and returns its marks;
    /// `None` where none does.
    pub(super) fn place(
        &mut self,
        candidates: impl IntoIterator<Item = impl Offer>,
    ) -> Option<Vec<Mark>> {
        let mut best: Option<(f64, Candidate)> = None;
        for candidate in candidates {
            let bar = best.as_ref().map_or(f64::INFINITY, |(cost, _)| *cost);
            if candidate.cost() >= bar {
                continue;
            }
            let candidate = candidate.made();
            if let Some(cost) = self.cost(&candidate).filter(|cost| *cost < bar) {
                best = Some((cost, candidate));
            }
        }
        let (_, chosen) = best?;
        self.stand(&chosen.marks, false);
        if let Some(rail) = chosen.rail {
            self.rails.add(rail, ());
        }
        Some(chosen.marks)
    }

    /// What a candidate costs; `None` where it would touch lettering or another dimension line.
    fn cost(&self, candidate: &Candidate) -> Option<f64> {
        if let Some(rail) = candidate.rail
            && self.rails.overlapping(rail).next().is_some()
        {
            return None;
        }
        let blocked = |line: &Line| {
            let around = round(*line);
            self.texts
                .overlapping(around.inflate(2.0 * AROUND_TEXT, 2.0 * AROUND_TEXT))
                .map(|text| text.inflate(AROUND_TEXT, AROUND_TEXT))
                .any(|text| overlap(text, around) && meets(text, *line))
        };
        let whole = |place: Rect| self.rooms.hold(place);
        let open = |place: Rect| !self.closed.iter().any(|closed| overlap(*closed, place));
        let mut words = candidate.texts().chain(candidate.area);
        if !words.all(|place| whole(place) && open(place) && self.is_free(place))
            || !candidate
                .fills()
                .all(|fill| whole(fill) && self.clears_words(fill))
            || candidate.lines.iter().any(blocked)
        {
            return None;
        }
        let mut crossings = 0.0;
        for line in &candidate.lines {
            let around = round(*line);
            if !self.rooms.hold(around) {
                crossings += CROSSING_JOIN;
            }
            for other in self.lines.overlapping(around) {
                if cross(*line, other.line) {
                    crossings += if other.cut { CROSSING_CUT } else { CROSSING };
                }
            }
        }
        Some(candidate.cost + crossings)
    }
}

/// The box round a line; never without area, so that it overlaps what the line crosses.
fn round(line: Line) -> Rect {
    Rect::from_points(line.p0, line.p1).inflate(1e-6, 1e-6)
}

/// Whether a line touches a box that its own box overlaps.
fn meets(place: Rect, line: Line) -> bool {
    if place.contains(line.p0) || place.contains(line.p1) {
        return true;
    }
    // All four corners on one side of the line: it passes by.
    let normal = Vec2::new(-(line.p1.y - line.p0.y), line.p1.x - line.p0.x);
    let corners = [
        (place.x0, place.y0),
        (place.x1, place.y0),
        (place.x1, place.y1),
        (place.x0, place.y1),
    ];
    let sides = corners.map(|corner| (Point::from(corner) - line.p0).dot(normal));
    sides.iter().any(|side| *side > 0.0) && sides.iter().any(|side| *side < 0.0)
}

/// Whether two lines whose boxes overlap cross between their ends.
fn cross(a: Line, b: Line) -> bool {
    a.crossing_point(b).is_some_and(|point| {
        let within = |line: Line| {
            let along = line.p1 - line.p0;
            let t = (point - line.p0).dot(along) / along.hypot2();
            (0.0..=1.0).contains(&t)
        };
        within(a) && within(b)
    })
}

/// A path as straight lines within a tenth of a millimetre.
fn flattened(path: &[PathEl]) -> Vec<Line> {
    let mut lines = vec![];
    let (mut start, mut at) = (Point::ZERO, Point::ZERO);
    kurbo::flatten(path.iter().copied(), COARSE, |element| match element {
        PathEl::MoveTo(point) => (start, at) = (point, point),
        PathEl::LineTo(point) => {
            lines.push(Line::new(at, point));
            at = point;
        }
        PathEl::ClosePath => {
            lines.push(Line::new(at, start));
            at = start;
        }
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    lines
}

/// A line less a little of its start, so that a leader may touch what it points to.
pub(super) fn clear_of_start(line: Line, by: f64) -> Line {
    let length = line.p0.distance(line.p1);
    if length <= by {
        line
    } else {
        Line::new(line.eval(by / length), line.p1)
    }
}
