use super::close;
use crate::model::centre::arcs::model;
use crate::model::centre::coverage::about_both;
use crate::model::centre::{ArcGap, ArcReadings, CentreError, Measuring, Swing, solve_arcs};
use crate::random::{Came, hold};
use proptest::prelude::{prop, prop_assert, proptest};

fn swing(left: f64, right: f64, apart: Option<f64>, depth: f64) -> Swing {
    Swing {
        name: "clip holes".into(),
        left,
        right,
        apart,
        depth,
    }
}

fn readings(mark_depth: f64, swings: Vec<Swing>) -> ArcReadings {
    ArcReadings {
        measuring: Measuring::default(),
        mark_depth,
        swings,
    }
}

/// The swing of features `s` either way to a mark at `x`, `deeper` below them.
fn planted(x: f64, s: f64, deeper: f64, apart: bool, depth: f64) -> Swing {
    let left = (x + s).hypot(deeper);
    let right = (x - s).hypot(deeper);
    swing(left, right, apart.then_some(2.0 * s), depth)
}

/// 300, 400, 500: from a mark square below the left feature, 300 from it, the right one, 400 off,
/// is 500 away. x = (left^2 - right^2) / (2 apart) = -200: the mark is left of the middle.
#[test]
fn a_right_triangle_gives_its_closed_form() {
    let centre = solve_arcs(&readings(
        318.0,
        vec![swing(300.0, 500.0, Some(400.0), 18.0)],
    ))
    .unwrap();
    close(centre.mark_right_by(), -200.0, 1e-9);
    close(centre.at(318.0).middle, 200.0, 1e-9);
    // Six degrees of freedom expected, and one seen that fits as it should.
    close(centre.scatter_ratio(), (6.0_f64 / 7.0).sqrt(), 1e-9);
    for residual in centre.residuals() {
        close(residual.residual, 0.0, 1e-9);
    }
}

#[test]
fn equal_radii_put_the_mark_on_the_centreline() {
    for apart in [None, Some(760.0)] {
        let centre = solve_arcs(&readings(58.0, vec![swing(382.0, 382.0, apart, 18.0)])).unwrap();
        close(centre.mark_right_by(), 0.0, 1e-12);
        let away = centre.at(258.0).uncertainty;
        let skew = 200.0 * 0.5_f64.to_radians().tan();
        assert!(
            away > skew && away < skew + centre.at(58.0).uncertainty,
            "{away}"
        );
    }
}

/// By hand, for equal radii and no `apart`: x follows (left - right) / 2 s times the radius, so
/// u^2 = 2 (own + tape) (radius / 2 s)^2 with fresh tape errors, a common one cancelling.
#[test]
fn the_uncertainty_is_its_closed_form() {
    let (s, h) = (380.0_f64, 200.0_f64);
    let radius = s.hypot(h);
    let centre = solve_arcs(&readings(218.0, vec![swing(radius, radius, None, 18.0)])).unwrap();
    let one: f64 = 1.0 / 12.0 + 0.25 / 3.0 + 0.25 / 3.0;
    let read = 2.0 * one * (radius / (2.0 * s)).powi(2);
    // The moulding moves the middle in full; the tape's part alone is known for certain.
    let tape = 2.0 * 0.25 / 3.0 * (radius / (2.0 * s)).powi(2);
    let both = read + 0.49;
    let freedom = 6.0 * (both / (both - tape)).powi(2);
    close(
        centre.at(218.0).uncertainty,
        about_both(0.0, both.sqrt(), freedom),
        1e-6,
    );
}

#[test]
fn arcs_that_cannot_meet_are_refused() {
    let problem = |mark_depth, one| {
        let mut problems = solve_arcs(&readings(mark_depth, vec![one])).unwrap_err();
        assert_eq!(problems.len(), 1);
        problems.remove(0)
    };
    for (one, mark_depth, gap) in [
        (
            swing(300.0, 400.0, Some(760.0), 18.0),
            18.0,
            ArcGap::TooShort,
        ),
        (
            swing(900.0, 100.0, Some(760.0), 18.0),
            18.0,
            ArcGap::TooUneven,
        ),
        (swing(90.0, 900.0, None, 18.0), 218.0, ArcGap::TooShallow),
    ] {
        let found = problem(mark_depth, one);
        assert!(
            matches!(found, CentreError::ArcsCannotMeet { why, by, .. } if why == gap && by > 10.0),
            "{found:?}"
        );
    }
    // A shortfall that rounding and the tape explain is no error: the mark is on the line.
    let near = solve_arcs(&readings(
        18.0,
        vec![swing(380.0, 379.0, Some(760.0), 18.0)],
    ))
    .unwrap();
    close(near.mark_right_by(), 0.5, 0.01);
    for bad in [0.0, -3.0, f64::NAN, f64::INFINITY] {
        assert!(matches!(
            problem(18.0, swing(bad, 400.0, Some(760.0), 18.0)),
            CentreError::NotPositive { what: "left", .. }
        ));
    }
    assert_eq!(
        solve_arcs(&readings(18.0, Vec::new())),
        Err(vec![CentreError::NoPairs])
    );
    let flat = problem(218.0, swing(200.0, 200.0, None, 18.0));
    assert_eq!(flat, CentreError::ArcsTooFlat);
}

