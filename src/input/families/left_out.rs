//! What stands in where a pattern leaves values out: never a size, which somebody must measure.

use super::error::{Lacking, ShapeError};
use super::family::Family;
use super::parameter::Parameter;
use crate::geometry::outline::Outline;
use crate::input::{ParameterKind, Value};
use kurbo::Point;
use std::collections::BTreeMap;

/// What an outline is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Something to stay clear of: a part, or an area that no cut may come near. A corner radius
    /// that is left out is 0, as a sharp corner takes the most room.
    Solid,
    /// Something to cut, which is drawn and dimensioned: a corner radius that is left out is the
    /// family's own.
    Opening,
}

/// A radius this small is none, mm.
const SHARP: f64 = 1e-9;

impl Family {
    /// The outline of something real, counter-clockwise, about the family's own origin.
    ///
    /// # Errors
    /// Everything that has to be given and is not, in one error; else as [`Family::outline`].
    pub fn outline_for(
        &self,
        purpose: Purpose,
        given: &BTreeMap<String, Value>,
    ) -> Result<Outline, Vec<ShapeError>> {
        let mut complete = given.clone();
        if purpose == Purpose::Solid {
            for radius in self.parameters().iter().filter(|one| is_radius(one)) {
                let sharp = Value {
                    number: 0.0,
                    angle: radius.default.angle,
                };
                complete.entry(radius.name.clone()).or_insert(sharp);
            }
        }
        let example = self.example(&complete);
        let may_stand_in = |parameter: &Parameter| {
            is_radius(parameter)
                && (purpose == Purpose::Opening || self.sharp_is_safe(parameter, &example))
        };
        let (free, lacking): (Vec<&Parameter>, Vec<&Parameter>) = self
            .parameters()
            .iter()
            .filter(|parameter| !given.contains_key(&parameter.name))
            .partition(|parameter| may_stand_in(parameter));
        if lacking.is_empty() {
            return self.outline(&complete);
        }
        let mut errors = self.misfits(given);
        // What was misspelt was given.
        let misspelt = |name: &str| {
            errors
                .iter()
                .any(|error| matches!(error, ShapeError::UnknownParameter { nearest: Some(near), .. } if near == name))
        };
        let lacking: Vec<Lacking> = lacking
            .into_iter()
            .filter(|one| !misspelt(&one.name))
            .map(Parameter::lacking)
            .collect();
        if !lacking.is_empty() {
            errors.push(ShapeError::Lacking {
                shape: self.name().to_owned(),
                lacking,
                free: free.into_iter().map(|one| one.name.clone()).collect(),
            });
        }
        Err(errors)
    }

    /// These values, and the family's examples for the rest.
    fn example(&self, given: &BTreeMap<String, Value>) -> BTreeMap<String, f64> {
        let value = |parameter: &Parameter| {
            let value = given.get(&parameter.name).unwrap_or(&parameter.default);
            (parameter.name.clone(), value.number)
        };
        self.parameters().iter().map(value).collect()
    }

    /// Whether an outline that is sharp where this radius belongs holds every other: the family
    /// allows 0, and the corners turn outwards.
    fn sharp_is_safe(&self, radius: &Parameter, values: &BTreeMap<String, f64>) -> bool {
        let least = radius.at_least.as_ref().map(|least| least.value(values));
        if least.is_some_and(|least| least.is_ok_and(|least| least > SHARP)) {
            return false;
        }
        let place = |rule: &super::family::CornerRule| {
            Some(Point::new(
                rule.x.value(values).ok()?,
                rule.y.value(values).ok()?,
            ))
        };
        let Some(points) = self.corners.iter().map(place).collect::<Option<Vec<_>>>() else {
            return false;
        };
        let at = |index: usize| points[index % points.len()];
        let twice_area: f64 = (0..points.len())
            .map(|i| at(i).to_vec2().cross(at(i + 1).to_vec2()))
            .sum();
        self.corners.iter().enumerate().all(|(i, rule)| {
            let Some(rule) = rule
                .radius
                .as_ref()
                .filter(|rule| rule.parameters().any(|name| name == radius.name))
            else {
                return true;
            };
            let turn = (at(i) - at(i + points.len() - 1)).cross(at(i + 1) - at(i));
            turn * twice_area >= 0.0 && rule.value(values).is_ok_and(|radius| radius.abs() <= SHARP)
        })
    }
}

fn is_radius(parameter: &Parameter) -> bool {
    parameter.kind == ParameterKind::Radius
}
