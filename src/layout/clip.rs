//! Cutting strokes to a window, with dashes kept in step.

use super::ink::touches;
use crate::draw::ink::{Ink, Line, LineType, Mark, mark_bounds};
use kurbo::common::{solve_cubic, solve_quadratic};
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, PathEl, PathSeg, Point, Rect, Shape, Vec2};

/// Accuracy of arc lengths that dashes are counted by, mm.
const ARC_ACCURACY: f64 = 1e-6;

/// The work inside a window, moved to the page.
pub(super) fn work_in(work: &[Mark], bounds: &[Rect], window: Rect, by: Vec2) -> Vec<Mark> {
    work.iter()
        .zip(bounds)
        .filter(|(_, bounds)| touches(**bounds, window))
        .flat_map(|(mark, _)| {
            // Cut half a width outside, so that a slanting stroke fills the window to its edge.
            let half = match &mark.ink {
                Ink::Stroke { line, .. } => line.width.mm() / 2.0,
                _ => 0.0,
            };
            clip(mark, window.inflate(half, half))
        })
        .map(|mark| mark.moved(by))
        .collect()
}

/// The marks that `mark` leaves in `window`.
///
/// A stroke is split where it crosses the window's edges: exactly for lines, by the roots of the
/// curve's own polynomial for curves. Each piece begins in its dash pattern where the whole
/// stroke would be. A closed stroke wholly inside stays closed. Fills and lettering that meet the
/// window are kept whole; the writer clips them.
pub(crate) fn clip(mark: &Mark, window: Rect) -> Vec<Mark> {
    match &mark.ink {
        Ink::Stroke { path, line } => clip_stroke(path, *line, window)
            .into_iter()
            .map(|(path, line)| Mark::stroke(mark.layer, path, line))
            .collect(),
        Ink::Fill { .. } | Ink::Text(_) => {
            if touches(mark_bounds(mark), window) {
                vec![mark.clone()]
            } else {
                vec![]
            }
        }
    }
}

/// Pieces of a stroke inside `window`.
pub(crate) fn clip_stroke(path: &BezPath, line: Line, window: Rect) -> Vec<(BezPath, Line)> {
    let bounds = path.bounding_box();
    if !touches(bounds, window) {
        return vec![];
    }
    if super::ink::holds(window, bounds) {
        return vec![(path.clone(), line)];
    }
    subpaths(path)
        .into_iter()
        .flat_map(|subpath| clip_subpath(&subpath, line, window))
        .collect()
}

/// A path's runs, each with one beginning.
fn subpaths(path: &BezPath) -> Vec<BezPath> {
    let mut runs: Vec<BezPath> = Vec::new();
    let mut start = Point::ZERO;
    for element in path.elements() {
        match element {
            PathEl::MoveTo(to) => {
                start = *to;
                runs.push(BezPath::from_vec(vec![*element]));
            }
            _ => {
                let continues = runs
                    .last()
                    .is_some_and(|run| !matches!(run.elements().last(), Some(PathEl::ClosePath)));
                if !continues {
                    runs.push(BezPath::from_vec(vec![PathEl::MoveTo(start)]));
                }
                if let Some(run) = runs.last_mut() {
                    run.push(*element);
                }
            }
        }
    }
    runs
}

fn clip_subpath(run: &BezPath, line: Line, window: Rect) -> Vec<(BezPath, Line)> {
    let bounds = run.bounding_box();
    if !touches(bounds, window) {
        return vec![];
    }
    if super::ink::holds(window, bounds) {
        return vec![(run.clone(), line)];
    }
    let dashed = line.kind != LineType::Continuous;
    let closed = matches!(run.elements().last(), Some(PathEl::ClosePath));
    let mut pieces: Vec<(BezPath, Line)> = Vec::new();
    let (mut travelled, mut pen_down, mut begins_inside, mut first) = (0.0, false, false, true);
    for segment in run.segments() {
        let cuts = crossings(&segment, window);
        let mut from = 0.0;
        for to in cuts.into_iter().chain([1.0]) {
            if to <= from {
                continue;
            }
            let inside = window_holds(window, segment.eval((from + to) / 2.0));
            if inside {
                let part = segment.subsegment(from..to);
                if !pen_down {
                    let before = if dashed && from > 0.0 {
                        segment.subsegment(0.0..from).arclen(ARC_ACCURACY)
                    } else {
                        0.0
                    };
                    let phase = in_pattern(line, line.phase + travelled + before);
                    let mut piece = BezPath::new();
                    piece.move_to(part.start());
                    pieces.push((piece, Line { phase, ..line }));
                    begins_inside |= first;
                }
                if let Some((piece, _)) = pieces.last_mut() {
                    piece.push(part.as_path_el());
                }
            }
            pen_down = inside;
            first = false;
            from = to;
        }
        if dashed {
            travelled += segment.arclen(ARC_ACCURACY);
        }
    }
    // A continuous outline cut elsewhere has no end where it was begun.
    if closed && pen_down && begins_inside && !dashed && pieces.len() > 1 {
        let (opening, _) = pieces.remove(0);
        if let Some((last, _)) = pieces.last_mut() {
            last.extend(opening.elements().iter().skip(1).copied());
        }
    }
    pieces
}

/// A distance along a stroke as a place in its dash pattern.
fn in_pattern(line: Line, distance: f64) -> f64 {
    let length: f64 = line.kind.dashes(line.width).iter().sum();
    if length > 0.0 {
        distance.rem_euclid(length)
    } else {
        line.phase
    }
}

fn window_holds(window: Rect, point: Point) -> bool {
    point.x >= window.x0 && point.x <= window.x1 && point.y >= window.y0 && point.y <= window.y1
}

/// Parameters strictly between 0 and 1 where a segment crosses the lines of the window's edges.
fn crossings(segment: &PathSeg, window: Rect) -> Vec<f64> {
    let mut cuts = Vec::new();
    for (edge, along) in [
        (window.x0, across as fn(Point) -> f64),
        (window.x1, across),
        (window.y0, down),
        (window.y1, down),
    ] {
        match segment {
            PathSeg::Line(line) => {
                let (a, b) = (along(line.p0), along(line.p1));
                if a != b {
                    cuts.push((edge - a) / (b - a));
                }
            }
            PathSeg::Quad(quad) => {
                let (a, b, c) = (along(quad.p0), along(quad.p1), along(quad.p2));
                cuts.extend(solve_quadratic(a - edge, 2.0 * (b - a), a - 2.0 * b + c));
            }
            PathSeg::Cubic(cubic) => {
                let (a, b) = (along(cubic.p0), along(cubic.p1));
                let (c, d) = (along(cubic.p2), along(cubic.p3));
                cuts.extend(solve_cubic(
                    a - edge,
                    3.0 * (b - a),
                    3.0 * (a - 2.0 * b + c),
                    d - a + 3.0 * (b - c),
                ));
            }
        }
    }
    cuts.retain(|at| *at > 0.0 && *at < 1.0);
    cuts.sort_by(f64::total_cmp);
    cuts
}

fn across(point: Point) -> f64 {
    point.x
}

fn down(point: Point) -> f64 {
    point.y
}
