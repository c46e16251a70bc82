//! Features in a row: what is the same for all of them is told once, at an axis through them.
//!
//! `10 × Ø14` for holes alike, one depth for a row, one offset for a column, and `9 × 30 (= 270)` for
//! equal spacing, as ISO 129-1 has repeated features (from memory).

use super::View;
use super::corner;
use super::dimension::{Along, ROW, linear};
use super::field::Field;
use super::names::begun_with;
use super::offer::Candidate;
use super::upright::upright_ways;
use crate::draw::ink::{Layer, Line as Pen, LineType, Mark, Width};
use crate::solve::{Declared, Opening, Pattern};
use kurbo::{Line, Point, Rect, Vec2};

/// Features with a gap under this, mm, are seen together; they are never printed as islands.
const TOGETHER: f64 = 60.0;

/// Places nearer than this, mm, lie in one line.
const IN_LINE: f64 = 0.05;

/// Corners nearer than this, mm, and bulges less apart, are the same.
const ONE_PLACE: f64 = 0.02;
const ONE_BULGE: f64 = 1e-4;

/// An axis reaches this far past the features at its ends, mm.
const PAST: f64 = 4.0;

/// Openings of a pattern by what is told of them together.
pub(super) struct Rows {
    /// Round holes alike: their label is told once.
    alike: Vec<Vec<usize>>,
    /// Those of them that are as deep as one another, from one end of their row to the other.
    level: Vec<Vec<usize>>,
    /// The crowd that each opening belongs to.
    crowds: Vec<usize>,
}

impl Rows {
    pub(super) fn of(pattern: &Pattern) -> Self {
        let openings = &pattern.openings;
        let crowds = crowds(openings);
        let round = (0..openings.len()).filter(|at| openings[*at].is_round_hole());
        let (mut alike, mut level) = (vec![], vec![]);
        for at in round {
            let together = |other: usize| crowds[at] == crowds[other];
            let words = |at: usize| corner::round_words(pattern, &openings[at], 1);
            join(&mut alike, at, |other| {
                together(other) && words(at) == words(other)
            });
            let depth = |at: usize| pattern.units.figure(depth(pattern, &openings[at]));
            let y = |at: usize| middle(&openings[at]).y;
            join(&mut level, at, |other| {
                together(other)
                    && words(at) == words(other)
                    && (y(at) - y(other)).abs() < IN_LINE
                    && depth(at) == depth(other)
            });
        }
        for row in &mut level {
            row.sort_by(|a, b| {
                let x = |at: &usize| middle(&openings[*at]).x;
                x(a).total_cmp(&x(b))
            });
        }
        Self {
            alike,
            level,
            crowds,
        }
    }

    /// Labels and depths of all round holes, each told once.
    pub(super) fn holes(&self, pattern: &Pattern, view: View, field: &mut Field) -> Vec<Mark> {
        let of = |at: &usize| &pattern.openings[*at];
        let mut marks = vec![];
        for row in &self.alike {
            let holes: Vec<&Opening> = row.iter().map(of).collect();
            marks.extend(corner::round(pattern, &holes, view, field));
            for level in self.level.iter().filter(|level| row.contains(&level[0])) {
                let holes: Vec<&Opening> = level.iter().map(of).collect();
                marks.extend(depth_once(pattern, &holes, view, field));
            }
        }
        marks
    }

    /// Openings that [`Self::holes`] does not tell, those alike together.
    pub(super) fn others<'p>(&self, pattern: &'p Pattern) -> Vec<Vec<&'p Opening>> {
        let told = |at: &usize| self.alike.iter().any(|row| row.contains(at));
        let openings = &pattern.openings;
        let mut groups = vec![];
        for at in (0..openings.len()).filter(|at| !told(at)) {
            join(&mut groups, at, |other| {
                self.crowds[at] == self.crowds[other]
                    && is_like(pattern, &openings[other], &openings[at])
            });
        }
        let all = groups.into_iter();
        all.map(|group| group.into_iter().map(|at| &openings[at]).collect())
            .collect()
    }

    /// What stands off the centreline, in columns of one offset, nearest first.
    pub(super) fn columns<'p>(&self, pattern: &'p Pattern) -> Vec<Column<'p>> {
        let mut columns: Vec<(usize, Column<'p>)> = vec![];
        for (crowd, opening) in self.crowds.iter().zip(&pattern.openings) {
            for declared in &opening.declared {
                if declared.offset.abs() <= super::ON_CENTRELINE {
                    continue;
                }
                let same = |other: &&mut (usize, Column<'p>)| {
                    let first = other.1.members[0].0;
                    other.0 == *crowd
                        && first.trimmed.is_some() == declared.trimmed.is_some()
                        && (first.origin.x - declared.origin.x).abs() < IN_LINE
                        && (first.offset - declared.offset).abs() < IN_LINE
                };
                let member = (declared, opening.outline.bounds());
                match columns.iter_mut().find(same) {
                    Some((_, column)) => column.members.push(member),
                    None => columns.push((
                        *crowd,
                        Column {
                            members: vec![member],
                        },
                    )),
                }
            }
        }
        let mut columns: Vec<Column<'p>> = columns.into_iter().map(|(_, column)| column).collect();
        columns.sort_by(|a, b| a.offset().abs().total_cmp(&b.offset().abs()));
        columns
    }

    /// Tells equal spacings, and leaves out of the columns what they tell.
    pub(super) fn spacings(
        &self,
        pattern: &Pattern,
        columns: &mut Vec<Column<'_>>,
        view: View,
        field: &mut Field,
    ) -> Vec<Mark> {
        let mut marks = vec![];
        for row in self.level.iter().filter(|row| row.len() > 2) {
            let holes: Vec<&Opening> = row.iter().map(|at| &pattern.openings[*at]).collect();
            let Some(words) = equal_spacing(pattern, &holes) else {
                continue;
            };
            let between = |column: &Column<'_>| {
                let inner = holes[1..holes.len() - 1].iter();
                inner.clone().any(|hole| {
                    column.is_at(middle(hole).x) && column.names().contains(&hole.name())
                })
            };
            if !columns.iter().any(between) {
                continue;
            }
            if let Some(told) = field.place(spacing_ways(&holes, &words, view)) {
                marks.extend(told);
                columns.retain(|column| !between(column));
            }
        }
        marks
    }
}

