//! Arithmetic on a shape's parameters.
//!
//! `+ - * /`, brackets, `min`, `max`, `sqrt`, `pi`, and trig in degrees; nothing else. Signs bind
//! tighter than products, as there are no powers.

use super::fault::{ExpressionError, Fault};
use super::parser::steps;
use super::step::{Apply, Step};
use std::collections::BTreeMap;

/// An expression of a shape's parameters, checked and ready to work out.
#[derive(Debug, Clone)]
pub struct Expression {
    written: String,
    steps: Vec<Step>,
}

impl Expression {
    /// Reads an expression that may use the `parameters` named.
    ///
    /// # Errors
    /// Whatever the grammar does not allow, an unknown name, brackets more than 64 deep and
    /// expressions over 2,000 bytes, each with its place.
    pub fn new(written: &str, parameters: &[&str]) -> Result<Self, ExpressionError> {
        Ok(Self {
            written: written.into(),
            steps: steps(written, parameters)?,
        })
    }

    /// The expression as written.
    pub fn written(&self) -> &str {
        &self.written
    }

    /// Whether its value is the same for all parameters.
    pub fn is_constant(&self) -> bool {
        self.parameters().next().is_none()
    }

    /// That value, where it is the same for all and can be worked out.
    pub fn constant(&self) -> Option<f64> {
        self.is_constant()
            .then(|| self.value(&BTreeMap::new()).ok())?
    }

    /// The parameters that it uses, as often as it does.
    pub(super) fn parameters(&self) -> impl Iterator<Item = &str> {
        self.steps.iter().filter_map(|step| match step {
            Step::Parameter(name) => Some(name.as_str()),
            Step::Number(_) | Step::Apply(..) => None,
        })
    }

    /// Its value, mm or degrees, for the values of its parameters.
    ///
    /// # Errors
    /// Division by zero, the square root of a negative, an arc sine or cosine of more than 1, a
    /// result that is not finite, and a parameter without a value.
    pub fn value(&self, values: &BTreeMap<String, f64>) -> Result<f64, ExpressionError> {
        let fail = |fault| ExpressionError::new(fault, 0..self.written.len());
        let mut stack = Stack(Vec::new());
        for step in &self.steps {
            let value = match step {
                Step::Number(number) => *number,
                Step::Parameter(name) => *values.get(name).ok_or_else(|| {
                    let (name, nearest) = (name.clone(), None);
                    fail(Fault::UnknownName { name, nearest })
                })?,
                Step::Apply(apply, place) => stack
                    .apply(*apply)
                    .map_err(|fault| ExpressionError::new(fault, place.clone()))?,
            };
            // At once: what divides by an infinity or compares with it would hide it.
            if !value.is_finite() {
                return Err(fail(Fault::NotFinite));
            }
            stack.0.push(value);
        }
        Ok(stack.pop())
    }
}

/// Values waiting to be worked with.
struct Stack(Vec<f64>);

impl Stack {
    /// The last value; the parser puts one there for each that is taken.
    fn pop(&mut self) -> f64 {
        self.0.pop().unwrap_or(f64::NAN)
    }

    fn apply(&mut self, apply: Apply) -> Result<f64, Fault> {
        let last = self.pop();
        Ok(match apply {
            Apply::Negate => -last,
            Apply::Sqrt if last < 0.0 => return Err(Fault::NegativeRoot { value: last }),
            Apply::Sqrt => libm::sqrt(last),
            Apply::Sin => sine_and_cosine(last).0,
            Apply::Cos => sine_and_cosine(last).1,
            Apply::Tan => {
                let (sine, cosine) = sine_and_cosine(last);
                divide(sine, cosine)?
            }
            Apply::Asin => libm::asin(unit("asin", last)?).to_degrees(),
            Apply::Acos => libm::acos(unit("acos", last)?).to_degrees(),
            Apply::Atan => libm::atan(last).to_degrees(),
            Apply::Add => self.pop() + last,
            Apply::Subtract => self.pop() - last,
            Apply::Multiply => self.pop() * last,
            Apply::Divide => divide(self.pop(), last)?,
            Apply::Min => self.pop().min(last),
            Apply::Max => self.pop().max(last),
        })
    }
}

impl Apply {
    /// The function of this name.
    pub(super) fn function(name: &str) -> Option<Self> {
        Some(match name {
            "sqrt" => Self::Sqrt,
            "sin" => Self::Sin,
            "cos" => Self::Cos,
            "tan" => Self::Tan,
            "asin" => Self::Asin,
            "acos" => Self::Acos,
            "atan" => Self::Atan,
            "min" => Self::Min,
            "max" => Self::Max,
            _ => return None,
        })
    }

    /// How many values stand in the brackets of a function.
    pub(super) fn takes(self) -> usize {
        if matches!(self, Self::Min | Self::Max) {
            2
        } else {
            1
        }
    }
}

fn unit(function: &'static str, value: f64) -> Result<f64, Fault> {
    if value.abs() > 1.0 {
        return Err(Fault::OutsideUnit { function, value });
    }
    Ok(value)
}

fn divide(one: f64, other: f64) -> Result<f64, Fault> {
    if other == 0.0 {
        return Err(Fault::DivisionByZero);
    }
    Ok(one / other)
}

/// Sine and cosine of an angle in degrees, exact for quarter turns.
fn sine_and_cosine(degrees: f64) -> (f64, f64) {
    let around = degrees.rem_euclid(360.0);
    match around {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        _ => libm::sincos(around.to_radians()),
    }
}
