//! What reading a file costs grows with its length, whatever is in it, or is ended by an allowance.

#[path = "../../../tests/suite/mutated/hostile/mod.rs"]
mod hostile;

use super::budget::Budget;
use super::error::VerifyError;
use super::{FileKind, kind, pdf, svg};
use crate::check::watch::GivenUp;

/// What was spent on a file, and what came of it.
fn spent(bytes: Vec<u8>) -> ([u64; 4], Result<(), VerifyError>) {
    let mut budget = Budget::new(GivenUp::default());
    let outcome = match kind(&bytes) {
        Ok(FileKind::Pdf) => pdf::read_foreign(bytes, &mut budget).map(drop),
        Ok(FileKind::Svg) => svg::read(&bytes, &mut budget).map(drop),
        Err(error) => Err(error),
    };
    (budget.spent(), outcome)
}

/// Bytes of the shorter files, and of the long ones.
const BYTES: usize = 30_000;
const LONG: usize = 1_000_000;
/// What is spent on any file of that length is too little to tell how it grows.
const SMALL: u64 = 200_000;

#[test]
fn twice_the_length_costs_about_twice_as_much_or_comes_to_an_allowance() {
    let (mut in_step, mut faster) = (0, 0);
    for kind in hostile::kinds() {
        let ((one, _), (two, _)) = (spent((kind.make)(BYTES)), spent((kind.make)(2 * BYTES)));
        let mut pairs = one.into_iter().zip(two);
        if pairs.all(|(one, two)| two < SMALL || two <= one.saturating_mul(5) / 2) {
            in_step += 1;
            continue;
        }
        // Two things of half a file each, each of the one looked up for each of the other.
        faster += 1;
        let (_, outcome) = spent((kind.make)(LONG));
        let ended = matches!(outcome, Err(VerifyError::Beyond { .. }));
        assert!(ended, "{}: {outcome:?}", kind.name);
    }
    assert!(in_step >= 100 && faster >= 5, "{in_step} and {faster}");
}
