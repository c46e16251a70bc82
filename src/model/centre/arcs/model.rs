//! What the distances of a swing should be, and where to start from.

use super::{ArcReadings, Swing};
use crate::model::centre::least_squares::Prediction;
use crate::model::centre::problem::{ArcGap, CentreError};
use crate::model::centre::uncertainty::ErrorModel;

/// One measured distance, and what it measures.
pub(in crate::model::centre) struct Observation {
    pub(super) swing: usize,
    pub(super) what: What,
    pub(super) value: f64,
    pub(super) errors: ErrorModel,
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum What {
    Left,
    Right,
    Apart,
    Depth,
    /// By how much the middle of the features is off the panel's.
    Uneven,
}

impl What {
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Apart => "apart",
            Self::Depth => "depth",
            Self::Uneven => "middle",
        }
    }
}

pub(in crate::model::centre) fn observe(
    readings: &ArcReadings,
    swing_index: usize,
    swing: &Swing,
) -> Vec<Observation> {
    let measuring = &readings.measuring;
    let found = measuring.reading;
    let model = |length: f64, eyes| ErrorModel::reading(length, measuring, found, eyes);
    let deeper = readings.mark_depth - swing.depth;
    // The mark is a pencil cross, so only the feature's middle has to be found by eye; between
    // two features both middles have.
    let mut observed = vec![
        (What::Left, swing.left, model(swing.left, 1.0)),
        (What::Right, swing.right, model(swing.right, 1.0)),
    ];
    if let Some(apart) = swing.apart {
        observed.push((What::Apart, apart, model(apart, 2.0)));
    }
    let depth = ErrorModel::difference(
        model(readings.mark_depth, 1.0),
        model(swing.depth, 1.0),
        model(deeper, 0.0),
    );
    observed.push((What::Depth, deeper, depth));
    // As an observation it must weigh something finite: a micrometre is as good as even.
    let uneven = ErrorModel::unevenness(measuring.moulding.max(1e-3));
    observed.push((What::Uneven, 0.0, uneven));
    observed
        .into_iter()
        .map(|(what, value, errors)| Observation {
            swing: swing_index,
            what,
            value,
            errors,
        })
        .collect()
}

/// Half the distance between the features, and where the mark lies by this swing alone, mm.
pub(super) fn half_spacing(
    index: usize,
    swing: &Swing,
    observed: &[Observation],
) -> Result<(f64, f64), CentreError> {
    let widest = |what| -> f64 {
        let of_kind = observed.iter().filter(|o| o.what == what);
        of_kind.map(|o| o.errors.limit()).sum()
    };
    let deeper: f64 = observed
        .iter()
        .filter(|o| o.what == What::Depth)
        .map(|o| o.value)
        .sum();
    let (left, right) = (swing.left, swing.right);
    let gap = |why, by: f64| CentreError::ArcsCannotMeet {
        swing: index,
        name: swing.name.clone(),
        why,
        by,
    };
    let shortest = [(left, What::Left), (right, What::Right)]
        .map(|(radius, what)| deeper.abs() - radius - widest(what) - widest(What::Depth));
    let short = shortest[0].max(shortest[1]);
    if short > 0.0 {
        return Err(gap(ArcGap::TooShallow, short));
    }
    if let Some(apart) = swing.apart {
        let allowed = widest(What::Left) + widest(What::Right) + widest(What::Apart);
        let short = apart - left - right - allowed;
        if short > 0.0 {
            return Err(gap(ArcGap::TooShort, short));
        }
        let uneven = (left - right).abs() - apart - allowed;
        if uneven > 0.0 {
            return Err(gap(ArcGap::TooUneven, uneven));
        }
        let off = (left - right) * (left + right) / (2.0 * apart);
        return Ok((apart / 2.0, off));
    }
    // Sum and product of x^2 and s^2 are known; s is the larger of the two.
    let sum = (left * left + right * right) / 2.0 - deeper * deeper;
    let product = (left - right) * (left + right) / 4.0;
    let root = (sum * sum - 4.0 * product * product).max(0.0).sqrt();
    let half = ((sum + root) / 2.0).max(0.0).sqrt();
    if half > 0.0 {
        Ok((half, product / half))
    } else {
        Err(CentreError::ArcsTooFlat)
    }
}

/// Unknowns: `x`, then `s`, `h` and `e` of each swing.
pub(in crate::model::centre) fn predict(
    observations: &[Observation],
    unknowns: &[f64],
) -> Prediction {
    let mut prediction = Prediction {
        values: Vec::with_capacity(observations.len()),
        derivatives: Vec::with_capacity(observations.len()),
    };
    for observation in observations {
        let place = 1 + 3 * observation.swing;
        let (s, h, e) = (unknowns[place], unknowns[place + 1], unknowns[place + 2]);
        let x = unknowns[0] + e;
        let mut row = vec![0.0; unknowns.len()];
        let mut radius = |side: f64| {
            let across = x + side * s;
            let length = libm::hypot(across, h);
            if length > 0.0 {
                row[0] = across / length;
                row[place + 2] = across / length;
                row[place] = side * across / length;
                row[place + 1] = h / length;
            }
            length
        };
        let value = match observation.what {
            What::Left => radius(1.0),
            What::Right => radius(-1.0),
            What::Apart => {
                row[place] = 2.0;
                2.0 * s
            }
            What::Depth => {
                row[place + 1] = 1.0;
                h
            }
            What::Uneven => {
                row[place + 2] = 1.0;
                e
            }
        };
        prediction.values.push(value);
        prediction.derivatives.push(row);
    }
    prediction
}
