//! The cut line: what of it can be seen, and how far two of them are apart.

use super::layers::Layers;
use super::segments::flattened;
use crate::check::verify::measured::{MeasuredPage, Stroke};
use kurbo::{Affine, Line, ParamCurve, ParamCurveNearest, PathEl, Point, Rect, Shape};
use std::collections::HashMap;

/// How near straight pieces follow a curve, mm.
const FLAT: f64 = 0.002;
/// Width of the cut line, mm.
const WIDTH: f64 = 0.7;
/// How much a width may be off and still be that of the cut line, mm.
const WIDTH_WITHIN: f64 = 0.06;
/// Longest sample of the cut line in instructions, mm.
const LONGEST_SAMPLE: f64 = 30.0;
/// Ends this near to each other meet, mm.
const MEETS: f64 = 0.05;

/// The cut line of a page or of a definition, as straight pieces.
#[derive(Debug, Clone, Default)]
pub(crate) struct CutLine {
    pub(crate) pieces: Vec<Line>,
}

impl CutLine {
    pub(crate) fn is_empty(&self) -> bool {
        self.pieces.is_empty()
    }

    pub(crate) fn length(&self) -> f64 {
        self.pieces.iter().map(|p| (p.p1 - p.p0).hypot()).sum()
    }

    pub(crate) fn bounds(&self) -> Option<Rect> {
        self.pieces
            .iter()
            .map(|piece| Rect::from_points(piece.p0, piece.p1))
            .reduce(|all, next| all.union(next))
    }

    pub(crate) fn mapped(&self, to: Affine) -> Self {
        Self {
            pieces: self.pieces.iter().map(|piece| to * *piece).collect(),
        }
    }

    /// Points along it, `step` mm apart at most, ends of pieces among them.
    pub(crate) fn points(&self, step: f64) -> impl Iterator<Item = Point> + '_ {
        self.pieces.iter().flat_map(move |piece| {
            let count = ((piece.p1 - piece.p0).hypot() / step).ceil().max(1.0);
            (0..=count as usize).map(move |n| piece.eval(n as f64 / count))
        })
    }
}

/// The strokes of a page that are its cut line: those of the layer, or where there are no layers
/// those that are as wide and unbroken as nothing else but a sample of it.
pub(crate) fn cut_strokes(
    page: &MeasuredPage,
    layers: Layers,
    scale: f64,
    window: Option<Rect>,
) -> impl Iterator<Item = (usize, &Stroke)> {
    let by_form: Vec<&Stroke> = match layers.are_told() {
        true => vec![],
        false => page
            .strokes
            .iter()
            .filter(|stroke| is_like_cut(stroke, scale))
            .collect(),
    };
    let all = page.strokes.iter().enumerate();
    all.filter(move |(_, stroke)| match layers.are_told() {
        true => layers.may_be(stroke, layers.cut),
        false => is_like_cut(stroke, scale) && !is_sample(stroke, &by_form, window),
    })
}

/// Whether a stroke of the cut line can be cut to: seen, unbroken, no hairline and no band. Other
/// programs may draw it a little thinner or thicker.
pub(crate) fn is_line_to_cut(stroke: &Stroke, scale: f64) -> bool {
    let width = stroke.width / scale;
    stroke.visible && !stroke.dashes.any() && (WIDTH / 3.0..=WIDTH * 2.0).contains(&width)
}

fn is_like_cut(stroke: &Stroke, scale: f64) -> bool {
    !stroke.dashes.any() && (stroke.width / scale - WIDTH).abs() <= WIDTH_WITHIN
}

/// A short straight line by itself, as instructions show it; a cut line goes on or meets an edge.
fn is_sample(stroke: &Stroke, all: &[&Stroke], window: Option<Rect>) -> bool {
    let [PathEl::MoveTo(from), PathEl::LineTo(to)] = stroke.path.elements() else {
        return false;
    };
    let inner = window.unwrap_or(Rect::ZERO).inset(-1.0);
    let ends = [*from, *to];
    let meets = |other: &&&Stroke| {
        !std::ptr::eq(**other, stroke)
            && other
                .path
                .elements()
                .iter()
                .filter_map(PathEl::end_point)
                .any(|point| ends.iter().any(|end| end.distance(point) < MEETS))
    };
    from.distance(*to) < LONGEST_SAMPLE
        && ends.iter().all(|end| inner.contains(*end))
        && !all.iter().any(|other| meets(&other))
}