/// Openings of one offset, one over the other.
pub(super) struct Column<'p> {
    /// Each with the box that its opening takes.
    members: Vec<(&'p Declared, Rect)>,
}

impl<'p> Column<'p> {
    /// How far it stands from the centreline, along the frame's x, mm.
    pub(super) fn offset(&self) -> f64 {
        self.members[0].0.offset
    }

    /// Frame x, mm.
    pub(super) fn x(&self) -> f64 {
        self.members[0].0.origin.x
    }

    fn is_at(&self, x: f64) -> bool {
        (self.x() - x).abs() < IN_LINE
    }

    /// From the lowest to the highest of it, panel frame, mm.
    pub(super) fn span(&self) -> (f64, f64) {
        let all = self.members.iter();
        all.fold(
            (f64::INFINITY, f64::NEG_INFINITY),
            |(low, high), (_, own)| (low.min(own.y0), high.max(own.y1)),
        )
    }

    /// Names of its openings.
    pub(super) fn names(&self) -> Vec<String> {
        self.members
            .iter()
            .map(|(own, _)| own.name.clone())
            .collect()
    }

    /// An axis through all of it; none is needed through one.
    fn axis(&self, view: View) -> Option<Candidate> {
        let (low, high) = self.span();
        let ends = [low - PAST, high + PAST].map(|y| view.point(Point::new(self.x(), y)));
        (self.members.len() > 1).then(|| axis(ends))
    }
}

/// Draws the axes of columns; those that find no place for theirs are told one by one.
pub(super) fn with_axes<'p>(
    columns: Vec<Column<'p>>,
    view: View,
    field: &mut Field,
) -> (Vec<Column<'p>>, Vec<Mark>) {
    let (mut told, mut marks) = (vec![], vec![]);
    for column in columns {
        let Some(axis) = column.axis(view) else {
            told.push(column);
            continue;
        };
        match field.place([axis]) {
            Some(drawn) => {
                marks.extend(drawn);
                told.push(column);
            }
            None => {
                let each = column.members.into_iter();
                told.extend(each.map(|member| Column {
                    members: vec![member],
                }));
            }
        }
    }
    (told, marks)
}

/// Whether two openings are the same but for their place: outlines, holes to drill, and depth.
fn is_like(pattern: &Pattern, one: &Opening, other: &Opening) -> bool {
    let plain = |own: &Opening| matches!(own.declared.as_slice(), [only] if only.trimmed.is_none());
    let deep = |own: &Opening| pattern.units.figure(own.depth(&pattern.panel.edge));
    let tools = |own: &Opening| -> Vec<_> {
        let holes = own.relief.iter();
        holes
            .map(|hole| (hole.tool, hole.corners.len(), hole.crowded))
            .collect()
    };
    let by = middle(other) - middle(one);
    let (of_one, of_other) = (one.outline.vertices(), other.outline.vertices());
    let same_outline = of_one.len() == of_other.len()
        && of_one.iter().zip(of_other).all(|(one, other)| {
            (one.point + by).distance(other.point) < ONE_PLACE
                && (one.bulge - other.bulge).abs() < ONE_BULGE
                && one.side == other.side
        });
    plain(one)
        && plain(other)
        && one.fitted == other.fitted
        && one.is_open() == other.is_open()
        && same_outline
        && tools(one) == tools(other)
        && deep(one) == deep(other)
}

