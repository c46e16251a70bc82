//! Half-widths that hold the true value in a told share of cases.

use statrs::distribution::{Continuous, ContinuousCDF, Normal, StudentsT};

/// Share of cases in which every told interval holds the true value: that of two standard
/// deviations of a normal error (GUM, table G.2 has a column for it).
pub(crate) const COVERAGE: f64 = 0.9545;

/// How many standard deviations hold [`COVERAGE`] of errors, for a standard deviation known with
/// `freedom` degrees of freedom, 1 or more: Student's t, 2.00 where it is known for certain.
pub(crate) fn students_factor(freedom: f64) -> f64 {
    let upper = (1.0 + COVERAGE) / 2.0;
    // There t is normal to 6 digits.
    if freedom > 1e6 {
        return Normal::standard().inverse_cdf(upper);
    }
    StudentsT::new(0.0, 1.0, freedom).map_or(f64::INFINITY, |t| t.inverse_cdf(upper))
}

/// Half-width that holds [`COVERAGE`] of the sum of an error anywhere within `widest` either way
/// and a normal one of standard deviation `normal`, known with `freedom` degrees of freedom; the
/// unit is that of both. Within 1e-6 of the greater of the two.
///
/// The normal part is first widened by Student's factor over the normal one.
pub(crate) fn about_both(widest: f64, normal: f64, freedom: f64) -> f64 {
    let factor = students_factor(f64::INFINITY);
    let normal = normal * students_factor(freedom) / factor;
    if widest <= 1e-6 * normal {
        return factor * normal;
    }
    let (mut low, mut high) = (0.0, widest + factor * normal);
    while high - low > 1e-7 * (widest + normal) {
        let middle = (low + high) / 2.0;
        if share(middle, widest, normal) < COVERAGE {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// Share of the sum of both errors within `half` either way: the normal distribution's, averaged
/// over the rectangle.
fn share(half: f64, widest: f64, normal: f64) -> f64 {
    if normal <= 1e-9 * widest {
        return (half / widest).min(1.0);
    }
    let standard = Normal::standard();
    // Integral of the normal distribution's cumulative function.
    let heaped = |z: f64| z * standard.cdf(z) + standard.pdf(z);
    let (out, inwards) = ((half + widest) / normal, (half - widest) / normal);
    normal / widest * (heaped(out) - heaped(inwards)) - 1.0
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GUM (JCGM 100:2008), table G.2, column 95.45 %.
    #[test]
    fn students_factors_are_those_of_the_table() {
        for (freedom, factor) in [
            (1.0, 13.97),
            (2.0, 4.53),
            (3.0, 3.31),
            (4.0, 2.87),
            (5.0, 2.65),
            (8.0, 2.37),
            (10.0, 2.28),
            (20.0, 2.13),
            (50.0, 2.05),
            (100.0, 2.025),
            (f64::INFINITY, 2.0),
        ] {
            let found = students_factor(freedom);
            assert!((found - factor).abs() < 0.0051, "{found} for {freedom}");
        }
        // Between two whole numbers, between their factors.
        assert!((2.28..2.32).contains(&students_factor(9.5)));
    }

    /// Either part alone is its own closed form; of both together, a sum over the rectangle in
    /// small steps says how much it holds.
    #[test]
    fn the_share_that_is_promised_is_held() {
        let certain = f64::INFINITY;
        assert!((about_both(0.0, 3.0, certain) - 6.0).abs() < 1e-3);
        assert!((about_both(2.0, 0.0, certain) - 2.0 * COVERAGE).abs() < 1e-5);
        let normal = Normal::standard();
        for (widest, deviation) in [(1.0, 0.1), (1.0, 0.5), (1.0, 1.0), (1.0, 5.0)] {
            let half = about_both(widest, deviation, certain);
            let steps = 10_000;
            let held: f64 = (0..steps)
                .map(|step| {
                    let at = widest * ((f64::from(step) + 0.5) / f64::from(steps) * 2.0 - 1.0);
                    normal.cdf((half - at) / deviation) - normal.cdf((-half - at) / deviation)
                })
                .sum();
            let held = held / f64::from(steps);
            assert!(
                (held - COVERAGE).abs() < 1e-5,
                "{held} for {widest} {deviation}"
            );
        }
    }
}
