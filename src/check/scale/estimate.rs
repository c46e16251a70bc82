//! Scale across and down from readings.
//!
//! Weighted mean, each reading by the inverse square of its own doubt. What the rule itself may be
//! wrong by is common to all and is added after, not averaged. Where the residuals are larger than
//! the readings' own doubt explains, that doubt is raised by the Birge ratio.

use super::error::ScaleError;
use super::reading::Reading;
use super::{Measured, Way};

/// How many times its allowance a residual may be before the readings can't all be true.
const CONTRADICTION: f64 = 3.0;

/// A scale in one direction, with how well its readings agree.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// Direction.
    pub way: Way,
    /// The scale.
    pub scale: Measured,
    /// The same with the greatest error that reading every end half a graduation wrong could make,
    /// all the same way: what [`super::faults`] must be asked with, so that the true one is always
    /// among those it names.
    pub widest: Measured,
    /// The readings used, in the order given.
    pub readings: Vec<Reading>,
    /// Read less what the scale makes of the printed length, mm, one a reading.
    pub residuals: Vec<f64>,
    /// By how much the readings' own doubt was raised to explain the residuals, 1 or more.
    pub raised: f64,
}

/// The scale along `way` from those of `readings` that were taken along it; `None` without any.
///
/// # Errors
/// [`ScaleError::Contradiction`] where a reading is off by several times more than reading a rule
/// can be.
pub fn estimate(way: Way, readings: &[Reading]) -> Result<Option<Estimate>, ScaleError> {
    let readings: Vec<Reading> = readings.iter().copied().filter(|r| r.way == way).collect();
    let weights: Vec<f64> = readings.iter().map(|r| r.own_doubt().powi(-2)).collect();
    let total: f64 = weights.iter().sum();
    if readings.is_empty() {
        return Ok(None);
    }
    let mean = |value: fn(&Reading) -> f64| -> f64 {
        let sum: f64 = readings
            .iter()
            .zip(&weights)
            .map(|(r, w)| w * value(r))
            .sum();
        sum / total
    };
    let scale = mean(Reading::scale);
    if let Some(error) = contradiction(&readings, &weights, scale) {
        return Err(error);
    }
    let squares: f64 = readings
        .iter()
        .zip(&weights)
        .map(|(r, w)| w * (r.scale() - scale).powi(2))
        .sum();
    let freedom = readings.len() as f64 - 1.0;
    let raised = if freedom > 0.0 {
        (squares / freedom).sqrt().max(1.0)
    } else {
        1.0
    };
    let own = raised / total.sqrt();
    let shared = mean(Reading::shared_doubt);
    let uncertainty = 2.0 * own.hypot(shared);
    Ok(Some(Estimate {
        way,
        scale: Measured {
            value: scale,
            uncertainty,
        },
        widest: Measured {
            value: scale,
            // Residuals beyond the graduation say that it is not all there is.
            uncertainty: if raised > 1.0 {
                mean(Reading::greatest_error).max(uncertainty)
            } else {
                mean(Reading::greatest_error)
            },
        },
        residuals: readings
            .iter()
            .map(|r| r.read - scale * r.nominal())
            .collect(),
        readings,
        raised,
    }))
}

/// The reading that the others, taken together, can't be brought in line with.
fn contradiction(readings: &[Reading], weights: &[f64], scale: f64) -> Option<ScaleError> {
    let total: f64 = weights.iter().sum();
    readings
        .iter()
        .zip(weights)
        .filter_map(|(reading, weight)| {
            let rest = total - weight;
            if readings.len() < 2 || rest <= 0.0 {
                return None;
            }
            let others = (total * scale - weight * reading.scale()) / rest;
            // Rules of different make may each be wrong by their own share.
            let doubt = (1.0 / weight + 1.0 / rest + 2.0 * reading.shared_doubt().powi(2)).sqrt();
            let off = (reading.scale() - others).abs() / (2.0 * doubt);
            (off > CONTRADICTION).then_some((off, reading, others))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, reading, others)| ScaleError::Contradiction {
            way: reading.way,
            read: reading.read,
            nominal: reading.nominal(),
            expected: others * reading.nominal(),
        })
}

#[cfg(test)]
mod tests {
    use super::super::{Gauge, Rule};
    use super::*;

