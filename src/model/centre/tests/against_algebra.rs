use super::{close, from_left, pair, solved};
use crate::model::centre::coverage::about_both;
use crate::model::centre::{Pair, Readings, Skew, Zero};
use nalgebra::{DMatrix, DVector};
use proptest::prelude::{Strategy, prop, prop_assert, proptest};

/// One pair: the middle is half the sum, and u^2 is rounding and reading of two, halved, with
/// the tape's 0.5 mm in full.
#[test]
fn one_pair_is_its_closed_form() {
    let centre = solved(&from_left(vec![pair("outer", 112.0, 868.0, 18.0)]));
    let here = centre.at(18.0);
    close(here.middle, 490.0, 0.0);
    let own = (1.0 / 12.0 + 0.25 / 3.0) / 2.0;
    let moulding = 0.7 * 0.7;
    // Six degrees of freedom; the tape's 0.5 mm stays a rectangle.
    let scatter: f64 = own + moulding;
    close(here.uncertainty, about_both(0.5, scatter.sqrt(), 6.0), 1e-9);
    close(here.freedom, 6.0, 1e-12);
    let away = centre.at(218.0);
    close(away.middle, 490.0, 0.0);
    // The skew is the wider rectangle now, and the tape one of the rest, known for certain.
    let rest = scatter + 0.25 / 3.0;
    let freedom = 6.0 * (rest / scatter).powi(2);
    let skew = 200.0 * 0.5_f64.to_radians().tan();
    close(
        away.uncertainty,
        about_both(skew, rest.sqrt(), freedom),
        1e-9,
    );
    close(away.freedom, freedom, 1e-9);
    assert!(matches!(centre.skew(), Skew::Assumed { limit } if (limit - 0.0087269).abs() < 1e-7));
    assert_eq!(centre.residuals()[0].residual, 0.0);
}

/// Equal weights: the textbook sums, c = mean m - t mean y, t = S_ym / S_yy.
#[test]
fn equal_weights_are_the_textbook_line() {
    let depths = [20.0, 120.0, 260.0, 300.0];
    let middles = [490.0, 490.5, 491.5, 491.0];
    let pairs = depths.iter().zip(middles);
    let centre = solved(&from_left(
        pairs
            .map(|(y, m)| pair("p", m - 378.0, m + 378.0, *y))
            .collect(),
    ));
    // Sums by hand: mean y 175, mean m 490.75; S_ym 225, S_yy 49900.
    let slope = 225.0 / 49_900.0;
    close(centre.skew().slope(), slope, 1e-15);
    close(centre.at(0.0).middle, 490.75 - 175.0 * slope, 1e-10);
    for (residual, (y, m)) in centre.residuals().iter().zip(depths.iter().zip(middles)) {
        close(residual.residual, m - 490.75 - slope * (y - 175.0), 1e-10);
    }
}

#[test]
fn the_skew_is_fitted_only_where_depths_settle_it() {
    let two = |apart: f64| {
        solved(&from_left(vec![
            pair("a", 112.0, 868.0, 20.0),
            pair("b", 113.0, 869.0, 20.0 + apart),
        ]))
    };
    assert!(matches!(two(0.0).skew(), Skew::Assumed { .. }));
    assert!(matches!(two(40.0).skew(), Skew::Assumed { .. }));
    // Two middles with u^2 = own + tape each settle t to sqrt(2 u^2) / apart; the limit is
    // known to tan(0.5 deg) / sqrt 3. They meet at apart = 220 mm.
    let settled = (2.0 * (1.0 / 12.0 + 0.25 / 6.0 + 0.49_f64)).sqrt()
        / (0.5_f64.to_radians().tan() / 3f64.sqrt());
    assert!((220.0..220.5).contains(&settled), "{settled}");
    assert!(matches!(two(settled - 0.1).skew(), Skew::Assumed { .. }));
    assert!(matches!(two(settled + 0.1).skew(), Skew::Fitted { .. }));
    close(two(250.0).skew().slope(), 0.004, 1e-15);
    assert!(!two(250.0).middle().leans_too_far());
}

fn some_pairs() -> impl Strategy<Value = Vec<Pair>> {
    let one = (
        50.0..450.0,
        550.0..1900.0,
        0.0..400.0,
        prop::option::of(0.1..3.0),
    );
    prop::collection::vec(one, 1..8).prop_map(|rows| {
        let pairs = rows.into_iter().map(|(left, right, depth, reading)| Pair {
            reading,
            ..pair("p", left, right, depth)
        });
        pairs.collect()
    })
}

/// The same by matrices, with both covariances of the tape written out in full.
struct ByMatrices {
    middle: f64,
    uncertainty: f64,
}