/// What of these strokes can be seen on the page, in the sheet's own directions.
pub(crate) fn seen<'p>(
    strokes: impl Iterator<Item = &'p Stroke>,
    shown: Rect,
    to_sheet: Affine,
) -> CutLine {
    let mut pieces = vec![];
    let mut flat = vec![];
    for stroke in strokes.filter(|stroke| stroke.visible) {
        flat.clear();
        flattened(&stroke.path, FLAT, &mut flat);
        let window = match stroke.painted.clip.bounds {
            Some(clip) => clip.intersect(shown),
            None => shown,
        };
        pieces.extend(
            flat.iter()
                .filter_map(|piece| inside(*piece, window))
                .map(|piece| to_sheet * piece),
        );
    }
    CutLine { pieces }
}

/// The part of a line that lies in a box (Liang and Barsky, 1984).
pub(crate) fn inside(piece: Line, window: Rect) -> Option<Line> {
    let along = piece.p1 - piece.p0;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (step, low, high) in [
        (along.x, window.x0 - piece.p0.x, window.x1 - piece.p0.x),
        (along.y, window.y0 - piece.p0.y, window.y1 - piece.p0.y),
    ] {
        if step.abs() < 1e-12 {
            if low > 0.0 || high < 0.0 {
                return None;
            }
        } else {
            from = from.max((low / step).min(high / step));
            to = to.min((low / step).max(high / step));
        }
    }
    (from < to).then(|| piece.subsegment(from..to))
}

/// Side of the squares that pieces are sorted into, mm.
const CELL: f64 = 8.0;
/// Distances are told up to this, mm; beyond it a thing is simply not there.
pub(crate) const FAR: f64 = 4.0;

/// Pieces sorted by place, so that the nearest to a point is soon found.
#[derive(Debug)]
pub(crate) struct Index<'c> {
    pieces: &'c [Line],
    cells: HashMap<(i32, i32), Vec<u32>>,
}

impl<'c> Index<'c> {
    pub(crate) fn of(cut: &'c CutLine) -> Self {
        let mut cells: HashMap<(i32, i32), Vec<u32>> = HashMap::new();
        for (index, piece) in cut.pieces.iter().enumerate() {
            // Long pieces go into the squares along them, not into all of their box.
            let length = (piece.p1 - piece.p0).hypot();
            let parts = (length / CELL).ceil().clamp(1.0, 1e5);
            for part in 0..parts as usize {
                let ends = [part, part + 1].map(|end| piece.eval(end as f64 / parts));
                let near = Rect::from_points(ends[0], ends[1]).inflate(FAR, FAR);
                for column in cell(near.x0)..=cell(near.x1) {
                    for row in cell(near.y0)..=cell(near.y1) {
                        let inside = cells.entry((column, row)).or_default();
                        if inside.last() != Some(&(index as u32)) {
                            inside.push(index as u32);
                        }
                    }
                }
            }
        }
        Self {
            pieces: &cut.pieces,
            cells,
        }
    }

    /// Distance of the nearest piece, mm, [`FAR`] at most.
    pub(crate) fn distance(&self, point: Point) -> f64 {
        let near = self.cells.get(&(cell(point.x), cell(point.y)));
        let nearest = near
            .into_iter()
            .flatten()
            .map(|index| {
                self.pieces[*index as usize]
                    .nearest(point, 1e-9)
                    .distance_sq
            })
            .fold(FAR * FAR, f64::min);
        nearest.sqrt()
    }

    /// How far the points of another are from this at most, and which point that is.
    pub(crate) fn farthest(&self, points: impl Iterator<Item = Point>) -> (f64, Point) {
        let mut worst = (0.0, Point::ZERO);
        for point in points {
            let off = self.distance(point);
            if off > worst.0 {
                worst = (off, point);
            }
        }
        worst
    }
}

fn cell(at: f64) -> i32 {
    (at / CELL).floor().clamp(-1e8, 1e8) as i32
}

/// Box round strokes as painted, half a width all round, before any clip.
pub(crate) fn painted_box<'p>(strokes: impl Iterator<Item = &'p Stroke>) -> Option<Rect> {
    strokes
        .map(|stroke| stroke.path.bounding_box())
        .reduce(|all, next| all.union(next))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Circle;

    fn circle(radius: f64) -> CutLine {
        let mut pieces = vec![];
        flattened(
            &Circle::new((0.0, 0.0), radius).to_path(1e-4),
            FLAT,
            &mut pieces,
        );
        CutLine { pieces }
    }

    #[test]
    fn distances_are_those_of_circles() {
        let inner = circle(50.0);
        let outer = circle(50.3);
        let index = Index::of(&inner);
        let (off, at) = index.farthest(outer.points(0.5));
        assert!((off - 0.3).abs() < 0.003, "{off} at {at:?}");
        assert!(
            (inner.length() - 314.159_265).abs() < 0.02,
            "{}",
            inner.length()
        );
        let (none, _) = index.farthest(inner.points(0.5));
        assert!(none < 1e-9, "{none}");
        assert_eq!(index.distance(Point::new(0.0, 0.0)), FAR);
    }
}