    fn metric(read: f64, graduation: f64) -> Reading {
        Reading::new(Way::Across, Gauge::Metric, read, Rule::new(graduation)).unwrap()
    }

    #[test]
    fn one_reading_gives_its_own_doubt() {
        // Two ends, each rectangular with half-width 0.25: u = 0.25 sqrt(2 / 3) = 0.204124 mm
        // (GUM; NIST/SEMATECH e-Handbook 2.5.7).
        let one = estimate(Way::Across, &[metric(99.6, 0.5)])
            .unwrap()
            .unwrap();
        assert!((one.scale.value - 0.996).abs() < 1e-12);
        assert!(
            (one.scale.uncertainty - 2.0 * 0.002_041_241_45).abs() < 1e-9,
            "{one:?}"
        );
        assert_eq!(one.raised, 1.0);
    }

    #[test]
    fn the_rule_itself_is_not_averaged_away() {
        let rule = Rule {
            graduation: 0.5,
            permissible: 0.3,
        };
        let readings: Vec<Reading> = (0..400)
            .map(|_| Reading::new(Way::Down, Gauge::Metric, 100.0, rule).unwrap())
            .collect();
        let many = estimate(Way::Down, &readings).unwrap().unwrap();
        // What is left is 0.3 / sqrt(3) over 100 mm, and 0.204124 / 20 beside it.
        let expected = 2.0 * (0.173_205_08_f64.hypot(0.010_206_21)) / 100.0;
        assert!(
            (many.scale.uncertainty - expected).abs() < 1e-8,
            "{}",
            many.scale.uncertainty
        );
    }

    #[test]
    fn finer_readings_weigh_more_and_a_card_has_two_sides() {
        let fine = metric(99.0, 0.25);
        let coarse = metric(99.4, 0.5);
        let both = estimate(Way::Across, &[fine, coarse]).unwrap().unwrap();
        // Weights 4 : 1.
        assert!((both.scale.value - (4.0 * 0.99 + 0.994) / 5.0).abs() < 1e-12);
        assert!((both.residuals[0] + 0.08).abs() < 1e-9 && (both.residuals[1] - 0.32).abs() < 1e-9);
        let card = |way, read| Reading::new(way, Gauge::Card, read, Rule::new(0.5)).unwrap();
        assert!((card(Way::Across, 85.6).scale() - 1.0).abs() < 1e-12);
        assert!((card(Way::Down, 53.98).scale() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn residuals_raise_the_doubt_and_contradictions_are_named() {
        let spread = [metric(99.2, 0.5), metric(100.4, 0.5), metric(99.8, 0.5)];
        let spread = estimate(Way::Across, &spread).unwrap().unwrap();
        assert!(spread.raised > 2.0, "{}", spread.raised);
        let wrong = [metric(99.5, 0.5), metric(94.5, 0.5), metric(99.6, 0.5)];
        let error = estimate(Way::Across, &wrong).unwrap_err();
        assert!(
            matches!(error, ScaleError::Contradiction { read, .. } if read == 94.5),
            "{error}"
        );
        assert!(
            error.to_string().contains("`94.5 mm` for 100 mm"),
            "{error}"
        );
    }

    #[test]
    fn absurd_readings_are_refused() {
        let read = |read, rule| Reading::new(Way::Across, Gauge::Metric, read, rule);
        for reading in [9.96, 3937.0, 0.0, -100.0, f64::NAN, f64::INFINITY] {
            assert!(
                matches!(
                    read(reading, Rule::new(0.5)),
                    Err(ScaleError::Absurd { .. })
                ),
                "{reading}"
            );
        }
        for graduation in [0.0, -1.0, 30.0, f64::NAN] {
            assert!(
                matches!(
                    read(99.0, Rule::new(graduation)),
                    Err(ScaleError::Graduation { .. })
                ),
                "{graduation}"
            );
        }
        let rule = Rule {
            graduation: 1.0,
            permissible: -0.1,
        };
        assert!(matches!(
            read(99.0, rule),
            Err(ScaleError::Permissible { .. })
        ));
        assert!(estimate(Way::Down, &[metric(99.0, 1.0)]).unwrap().is_none());
    }
}
