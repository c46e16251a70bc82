use super::{from_left, pair};
use crate::model::centre::{CentreError, Measuring, Readings, Zero, solve};

fn only_problem(readings: &Readings) -> CentreError {
    let mut problems = solve(readings).expect_err("should be refused");
    assert_eq!(problems.len(), 1, "{problems:?}");
    problems.remove(0)
}

#[test]
fn a_pair_read_the_wrong_way_round_says_so() {
    let problem = only_problem(&from_left(vec![pair("clip holes", 868.0, 112.5, 18.0)]));
    assert_eq!(
        problem.to_string(),
        "pair `clip holes` is read the wrong way round: left 868, right 112.5, but from the left \
         end the left reading is the smaller one"
    );
    assert!(
        problem.hint().contains("`zero = \"right\"`"),
        "{}",
        problem.hint()
    );
    let from_right = Readings {
        zero: Zero::Right,
        ..from_left(vec![pair("clip holes", 112.5, 868.0, 18.0)])
    };
    let problem = only_problem(&from_right);
    assert!(
        problem
            .to_string()
            .contains("the right reading is the smaller one")
    );
    let one_hole = only_problem(&from_left(vec![pair("drain", 490.0, 490.0, 18.0)]));
    assert!(matches!(one_hole, CentreError::SidesSwapped { .. }));
}

#[test]
fn readings_off_the_panel_say_so() {
    let problem = only_problem(&from_left(vec![
        pair("inner", 200.0, 780.0, 18.0),
        pair("outer", 112.0, 1868.0, 18.0),
    ]));
    assert_eq!(
        problem.to_string(),
        "`right` of pair `outer` is 1868 mm, off the panel: allowed is 0 to its width of 980 mm"
    );
    assert!(matches!(problem, CentreError::OffPanel { pair: 1, .. }));
    let negative = Readings {
        panel_width: None,
        ..from_left(vec![pair("outer", -2.0, 1868.0, 18.0)])
    };
    assert!(
        only_problem(&negative)
            .to_string()
            .ends_with("allowed is 0 or more")
    );
}

#[test]
fn every_fault_is_told_at_once() {
    let readings = Readings {
        measuring: Measuring {
            skew_limit: f64::NAN,
            reading: -1.0,
            ..Measuring::default()
        },
        ..from_left(vec![
            pair("a", f64::NAN, 868.0, f64::INFINITY),
            pair("b", 868.0, 112.0, 18.0),
            pair("c", 112.0, 1e300, 18.0),
        ])
    };
    let problems = solve(&readings).expect_err("should be refused");
    assert_eq!(problems.len(), 6, "{problems:?}");
    for problem in &problems {
        let message = problem.to_string();
        assert!(
            !message.ends_with('.') && !problem.hint().ends_with('.'),
            "{message}"
        );
    }
    assert_eq!(only_problem(&from_left(Vec::new())), CentreError::NoPairs);
}

/// Extremes that are allowed give numbers.
#[test]
fn odd_but_allowed_readings_give_numbers() {
    for skew_limit in [0.0, 10.0] {
        for depths in [[0.0, 0.0, 0.0], [0.0, 1e-9, 1e5], [-1e5, 0.0, 1e5]] {
            let mut readings = from_left(depths.map(|y| pair("p", 0.0, 980.0, y)).into());
            readings.measuring.skew_limit = skew_limit;
            readings.measuring.reading = 0.0;
            readings.measuring.tape.graduation = 0.01;
            let centre = solve(&readings).expect("allowed");
            for depth in [0.0, 300.0, 1e5] {
                let here = centre.at(depth);
                assert!(
                    here.middle.is_finite() && here.uncertainty.is_finite(),
                    "{here:?}"
                );
                assert!(here.uncertainty > 0.0, "{here:?}");
            }
        }
    }
}
