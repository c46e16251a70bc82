//! What a pattern may set of a family.

use super::error::{Lacking, ShapeError};
use super::expression::Expression;
use crate::base::length::Units;
use crate::input::{ParameterKind, Value};
use std::collections::BTreeMap;

/// What a pattern may set.
#[derive(Debug, Clone)]
pub struct Parameter {
    /// Its name.
    pub name: String,
    /// What it is; may be empty.
    pub about: String,
    /// What it is.
    pub kind: ParameterKind,
    /// An example; of a radius, what stands in an opening that does not say.
    pub default: Value,
    /// The least value, mm or degrees.
    pub at_least: Option<Expression>,
    /// The greatest value, mm or degrees.
    pub at_most: Option<Expression>,
}

impl Parameter {
    /// Its limits in words: `at least 5 mm, at most min(width / 2, depth)`; may be empty.
    pub fn limits(&self, units: Units) -> String {
        let limits = [("at least", &self.at_least), ("at most", &self.at_most)];
        let told = limits.into_iter().filter_map(|(words, limit)| {
            let limit = limit.as_ref()?;
            let written = limit.written();
            Some(match (limit.constant(), units) {
                (None, _) => format!("{words} {written}"),
                (Some(_), _) if self.default.angle => format!("{words} {written} deg"),
                (Some(_), Units::Mm) => format!("{words} {written} mm"),
                (Some(mm), Units::In) => format!("{words} {}", units.exact(mm)),
            })
        });
        told.collect::<Vec<_>>().join(", ")
    }

    /// What is to be said where nobody gave it.
    pub(super) fn lacking(&self) -> Lacking {
        Lacking {
            name: self.name.clone(),
            about: self.about.clone(),
            limits: Units::ALL.map(|units| self.limits(units)),
        }
    }

    pub(super) fn check(&self, values: &BTreeMap<String, f64>) -> Result<(), ShapeError> {
        let value = values
            .get(&self.name)
            .copied()
            .unwrap_or(self.default.number);
        let limit = |key, expression: &Option<Expression>| {
            let worked_out = expression.as_ref().map(|limit| limit.value(values));
            worked_out.transpose().map_err(|error| ShapeError::Limit {
                parameter: self.name.clone(),
                key,
                error,
            })
        };
        let least = limit("at_least", &self.at_least)?;
        let most = limit("at_most", &self.at_most)?;
        // A limit that is reached by arithmetic is met within rounding.
        let slack = 1e-9 * value.abs().max(1.0);
        let low = least.is_some_and(|least| value < least - slack);
        let high = most.is_some_and(|most| value > most + slack);
        if !low && !high {
            return Ok(());
        }
        let rule = if low { &self.at_least } else { &self.at_most };
        Err(ShapeError::OutOfRange {
            parameter: self.name.clone(),
            value: Value {
                number: value,
                angle: self.default.angle,
            },
            least,
            most,
            rule: rule
                .as_ref()
                .filter(|rule| !rule.is_constant())
                .map(|rule| rule.written().to_owned()),
        })
    }
}
