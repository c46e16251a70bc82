//! Why a family gives no outline for some values.

use super::fault::ExpressionError;
use crate::base::fixed;
use crate::base::length::{Told, Units};
use crate::base::words;
use crate::geometry::outline::OutlineError;
use crate::input::{Placed, Problem, ShapeSpec, Value};
use std::fmt;
use std::ops::Range;

/// Decimals of values in messages.
const DECIMALS: usize = 3;

/// What is wrong with the values given to a family.
#[derive(Debug, Clone, PartialEq)]
pub enum ShapeError {
    /// The family has no such parameter.
    UnknownParameter {
        /// The name given.
        name: String,
        /// The family.
        shape: String,
        /// The known one most like it.
        nearest: Option<String>,
        /// All that it has.
        known: Vec<String>,
    },
    /// Values that nobody gave, and that can't be made up.
    Lacking {
        /// The family.
        shape: String,
        /// All of them.
        lacking: Vec<Lacking>,
        /// Names of what else was not given, and may be left out.
        free: Vec<String>,
    },
    /// A value is infinite or none.
    NotFinite {
        /// The parameter.
        parameter: String,
    },
    /// An angle for a length, or a length for an angle.
    WrongKind {
        /// The parameter.
        parameter: String,
        /// What was given.
        value: Value,
    },
    /// Outside its limits.
    OutOfRange {
        /// The parameter.
        parameter: String,
        /// What was given, or its default.
        value: Value,
        /// The least allowed, if there is one.
        least: Option<f64>,
        /// The most allowed, if there is one.
        most: Option<f64>,
        /// The limit passed as the family writes it, where it depends on other parameters.
        rule: Option<String>,
    },
    /// A limit can not be worked out.
    Limit {
        /// The parameter.
        parameter: String,
        /// `at_least` or `at_most`.
        key: &'static str,
        /// Why.
        error: ExpressionError,
    },
    /// A corner can not be worked out.
    Corner {
        /// The corner, counted from 1.
        corner: usize,
        /// `x`, `y` or `radius`.
        key: &'static str,
        /// Why.
        error: ExpressionError,
    },
    /// The corners make no outline.
    Outline {
        /// Why.
        error: OutlineError,
        /// The radius at fault as the family writes it.
        radius: Option<String>,
    },
}

/// A value that somebody has to measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lacking {
    /// The parameter.
    pub name: String,
    /// What it is; may be empty.
    pub about: String,
    /// Its limits in words, for each of [`Units::ALL`]; may be empty.
    pub limits: [String; 2],
}

impl Told for Lacking {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        write!(out, "`{}`", self.name)?;
        let [in_mm, in_inches] = &self.limits;
        let limits = match units {
            Units::Mm => in_mm,
            Units::In => in_inches,
        };
        let told = [&self.about, limits];
        let told: Vec<&str> = told
            .into_iter()
            .map(String::as_str)
            .filter(|words| !words.is_empty())
            .collect();
        if told.is_empty() {
            return Ok(());
        }
        write!(out, " ({})", told.join("; "))
    }
}

impl ShapeError {
    /// The parameter that it is about, as the pattern names it.
    pub fn parameter(&self) -> Option<&str> {
        match self {
            Self::UnknownParameter { name, .. } => Some(name),
            Self::NotFinite { parameter }
            | Self::WrongKind { parameter, .. }
            | Self::OutOfRange { parameter, .. } => Some(parameter),
            // A radius that is one parameter outright is that parameter's trouble.
            Self::Outline { radius, .. } => radius.as_deref(),
            Self::Lacking { .. } | Self::Limit { .. } | Self::Corner { .. } => None,
        }
    }

