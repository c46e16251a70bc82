use super::*;
use proptest::prelude::*;

fn tie(from: (f64, f64), at: Point, uncertainty: f64) -> Tie {
    let from = Point::from(from);
    Tie {
        from,
        to: Vec2::ZERO,
        distance: from.distance(at),
        uncertainty,
        common: 0.0,
    }
}

/// Whether a place has a widest crossing of its lines to these features that places it.
fn crosses(from: &[(f64, f64)], at: Point) -> bool {
    let ways: Vec<Vec2> = from.iter().map(|from| at - Point::from(*from)).collect();
    let wide = |a: &Vec2, b: &Vec2| a.cross(*b).abs() / (a.hypot() * b.hypot());
    let widest = ways
        .iter()
        .flat_map(|a| ways.iter().map(move |b| wide(a, b)));
    ways.iter().all(|way| way.hypot() > 20.0) && widest.fold(0.0, f64::max) > 0.36
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

    #[test]
    fn without_noise_the_point_comes_back(
        from in prop::collection::vec((-600.0..600.0_f64, 0.0..400.0_f64), 2..6),
        at in (-500.0..500.0_f64, 0.0..400.0_f64),
        to in (-60.0..60.0_f64, -40.0..40.0_f64),
    ) {
        let at = Point::from(at);
        let held = at + Vec2::from(to);
        prop_assume!(crosses(&from, held));
        let ties: Vec<Tie> = from
            .iter()
            .map(|from| Tie { to: to.into(), ..tie(*from, held, 0.5) })
            .collect();
        // Near the truth only: two distances alone have a mirrored place.
        let placed = place(&ties, |one| one.distance(at) < 1e-3).unwrap();
        prop_assert!(placed.at.distance(at) < 1e-9, "{placed:?}");
        prop_assert!(!placed.disagree());
    }

    /// Two distances of one uncertainty u that cross at gamma: the variance of the place, both ways
    /// together, is 2 u^2 / sin^2 gamma (error propagation; GUM 5.1.2).
    #[test]
    fn a_narrow_crossing_widens_the_place(
        gamma in 21.0..90.0_f64, one in 50.0..700.0_f64, other in 50.0..700.0_f64,
        turn in 0.0..360.0_f64, u in 0.1..2.0_f64,
    ) {
        let feature = |distance: f64, angle: f64| {
            let way = Vec2::from_angle(angle.to_radians()) * distance;
            (way.x, way.y)
        };
        let features = [feature(one, turn), feature(other, turn + gamma)];
        let ties = features.map(|from| tie(from, Point::ZERO, u));
        let placed = place(&ties, |at| at.to_vec2().hypot() < 1e-3).unwrap();
        let sine = gamma.to_radians().sin();
        let is = placed.uncertainty.hypot();
        prop_assert!((is - 2.0_f64.sqrt() * u / sine).abs() < 1e-6 * is);
        prop_assert!((placed.crossing - gamma).abs() < 1e-6);

        // What stands for it each way holds the ellipse of the place, whichever way that lies: in no
        // direction d may sqrt(d^T C d) reach farther (support function of an ellipse).
        let (s, r) = (placed.uncertainty, placed.correlation);
        let half = placed.half_widths(3.0_f64.sqrt());
        for step in 0..180 {
            let d = Vec2::from_angle(f64::from(step).to_radians());
            let spread = (d.x * s.x).powi(2) + (d.y * s.y).powi(2) + 2.0 * r * d.x * d.y * s.x * s.y;
            let held = half.x.min(half.y)
                + (half.x - half.y).abs() * if half.x > half.y { d.x.abs() } else { d.y.abs() };
            prop_assert!(held >= (3.0 * spread).sqrt() - 1e-9, "{step}: {held}, {spread}");
        }
    }
}

const FEATURES: [(f64, f64); 2] = [(-200.0, 50.0), (200.0, 50.0)];

#[test]
fn of_two_mirrored_places_the_one_on_the_panel_is_taken() {
    let at = Point::new(30.0, 200.0);
    let two = FEATURES.map(|from| tie(from, at, 0.5));
    // The other lies at 100 mm past the edge of the panel.
    assert!(place(&two, |one| one.y > 0.0).unwrap().at.distance(at) < 1e-9);
    assert!(matches!(place(&two, |_| true), Err(TieError::Two(..))));
    assert!(matches!(
        place(&two, |one| one.x > 900.0),
        Err(TieError::OffPanel(_))
    ));
    // A third distance decides.
    let third = tie((0.0, 20.0), at, 0.5);
    let three = [two[0], two[1], third];
    assert!(place(&three, |_| true).unwrap().at.distance(at) < 1e-9);
}

#[test]
fn what_places_nothing_is_refused_with_how_much_is_lacking() {
    let short = FEATURES.map(|from| Tie {
        distance: 190.0,
        ..tie(from, Point::ZERO, 0.5)
    });
    assert!(
        matches!(place(&short, |_| true), Err(TieError::Apart(0, 1, by)) if (by - 20.0).abs() < 1e-9)
    );
    let flat = FEATURES.map(|from| tie(from, Point::new(0.0, 60.0), 0.5));
    assert!(
        matches!(place(&flat, |_| true), Err(TieError::TooFlat(angle, 0, 1, _)) if angle < 6.0)
    );
}

#[test]
fn a_distance_that_is_wrong_is_the_one_to_blame() {
    let at = Point::new(40.0, 180.0);
    let from = [
        (-200.0, 180.0),
        (160.0, -28.0),
        (160.0, 388.0),
        (40.0, 20.0),
    ];
    let mut ties = from.map(|from| tie(from, at, 0.6));
    ties[2].distance += 10.0;
    let placed = place(&ties, |_| true).unwrap();
    assert!(placed.disagree());
    let blamed = alone_to_blame(&ties, placed.at);
    assert!((blamed[2].unwrap() - 10.0).abs() < 1e-6, "{blamed:?}");
    assert_eq!(blamed.iter().flatten().count(), 1, "{blamed:?}");
    // Of three, each may be it.
    let placed = place(&ties[..3], |_| true).unwrap();
    assert!(placed.disagree());
    assert!(
        alone_to_blame(&ties[..3], placed.at)
            .iter()
            .all(Option::is_some)
    );
    // Sound readings agree.
    let sound = from.map(|from| tie(from, at, 0.6));
    assert!(!place(&sound, |_| true).unwrap().disagree());
}
