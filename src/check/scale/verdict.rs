//! What a scale makes of a cut: good to cut, or not, and why.

use super::fault_table::Fault;
use super::{Measured, Scales, Way};
use crate::base::fixed;
use crate::base::length::{Told, Units};
use crate::model::clearance::PRINTER_ERROR;
use std::fmt;

/// Shear beyond which no cut is good, whatever its size, degrees: a millimetre over the length of a
/// sheet of A4. A design value, no source.
const SHEAR: f64 = 0.2;

/// What is to be cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Farthest cut from where the pattern is placed by, across the sheet, mm, 0 or more.
    pub across: f64,
    /// The same, down the sheet.
    pub down: f64,
    /// Scale error that its clearances allow, a part of 1.
    pub scale_error: f64,
}

impl Cut {
    /// Distance of the farthest cut, mm.
    pub fn distance(&self) -> f64 {
        self.across.hypot(self.down)
    }

    /// What it may be off by, mm.
    pub fn allowed(&self) -> f64 {
        self.scale_error * self.distance()
    }
}

/// The answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judgement {
    /// Good to cut: within what the clearances allow, uncertainty and all.
    Good,
    /// Not shown to be good, nor to be bad: read again, better.
    Unproven,
    /// Not to be cut from.
    Bad,
}

