//! Which sides of an opening lie on the panel's edge.

use super::{Outline, Runs, Segment, Side, Vertex};

/// A side this near to the panel's edge all along is on it, mm: the accuracy of a pattern.
pub const ON_EDGE: f64 = 0.01;

/// The outline with each side open besides that lies within `tolerance` mm of the line of `edge` all
/// along.
///
/// Ends, and where the edge's own corners come nearest, are looked at, with three points between
/// each of these: exact where both lines are straight, and within a sixteenth of the bow of one
/// arc over another.
pub fn mark_open(outline: &Outline, edge: &Outline, tolerance: f64) -> Outline {
    let reach = edge.bounds().inflate(tolerance, tolerance);
    let line = Runs::new(edge.sides());
    let vertices = outline
        .sides()
        .map(|side| {
            let near = reach.contains(side.start) && reach.contains(side.end);
            let open = near && lies_along(&side, edge, &line, tolerance);
            Vertex {
                point: side.start,
                bulge: side.bulge,
                side: if open { Side::Open } else { side.side },
            }
        })
        .collect();
    Outline { vertices }
}

fn lies_along(side: &Segment, edge: &Outline, line: &Runs, tolerance: f64) -> bool {
    let on_edge = |t: f64| line.come_near(side.at(t), tolerance);
    if !on_edge(0.0) || !on_edge(1.0) || !on_edge(0.5) {
        return false;
    }
    let mut stops: Vec<f64> = edge
        .vertices()
        .iter()
        .map(|vertex| side.nearest_t(vertex.point))
        .chain([0.0, 1.0])
        .collect();
    stops.sort_by(f64::total_cmp);
    stops.windows(2).all(|pair| {
        let (from, to) = (pair[0], pair[1]);
        [0.25, 0.5, 0.75, 1.0]
            .into_iter()
            .all(|part| from == to || on_edge(from + (to - from) * part))
    })
}

#[cfg(test)]
mod tests {
    use super::super::{Corner, difference, intersection, rounded};
    use super::*;
    use kurbo::Point;

    fn polygon(points: &[(f64, f64)]) -> Outline {
        let corners: Vec<Corner> = points
            .iter()
            .map(|&point| Corner {
                point: point.into(),
                radius: 0.0,
                side: Side::Cut,
            })
            .collect();
        rounded(&corners).unwrap()
    }

    fn open_length(outline: &Outline) -> f64 {
        outline.length() - outline.cut_length()
    }

    #[test]
    fn a_mouth_on_a_straight_edge_is_open_and_the_rest_is_cut() {
        let panel = polygon(&[(-400.0, 0.0), (400.0, 0.0), (400.0, 300.0), (-400.0, 300.0)]);
        let notch = polygon(&[(-40.0, 0.0), (40.0, 0.0), (40.0, 60.0), (-40.0, 60.0)]);
        let marked = mark_open(&notch, &panel, ON_EDGE);
        assert!((open_length(&marked) - 80.0).abs() < 1e-9);
        let off = notch.placed(0.0, (0.0, 0.02).into());
        assert_eq!(open_length(&mark_open(&off, &panel, ON_EDGE)), 0.0);
        let slight = notch.placed(0.0, (0.0, 0.009).into());
        assert!((open_length(&mark_open(&slight, &panel, ON_EDGE)) - 80.0).abs() < 1e-9);
    }

    #[test]
    fn a_side_across_a_hollow_of_the_edge_is_cut() {
        let panel = polygon(&[
            (-400.0, 0.0),
            (-1.0, 0.0),
            (0.0, 0.5),
            (1.0, 0.0),
            (400.0, 0.0),
            (400.0, 300.0),
            (-400.0, 300.0),
        ]);
        let notch = polygon(&[(-90.0, 0.0), (70.0, 0.0), (70.0, 60.0), (-90.0, 60.0)]);
        assert_eq!(open_length(&mark_open(&notch, &panel, ON_EDGE)), 0.0);
    }

    #[test]
    fn the_mouth_on_a_bowed_edge_follows_it() {
        let straight = |x, y| Vertex {
            point: Point::new(x, y),
            bulge: 0.0,
            side: Side::Cut,
        };
        let bowed = Vertex {
            bulge: 0.02,
            ..straight(-400.0, 0.0)
        };
        let panel = Outline::new(vec![
            bowed,
            straight(400.0, 0.0),
            straight(400.0, 300.0),
            straight(-400.0, 300.0),
        ])
        .unwrap();
        let reaching = polygon(&[(-40.0, -30.0), (40.0, -30.0), (40.0, 60.0), (-40.0, 60.0)]);
        let clipped = intersection(&reaching, &panel);
        assert_eq!(clipped.len(), 1);
        let marked = mark_open(&clipped[0], &panel, ON_EDGE);
        let open: Vec<_> = marked
            .sides()
            .filter(|side| side.side == Side::Open)
            .collect();
        assert_eq!(open.len(), 1);
        assert!(open[0].is_arc());
        assert!((open[0].end.x - open[0].start.x - 80.0).abs() < 1e-6);
        // What is left of the panel has the cut on its line as well.
        let left = difference(&panel, &reaching);
        let sum = left[0].area() + clipped[0].area();
        assert!((sum - panel.area()).abs() < 1e-6);
    }
}
