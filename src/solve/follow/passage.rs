//! The way from the edge to an opening, wide enough to bring the panel past a part that is
//! fitted already.
//!
//! A part's point that ends at some height has come through every height below it. So at each
//! height the passage is as wide as the opening is anywhere farther in: what lies under the
//! opening's upper line.

use super::OpeningError;
use crate::geometry::outline::{Outline, Segment, Side, Vertex};
use kurbo::{Point, Vec2};

/// Places along the edge nearer than this are one, mm.
const SAME_PLACE: f64 = 1e-7;

/// The opening swept towards smaller y, down to the edge at height `edge`.
///
/// Lines and arcs of its upper side stay as they are. The foot is open where it lies on the edge;
/// an opening that reaches past the edge keeps its own lowest height, for the caller to cut.
///
/// # Errors
/// An edge that is not finite, and an opening wholly past it.
pub fn open_at_edge(opening: &Outline, edge: f64) -> Result<Outline, OpeningError> {
    let bounds = opening.bounds();
    if !edge.is_finite() {
        return Err(OpeningError::BadNumber);
    }
    if bounds.y1 <= edge {
        return Err(OpeningError::PastEdge);
    }
    let floor = edge.min(bounds.y0);
    let pieces: Vec<Segment> = opening.sides().flat_map(upper_pieces).collect();
    let mut vertices = upper_line(&pieces);
    let (Some(first), Some(last)) = (vertices.first(), vertices.last()) else {
        return Err(OpeningError::PastEdge);
    };
    let (right, left) = (first.point.x, last.point.x);
    vertices.push(Vertex {
        point: Point::new(left, floor),
        bulge: 0.0,
        side: if floor == edge { Side::Open } else { Side::Cut },
    });
    vertices.push(straight(Point::new(right, floor)));
    Ok(Outline::tidied(vertices)?)
}

fn straight(point: Point) -> Vertex {
    Vertex {
        point,
        bulge: 0.0,
        side: Side::Cut,
    }
}

/// The pieces of a side along which the opening lies below: those that run to smaller x, cut
/// where an arc turns back.
fn upper_pieces(side: Segment) -> Vec<Segment> {
    let mut stops = vec![0.0, 1.0];
    if side.is_arc() {
        for direction in [Vec2::new(1.0, 0.0), Vec2::new(-1.0, 0.0)] {
            stops.extend(side.part_of_sweep(direction));
        }
        stops.sort_by(f64::total_cmp);
    }
    stops
        .windows(2)
        .map(|pair| side.piece(pair[0], pair[1]))
        .filter(|piece| piece.start.x - piece.end.x > SAME_PLACE)
        .collect()
}

/// Height of a piece at `x`, which lies within it.
fn height(piece: &Segment, x: f64) -> f64 {
    match piece.centre().zip(piece.radius()) {
        Some((centre, radius)) => {
            let off = x - centre.x;
            let rise = (radius * radius - off * off).max(0.0).sqrt();
            centre.y + rise.copysign(piece.bulge)
        }
        None => {
            let part = (x - piece.start.x) / (piece.end.x - piece.start.x);
            piece.start.lerp(piece.end, part.clamp(0.0, 1.0)).y
        }
    }
}

/// The highest pieces from right to left, joined by upright lines. Pieces of one outline never
/// cross, so between two ends of pieces the same one stays on top.
fn upper_line(pieces: &[Segment]) -> Vec<Vertex> {
    let mut places: Vec<f64> = pieces
        .iter()
        .flat_map(|piece| [piece.start.x, piece.end.x])
        .collect();
    places.sort_by(|one, other| other.total_cmp(one));
    places.dedup_by(|next, kept| *kept - *next < SAME_PLACE);
    let mut runs: Vec<(usize, f64, f64)> = Vec::new();
    for pair in places.windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let middle = f64::midpoint(from, to);
        let spans = |piece: &Segment| piece.start.x > middle && piece.end.x < middle;
        let top = (0..pieces.len())
            .filter(|&index| spans(&pieces[index]))
            .max_by(|&one, &other| {
                height(&pieces[one], middle).total_cmp(&height(&pieces[other], middle))
            });
        match (top, runs.last_mut()) {
            (Some(top), Some((last, _, end))) if *last == top => *end = to,
            (Some(top), _) => runs.push((top, from, to)),
            (None, _) => {}
        }
    }
    let mut vertices: Vec<Vertex> = Vec::with_capacity(2 * runs.len() + 2);
    for (index, from, to) in runs {
        let part = run(&pieces[index], from, to);
        if let Some(end) = vertices.last().map(|last| last.point)
            && end.distance(part.start) < SAME_PLACE
        {
            vertices.pop();
        }
        vertices.push(Vertex {
            bulge: part.bulge,
            ..straight(part.start)
        });
        vertices.push(straight(part.end));
    }
    vertices
}

