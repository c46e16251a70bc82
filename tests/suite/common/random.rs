//! Laws held over random cases, of which enough must come to their end.

use proptest::prelude::*;
use proptest::test_runner::{RngSeed, TestRunner};
use std::cell::Cell;

/// How far a random case came.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Came {
    /// To the end of the law.
    Through,
    /// No further than a refusal that the law allows.
    Refused,
}

/// Holds a law over so many random cases and asserts that at least this share of them came through:
/// cases that are all refused at the door prove nothing of what lies behind it.
///
/// The same cases in every run; others, in any number, by `PROPTEST_CASES`.
#[track_caller]
pub fn hold<S: Strategy>(
    cases: u32,
    share: f64,
    random: S,
    law: impl Fn(S::Value) -> Result<Came, TestCaseError>,
) {
    let asked = std::env::var_os("PROPTEST_CASES").is_some();
    let mut config = ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::default()
    };
    if !asked {
        config.cases = cases;
        config.rng_seed = RngSeed::Fixed(1);
    }
    let all = config.cases;
    let through = Cell::new(0_u32);
    let counted = |case| {
        if law(case)? == Came::Through {
            through.set(through.get() + 1);
        }
        Ok(())
    };
    if let Err(failure) = TestRunner::new(config).run(&random, counted) {
        panic!("{failure}");
    }
    let through = through.get();
    assert!(
        f64::from(through) >= share * f64::from(all),
        "only {through} of {all} random cases came through"
    );
}
