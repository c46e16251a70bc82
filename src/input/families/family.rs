//! A shape family: checked once as it is read, then an outline for any values it allows.

use super::error::{ShapeError, problem};
use super::expression::Expression;
use super::parameter::Parameter;
use crate::base::words::nearest;
use crate::geometry::outline::{Corner, Outline, Side, rounded};
use crate::input::{CornerSpec, ParameterKind, ParameterSpec, Placed, Problem, ShapeSpec, Value};
use kurbo::Point;
use std::collections::BTreeMap;

/// A parametric family of outlines.
#[derive(Debug, Clone)]
pub struct Family {
    name: String,
    title: String,
    about: String,
    parameters: Vec<Parameter>,
    pub(super) corners: Vec<CornerRule>,
}

#[derive(Debug, Clone)]
pub(super) struct CornerRule {
    pub(super) x: Expression,
    pub(super) y: Expression,
    pub(super) radius: Option<Expression>,
    side: Side,
}

/// A corner as its file has it: expressions, mm.
pub(crate) struct WrittenCorner<'f> {
    pub(crate) x: &'f str,
    pub(crate) y: &'f str,
    pub(crate) radius: Option<&'f str>,
    pub(crate) side: Side,
}

impl Family {
    /// A family from its file, with every expression read and the defaults tried.
    ///
    /// # Errors
    /// All that is wrong, each with its place: expressions that can not be read, defaults outside
    /// their limits, and defaults that give no sound outline.
    pub fn from_spec(spec: &ShapeSpec) -> Result<Self, Vec<Problem>> {
        fn name(parameter: &ParameterSpec) -> &str {
            &parameter.name.value
        }
        let radii = spec.parameters.iter();
        let radii = radii.filter(|parameter| parameter.kind == ParameterKind::Radius);
        let mut reader = Reader {
            names: spec.parameters.iter().map(name).collect(),
            radii: radii.map(name).collect(),
            problems: Vec::new(),
        };
        let parameters = spec
            .parameters
            .iter()
            .filter_map(|parameter| reader.parameter(parameter))
            .collect();
        let corners = spec
            .corners
            .iter()
            .filter_map(|corner| reader.corner(corner))
            .collect();
        if !reader.problems.is_empty() {
            return Err(reader.problems);
        }
        let family = Self {
            name: spec.name.value.clone(),
            title: spec.title.clone(),
            about: spec.about.clone(),
            parameters,
            corners,
        };
        match family.outline(&BTreeMap::new()) {
            Ok(_) => Ok(family),
            Err(errors) => Err(errors.iter().map(|error| error.in_defaults(spec)).collect()),
        }
    }

    /// The name that patterns call it by.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// What it is called on lists.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What it is for; may be empty.
    pub fn about(&self) -> &str {
        &self.about
    }

    /// Its parameters, in the order of its file.
    pub fn parameters(&self) -> &[Parameter] {
        &self.parameters
    }

    /// Whether it opens at the panel's edge: its origin is the middle of its mouth then, else
    /// its centre.
    pub fn is_open(&self) -> bool {
        self.corners.iter().any(|corner| corner.side == Side::Open)
    }

