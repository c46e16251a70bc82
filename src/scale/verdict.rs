//! What a scale makes of a cut: good to cut, or not, and why.

use super::fault::Fault;
use super::{Measured, Scales, Way};
use crate::drawing::fixed;
use std::fmt;

/// Scale error beyond which it is the print dialog, not the printer: old laser engines were
/// allowed 2 to 3 % (read second-hand).
const PRINTER_ERROR: f64 = 0.03;

/// What is to be cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Farthest cut from where the pattern is placed by, across the sheet, mm, 0 or more.
    pub across: f64,
    /// The same, down the sheet.
    pub down: f64,
    /// Gap that the opening leaves round its part, mm, above 0.
    pub gap: f64,
    /// Share of the gap that the print may use up, above 0 to 1.
    pub share: f64,
}

impl Cut {
    /// Share of the gap unless given: a quarter. A design value, no source.
    pub const SHARE: f64 = 0.25;

    fn allowed(&self) -> f64 {
        self.share * self.gap
    }
}

/// The answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judgement {
    /// Good to cut: within the share of the gap, uncertainty and all.
    Good,
    /// Not shown to be good, nor to be bad: read again, better.
    Unproven,
    /// Not to be cut from.
    Bad,
}

/// Why the answer is what it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Within the share, at worst.
    Within {
        /// Greatest error at the farthest cut, mm.
        worst: f64,
        /// What is allowed, mm.
        allowed: f64,
    },
    /// Beyond the share, even at best.
    Beyond {
        /// Least error at the farthest cut, mm.
        least: f64,
        /// What is allowed, mm.
        allowed: f64,
    },
    /// The reading is too coarse to tell.
    TooCoarse {
        /// Least error at the farthest cut, mm.
        least: f64,
        /// Greatest, mm.
        worst: f64,
        /// What is allowed, mm.
        allowed: f64,
    },
    /// A direction that matters was not read.
    NotRead(Way),
    /// More than a printer is ever wrong by.
    NotThePrinter {
        /// Direction.
        way: Way,
        /// What 100 mm reads.
        reads: f64,
    },
    /// A known fault of the print dialog fits the readings, and full size does not.
    KnownFault(Fault),
}

/// Answer, error and reasons.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// Good to cut, or not.
    pub judgement: Judgement,
    /// Error at the farthest cut, mm: what the readings say, with uncertainty.
    pub error: Measured,
    /// Every reason, the gravest first.
    pub reasons: Vec<Reason>,
}

/// Least, likely and greatest error of a length, mm.
#[derive(Debug, Clone, Copy, Default)]
struct Spread {
    least: f64,
    likely: f64,
    worst: f64,
}

impl Spread {
    /// From a ratio that should be 0, over a distance.
    fn of(ratio: f64, uncertainty: f64, distance: f64) -> Self {
        Self {
            least: (ratio.abs() - uncertainty).max(0.0) * distance,
            likely: ratio.abs() * distance,
            worst: (ratio.abs() + uncertainty) * distance,
        }
    }

    /// At right angles to another.
    fn square_to(self, other: Self) -> Self {
        Self {
            least: self.least.hypot(other.least),
            likely: self.likely.hypot(other.likely),
            worst: self.worst.hypot(other.worst),
        }
    }
}

/// What the scales make of a cut.
///
/// The error at the farthest cut is scale error times distance in both directions, with the skew's
/// across the sheet. At worst, uncertainty added, within the share of the gap: good. At best,
/// uncertainty taken off, beyond it: bad. A scale more than 3 % off, or one that a known fault
/// explains and full size does not, is bad whatever the size: the next sheet may come out
/// otherwise. `faults` are those that [`super::faults`] names for the same readings.
pub fn judge(scales: &Scales, cut: &Cut, faults: &[Fault]) -> Verdict {
    let mut reasons = Vec::new();
    let allowed = cut.allowed();
    let mut full_size = true;
    let mut along = |way: Way, distance: f64| match scales.along(way) {
        Some(scale) => {
            full_size &= scale.allows(1.0);
            if (scale.value - 1.0).abs() > PRINTER_ERROR + scale.uncertainty {
                let reads = 100.0 * scale.value;
                reasons.push(Reason::NotThePrinter { way, reads });
            }
            Spread::of(scale.value - 1.0, scale.uncertainty, distance)
        }
        None => {
            if distance > 0.0 {
                reasons.push(Reason::NotRead(way));
            }
            Spread::default()
        }
    };
    let mut across = along(Way::Across, cut.across);
    let down = along(Way::Down, cut.down);
    if let Some(skew) = scales.skew {
        let leaning = Spread::of(
            libm::tan(skew.value.to_radians()),
            skew.uncertainty.to_radians(),
            cut.down,
        );
        // The sign of a scale error depends on the side of the cut, so the two may add up.
        across.least = across.least.max(leaning.least);
        across.likely += leaning.likely;
        across.worst += leaning.worst;
    }
    if let Some(likeliest) = faults.first()
        && !full_size
    {
        reasons.push(Reason::KnownFault(*likeliest));
    }
    let Spread {
        least,
        likely,
        worst,
    } = across.square_to(down);
    reasons.push(if worst <= allowed {
        Reason::Within { worst, allowed }
    } else if least > allowed {
        Reason::Beyond { least, allowed }
    } else {
        Reason::TooCoarse {
            least,
            worst,
            allowed,
        }
    });
    reasons.sort_by_key(Reason::gravity);
    let judgement = reasons
        .first()
        .map_or(Judgement::Unproven, Reason::judgement);
    Verdict {
        judgement,
        error: Measured {
            value: likely,
            uncertainty: (worst - likely).max(likely - least),
        },
        reasons,
    }
}