    /// What to do about it, where there is something to say.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::UnknownParameter { nearest, known, .. } => Some(match nearest {
                Some(name) => format!("did you mean `{name}`?"),
                None if known.is_empty() => "this shape has no parameters".into(),
                None => format!("its parameters are {}", words::listed(known, " and ")),
            }),
            Self::WrongKind { value, .. } if value.angle => {
                Some("write it as a length, such as `\"12 mm\"`".into())
            }
            Self::WrongKind { .. } => Some("write it as an angle, such as `\"12 deg\"`".into()),
            Self::OutOfRange { rule, .. } => rule
                .as_ref()
                .map(|rule| format!("the limit here is `{rule}`")),
            Self::Limit { error, .. } | Self::Corner { error, .. } => error.hint(),
            Self::Outline { radius, .. } => radius
                .as_ref()
                .map(|radius| format!("the radius of that corner is `{radius}`")),
            Self::Lacking { free, .. } => {
                let give = "measure each, and write it in `with`, or `--set NAME=VALUE` where there \
                            is no file";
                Some(if free.is_empty() {
                    give.into()
                } else {
                    format!("{give}; {} may be left out", words::listed(free, " and "))
                })
            }
            Self::NotFinite { .. } => None,
        }
    }

    /// As trouble with the defaults of a family's own file.
    pub(super) fn in_defaults(&self, spec: &ShapeSpec) -> Problem {
        let parameter = |name: &str| {
            spec.parameters
                .iter()
                .find(|known| known.name.value == name)
        };
        let corner = |number: usize| spec.corners.get(number.wrapping_sub(1));
        let plain = |span| Problem {
            message: format!("the defaults give no outline: {self}"),
            hint: self.hint(),
            span,
        };
        let of_expression = |written: Option<&Placed<String>>, error| match written {
            Some(written) => {
                let inner = problem(written, error);
                Problem {
                    message: format!("with the defaults, {}", inner.message),
                    ..inner
                }
            }
            None => plain(None),
        };
        match self {
            Self::Limit {
                parameter: name,
                key,
                error,
            } => of_expression(
                parameter(name).and_then(|known| match *key {
                    "at_least" => known.at_least.as_ref(),
                    _ => known.at_most.as_ref(),
                }),
                error,
            ),
            Self::Corner {
                corner: number,
                key,
                error,
            } => of_expression(
                corner(*number).and_then(|rule| match *key {
                    "x" => Some(&rule.x),
                    "y" => Some(&rule.y),
                    _ => rule.radius.as_ref(),
                }),
                error,
            ),
            Self::OutOfRange {
                parameter: name, ..
            } => Problem {
                message: format!("the default of {self}"),
                hint: self.hint(),
                span: parameter(name).and_then(|known| known.default.span.clone()),
            },
            Self::Outline { error, .. } => {
                let radius = error.corner().and_then(corner);
                let span = radius.and_then(|rule| rule.radius.as_ref()?.span.clone());
                plain(span.or_else(|| spec.name.span.clone()))
            }
            _ => plain(spec.name.span.clone()),
        }
    }
}

impl fmt::Display for ShapeError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.tell(out, Units::Mm)
    }
}

impl Told for ShapeError {
    fn tell(&self, out: &mut fmt::Formatter<'_>, units: Units) -> fmt::Result {
        match self {
            Self::UnknownParameter { name, shape, .. } => {
                write!(
                    out,
                    "shape `{shape}` has no parameter `{}`",
                    words::shown(name)
                )
            }
            Self::Lacking { shape, lacking, .. } => {
                write!(out, "shape `{shape}` needs ")?;
                for (index, one) in lacking.iter().enumerate() {
                    let joint = match index {
                        0 => "",
                        last if last + 1 == lacking.len() => " and ",
                        _ => ", ",
                    };
                    out.write_str(joint)?;
                    one.tell(out, units)?;
                }
                Ok(())
            }
            Self::NotFinite { parameter } => write!(out, "`{parameter}` is not a finite number"),
            Self::WrongKind { parameter, value } => {
                let wanted = if value.angle { "a length" } else { "an angle" };
                write!(
                    out,
                    "`{parameter}` is `{}`; it must be {wanted}",
                    shown(*value, units)
                )
            }
            Self::OutOfRange {
                parameter,
                value,
                least,
                most,
                ..
            } => {
                let limit = |number: f64| {
                    let angle = value.angle;
                    shown(Value { number, angle }, units)
                };
                write!(
                    out,
                    "`{parameter}` is `{}`; it must be ",
                    shown(*value, units)
                )?;
                match (least, most) {
                    (Some(least), Some(most)) if least <= most => {
                        write!(out, "from {} to {}", limit(*least), limit(*most))
                    }
                    (Some(least), Some(most)) => write!(
                        out,
                        "at least {} and at most {}, which no value is",
                        limit(*least),
                        limit(*most)
                    ),
                    (Some(least), None) => write!(out, "at least {}", limit(*least)),
                    (None, Some(most)) => write!(out, "at most {}", limit(*most)),
                    (None, None) => out.write_str("within its limits"),
                }
            }
            Self::Limit {
                parameter,
                key,
                error,
            } => write!(
                out,
                "`{key}` of `{parameter}` can not be worked out: {error}"
            ),
            Self::Corner { corner, key, error } => {
                write!(
                    out,
                    "`{key}` of corner {corner} can not be worked out: {error}"
                )
            }
            Self::Outline { error, .. } => error.tell(out, units),
        }
    }
}

impl std::error::Error for ShapeError {}

fn shown(value: Value, units: Units) -> String {
    if value.angle {
        format!("{} deg", fixed(value.number, DECIMALS))
    } else {
        units.exact(value.number)
    }
}

/// A part of a written expression as bytes of the file; the whole where it holds escapes.
pub(super) fn narrowed(written: &Placed<String>, part: &Range<usize>) -> Option<Range<usize>> {
    let span = written.span.clone()?;
    let text = written.value.len();
    let before = match span.len() {
        length if length == text => 0,
        // A quote at either end.
        length if length == text + 2 => 1,
        _ => return Some(span),
    };
    Some(span.start + before + part.start..span.start + before + part.end)
}

/// An expression's trouble at its place in the file.
pub(super) fn problem(written: &Placed<String>, error: &ExpressionError) -> Problem {
    Problem {
        message: error.to_string(),
        hint: error.hint(),
        span: narrowed(written, &error.place),
    }
}
