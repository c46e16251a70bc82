//! Whether the pairs agree with each other, and which one does not.

use super::line::{Line, Sighting, SlopeFrom};
use super::middle::Middle;
use super::readings::Pair;
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal};

/// Share of sound panels in which some pair may be blamed without cause: few, since a fitter who is
/// sent back to the panel for nothing stops believing. Rounding to a coarse graduation makes it
/// up to three times as many.
const FALSE_ALARMS: f64 = 0.01;

/// How many times what explains it a pair may be off the others and still count: a panel half as
/// uneven again would explain that much, and only a slip of the tape more. Leaving out what is in
/// between makes uneven panels look even. A design value, no source.
const COUNTED: f64 = 1.5;

/// What the pairs say of each other.
#[derive(Debug, Clone, PartialEq)]
pub enum Agreement {
    /// There is one pair only: nothing proves it.
    Unproved,
    /// They agree within what tape, eye and uneven moulding explain.
    Agree,
    /// All agree but one.
    OneDisagrees(Box<OddPair>),
    /// They do not agree, and no single one of them is to blame for it; with two pairs none can be.
    Disagree,
}

impl Agreement {
    /// The pair that is left out, where one is.
    pub fn left_out(&self) -> Option<&OddPair> {
        match self {
            Self::OneDisagrees(odd) if odd.left_out => Some(odd),
            _ => None,
        }
    }
}

/// A pair that disagrees with all others, which agree among themselves.
#[derive(Debug, Clone, PartialEq)]
pub struct OddPair {
    /// Place of the pair in its list, from 0.
    pub index: usize,
    /// Name of the pair.
    pub name: String,
    /// Its middle less the middle that the others give at its depth, mm along the tape.
    pub by: f64,
    /// What `by` could come to in a sound pair, mm either way.
    pub explained: f64,
    /// Whether it is left out, being further off than any moulding explains.
    pub left_out: bool,
    /// The centreline with it where it is left out, and without it where it counts.
    pub otherwise: Middle,
}

/// Leaves out each pair in turn. A pair is the odd one if it lies off the line of the others by
/// more than the expanded uncertainty of that difference, if the others agree without it, and if
/// that is so of no other pair. The limit of the skew is counted as known, so that three pairs at
/// different depths can be told apart too. The coverage factor is the normal one for
/// [`FALSE_ALARMS`] shared between as many trials as there are pairs (Bonferroni's inequality).
pub(super) fn judge(pairs: &[Pair], sightings: &[Sighting], slope_limit: f64) -> Agreement {
    let count = sightings.len();
    if count < 2 {
        return Agreement::Unproved;
    }
    let through = |some: &[Sighting]| Line::through(some, slope_limit, SlopeFrom::Both);
    let mut odd = None;
    let mut suspects = 0;
    if count > 2 {
        let factor = normal_factor(FALSE_ALARMS / count as f64);
        for (index, sighting) in sightings.iter().enumerate() {
            let mut others = sightings.to_vec();
            others.remove(index);
            let line = through(&others);
            let by = sighting.middle - line.middle(sighting.depth);
            let explained = factor * line.difference_uncertainty(sighting);
            if by.abs() > explained && agree(&line) {
                suspects += 1;
                odd = Some((index, by, explained, others));
            }
        }
    }
    match odd {
        Some((index, by, explained, others)) if suspects == 1 => {
            let left_out = by.abs() > COUNTED * explained;
            Agreement::OneDisagrees(Box::new(OddPair {
                index,
                name: pairs[index].name.clone(),
                by,
                explained,
                left_out,
                otherwise: if left_out {
                    Middle::of(sightings, slope_limit)
                } else {
                    Middle::of(&others, slope_limit)
                },
            }))
        }
        _ if agree(&through(sightings)) => Agreement::Agree,
        _ => Agreement::Disagree,
    }
}

fn agree(line: &Line) -> bool {
    line.freedom() == 0 || line.chi_squared() <= chi_squared_limit(line.freedom())
}

/// The value that chi squared of `freedom` degrees, 1 or more, passes in [`FALSE_ALARMS`] of all
/// cases.
fn chi_squared_limit(freedom: usize) -> f64 {
    let distribution = ChiSquared::new(freedom as f64);
    distribution.map_or(f64::INFINITY, |one| one.inverse_cdf(1.0 - FALSE_ALARMS))
}

/// How many standard deviations a normal error exceeds, either way, in the share `tails` of cases.
fn normal_factor(tails: f64) -> f64 {
    Normal::standard().inverse_cdf(1.0 - tails / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST/SEMATECH e-Handbook 1.3.6.7.1 and 1.3.6.7.4: normal and chi squared tables.
    #[test]
    fn quantiles_are_those_of_the_tables() {
        for (tails, factor) in [(0.05, 1.960), (0.01, 2.576), (0.10, 1.645)] {
            let found = normal_factor(tails);
            assert!((found - factor).abs() < 5e-4, "{found} is not {factor}");
        }
        for (freedom, limit) in [
            (1, 6.635),
            (2, 9.210),
            (3, 11.345),
            (4, 13.277),
            (10, 23.209),
        ] {
            let found = chi_squared_limit(freedom);
            assert!(
                (found - limit).abs() < 0.001,
                "{found} is not {limit} for {freedom}"
            );
        }
    }
}
