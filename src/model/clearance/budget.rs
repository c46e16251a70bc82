//! The terms put together.

use super::term::rounded_up;
use super::{EachWay, Term};

/// How terms that arise by chance are put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Combine {
    /// `2 sqrt(sum u^2)`, never more than the plain sum: standard uncertainties, expanded with k = 2
    /// (GUM 5.1.2 and 6.2.1; NIST/SEMATECH e-Handbook 2.5.7).
    #[default]
    RootSumSquare,
    /// The plain sum: all of them at their worst at once.
    WorstCase,
}

impl Combine {
    /// Both.
    pub const ALL: [Self; 2] = [Self::RootSumSquare, Self::WorstCase];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::RootSumSquare => "root-sum-square",
            Self::WorstCase => "worst-case",
        }
    }

    /// Rectangular half-widths and an expanded uncertainty put together, mm, rounded up to 0.01 mm, or
    /// the plain sum where that is less.
    ///
    /// A half-width `a` has the standard uncertainty `a / sqrt(3)` (GUM 4.3.7); an expanded uncertainty
    /// has itself over its coverage factor, 2 for some 95 of 100 cases (GUM 4.3.3).
    pub fn of(self, half_widths: &[f64], expanded: f64) -> f64 {
        let sum = half_widths.iter().sum::<f64>() + expanded;
        match self {
            Self::WorstCase => sum,
            Self::RootSumSquare => {
                let squares: f64 = half_widths.iter().map(|term| term * term).sum();
                let variance = squares / 3.0 + (expanded / COVERAGE_FACTOR).powi(2);
                rounded_up(COVERAGE_FACTOR * variance.sqrt()).min(sum)
            }
        }
    }
}

/// Coverage factor of what is expanded: some 95 of 100 cases (GUM 6.3.3).
const COVERAGE_FACTOR: f64 = 2.0;

/// The clearance of one opening: its terms, and how they are put together.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    /// What shall remain when all has moved as far as it may.
    pub gap: Term,
    /// Growth of the panel, a known movement: added outright.
    pub thermal: Term,
    /// How far the part may stand from where it was measured.
    pub position: EachWay<Term>,
    /// How well the centreline is known, an expanded uncertainty, k = 2; counts sideways only. All
    /// other terms are half-widths.
    pub centre: Term,
    /// How far the marked line may lie from the pattern's.
    pub marking: Term,
    /// How far the cut may lie from the marked line.
    pub cutting: Term,
    /// How far the printed scale may be off.
    pub print: Term,
    /// How `position`, `centre`, `marking`, `cutting` and `print` are put together.
    pub combine: Combine,
}

/// What a row of the table is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Counts towards the total as it stands.
    Added,
    /// Goes into the combined row below.
    Combined,
    /// The combined terms together; counts towards the total.
    Together,
    /// The sum of the `Added` and `Together` rows.
    Total,
    /// What the total would be if all were at their worst at once: for information.
    WorstCase,
}

/// A row of the printed table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// What it is.
    pub name: &'static str,
    /// mm each way.
    pub value: EachWay,
    /// How it counts.
    pub kind: Kind,
    /// Why it has this value.
    pub reason: String,
}

impl Budget {
    /// The clearance to keep, mm.
    pub fn total(&self) -> EachWay {
        self.total_by(self.combine)
    }

    /// What the clearance would be with all terms at their worst at once, mm.
    pub fn worst_case(&self) -> EachWay {
        self.total_by(Combine::WorstCase)
    }

    /// How far part and edge may move towards each other, mm: the total less the gap.
    pub fn movement(&self) -> EachWay {
        let together = self.together(self.combine);
        EachWay {
            sideways: self.thermal.value + together.sideways,
            depthways: self.thermal.value + together.depthways,
        }
    }

    /// The rows of a table that adds up: the total is the sum of the rows that are added and
    /// the one that combines the others. What is worked out has two decimals at most.
    pub fn rows(&self) -> Vec<Row> {
        let even = |name, term: &Term, kind| Row {
            name,
            value: EachWay::even(term.value),
            kind,
            reason: term.reason.words().to_owned(),
        };
        let centre = Row {
            value: EachWay {
                sideways: self.centre.value,
                depthways: 0.0,
            },
            ..even("centre", &self.centre, Kind::Combined)
        };
        let summary = |name, value, kind, reason: &str| Row {
            name,
            value,
            kind,
            reason: reason.to_owned(),
        };
        let how = match self.combine {
            Combine::RootSumSquare => {
                "2 x root of ((centre / 2)² + sum of the other squares / 3), at most their sum"
            }
            Combine::WorstCase => "their sum",
        };
        vec![
            even("gap", &self.gap, Kind::Added),
            even("thermal", &self.thermal, Kind::Added),
            Row {
                value: EachWay {
                    sideways: self.position.sideways.value,
                    depthways: self.position.depthways.value,
                },
                ..even("position", &self.position.sideways, Kind::Combined)
            },
            centre,
            even("marking", &self.marking, Kind::Combined),
            even("cutting", &self.cutting, Kind::Combined),
            even("print", &self.print, Kind::Combined),
            summary(
                "chance terms together",
                self.together(self.combine),
                Kind::Together,
                how,
            ),
            summary(
                "clearance",
                self.total(),
                Kind::Total,
                "gap + thermal + chance terms together",
            ),
            summary(
                "worst case",
                self.worst_case(),
                Kind::WorstCase,
                "all at their worst at once: for information",
            ),
        ]
    }

