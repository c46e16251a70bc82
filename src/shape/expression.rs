//! Arithmetic on a shape's parameters.
//!
//! `+ - * /`, brackets, `min`, `max`, `sqrt`, `pi`, and trig in degrees; nothing else. Signs bind
//! tighter than products, as there are no powers.

use super::fault::{ExpressionError, Fault};
use super::lexer::{Token, tokens};
use exmex::{BinOp, Express, FlatEx, MakeOperators, Operator};
use std::collections::BTreeMap;
use std::str::FromStr;

/// An expression of a shape's parameters, checked and ready to work out.
#[derive(Debug, Clone)]
pub struct Expression {
    written: String,
    parameters: Vec<String>,
    compiled: FlatEx<Number, Operators>,
}

impl Expression {
    /// Reads an expression that may use the `parameters` named.
    ///
    /// # Errors
    /// Whatever the grammar does not allow, an unknown name, brackets more than 64 deep and
    /// expressions over 2,000 bytes, each with its place.
    pub fn new(written: &str, parameters: &[&str]) -> Result<Self, ExpressionError> {
        let tokens = tokens(written, parameters)?;
        let compiled = FlatEx::parse(&spelled_out(&tokens))
            .map_err(|_| ExpressionError::new(Fault::NotUnderstood, 0..written.len()))?;
        Ok(Self {
            written: written.into(),
            parameters: compiled.var_names().to_vec(),
            compiled,
        })
    }

    /// The expression as written.
    pub fn written(&self) -> &str {
        &self.written
    }

    /// The parameters it uses.
    pub fn parameters(&self) -> &[String] {
        &self.parameters
    }

    /// Its value, mm or degrees, for the values of its parameters.
    ///
    /// # Errors
    /// Division by zero, the square root of a negative, an arc sine or cosine of more than 1, a
    /// result that is not finite, and a parameter without a value.
    pub fn value(&self, values: &BTreeMap<String, f64>) -> Result<f64, ExpressionError> {
        let fail = |fault| ExpressionError::new(fault, 0..self.written.len());
        let mut given = Vec::with_capacity(self.parameters.len());
        for name in &self.parameters {
            let value = values.get(name).ok_or_else(|| {
                fail(Fault::UnknownName {
                    name: name.clone(),
                    nearest: None,
                })
            })?;
            given.push(Number(Ok(*value)));
        }
        let value = self
            .compiled
            .eval(&given)
            .map_err(|_| fail(Fault::NotUnderstood))?;
        match value.0 {
            Ok(number) if number.is_finite() => Ok(number),
            Ok(_) => Err(fail(Fault::NotFinite)),
            Err(trouble) => Err(fail(trouble.into())),
        }
    }
}

/// The tokens in the evaluator's own spelling. Names stand in braces there, and functions of two
/// values between them: left to itself, it reads `minimum` as `min imum`.
fn spelled_out(tokens: &[Token<'_>]) -> String {
    let mut text = String::new();
    // Whether each open bracket has a second one round it.
    let mut doubled = Vec::new();
    for token in tokens {
        match token {
            Token::Number(number) => text.push_str(number.trim_end_matches('.')),
            Token::Pi => text.push_str("PI"),
            Token::Parameter(name) => text.extend(["{", name, "}"]),
            Token::Operator(sign) => text.push(*sign),
            Token::Open => {
                text.push('(');
                doubled.push(false);
            }
            Token::Unary(name) => {
                text.extend([name, "("]);
                doubled.push(false);
            }
            Token::Binary(_) => {
                text.push_str("((");
                doubled.push(true);
            }
            Token::Comma(name) => text.extend([")", name, "("]),
            Token::Close => text.push_str(if doubled.pop() == Some(true) {
                "))"
            } else {
                ")"
            }),
        }
    }
    text
}

/// A value, or what went wrong on the way to it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Number(Result<f64, Trouble>);

#[derive(Debug, Clone, Copy, PartialEq)]
enum Trouble {
    DivisionByZero,
    NegativeRoot(f64),
    OutsideUnit(&'static str, f64),
}

impl Default for Number {
    fn default() -> Self {
        Self(Ok(0.0))
    }
}

impl FromStr for Number {
    type Err = std::num::ParseFloatError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        text.parse().map(|number| Self(Ok(number)))
    }
}

impl Number {
    fn with(self, other: Self, apply: impl Fn(f64, f64) -> Result<f64, Trouble>) -> Self {
        Self(self.0.and_then(|one| apply(one, other.0?)))
    }

    fn map(self, apply: impl Fn(f64) -> f64) -> Self {
        Self(self.0.map(apply))
    }

    fn arc(self, name: &'static str, apply: impl Fn(f64) -> f64) -> Self {
        Self(self.0.and_then(|value| {
            if value.abs() > 1.0 {
                Err(Trouble::OutsideUnit(name, value))
            } else {
                Ok(apply(value).to_degrees())
            }
        }))
    }
}

/// What the evaluator is allowed to know.
#[derive(Debug, Clone)]
struct Operators;

impl MakeOperators<Number> for Operators {
    fn make<'a>() -> Vec<Operator<'a, Number>> {
        let binary = |apply: fn(Number, Number) -> Number, prio| BinOp {
            apply,
            prio,
            // Never reordered: sums are worked out as they are written.
            is_commutative: false,
        };
        vec![
            Operator::make_bin_unary("+", binary(|a, b| a.with(b, |a, b| Ok(a + b)), 1), |a| a),
            Operator::make_bin_unary("-", binary(|a, b| a.with(b, |a, b| Ok(a - b)), 1), |a| {
                a.map(|a| -a)
            }),
            Operator::make_bin("*", binary(|a, b| a.with(b, |a, b| Ok(a * b)), 2)),
            Operator::make_bin("/", binary(|a, b| a.with(b, divide), 2)),
            Operator::make_bin("min", binary(|a, b| a.with(b, |a, b| Ok(a.min(b))), 0)),
            Operator::make_bin("max", binary(|a, b| a.with(b, |a, b| Ok(a.max(b))), 0)),
            Operator::make_unary("sqrt", |a| {
                Number(a.0.and_then(|value| {
                    if value < 0.0 {
                        Err(Trouble::NegativeRoot(value))
                    } else {
                        Ok(libm::sqrt(value))
                    }
                }))
            }),
            Operator::make_unary("sin", |a| a.map(|a| sine_and_cosine(a).0)),
            Operator::make_unary("cos", |a| a.map(|a| sine_and_cosine(a).1)),
            Operator::make_unary("tan", |a| {
                Number(a.0.and_then(|angle| {
                    let (sine, cosine) = sine_and_cosine(angle);
                    divide(sine, cosine)
                }))
            }),
            Operator::make_unary("asin", |a| a.arc("asin", libm::asin)),
            Operator::make_unary("acos", |a| a.arc("acos", libm::acos)),
            Operator::make_unary("atan", |a| a.map(|a| libm::atan(a).to_degrees())),
            Operator::make_constant("PI", Number(Ok(std::f64::consts::PI))),
        ]
    }
}

fn divide(one: f64, other: f64) -> Result<f64, Trouble> {
    if other == 0.0 {
        Err(Trouble::DivisionByZero)
    } else {
        Ok(one / other)
    }
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

impl From<Trouble> for Fault {
    fn from(trouble: Trouble) -> Self {
        match trouble {
            Trouble::DivisionByZero => Self::DivisionByZero,
            Trouble::NegativeRoot(value) => Self::NegativeRoot { value },
            Trouble::OutsideUnit(function, value) => Self::OutsideUnit { function, value },
        }
    }
}