fn by_matrices(pairs: &[Pair], fitted: bool, depth: f64) -> ByMatrices {
    let count = pairs.len();
    let error = |length: f64| 0.3 + 0.2 * (length / 1000.0).ceil();
    let own = DVector::from_fn(count, |i, _| {
        let reading = pairs[i].reading.unwrap_or(0.5);
        (1.0 / 12.0 + reading * reading / 3.0) / 2.0 + 0.49
    });
    let each = DVector::from_fn(count, |i, _| {
        (error(pairs[i].left).powi(2) + error(pairs[i].right).powi(2)) / 12.0
    });
    let common = DVector::from_fn(count, |i, _| {
        (error(pairs[i].left) + error(pairs[i].right)) / 2.0
    });
    let fresh = DMatrix::from_diagonal(&(&own + &each));
    let weights = fresh.clone().try_inverse().unwrap();
    let columns = if fitted { 2 } else { 1 };
    let design = DMatrix::from_fn(count, columns, |i, j| pairs[i].depth.powi(j as i32));
    let middles = DVector::from_fn(count, |i, _| pairs[i].middle());
    let gains = (design.transpose() * &weights * &design)
        .try_inverse()
        .unwrap()
        * design.transpose()
        * &weights;
    let at = DMatrix::from_fn(1, columns, |_, j| depth.powi(j as i32));
    let row = at * &gains;
    let limit = 0.5_f64.to_radians().tan() / 3.0_f64.sqrt();
    let ones = DVector::from_element(count, 1.0);
    let mean = (ones.transpose() * &weights * DVector::from_fn(count, |i, _| pairs[i].depth))[0]
        / weights.sum();
    // Where no skew is fitted, the pairs may lean by the limit: that correlates what is left over.
    let mut left_over = fresh.clone();
    let mut open = 0.0;
    if !fitted {
        let arms = DVector::from_fn(count, |i, _| pairs[i].depth - mean);
        left_over += &arms * arms.transpose() * limit * limit;
        open = limit * (depth - mean);
    }
    let residuals = &middles - &design * (&gains * &middles);
    let chi = (residuals.transpose() * left_over.try_inverse().unwrap() * &residuals)[0];
    let freedom = count - columns;
    let pooled = (6.0 + chi) / (6.0 + freedom as f64);
    let least = own.map(|variance| variance - 0.49);
    let own = (pooled * (own + &each) - &each).zip_map(&least, f64::max);
    let variance = |covariance: DMatrix<f64>| (&row * covariance * row.transpose())[0];
    let own = variance(DMatrix::from_diagonal(&own));
    let fresh = variance(DMatrix::from_diagonal(&each));
    let shared = variance(&common * common.transpose() / 3.0);
    // The wider rectangle stays one.
    let flat = if shared > fresh { shared } else { 0.0 };
    let (widest, rest) = if open * open > flat {
        (open.abs(), own + fresh.max(shared))
    } else {
        (flat.sqrt(), own + fresh.max(shared) - flat + open * open)
    };
    let known = (6.0 + freedom as f64) * (rest / own).powi(2);
    ByMatrices {
        middle: (&row * middles)[0],
        uncertainty: about_both(widest * 3.0_f64.sqrt(), rest.sqrt(), known),
    }
}

proptest! {
    #[test]
    fn the_fit_is_what_a_linear_algebra_crate_gives(pairs in some_pairs(), depth in -50.0..700.0) {
        let readings = Readings { panel_width: None, ..from_left(pairs) };
        let centre = solved(&readings);
        let mut pairs = readings.pairs.clone();
        if let Some(odd) = centre.left_out() {
            pairs.remove(odd);
        }
        let fitted = matches!(centre.skew(), Skew::Fitted { .. });
        let wanted = by_matrices(&pairs, fitted, depth);
        let found = centre.at(depth);
        prop_assert!((found.middle - wanted.middle).abs() < 1e-7, "{} {}", found.middle, wanted.middle);
        let miss = (found.uncertainty / wanted.uncertainty - 1.0).abs();
        prop_assert!(miss < 1e-7, "{} {}", found.uncertainty, wanted.uncertainty);
    }

    /// The tape hooked to the other end of the mirrored panel reads the same figures, with left
    /// and right changed about: every result is the same to the last bit, seen in the mirror.
    #[test]
    fn the_mirrored_panel_gives_the_mirrored_centre(pairs in some_pairs(), depth in 0.0..500.0) {
        let readings = Readings { panel_width: None, ..from_left(pairs) };
        let mut mirrored = readings.clone();
        mirrored.zero = Zero::Right;
        for pair in &mut mirrored.pairs {
            (pair.left, pair.right) = (pair.right, pair.left);
        }
        let (one, other) = (solved(&readings), solved(&mirrored));
        prop_assert!(one.at(depth) == other.at(depth));
        prop_assert!(one.skew() == other.skew());
        prop_assert!(one.residuals() == other.residuals());
        prop_assert!(one.agreement() == other.agreement());
        let right = |centre: &crate::model::centre::Centre, zero: Zero| zero.to_the_right(0.0, centre.at(depth).middle);
        prop_assert!(right(&one, Zero::Left) == -right(&other, Zero::Right));
    }

    /// The same panel read from its other end: the middle is the width less the middle, and it
    /// leans the other way. (Both ends under a metre, so that the tape is as good from either.)
    #[test]
    fn the_other_end_gives_the_same_place(
        halves in prop::collection::vec((100.0..400.0, -3.0..3.0, 0.0..300.0), 1..6),
    ) {
        let pairs = |width: f64, sign: f64| -> Vec<Pair> {
            halves.iter().map(|(half, off, y)| {
                pair("p", width / 2.0 + sign * off - sign * half, width / 2.0 + sign * off + sign * half, *y)
            }).collect()
        };
        let one = solved(&from_left(pairs(980.0, 1.0)));
        let other = solved(&Readings { zero: Zero::Right, ..from_left(pairs(980.0, -1.0)) });
        for depth in [0.0, 150.0, 400.0] {
            let (a, b) = (one.at(depth), other.at(depth));
            prop_assert!((a.middle + b.middle - 980.0).abs() < 1e-9);
            prop_assert!((a.uncertainty - b.uncertainty).abs() < 1e-9);
        }
        prop_assert!((one.skew().slope() + other.skew().slope()).abs() < 1e-12);
    }
}
