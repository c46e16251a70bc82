//! Sheets laid side by side by their register marks, as a fitter lays them.

use kurbo::{Affine, BezPath, Line, ParamCurve, Point, Rect, Shape, Vec2};

/// What a fitter sees of one sheet of work, mm.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// What it may show.
    pub window: Rect,
    /// Pieces of the cut line.
    pub cut: Vec<BezPath>,
    /// Register marks: label, and where it stands.
    pub marks: Vec<(String, Point)>,
}

impl Sheet {
    fn moved(&self, by: Vec2) -> Self {
        let to = Affine::translate(by);
        Self {
            window: self.window + by,
            cut: self.cut.iter().map(|path| to * path.clone()).collect(),
            marks: self
                .marks
                .iter()
                .map(|(label, at)| (label.clone(), *at + by))
                .collect(),
        }
    }
}

/// The sheets in one frame: each laid against one laid before by the first mark that they share.
pub fn lay(sheets: &[Sheet]) -> Vec<Sheet> {
    let mut laid: Vec<Sheet> = vec![sheets[0].clone()];
    let mut left: Vec<&Sheet> = sheets[1..].iter().collect();
    while !left.is_empty() {
        let (index, by) = left
            .iter()
            .enumerate()
            .find_map(|(index, sheet)| {
                let there = |label: &String| {
                    let marks = laid.iter().flat_map(|sheet| &sheet.marks);
                    marks.clone().find(|mark| mark.0 == *label)
                };
                let shared = |mark: &(String, Point)| Some(there(&mark.0)?.1 - mark.1);
                Some((index, sheet.marks.iter().find_map(shared)?))
            })
            .expect("every sheet shares a mark with another");
        laid.push(left.remove(index).moved(by));
    }
    laid
}

/// Straight pieces that follow paths within 0.0001 mm.
pub fn straight_pieces<'a>(paths: impl IntoIterator<Item = &'a BezPath>) -> Vec<Line> {
    let mut pieces = vec![];
    for path in paths {
        let mut flat = BezPath::new();
        kurbo::flatten(path.iter(), 1e-4, |element| flat.push(element));
        pieces.extend(flat.segments().map(|segment| match segment {
            kurbo::PathSeg::Line(line) => line,
            other => panic!("{other:?} is not straight"),
        }));
    }
    pieces
}

/// Length of the pieces, mm.
pub fn length(pieces: &[Line]) -> f64 {
    pieces
        .iter()
        .map(|piece| (piece.p1 - piece.p0).hypot())
        .sum()
}

/// Box round the paths.
pub fn extents<'a>(paths: impl IntoIterator<Item = &'a BezPath>) -> Rect {
    let boxes = paths.into_iter().map(Shape::bounding_box);
    boxes.reduce(|all, next| all.union(next)).unwrap()
}

/// Length of the cut line that the sheets show between them, what several show counted once:
/// each piece counts on the first sheet whose window holds it.
pub fn shown_length(laid: &[Sheet]) -> f64 {
    let mut sum = 0.0;
    for (index, sheet) in laid.iter().enumerate() {
        let earlier: Vec<Rect> = laid[..index].iter().map(|sheet| sheet.window).collect();
        for piece in straight_pieces(&sheet.cut) {
            let Some(own) = inside(piece, sheet.window) else {
                continue;
            };
            sum += (piece.p1 - piece.p0).hypot() * left_of(own, piece, &earlier);
        }
    }
    sum
}

/// The share of `own` that none of the windows holds.
fn left_of(own: (f64, f64), piece: Line, windows: &[Rect]) -> f64 {
    let mut taken: Vec<(f64, f64)> = windows
        .iter()
        .filter_map(|window| inside(piece, *window))
        .collect();
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut left, mut from) = (0.0, own.0);
    for (start, end) in taken {
        left += (start.min(own.1) - from).max(0.0);
        from = from.max(end);
    }
    left + (own.1 - from).max(0.0)
}

/// Where along a piece, from 0 to 1, it lies in a window: cut wherever it meets a side, it is in
/// there between two cuts if its middle is.
pub fn inside(piece: Line, window: Rect) -> Option<(f64, f64)> {
    let around = Rect::from_points(piece.p0, piece.p1);
    let shared = around.intersect(window.inflate(1.0, 1.0));
    if shared.width() <= 0.0 && shared.height() <= 0.0 {
        return None;
    }
    let sides = window.path_segments(0.1);
    let met = sides.flat_map(|side| side.intersect_line(piece));
    let mut cuts: Vec<f64> = met.map(|met| met.line_t).chain([0.0, 1.0]).collect();
    cuts.sort_by(f64::total_cmp);
    let parts = cuts.windows(2).map(|pair| (pair[0], pair[1]));
    parts
        .filter(|(from, to)| from < to && window.contains(piece.eval((from + to) / 2.0)))
        .reduce(|all, next| (all.0, next.1))
}