/// Why the answer is what it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Reason {
    /// Within what is allowed, at worst.
    Within {
        /// Greatest error at the farthest cut, mm.
        worst: f64,
        /// What is allowed, mm.
        allowed: f64,
    },
    /// Beyond what is allowed, even at best.
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
    /// Its corners are not square: the feed was skewed.
    Sheared {
        /// By how much, degrees, either way.
        degrees: f64,
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

/// What the last digits of a reading may take from a scale.
const ROUNDING: f64 = 1e-9;

/// Least, likely and greatest error of a scale, parts of 1.
#[derive(Debug, Clone, Copy, Default)]
struct Spread {
    least: f64,
    likely: f64,
    worst: f64,
}

impl Spread {
    /// From a ratio that should be 0.
    fn of(ratio: f64, uncertainty: f64) -> Self {
        Self {
            least: (ratio.abs() - uncertainty).max(0.0),
            likely: ratio.abs(),
            worst: ratio.abs() + uncertainty,
        }
    }

    /// Of two errors the greater.
    fn or(self, other: Self) -> Self {
        Self {
            least: self.least.max(other.least),
            likely: self.likely.max(other.likely),
            worst: self.worst.max(other.worst),
        }
    }
}

/// What the scales make of a cut.
///
/// What holds is the greater error of both directions, with the skew's added, against what the
/// clearances allow: sheets ask for the same of each of their rulers. At worst, uncertainty added,
/// within it: good. At best, uncertainty taken off, beyond it: bad. A scale more than 3 % off, or
/// one that a known fault explains and full size does not, is bad whatever the size: the next sheet
/// may come out otherwise. `faults` are those that [`super::faults`] names for the same readings.
pub fn judge(scales: &Scales, cut: &Cut, faults: &[Fault]) -> Verdict {
    let mut reasons = Vec::new();
    let mut full_size = true;
    let mut spread = Spread::default();
    for (way, distance) in [(Way::Across, cut.across), (Way::Down, cut.down)] {
        let Some(scale) = scales.along(way) else {
            if distance > 0.0 {
                reasons.push(Reason::NotRead(way));
            }
            continue;
        };
        full_size &= scale.allows(1.0);
        if (scale.value - 1.0).abs() > PRINTER_ERROR + scale.uncertainty + ROUNDING {
            let reads = 100.0 * scale.value;
            reasons.push(Reason::NotThePrinter { way, reads });
        }
        spread = spread.or(Spread::of(scale.value - 1.0, scale.uncertainty));
    }
    if let Some(skew) = scales.skew {
        if skew.value.abs() - skew.uncertainty > SHEAR {
            let degrees = skew.value.abs();
            reasons.push(Reason::Sheared { degrees });
        }
        let lean = Spread::of(
            libm::tan(skew.value.to_radians()),
            skew.uncertainty.to_radians(),
        );
        // The sign of a scale error depends on the side of the cut, so the two may add up.
        spread.least = spread.least.max(lean.least);
        spread.likely += lean.likely;
        spread.worst += lean.worst;
    }
    if let Some(plainest) = faults.first()
        && !full_size
    {
        reasons.push(Reason::KnownFault(*plainest));
    }
    let distance = cut.distance();
    let Spread {
        least,
        likely,
        worst,
    } = spread;
    let (error, allowed) = ([least, worst].map(|error| error * distance), cut.allowed());
    reasons.push(if worst <= cut.scale_error + ROUNDING {
        Reason::Within {
            worst: error[1],
            allowed,
        }
    } else if least > cut.scale_error {
        Reason::Beyond {
            least: error[0],
            allowed,
        }
    } else {
        Reason::TooCoarse {
            least: error[0],
            worst: error[1],
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
            value: likely * distance,
            uncertainty: (worst - likely).max(likely - least) * distance,
        },
        reasons,
    }
}

impl Reason {
    /// What this reason alone would answer.
    pub fn judgement(&self) -> Judgement {
        match self {
            Self::NotThePrinter { .. }
            | Self::KnownFault(_)
            | Self::Sheared { .. }
            | Self::Beyond { .. } => Judgement::Bad,
            Self::TooCoarse { .. } | Self::NotRead(_) => Judgement::Unproven,
            Self::Within { .. } => Judgement::Good,
        }
    }

    /// Order of telling, gravest first.
    fn gravity(&self) -> u8 {
        match self {
            Self::NotThePrinter { .. } => 0,
            Self::KnownFault(_) => 1,
            Self::Sheared { .. } => 2,
            Self::Beyond { .. } => 3,
            Self::TooCoarse { .. } => 4,
            Self::NotRead(_) => 5,
            Self::Within { .. } => 6,
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
        self.tell(out, Units::Mm)
    }
}

impl Told for Reason {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        let told = |mm: &f64| units.doubt(*mm, 2);
        match self {
            Self::Within { worst, allowed } => write!(
                out,
                "the farthest cut is at most {} off, {} are allowed",
                told(worst),
                told(allowed)
            ),
            Self::Beyond { least, allowed } => write!(
                out,
                "the farthest cut is at least {} off, {} are allowed; hint: print at actual \
                 size, or correct the printer",
                told(least),
                told(allowed)
            ),
            Self::TooCoarse {
                least,
                worst,
                allowed,
            } => write!(
                out,
                "the farthest cut is between {} and {} off, {} are allowed; hint: read with \
                 a finer rule, or several times",
                told(least),
                told(worst),
                told(allowed)
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
                fixed(*reads, 2),
                way.word()
            ),
            Self::Sheared { degrees } => write!(
                out,
                "the sheet is {} degrees from square: the paper went in askew; hint: square up the \
                 stack in the tray, and print again",
                fixed(*degrees, 2)
            ),
            Self::KnownFault(fault) => write!(out, "{fault}; hint: {}", fault.remedy()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Circumstances, faults};
    use super::*;
    use crate::model::clearance::accepted_readings;

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
        scale_error: 0.003,
    };

    #[test]
    fn the_greater_error_is_held_against_what_the_clearances_allow() {
        // 0.2 % of the 500 mm to the farthest cut: 1.0; 0.3 % of it are allowed: 1.5.
        let good = judge(&scales(1.002, 0.999, 0.0005), &CUT, &[]);
        assert_eq!(good.judgement, Judgement::Good);
        assert!((good.error.value - 1.0).abs() < 1e-9, "{good:?}");
        assert!((good.error.uncertainty - 0.25).abs() < 1e-9, "{good:?}");
        assert!((CUT.allowed() - 1.5).abs() < 1e-9);
        let coarse = judge(&scales(1.002, 0.998, 0.004), &CUT, &[]);
        assert_eq!(coarse.judgement, Judgement::Unproven);
        let bad = judge(&scales(1.01, 0.99, 0.004), &CUT, &[]);
        assert_eq!(bad.judgement, Judgement::Bad);
        assert!(
            bad.reasons[0].to_string().contains("at least 3 mm off"),
            "{}",
            bad.reasons[0]
        );
        let roomy = Cut {
            scale_error: 0.02,
            ..CUT
        };
        let roomy = judge(&scales(1.01, 0.99, 0.004), &roomy, &[]);
        assert_eq!(roomy.judgement, Judgement::Good);
    }

    #[test]
    fn what_the_sheet_says_and_the_verdict_are_one() {
        // Whatever a ruler reads in the range that sheets print is good, and nothing beyond it.
        for scale_error in [0.0011, 0.003, 0.0075, 0.03] {
            let cut = Cut { scale_error, ..CUT };
            let (least, greatest) = accepted_readings(100.0, scale_error);
            for (read, judgement) in [
                (least, Judgement::Good),
                (greatest, Judgement::Good),
                (least - 0.02, Judgement::Bad),
                (greatest + 0.02, Judgement::Bad),
            ] {
                for (across, down) in [(read, 100.0), (100.0, read)] {
                    let verdict = judge(&scales(across / 100.0, down / 100.0, 0.0), &cut, &[]);
                    assert_eq!(verdict.judgement, judgement, "{read} at {scale_error}");
                }
            }
        }
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
        // tan 0.5 deg over 500 mm: 4.36 mm.
        let verdict = judge(&leaning, &CUT, &[]);
        assert!((verdict.error.value - 4.3634).abs() < 1e-3, "{verdict:?}");
        assert_eq!(verdict.judgement, Judgement::Bad);
    }
}