impl Reason {
    /// What this reason alone would answer.
    pub fn judgement(&self) -> Judgement {
        match self {
            Self::NotThePrinter { .. } | Self::KnownFault(_) | Self::Beyond { .. } => {
                Judgement::Bad
            }
            Self::TooCoarse { .. } | Self::NotRead(_) => Judgement::Unproven,
            Self::Within { .. } => Judgement::Good,
        }
    }

    /// Order of telling, gravest first.
    fn gravity(&self) -> u8 {
        match self {
            Self::NotThePrinter { .. } => 0,
            Self::KnownFault(_) => 1,
            Self::Beyond { .. } => 2,
            Self::TooCoarse { .. } => 3,
            Self::NotRead(_) => 4,
            Self::Within { .. } => 5,
        }
    }
}

impl Verdict {
    /// The answer in a few words.
    pub fn words(&self) -> &'static str {
        match self.judgement {
            Judgement::Good => "good to cut",
            Judgement::Unproven => "not proven: do not cut yet",
            Judgement::Bad => "do not cut",
        }
    }
}

impl fmt::Display for Reason {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mm = |value: &f64| fixed(*value, 2);
        match self {
            Self::Within { worst, allowed } => write!(
                out,
                "the farthest cut is at most {} mm off, {} mm are allowed",
                mm(worst),
                mm(allowed)
            ),
            Self::Beyond { least, allowed } => write!(
                out,
                "the farthest cut is at least {} mm off, {} mm are allowed; hint: print at actual \
                 size, or correct the printer",
                mm(least),
                mm(allowed)
            ),
            Self::TooCoarse {
                least,
                worst,
                allowed,
            } => write!(
                out,
                "the farthest cut is between {} and {} mm off, {} mm are allowed; hint: read with \
                 a finer rule, or several times",
                mm(least),
                mm(worst),
                mm(allowed)
            ),
            Self::NotRead(way) => write!(
                out,
                "the sheet was not read {way}, and may be off that way; hint: read the rulers \
                 that run {way} too",
                way = way.word()
            ),
            Self::NotThePrinter { way, reads } => write!(
                out,
                "100 mm reads {} {}: more than a printer is ever off, so the print dialog scaled \
                 the page",
                mm(reads),
                way.word()
            ),
            Self::KnownFault(fault) => write!(out, "{fault}; hint: {}", fault.remedy()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Circumstances, faults};
    use super::*;

    fn scales(across: f64, down: f64, uncertainty: f64) -> Scales {
        let measured = |value| Some(Measured { value, uncertainty });
        Scales {
            across: measured(across),
            down: measured(down),
            skew: None,
        }
    }

    const CUT: Cut = Cut {
        across: 300.0,
        down: 400.0,
        gap: 6.0,
        share: Cut::SHARE,
    };

    #[test]
    fn error_grows_with_distance_and_is_held_against_the_gap() {
        // 0.2 % of 300 and 400 mm: 0.6 and 0.8, together 1.0; allowed 1.5.
        let good = judge(&scales(1.002, 0.998, 0.0005), &CUT, &[]);
        assert_eq!(good.judgement, Judgement::Good);
        assert!((good.error.value - 1.0).abs() < 1e-9, "{good:?}");
        assert!((good.error.uncertainty - 0.25).abs() < 1e-9, "{good:?}");
        let coarse = judge(&scales(1.002, 0.998, 0.004), &CUT, &[]);
        assert_eq!(coarse.judgement, Judgement::Unproven);
        let bad = judge(&scales(1.01, 0.99, 0.004), &CUT, &[]);
        assert_eq!(bad.judgement, Judgement::Bad);
        assert!(
            bad.reasons[0].to_string().contains("at least 3 mm off"),
            "{}",
            bad.reasons[0]
        );
        let near = Cut {
            across: 30.0,
            down: 40.0,
            ..CUT
        };
        let near = judge(&scales(1.01, 0.99, 0.004), &near, &[]);
        assert_eq!(near.judgement, Judgement::Good);
    }

    #[test]
    fn a_fault_of_the_dialog_is_bad_however_small_the_cut() {
        let tiny = Cut {
            across: 5.0,
            down: 5.0,
            ..CUT
        };
        let read = scales(0.9727, 0.9727, 0.001);
        let named = faults(&read, &Circumstances::default());
        let verdict = judge(&read, &tiny, &named);
        assert_eq!(verdict.judgement, Judgement::Bad);
        let words = verdict.reasons[0].to_string();
        assert!(
            words.starts_with("Letter page fitted to the whole of A4 paper"),
            "{words}"
        );
        let off = judge(&scales(0.955, 0.955, 0.001), &tiny, &[]);
        assert!(matches!(off.reasons[0], Reason::NotThePrinter { .. }));
        assert_eq!(off.judgement, Judgement::Bad);
    }

    #[test]
    fn what_was_not_read_is_not_proven_and_skew_counts() {
        let one = Scales {
            down: None,
            ..scales(1.0, 1.0, 0.001)
        };
        let verdict = judge(&one, &CUT, &[]);
        assert_eq!(verdict.judgement, Judgement::Unproven);
        assert!(verdict.reasons.contains(&Reason::NotRead(Way::Down)));
        let leaning = Scales {
            skew: Some(Measured {
                value: 0.5,
                uncertainty: 0.05,
            }),
            ..scales(1.0, 1.0, 0.0005)
        };
        // tan 0.5 deg over 400 mm: 3.49 mm.
        let verdict = judge(&leaning, &CUT, &[]);
        assert!((verdict.error.value - 3.4907).abs() < 1e-3, "{verdict:?}");
        assert_eq!(verdict.judgement, Judgement::Bad);
    }
}
