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

/// Steele, Lea and Flood's SplitMix64 (OOPSLA 2014): small, seeded, the same everywhere.
pub struct Random(pub u64);

impl Random {
    /// Evenly spread from -1 to 1.
    pub fn either_way(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        (z >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }

    /// Evenly spread between two values.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.either_way() + 1.0) / 2.0
    }

    /// Near enough normal, standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.either_way()).sum::<f64>() / 2.0
    }
}
