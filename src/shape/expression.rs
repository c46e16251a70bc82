//! Arithmetic on a shape's parameters.
//!
//! `+ - * /`, brackets, `min`, `max`, `sqrt`, `pi`, and trig in degrees; nothing else. Signs bind
//! tighter than products, as there are no powers.

use super::fault::{ExpressionError, Fault};
use super::lexer::{Token, tokens};
use std::collections::BTreeMap;

/// An expression of a shape's parameters, checked and ready to work out.
#[derive(Debug, Clone)]
pub struct Expression {
    written: String,
    parameters: Vec<String>,
    /// In the order of their working out: each takes what it needs from those before it.
    steps: Box<[Step]>,
}

/// One step of working an expression out.
#[derive(Debug, Clone, Copy)]
enum Step {
    Number(f64),
    /// By its place among those that the expression uses.
    Parameter(usize),
    OfOne(fn(f64) -> Result<f64, Fault>),
    OfTwo(fn(f64, f64) -> Result<f64, Fault>),
}

impl Expression {
    /// Reads an expression that may use the `parameters` named.
    ///
    /// # Errors
    /// Whatever the grammar does not allow, an unknown name, brackets more than 64 deep and
    /// expressions over 2,000 bytes, each with its place.
    pub fn new(written: &str, parameters: &[&str]) -> Result<Self, ExpressionError> {
        let tokens = tokens(written, parameters)?;
        let mut used: Vec<String> = tokens
            .iter()
            .filter_map(|token| match token {
                Token::Parameter(name) => Some((*name).to_owned()),
                _ => None,
            })
            .collect();
        used.sort();
        used.dedup();
        Ok(Self {
            steps: steps(&tokens, &used).into(),
            written: written.into(),
            parameters: used,
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
        let value = self.worked_out(values);
        value.map_err(|fault| ExpressionError::new(fault, 0..self.written.len()))
    }

    fn worked_out(&self, values: &BTreeMap<String, f64>) -> Result<f64, Fault> {
        let mut given = Vec::with_capacity(self.parameters.len());
        for name in &self.parameters {
            let value = values.get(name).ok_or_else(|| Fault::UnknownName {
                name: name.clone(),
                nearest: None,
            })?;
            given.push(*value);
        }
        // The grammar was checked, so that no step lacks what it needs.
        let mut stack = vec![];
        let take = |stack: &mut Vec<f64>| stack.pop().ok_or(Fault::NotUnderstood);
        for step in &self.steps {
            let value = match step {
                Step::Number(number) => *number,
                Step::Parameter(place) => given[*place],
                Step::OfOne(apply) => apply(take(&mut stack)?)?,
                Step::OfTwo(apply) => {
                    let other = take(&mut stack)?;
                    apply(take(&mut stack)?, other)?
                }
            };
            stack.push(value);
        }
        match take(&mut stack)? {
            value if value.is_finite() => Ok(value),
            _ => Err(Fault::NotFinite),
        }
    }
}

/// What waits for its values while the tokens after it are read.
enum Waiting {
    /// A sign or an operator, with how tightly it binds.
    Operator(Step, u8),
    /// A bracket, with the function whose values it holds.
    Bracket(Option<Step>),
}

/// The tokens in the order of their working out, by the shunting yard (Dijkstra, 1961).
fn steps(tokens: &[Token<'_>], parameters: &[String]) -> Vec<Step> {
    let mut steps = Vec::with_capacity(tokens.len());
    let mut waiting: Vec<Waiting> = vec![];
    // Whether a value stands before the token: its sign is then an operator.
    let mut follows_value = false;
    for token in tokens {
        match token {
            Token::Number(number) => steps.push(Step::Number(number.parse().unwrap_or(f64::NAN))),
            Token::Pi => steps.push(Step::Number(std::f64::consts::PI)),
            Token::Parameter(name) => {
                let place = parameters.iter().position(|known| known == name);
                steps.extend(place.map(Step::Parameter));
            }
            Token::Operator(sign) if follows_value => {
                let (step, binds) = operator(*sign);
                release(&mut waiting, &mut steps, binds);
                waiting.push(Waiting::Operator(step, binds));
            }
            Token::Operator(sign) => {
                let negated = Waiting::Operator(Step::OfOne(|a| Ok(-a)), SIGN);
                waiting.extend((*sign == '-').then_some(negated));
            }
            Token::Open => waiting.push(Waiting::Bracket(None)),
            Token::Unary(name) => waiting.push(Waiting::Bracket(unary(name))),
            Token::Binary(name) => waiting.push(Waiting::Bracket(binary(name))),
            Token::Comma(_) => release(&mut waiting, &mut steps, 0),
            Token::Close => {
                release(&mut waiting, &mut steps, 0);
                if let Some(Waiting::Bracket(function)) = waiting.pop() {
                    steps.extend(function);
                }
            }
        }
        follows_value = matches!(
            token,
            Token::Number(_) | Token::Pi | Token::Parameter(_) | Token::Close
        );
    }
    release(&mut waiting, &mut steps, 0);
    steps
}

/// How tightly a sign before a value binds: there are no powers, so nothing binds tighter.
const SIGN: u8 = 3;

/// Lets go what waits and binds at least so tightly, back to the last bracket.
fn release(waiting: &mut Vec<Waiting>, steps: &mut Vec<Step>, binds: u8) {
    while let Some(Waiting::Operator(step, tightly)) = waiting.last()
        && *tightly >= binds
    {
        steps.push(*step);
        waiting.pop();
    }
}

fn operator(sign: char) -> (Step, u8) {
    match sign {
        '+' => (Step::OfTwo(|a, b| Ok(a + b)), 1),
        '-' => (Step::OfTwo(|a, b| Ok(a - b)), 1),
        '*' => (Step::OfTwo(|a, b| Ok(a * b)), 2),
        _ => (Step::OfTwo(divide), 2),
    }
}

fn binary(name: &str) -> Option<Step> {
    match name {
        "min" => Some(Step::OfTwo(|a, b| Ok(a.min(b)))),
        "max" => Some(Step::OfTwo(|a, b| Ok(a.max(b)))),
        _ => None,
    }
}

fn unary(name: &str) -> Option<Step> {
    let apply: fn(f64) -> Result<f64, Fault> = match name {
        "sqrt" => |value| {
            if value < 0.0 {
                Err(Fault::NegativeRoot { value })
            } else {
                Ok(libm::sqrt(value))
            }
        },
        "sin" => |angle| Ok(sine_and_cosine(angle).0),
        "cos" => |angle| Ok(sine_and_cosine(angle).1),
        "tan" => |angle| {
            let (sine, cosine) = sine_and_cosine(angle);
            divide(sine, cosine)
        },
        "asin" => |value| arc("asin", value, libm::asin),
        "acos" => |value| arc("acos", value, libm::acos),
        "atan" => |value| Ok(libm::atan(value).to_degrees()),
        _ => return None,
    };
    Some(Step::OfOne(apply))
}

fn arc(function: &'static str, value: f64, apply: fn(f64) -> f64) -> Result<f64, Fault> {
    if value.abs() > 1.0 {
        Err(Fault::OutsideUnit { function, value })
    } else {
        Ok(apply(value).to_degrees())
    }
}

fn divide(one: f64, other: f64) -> Result<f64, Fault> {
    if other == 0.0 {
        Err(Fault::DivisionByZero)
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