/// What of a piece lies between two places.
fn run(piece: &Segment, from: f64, to: f64) -> Segment {
    let along = |x: f64| {
        if (x - piece.start.x).abs() < SAME_PLACE {
            0.0
        } else if (x - piece.end.x).abs() < SAME_PLACE {
            1.0
        } else {
            piece.nearest_t(Point::new(x, height(piece, x)))
        }
    };
    piece.piece(along(from), along(to))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::outline::{Corner, rounded, union};
    use std::f64::consts::PI;

    fn polygon(corners: &[(f64, f64, f64)]) -> Outline {
        let corners: Vec<Corner> = corners
            .iter()
            .map(|&(x, y, radius)| Corner {
                point: Point::new(x, y),
                radius,
                side: Side::Cut,
            })
            .collect();
        rounded(&corners).unwrap()
    }

    fn window(x0: f64, y0: f64, x1: f64, y1: f64, radius: f64) -> Outline {
        polygon(&[
            (x0, y0, radius),
            (x1, y0, radius),
            (x1, y1, radius),
            (x0, y1, radius),
        ])
    }

    #[track_caller]
    fn close(is: f64, should: f64) {
        assert!((is - should).abs() < 1e-6, "{is} should be {should}");
    }

    fn open_length(outline: &Outline) -> f64 {
        outline.length() - outline.cut_length()
    }

    #[test]
    fn a_disc_becomes_a_round_ended_notch() {
        let disc = window(-20.0, 30.0, 20.0, 70.0, 20.0);
        let notch = open_at_edge(&disc, 0.0).unwrap();
        close(notch.area(), 40.0 * 50.0 + 200.0 * PI);
        close(open_length(&notch), 40.0);
        let arcs = notch.sides().filter(Segment::is_arc);
        close(
            arcs.map(|arc| arc.radius().unwrap()).fold(0.0, f64::max),
            20.0,
        );
    }

    #[test]
    fn a_box_keeps_its_upper_corners() {
        let notch = open_at_edge(&window(10.0, 5.0, 90.0, 65.0, 8.0), -2.0).unwrap();
        close(notch.area(), 80.0 * 67.0 - 2.0 * 64.0 * (1.0 - PI / 4.0));
        assert_eq!(notch.sides().filter(Segment::is_arc).count(), 2);
        close(open_length(&notch), 80.0);
    }

    #[test]
    fn the_passage_is_as_wide_as_what_lies_farther_in() {
        // A T: a wide bar at 60 to 80, its stem down to 10. The bar must come through.
        let tee = polygon(&[
            (-10.0, 10.0, 0.0),
            (10.0, 10.0, 0.0),
            (10.0, 60.0, 0.0),
            (50.0, 60.0, 0.0),
            (50.0, 80.0, 0.0),
            (-50.0, 80.0, 0.0),
            (-50.0, 60.0, 0.0),
            (-10.0, 60.0, 0.0),
        ]);
        close(open_at_edge(&tee, 0.0).unwrap().area(), 100.0 * 80.0);
        // Upside down the stem needs no more than its own width.
        let stem = tee.placed(PI, Vec2::new(0.0, 90.0));
        close(
            open_at_edge(&stem, 0.0).unwrap().area(),
            100.0 * 30.0 + 20.0 * 50.0,
        );
    }

    #[test]
    fn an_overhang_is_filled_from_its_own_top() {
        // A hook: an arm at the right hangs over a bay and reaches down again.
        let hook = polygon(&[
            (0.0, 10.0, 0.0),
            (20.0, 10.0, 0.0),
            (20.0, 60.0, 0.0),
            (50.0, 60.0, 0.0),
            (50.0, 30.0, 0.0),
            (70.0, 30.0, 0.0),
            (70.0, 50.0, 0.0),
            (60.0, 80.0, 0.0),
            (0.0, 80.0, 0.0),
        ]);
        // Under the line 0..60 at 80, then sloping to (70, 50), then upright.
        close(
            open_at_edge(&hook, 0.0).unwrap().area(),
            60.0 * 80.0 + 10.0 * 65.0,
        );
    }

    #[test]
    fn two_humps_keep_the_hollow_between_them() {
        let humps = union(&[
            window(0.0, 20.0, 40.0, 60.0, 20.0),
            window(30.0, 20.0, 70.0, 60.0, 20.0),
        ]);
        let opened = open_at_edge(&humps[0].outer, 0.0).unwrap();
        // Half of the two discs' union stands above their middles at 40.
        let (r, d) = (20.0_f64, 30.0_f64);
        let lens = 2.0 * r * r * (d / (2.0 * r)).acos() - d / 2.0 * (4.0 * r * r - d * d).sqrt();
        close(opened.area(), 70.0 * 40.0 + (2.0 * PI * r * r - lens) / 2.0);
    }

    #[test]
    fn past_the_edge() {
        let disc = window(-20.0, -70.0, 20.0, -30.0, 20.0);
        assert_eq!(open_at_edge(&disc, 0.0), Err(OpeningError::PastEdge));
        let reaching = open_at_edge(&disc, -50.0).unwrap();
        close(reaching.area(), 40.0 * 20.0 + 200.0 * PI);
        assert_eq!(open_length(&reaching), 0.0);
        assert_eq!(open_at_edge(&disc, f64::NAN), Err(OpeningError::BadNumber));
    }
}
