//! What a scale makes of a cut: good to cut, or not, and why.

use super::fault_table::Fault;
use super::reading::Read;
use super::reason::{Judgement, Reason};
use super::{Measured, Scales, Way};
use crate::model::clearance::PRINTER_ERROR;

/// Shear beyond which no cut is good, whatever its size, degrees: a millimetre over the length of a
/// sheet of A4. A design value, no source.
const SHEAR: f64 = 0.2;

/// What a scale may at most be uncertain by, expanded: 100 mm read to half a millimetre at both ends,
/// as sheets ask for, `2 x 0.25 mm x sqrt(2 / 3)` (GUM 4.3.7).
const COARSEST: f64 = 0.004_082_5;

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

/// Whether what was read is what sheets ask for.
///
/// Simple acceptance (JCGM 106:2012, 8.2, from memory): each ruler's reading as it stands is held
/// against the range that its sheet prints, [`accepted_readings`], so that sheet and verdict can't
/// differ. How finely it was read does not move that range. It is told with the error, and a direction
/// of which no reading is known better than to half a millimetre over 100 is not proven.
///
/// Besides, a sheet more than 0.2 degrees from square is bad, and so is one whose skew, uncertainty
/// taken off, adds up with its scale to more than is allowed. Of what is bad, it is told whether it is
/// more than a printer is ever off by, and which of `faults`, those that [`super::faults`] names for
/// the same readings, explains it.
///
/// [`accepted_readings`]: crate::model::clearance::accepted_readings
pub fn judge(reads: &[Read], scales: &Scales, cut: &Cut, faults: &[Fault]) -> Verdict {
    let mut reasons: Vec<Reason> = reads
        .iter()
        .filter(|read| !read.is_accepted(cut.scale_error))
        .map(|read| Reason::Outside(*read, cut.scale_error))
        .collect();
    if let (false, Some(plainest)) = (reasons.is_empty(), faults.first()) {
        reasons.push(Reason::KnownFault(*plainest));
    }
    let mut spread = Spread::default();
    for way in [Way::Across, Way::Down] {
        let along = reads.iter().filter(|read| read.way == way);
        let finest = along.map(|read| read.uncertainty).min_by(f64::total_cmp);
        let (Some(scale), Some(uncertainty)) = (scales.along(way), finest) else {
            reasons.push(Reason::NotRead(way));
            continue;
        };
        if uncertainty > COARSEST + ROUNDING {
            reasons.push(Reason::TooCoarse { way, uncertainty });
        }
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
        let (least, allowed) = (spread.likely + lean.least, cut.scale_error);
        if lean.least > 0.0 && least > allowed + ROUNDING {
            reasons.push(Reason::Leans { least, allowed });
        }
        // The sign of a scale error depends on the side of the cut, so the two may add up.
        spread.least = spread.least.max(lean.least);
        spread.likely += lean.likely;
        spread.worst += lean.worst;
    }
    if reasons.is_empty() {
        reasons.push(Reason::Within);
    }
    reasons.sort_by_key(Reason::gravity);
    let judgement = reasons
        .first()
        .map_or(Judgement::Unproven, Reason::judgement);
    let Spread {
        least,
        likely,
        worst,
    } = spread;
    let distance = cut.distance();
    Verdict {
        judgement,
        error: Measured {
            value: likely * distance,
            uncertainty: (worst - likely).max(likely - least) * distance,
        },
        reasons,
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

#[cfg(test)]
mod tests {
    use super::super::{Circumstances, Gauge, faults};
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

    /// Both 100 mm rulers read as the scales have them.
    fn judged(scales: &Scales, cut: &Cut, faults: &[Fault]) -> Verdict {
        let read = |way| {
            scales.along(way).map(|scale| Read {
                way,
                gauge: Gauge::Metric,
                mm: 100.0 * scale.value,
                uncertainty: scale.uncertainty,
            })
        };
        let reads: Vec<Read> = [Way::Across, Way::Down]
            .into_iter()
            .filter_map(read)
            .collect();
        judge(&reads, scales, cut, faults)
    }

    #[test]
    fn readings_are_held_as_they_stand_against_what_the_clearances_allow() {
        // 0.2 % of the 500 mm to the farthest cut: 1.0; 0.3 % of it are allowed: 1.5.
        let good = judged(&scales(1.002, 0.999, 0.0005), &CUT, &[]);
        assert_eq!(good.judgement, Judgement::Good);
        assert!((good.error.value - 1.0).abs() < 1e-9, "{good:?}");
        assert!((good.error.uncertainty - 0.25).abs() < 1e-9, "{good:?}");
        assert!((CUT.allowed() - 1.5).abs() < 1e-9);
        // A rule read to half a millimetre doubts more than is allowed, and moves no limit.
        let coarse = judged(&scales(1.002, 0.998, 0.004), &CUT, &[]);
        assert_eq!(coarse.judgement, Judgement::Good);
        let coarser = judged(&scales(1.002, 0.998, 0.005), &CUT, &[]);
        assert_eq!(coarser.judgement, Judgement::Unproven);
        let bad = judged(&scales(1.01, 0.99, 0.004), &CUT, &[]);
        assert_eq!(bad.judgement, Judgement::Bad);
        let words = bad.reasons[0].to_string();
        assert!(
            words
                .starts_with("the 100 mm ruler reads 101 mm across, it must read 99.7 to 100.3 mm"),
            "{words}"
        );
        let roomy = Cut {
            scale_error: 0.02,
            ..CUT
        };
        let roomy = judged(&scales(1.01, 0.99, 0.004), &roomy, &[]);
        assert_eq!(roomy.judgement, Judgement::Good);
    }

    #[test]
    fn what_the_sheet_says_and_the_verdict_are_one() {
        // Whatever a ruler reads in the range that sheets print is good, and nothing beyond it,
        // however finely it was read.
        for (scale_error, uncertainty) in [
            (0.0011, 0.0),
            (0.003, 0.004),
            (0.0075, 0.001),
            (0.03, 0.004),
        ] {
            let cut = Cut { scale_error, ..CUT };
            let (least, greatest) = accepted_readings(100.0, scale_error, 2);
            for (read, judgement) in [
                (least, Judgement::Good),
                (greatest, Judgement::Good),
                (least - 0.01, Judgement::Bad),
                (greatest + 0.01, Judgement::Bad),
            ] {
                for (across, down) in [(read, 100.0), (100.0, read)] {
                    let read = scales(across / 100.0, down / 100.0, uncertainty);
                    let named = faults(&read, &Circumstances::default());
                    let verdict = judged(&read, &cut, &named);
                    assert_eq!(
                        verdict.judgement, judgement,
                        "{across} {down} at {scale_error}"
                    );
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
        let verdict = judged(&read, &tiny, &named);
        assert_eq!(verdict.judgement, Judgement::Bad);
        let words = verdict.reasons[0].to_string();
        assert!(
            words.starts_with("Letter page fitted to the whole of A4 paper"),
            "{words}"
        );
        let off = judged(&scales(0.955, 0.955, 0.001), &tiny, &[]);
        assert!(matches!(off.reasons[0], Reason::NotThePrinter { .. }));
        assert_eq!(off.judgement, Judgement::Bad);
    }

    #[test]
    fn what_was_not_read_is_not_proven_and_skew_counts() {
        let one = Scales {
            down: None,
            ..scales(1.0, 1.0, 0.001)
        };
        let verdict = judged(&one, &CUT, &[]);
        assert_eq!(verdict.judgement, Judgement::Unproven);
        assert!(verdict.reasons.contains(&Reason::NotRead(Way::Down)));
        let leaning = |value, scale| Scales {
            skew: Some(Measured {
                value,
                uncertainty: 0.05,
            }),
            ..scales(scale, 1.0, 0.0005)
        };
        // tan 0.5 deg over 500 mm: 4.36 mm.
        let verdict = judged(&leaning(0.5, 1.0), &CUT, &[]);
        assert!((verdict.error.value - 4.3634).abs() < 1e-3, "{verdict:?}");
        assert_eq!(verdict.judgement, Judgement::Bad);
        // tan 0.15 deg less what it is known to: 0.17 %, and 0.2 % of scale.
        let verdict = judged(&leaning(0.15, 1.002), &CUT, &[]);
        assert!(
            matches!(verdict.reasons[0], Reason::Leans { .. }),
            "{verdict:?}"
        );
        assert_eq!(
            judged(&leaning(0.15, 1.0), &CUT, &[]).judgement,
            Judgement::Good
        );
    }
}