    /// Its corners as its file has them.
    pub(crate) fn written_corners(&self) -> impl Iterator<Item = WrittenCorner<'_>> {
        self.corners.iter().map(|corner| WrittenCorner {
            x: corner.x.written(),
            y: corner.y.written(),
            radius: corner.radius.as_ref().map(Expression::written),
            side: corner.side,
        })
    }

    /// Every parameter's value, mm or degrees, with defaults for those not given.
    ///
    /// # Errors
    /// Names it does not know, values of the wrong kind, and values outside their limits.
    pub fn values(
        &self,
        given: &BTreeMap<String, Value>,
    ) -> Result<BTreeMap<String, f64>, Vec<ShapeError>> {
        let mut errors = self.strangers(given);
        if !errors.is_empty() {
            return Err(errors);
        }
        let values = self
            .parameters
            .iter()
            .map(|parameter| {
                let value = given.get(&parameter.name).unwrap_or(&parameter.default);
                (parameter.name.clone(), value.number)
            })
            .collect();
        for parameter in &self.parameters {
            if let Err(error) = parameter.check(&values) {
                errors.push(error);
            }
        }
        if errors.is_empty() {
            Ok(values)
        } else {
            Err(errors)
        }
    }

    /// Names that the family does not have, and values of the wrong kind.
    fn strangers(&self, given: &BTreeMap<String, Value>) -> Vec<ShapeError> {
        let mut errors = Vec::new();
        for (name, value) in given {
            match self.parameters.iter().find(|known| known.name == *name) {
                None => errors.push(self.unknown(name)),
                Some(_) if !value.number.is_finite() => errors.push(ShapeError::NotFinite {
                    parameter: name.clone(),
                }),
                // Nothing at all is both a length and an angle.
                Some(known) if known.default.angle != value.angle && value.number != 0.0 => {
                    errors.push(ShapeError::WrongKind {
                        parameter: name.clone(),
                        value: *value,
                    });
                }
                Some(_) => {}
            }
        }
        errors
    }

    /// What is wrong with the values given, whatever else is missing.
    pub(super) fn misfits(&self, given: &BTreeMap<String, Value>) -> Vec<ShapeError> {
        let mut errors = self.strangers(given);
        if errors.is_empty() {
            let numbers = given.iter();
            let numbers = numbers
                .map(|(name, value)| (name.clone(), value.number))
                .collect();
            let known = self.parameters.iter();
            let checked = known
                .filter(|known| given.contains_key(&known.name))
                .filter_map(|known| known.check(&numbers).err());
            // A limit that hangs on what is missing can't be worked out.
            errors.extend(checked.filter(|error| matches!(error, ShapeError::OutOfRange { .. })));
        }
        errors
    }

    /// The outline for the values given and the family's defaults, counter-clockwise, about the
    /// family's own origin: an example. What is cut or must be cleared is made by
    /// [`Family::outline_for`].
    ///
    /// # Errors
    /// As [`Family::values`]; an expression that can not be worked out; a corner radius that does
    /// not fit, with the largest that does; an outline that crosses itself.
    pub fn outline(&self, given: &BTreeMap<String, Value>) -> Result<Outline, Vec<ShapeError>> {
        let values = self.values(given)?;
        let mut errors = Vec::new();
        let mut corners = Vec::with_capacity(self.corners.len());
        for (index, rule) in self.corners.iter().enumerate() {
            let mut value = |key, expression: &Expression| {
                expression.value(&values).unwrap_or_else(|error| {
                    errors.push(ShapeError::Corner {
                        corner: index + 1,
                        key,
                        error,
                    });
                    0.0
                })
            };
            corners.push(Corner {
                point: Point::new(value("x", &rule.x), value("y", &rule.y)),
                radius: rule
                    .radius
                    .as_ref()
                    .map_or(0.0, |radius| value("radius", radius)),
                side: rule.side,
            });
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        rounded(&corners).map_err(|error| {
            let radius = error
                .corner()
                .and_then(|corner| self.corners.get(corner - 1))
                .and_then(|rule| rule.radius.as_ref())
                .map(|radius| radius.written().to_owned());
            vec![ShapeError::Outline { error, radius }]
        })
    }

    fn unknown(&self, name: &str) -> ShapeError {
        let known = self.parameters.iter().map(|known| known.name.as_str());
        ShapeError::UnknownParameter {
            name: name.into(),
            shape: self.name.clone(),
            nearest: nearest(name, known.clone()).map(Into::into),
            known: known.map(Into::into).collect(),
        }
    }
}

/// Reads expressions and keeps what is wrong with them.
struct Reader<'s> {
    names: Vec<&'s str>,
    /// Those of `kind = "radius"`.
    radii: Vec<&'s str>,
    problems: Vec<Problem>,
}

impl Reader<'_> {
    fn parameter(&mut self, spec: &ParameterSpec) -> Option<Parameter> {
        let at_least = spec.at_least.as_ref().map(|limit| self.expression(limit));
        let at_most = spec.at_most.as_ref().map(|limit| self.expression(limit));
        let wanting = matches!(at_least, Some(None)) || matches!(at_most, Some(None));
        (!wanting).then(|| Parameter {
            name: spec.name.value.clone(),
            about: spec.about.clone(),
            kind: spec.kind,
            default: spec.default.value,
            at_least: at_least.flatten(),
            at_most: at_most.flatten(),
        })
    }

    fn corner(&mut self, spec: &CornerSpec) -> Option<CornerRule> {
        // All three are read before any is missed, so that each tells its own trouble.
        let (x, y) = (self.place(&spec.x), self.place(&spec.y));
        let radius = spec.radius.as_ref().map(|radius| self.expression(radius));
        let radius = match radius {
            None => None,
            Some(read) => Some(read?),
        };
        Some(CornerRule {
            x: x?,
            y: y?,
            radius,
            side: spec.side,
        })
    }

    /// A corner's place, which radii have no part in: else what may be left out would move it.
    fn place(&mut self, written: &Placed<String>) -> Option<Expression> {
        let place = self.expression(written)?;
        let radius = place.parameters().find(|name| self.radii.contains(name));
        if let Some(name) = radius {
            let message = format!("`{name}` is a radius, and a corner's place can't hang on it");
            let hint = "use it in `radius` and in limits, or leave out its `kind`";
            self.problems.push(written.problem(message).hint(hint));
            return None;
        }
        Some(place)
    }

    fn expression(&mut self, written: &Placed<String>) -> Option<Expression> {
        match Expression::new(&written.value, &self.names) {
            Ok(expression) => Some(expression),
            Err(error) => {
                self.problems.push(problem(written, &error));
                None
            }
        }
    }
}