/// The depth of holes in a row, once, at an axis through them.
fn depth_once(pattern: &Pattern, holes: &[&Opening], view: View, field: &mut Field) -> Vec<Mark> {
    let (Some(first), Some(last)) = (holes.first(), holes.last()) else {
        return vec![];
    };
    let mut marks = vec![];
    if holes.len() > 1 {
        let (from, to) = (first.bounds(), last.bounds());
        let y = middle(first).y;
        let ends = [from.x0 - PAST, to.x1 + PAST].map(|x| view.point(Point::new(x, y)));
        match field.place([axis(ends)]) {
            Some(drawn) => marks.extend(drawn),
            None => {
                let each = holes.iter();
                return each
                    .flat_map(|hole| depth_once(pattern, &[*hole], view, field))
                    .collect();
            }
        }
    }
    let words = pattern.units.figure(depth(pattern, first));
    let ways = holes.iter().enumerate().flat_map(|(at, hole)| {
        let inner = at > 0 && at + 1 < holes.len();
        let edge = pattern.panel.edge.at(hole.tape_at());
        let reach = (edge, middle(hole).y);
        upright_ways(
            hole.bounds(),
            reach,
            &words,
            if inner { 2.0 } else { 0.0 },
            view,
        )
    });
    let names: Vec<String> = holes.iter().map(|hole| hole.name()).collect();
    let untold = format!("{}: middle {words} from the datum edge", begun_with(&names));
    let bounds = first.bounds();
    let at = view.point(Point::new(bounds.x1, bounds.center().y));
    marks.extend(field.place_or_note(ways, at, &untold, Layer::Dimensions));
    marks
}

/// `9 × 30 (= 270)` where holes in a row are spaced alike, as figures tell it.
fn equal_spacing(pattern: &Pattern, holes: &[&Opening]) -> Option<String> {
    let units = pattern.units;
    let steps: Vec<f64> = holes
        .windows(2)
        .map(|pair| middle(pair[1]).x - middle(pair[0]).x)
        .collect();
    let (first, rest) = steps.split_first()?;
    let alike = rest.iter().all(|step| (step - first).abs() < IN_LINE);
    let whole: f64 = steps.iter().sum();
    alike.then(|| {
        let (each, all) = (units.figure(*first), units.figure(whole));
        format!("{} × {each} (= {all})", steps.len())
    })
}

/// Places for the dimension from the first to the last hole of a row: over it, or under it.
fn spacing_ways(
    holes: &[&Opening],
    words: &str,
    view: View,
) -> impl Iterator<Item = impl super::offer::Offer> {
    let (first, last) = (middle(holes[0]), middle(holes[holes.len() - 1]));
    let tallest = holes.iter().map(|hole| hole.bounds().height() / 2.0);
    let radius = tallest.fold(0.0, f64::max);
    let ways = (1..14).flat_map(move |row| {
        [1.0, -1.0].map(move |side| (f64::from(row), side * (radius + ROW * f64::from(row))))
    });
    ways.flat_map(move |(row, away)| {
        let off = view.point(Point::new(0.0, first.y + away)).y;
        let ends = [first, last].map(|end| {
            let start = radius.copysign(away);
            view.point(end + Vec2::new(0.0, start))
        });
        linear(ends[0], ends[1], Along::Across, off, words, 6.0 * row)
    })
}

/// An axis between two places of the page.
fn axis([from, to]: [Point; 2]) -> Candidate {
    let line = Line::new(from, to);
    let mut path = kurbo::BezPath::new();
    path.move_to(from);
    path.line_to(to);
    let pen = Pen::of(LineType::LongDashDot, Width::Thin);
    Candidate {
        marks: vec![Mark::stroke(Layer::Dimensions, path, pen)],
        lines: vec![line],
        ..Candidate::default()
    }
}

fn middle(hole: &Opening) -> Point {
    hole.bounds().center()
}

/// From the real datum edge to the middle of a hole, mm.
fn depth(pattern: &Pattern, hole: &Opening) -> f64 {
    middle(hole).y - pattern.panel.edge.at(hole.tape_at())
}

/// The crowd of each opening: openings that small gaps lead to.
fn crowds(openings: &[Opening]) -> Vec<usize> {
    let boxes: Vec<Rect> = openings.iter().map(|own| own.outline.bounds()).collect();
    let mut crowds: Vec<usize> = (0..boxes.len()).collect();
    for (at, own) in boxes.iter().enumerate() {
        let half = own.inflate(TOGETHER / 2.0, TOGETHER / 2.0);
        for other in 0..at {
            let near = boxes[other].inflate(TOGETHER / 2.0, TOGETHER / 2.0);
            let (from, to) = (crowds[at], crowds[other]);
            if from != to && near.overlaps(half) {
                for crowd in crowds.iter_mut().filter(|crowd| **crowd == from) {
                    *crowd = to;
                }
            }
        }
    }
    crowds
}

/// Adds one to the first group that it belongs to, or begins another.
fn join(groups: &mut Vec<Vec<usize>>, one: usize, belongs: impl Fn(usize) -> bool) {
    match groups.iter_mut().find(|group| belongs(group[0])) {
        Some(group) => group.push(one),
        None => groups.push(vec![one]),
    }
}