    fn total_by(&self, combine: Combine) -> EachWay {
        let together = self.together(combine);
        let outright = self.gap.value + self.thermal.value;
        EachWay {
            sideways: outright + together.sideways,
            depthways: outright + together.depthways,
        }
    }

    fn together(&self, combine: Combine) -> EachWay {
        let with = |position: &Term| {
            [position, &self.marking, &self.cutting, &self.print].map(|term| term.value)
        };
        EachWay {
            sideways: combine.of(&with(&self.position.sideways), self.centre.value),
            depthways: combine.of(&with(&self.position.depthways), 0.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn budget(values: [f64; 7], combine: Combine) -> Budget {
        let [gap, thermal, position, centre, marking, cutting, print] = values.map(Term::given);
        Budget {
            gap,
            thermal,
            position: EachWay::alike(position),
            centre,
            marking,
            cutting,
            print,
            combine,
        }
    }

    #[track_caller]
    fn close(is: f64, should: f64, within: f64) {
        assert!((is - should).abs() <= within, "{is} should be {should}");
    }

    // Half-widths 0.5, 0.25, 0.84, 0.84, 0.5, 0.5: worst case 3.43, U = 1.722 (GUM's rectangular
    // half-widths, k = 2).
    #[test]
    fn combined_as_the_guide_does() {
        let terms = [0.5, 0.25, 0.84, 0.84, 0.5, 0.5];
        close(Combine::WorstCase.of(&terms, 0.0), 3.43, 1e-12);
        // 1.7218 rounded up to the hundredth.
        close(Combine::RootSumSquare.of(&terms, 0.0), 1.73, 1e-12);
    }

    #[test]
    fn one_term_alone_is_itself() {
        // 2 / sqrt(3) of a lone half-width would be more than it can be.
        close(Combine::RootSumSquare.of(&[3.0, 0.0], 0.0), 3.0, 0.0);
        close(Combine::RootSumSquare.of(&[], 0.0), 0.0, 0.0);
        // And an expanded uncertainty is what it was expanded to.
        close(Combine::RootSumSquare.of(&[], 1.4), 1.4, 1e-12);
    }

    #[test]
    fn centre_counts_sideways_only_and_worst_case_is_always_told() {
        let budget = budget([6.0, 1.2, 2.0, 0.6, 0.5, 1.5, 0.3], Combine::RootSumSquare);
        // 2 sqrt((4 + 0.25 + 2.25 + 0.09) / 3) = 2.9642; with 0.6 / 2 among its roots: 3.0243.
        close(budget.total().sideways, 6.0 + 1.2 + 3.03, 1e-9);
        close(budget.total().depthways, 6.0 + 1.2 + 2.97, 1e-9);
        close(budget.worst_case().sideways, 12.1, 1e-9);
        close(budget.worst_case().depthways, 11.5, 1e-9);
        close(budget.movement().sideways, 4.23, 1e-9);
    }

    fn add_up(rows: &[Row]) -> (f64, f64, f64) {
        let sum = |kinds: &[Kind]| {
            rows.iter()
                .filter(|row| kinds.contains(&row.kind))
                .map(|row| row.value.sideways)
                .sum::<f64>()
        };
        (
            sum(&[Kind::Added, Kind::Together]),
            sum(&[Kind::Total]),
            sum(&[Kind::Combined]) + sum(&[Kind::Added]),
        )
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        #[test]
        fn the_table_adds_up_in_the_decimals_printed(
            values in prop::array::uniform7(0_u32..2000),
            worst in any::<bool>(),
        ) {
            let combine = if worst { Combine::WorstCase } else { Combine::RootSumSquare };
            let budget = budget(values.map(|value| f64::from(value) / 100.0), combine);
            let rows = budget.rows();
            let hundredths = |value: f64| (value * 100.0).round() / 100.0;
            for row in &rows {
                prop_assert!((row.value.sideways - hundredths(row.value.sideways)).abs() < 1e-9);
            }
            let (sum, total, plain) = add_up(&rows);
            prop_assert!((sum - total).abs() < 1e-9, "{} {}", sum, total);
            prop_assert!((plain - budget.worst_case().sideways).abs() < 1e-9);
            prop_assert!(total <= plain + 1e-9);
            prop_assert!(budget.total().depthways <= total + 1e-9);
        }
    }
}
