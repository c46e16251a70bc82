//! Pieces of strokes over a partition.

use crate::draw::ink::{Line, LineType, Width};
use crate::layout::clip::clip_stroke;
use kurbo::{BezPath, Circle, PathEl, Point, Rect, Shape};
use proptest::prelude::*;

const THICK: Line = Line::continuous(Width::Thick);

fn wave() -> BezPath {
    let mut path = BezPath::new();
    path.move_to((1.0, 2.0));
    path.curve_to((60.0, 190.0), (120.0, -90.0), (199.0, 97.0));
    path.quad_to((150.0, 20.0), (90.0, 88.0));
    path.line_to((3.0, 71.0));
    path
}

#[test]
fn a_closed_stroke_inside_stays_closed() {
    let circle = Circle::new((50.0, 50.0), 20.0).to_path(0.001);
    let pieces = clip_stroke(&circle, THICK, Rect::new(0.0, 0.0, 100.0, 100.0));
    assert_eq!(pieces.len(), 1);
    assert_eq!(pieces[0].0, circle);
}

#[test]
fn a_stroke_outside_leaves_nothing() {
    let pieces = clip_stroke(&wave(), THICK, Rect::new(300.0, 0.0, 400.0, 100.0));
    assert!(pieces.is_empty());
    // Round the window, its box over it.
    let round = Circle::new((50.0, 50.0), 100.0).to_path(0.001);
    assert!(clip_stroke(&round, THICK, Rect::new(40.0, 40.0, 60.0, 60.0)).is_empty());
}

#[test]
fn a_closed_stroke_has_no_end_where_it_was_begun() {
    let mut square = BezPath::new();
    square.move_to((10.0, 10.0));
    square.line_to((90.0, 10.0));
    square.line_to((90.0, 90.0));
    square.line_to((10.0, 90.0));
    square.close_path();
    let pieces = clip_stroke(&square, THICK, Rect::new(0.0, 0.0, 50.0, 50.0));
    assert_eq!(pieces.len(), 1, "{pieces:?}");
    let (path, _) = &pieces[0];
    assert_eq!(
        path.elements().first(),
        Some(&PathEl::MoveTo(Point::new(10.0, 50.0)))
    );
    assert!((path.perimeter(1e-9) - 80.0).abs() < 1e-9);
}

#[test]
fn dashes_stay_in_step() {
    // A straight dashed line cut at 37 mm goes on 37 mm into its pattern.
    let line = Line {
        phase: 1.5,
        ..Line::of(LineType::LongDashDot, Width::Thin)
    };
    let mut path = BezPath::new();
    path.move_to((0.0, 5.0));
    path.line_to((100.0, 5.0));
    let pieces = clip_stroke(&path, line, Rect::new(37.0, 0.0, 60.0, 10.0));
    let pattern: f64 = line.kind.dashes(line.width).iter().sum();
    assert_eq!(pieces.len(), 1);
    let told = pieces[0].1.phase;
    assert!(
        (told - (38.5_f64).rem_euclid(pattern)).abs() < 1e-6,
        "{told}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(100))]

    /// Over a partition of the plane the pieces' lengths add up to the whole stroke's.
    #[test]
    fn pieces_add_up(cut_x in 5.0..195.0_f64, cut_y in -20.0..110.0_f64, closed in any::<bool>()) {
        let mut path = wave();
        if closed {
            path.close_path();
        }
        path.extend(Circle::new((100.0, 50.0), 42.0).to_path(0.001).elements().iter().copied());
        let whole = path.perimeter(1e-7);
        let far = 1000.0;
        let windows = [
            Rect::new(-far, -far, cut_x, cut_y),
            Rect::new(cut_x, -far, far, cut_y),
            Rect::new(-far, cut_y, cut_x, far),
            Rect::new(cut_x, cut_y, far, far),
        ];
        let sum: f64 = windows
            .into_iter()
            .flat_map(|window| {
                let pieces = clip_stroke(&path, THICK, window);
                for (piece, _) in &pieces {
                    let inside = window.inflate(1e-6, 1e-6);
                    assert!(crate::layout::ink::holds(inside, piece.bounding_box()), "{piece:?}");
                }
                pieces
            })
            .map(|(piece, _)| piece.perimeter(1e-7))
            .sum();
        prop_assert!((sum - whole).abs() < 1e-4, "{} is not {}", sum, whole);
    }
}