#[test]
fn a_wrong_distance_shows_in_its_residual_and_raises_the_uncertainty() {
    let mut swings = vec![
        planted(3.0, 380.0, 200.0, true, 18.0),
        planted(3.0, 300.0, 100.0, true, 118.0),
        planted(3.0, 350.0, 60.0, true, 158.0),
    ];
    let sound = solve_arcs(&readings(218.0, swings.clone())).unwrap();
    close(sound.mark_right_by(), 3.0, 1e-9);
    swings[1].left += 8.0;
    let wrong = solve_arcs(&readings(218.0, swings)).unwrap();
    let worst = wrong.residuals().iter().max_by(|a, b| {
        (a.residual / a.explained)
            .abs()
            .total_cmp(&(b.residual / b.explained).abs())
    });
    let worst = worst.unwrap();
    assert!(worst.residual.abs() > worst.explained, "{worst:?}");
    assert!(wrong.scatter_ratio() > 1.5, "{}", wrong.scatter_ratio());
    assert!(wrong.at(218.0).uncertainty > 1.4 * sound.at(218.0).uncertainty);
}

proptest! {
    #[test]
    fn planted_marks_are_found(
        x in -60.0..60.0,
        swings in prop::collection::vec((150.0..450.0, -150.0..150.0, prop::bool::ANY), 1..6),
    ) {
        let mark_depth = 200.0;
        let planted: Vec<_> = swings.iter()
            .map(|(s, deeper, apart)| planted(x, *s, *deeper, *apart, mark_depth - deeper))
            .collect();
        let mirrored: Vec<_> = planted.iter()
            .map(|one| Swing { left: one.right, right: one.left, ..one.clone() })
            .collect();
        let one = solve_arcs(&readings(mark_depth, planted)).unwrap();
        let other = solve_arcs(&readings(mark_depth, mirrored)).unwrap();
        prop_assert!((one.mark_right_by() - x).abs() < 1e-6, "{} {x}", one.mark_right_by());
        prop_assert!((one.mark_right_by() + other.mark_right_by()).abs() < 1e-6);
        let (u, v) = (one.at(mark_depth).uncertainty, other.at(mark_depth).uncertainty);
        prop_assert!((u / v - 1.0).abs() < 1e-6);
    }

    /// Derivatives against central differences, and the told uncertainty against moving each
    /// distance by hand.
    #[test]
    fn derivatives_are_those_of_the_model(
        x in -60.0..60.0, s in 150.0..450.0, h in -150.0..150.0,
    ) {
        let given = readings(200.0, vec![planted(x, s, h, true, 200.0 - h)]);
        let observations = model::observe(&given, 0, &given.swings[0]);
        let unknowns = [x, s, h, 0.7];
        let there = model::predict(&observations, &unknowns);
        for place in 0..4 {
            let moved = |by: f64| {
                let mut moved = unknowns;
                moved[place] += by;
                model::predict(&observations, &moved).values
            };
            for (row, (up, down)) in there.derivatives.iter().zip(moved(1e-3).iter().zip(moved(-1e-3))) {
                let slope = (up - down) / 2e-3;
                prop_assert!((row[place] - slope).abs() < 1e-8, "{} {slope}", row[place]);
            }
        }
    }
}

/// Whatever is measured gives a finite answer or a reason.
#[test]
fn odd_distances_give_an_answer_or_a_reason() {
    let row = (
        0.1..900.0,
        0.1..900.0,
        prop::option::of(0.1..900.0),
        -300.0..300.0,
    );
    let case = (prop::collection::vec(row, 1..4), -300.0..300.0);
    hold(256, 0.1, case, |(rows, mark_depth)| {
        let swings = rows
            .into_iter()
            .map(|(left, right, apart, y)| swing(left, right, apart, y));
        match solve_arcs(&readings(mark_depth, swings.collect())) {
            Ok(centre) => {
                let here = centre.at(mark_depth);
                prop_assert!(here.middle.is_finite() && here.uncertainty.is_finite());
                Ok(Came::Through)
            }
            Err(problems) => {
                prop_assert!(!problems.is_empty());
                Ok(Came::Refused)
            }
        }
    });
}
