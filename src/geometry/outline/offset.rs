//! Outlines grown or shrunk by a distance.

use super::boolean::with_holes;
use super::polyline::{from_polyline, to_polyline};
use super::{Outline, Region};
use cavalier_contours::polyline::{PlineOrientation, PlineSource, Polyline};

/// The outline grown by `distance` mm, or shrunk where it is negative.
///
/// Exact: corners that stand out grow round as true arcs. Growing may close a bay, which leaves
/// a hole; shrinking may part the outline, or leave nothing. All sides come back as to be cut.
pub fn offset(outline: &Outline, distance: f64) -> Vec<Region> {
    if distance == 0.0 {
        let whole = from_polyline(&to_polyline(outline));
        return with_holes(whole.into_iter().collect(), Vec::new());
    }
    // The library counts to the left of the line: inward for one that runs counter-clockwise.
    let lines = to_polyline(outline).parallel_offset(-distance);
    let (kept, turned): (Vec<Polyline<f64>>, Vec<_>) = lines
        .into_iter()
        .partition(|line| line.orientation() == PlineOrientation::CounterClockwise);
    let outlines = |lines: &[Polyline<f64>]| lines.iter().filter_map(from_polyline).collect();
    // A line that has turned over is a bay that closed when growing; when shrinking it is what
    // was shrunk past nothing.
    let holes = if distance > 0.0 {
        outlines(&turned)
    } else {
        Vec::new()
    };
    with_holes(outlines(&kept), holes)
}

#[cfg(test)]
mod tests {
    use super::super::{Corner, Side, rounded};
    use super::*;
    use kurbo::Point;
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

    fn disc(radius: f64) -> Outline {
        let r = radius;
        polygon(&[(-r, -r, r), (r, -r, r), (r, r, r), (-r, r, r)])
    }

    fn area(regions: &[Region]) -> f64 {
        regions.iter().map(Region::area).sum()
    }

    #[track_caller]
    fn close(is: f64, should: f64) {
        assert!((is - should).abs() < 1e-6, "{is} should be {should}");
    }

    #[test]
    fn grown_outlines_follow_steiner() {
        // Steiner: a convex area A of length L grown by d is A + L d + pi d^2.
        for shape in [
            polygon(&[
                (0.0, 0.0, 0.0),
                (60.0, 0.0, 0.0),
                (60.0, 40.0, 0.0),
                (0.0, 40.0, 0.0),
            ]),
            polygon(&[
                (0.0, 0.0, 4.0),
                (60.0, 0.0, 9.0),
                (70.0, 40.0, 0.0),
                (5.0, 55.0, 2.0),
            ]),
            disc(25.0),
        ] {
            for turn in [0.0, 0.3, 1.9] {
                let shape = shape.placed(turn, (700.0, -20.0).into());
                for distance in [0.5, 6.0, 120.0] {
                    let grown = offset(&shape, distance);
                    assert_eq!(grown.len(), 1);
                    close(
                        area(&grown),
                        shape.area() + shape.length() * distance + PI * distance * distance,
                    );
                }
            }
        }
    }

    #[test]
    fn shrinking_past_nothing_leaves_nothing() {
        close(area(&offset(&disc(25.0), -10.0)), 225.0 * PI);
        for distance in [-25.0, -26.0, -40.0, -60.0, -500.0] {
            assert!(offset(&disc(25.0), distance).is_empty(), "{distance}");
        }
        let plate = polygon(&[
            (0.0, 0.0, 3.0),
            (60.0, 0.0, 3.0),
            (60.0, 40.0, 3.0),
            (0.0, 40.0, 3.0),
        ]);
        close(area(&offset(&plate, -5.0)), 1500.0);
        for distance in [-20.0, -25.0, -35.0, -100.0] {
            assert!(offset(&plate, distance).is_empty(), "{distance}");
        }
    }

    #[test]
    fn a_dumbbell_parts_and_a_bay_closes() {
        let dumbbell = polygon(&[
            (0.0, 0.0, 0.0),
            (30.0, 0.0, 0.0),
            (30.0, 10.0, 0.0),
            (60.0, 10.0, 0.0),
            (60.0, 0.0, 0.0),
            (90.0, 0.0, 0.0),
            (90.0, 30.0, 0.0),
            (60.0, 30.0, 0.0),
            (60.0, 20.0, 0.0),
            (30.0, 20.0, 0.0),
            (30.0, 30.0, 0.0),
            (0.0, 30.0, 0.0),
        ]);
        let parted = offset(&dumbbell, -6.0);
        assert_eq!(parted.len(), 2);
        // Into the neck, 5 to each side of its middle, the rounds of 6 about its corners leave a cusp.
        let cusp = 2.0 * (6.0 * 5.0 - 18.0 * (5.0_f64 / 6.0).asin() - 0.5 * 5.0 * 11_f64.sqrt());
        close(area(&parted), 2.0 * (18.0 * 18.0 + cusp));
        // A room of 40 x 40 with a door 8 wide through a wall of 10: the door shuts at 4.
        let room = polygon(&[
            (0.0, 0.0, 0.0),
            (60.0, 0.0, 0.0),
            (60.0, 60.0, 0.0),
            (34.0, 60.0, 0.0),
            (34.0, 50.0, 0.0),
            (50.0, 50.0, 0.0),
            (50.0, 10.0, 0.0),
            (10.0, 10.0, 0.0),
            (10.0, 50.0, 0.0),
            (26.0, 50.0, 0.0),
            (26.0, 60.0, 0.0),
            (0.0, 60.0, 0.0),
        ]);
        let shut = offset(&room, 5.0);
        assert_eq!(shut.len(), 1);
        assert_eq!(shut[0].holes.len(), 1);
        // Inside the door both corners' rounds meet 3 below the wall: 5^2 = 4^2 + 3^2.
        let cusp = 2.0 * (4.0 * 5.0 - 25.0 * (0.8_f64.asin() / 2.0) - 0.5 * 4.0 * 3.0);
        close(shut[0].holes[0].area(), 900.0 + cusp);
    }

    #[test]
    fn grown_points_keep_their_distance() {
        let star = polygon(&[
            (0.0, 0.0, 1.0),
            (40.0, 15.0, 0.0),
            (80.0, 0.0, 2.0),
            (60.0, 40.0, 5.0),
            (20.0, 70.0, 0.0),
        ]);
        for region in offset(&star, 7.0) {
            for side in region.outer.sides() {
                for step in 0..=8 {
                    let (distance, _) = star.distance(side.at(f64::from(step) / 8.0));
                    close(distance, 7.0);
                }
            }
        }
    }
}
