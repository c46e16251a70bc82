//! What can be wrong with an expression, and how it is told.

use crate::base::words::{listed, shown};
use std::fmt;
use std::ops::Range;

/// Words that no parameter may be called.
pub(super) const RESERVED_WORDS: [&str; 10] = [
    "sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "min", "max", "pi",
];

/// What is wrong with an expression, and where in it.
#[derive(Debug, Clone, PartialEq)]
pub struct ExpressionError {
    /// What is wrong.
    pub fault: Fault,
    /// Bytes of the expression that it is about.
    pub place: Range<usize>,
}

impl ExpressionError {
    pub(super) fn new(fault: Fault, place: Range<usize>) -> Self {
        Self { fault, place }
    }
}

/// What can be wrong with an expression.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// Nothing in it.
    Empty,
    /// It ends where a value is due.
    EndsEarly,
    /// A letter that does not belong there.
    Unexpected {
        /// The letter.
        found: char,
        /// What belongs there.
        wanted: &'static str,
    },
    /// Digits that are no number.
    BadNumber {
        /// As written.
        written: String,
    },
    /// A name that is neither a parameter nor a function.
    UnknownName {
        /// The name.
        name: String,
        /// The known one most like it.
        nearest: Option<String>,
    },
    /// A function without its bracket.
    NoBracket {
        /// Its name.
        function: String,
    },
    /// A function with too few or too many values.
    WrongCount {
        /// Its name.
        function: String,
        /// How many it takes.
        takes: usize,
    },
    /// A bracket never closed.
    NotClosed,
    /// A bracket never opened.
    NotOpened,
    /// Brackets nested too deep.
    TooDeep {
        /// The deepest allowed.
        deepest: usize,
    },
    /// Too long.
    TooLong {
        /// The longest allowed, bytes.
        longest: usize,
    },
    /// Division by zero.
    DivisionByZero,
    /// The square root of a negative.
    NegativeRoot {
        /// The negative.
        value: f64,
    },
    /// An arc sine or cosine of more than 1.
    OutsideUnit {
        /// Its name.
        function: &'static str,
        /// The value.
        value: f64,
    },
    /// Too large to be a number.
    NotFinite,
}

impl fmt::Display for ExpressionError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        use crate::base::fixed;
        match &self.fault {
            Fault::Empty => out.write_str("the expression is empty"),
            Fault::EndsEarly => out.write_str("the expression ends where a value is due"),
            Fault::Unexpected { found, wanted } => {
                write!(
                    out,
                    "`{}` stands where {wanted} is due",
                    found.escape_debug()
                )
            }
            Fault::BadNumber { written } => {
                write!(out, "`{}` is not a plain number", shown(written))
            }
            Fault::UnknownName { name, .. } => {
                write!(
                    out,
                    "`{}` is neither a parameter of this shape nor a function",
                    shown(name)
                )
            }
            Fault::NoBracket { function } => {
                write!(out, "`{function}` is a function and needs its brackets")
            }
            Fault::WrongCount { function, takes } => {
                let values = if *takes == 1 { "1 value" } else { "2 values" };
                write!(out, "`{function}` takes {values} in its brackets")
            }
            Fault::NotClosed => out.write_str("this bracket is never closed"),
            Fault::NotOpened => out.write_str("this bracket was never opened"),
            Fault::TooDeep { deepest } => {
                write!(out, "brackets are nested more than {deepest} deep")
            }
            Fault::TooLong { longest } => {
                write!(out, "the expression is longer than {longest} bytes")
            }
            Fault::DivisionByZero => out.write_str("the expression divides by zero"),
            Fault::NegativeRoot { value } => write!(
                out,
                "the expression takes the square root of `{}`, which is negative",
                fixed(*value, 6)
            ),
            Fault::OutsideUnit { function, value } => write!(
                out,
                "the expression takes `{function}` of `{}`; it must be between -1 and 1",
                fixed(*value, 6)
            ),
            Fault::NotFinite => out.write_str("the expression grows too large to be a number"),
        }
    }
}

impl ExpressionError {
    /// What to do about it, where there is something to say.
    pub fn hint(&self) -> Option<String> {
        match &self.fault {
            Fault::UnknownName { nearest, .. } => nearest
                .as_ref()
                .map(|name| format!("did you mean `{name}`?")),
            Fault::BadNumber { .. } => {
                Some("write digits with at most one point, such as `12.5`; no units".into())
            }
            Fault::Unexpected { .. } | Fault::Empty => Some(format!(
                "`+ - * /`, brackets and {} are known",
                listed(&RESERVED_WORDS, " and ")
            )),
            _ => None,
        }
    }
}

impl std::error::Error for ExpressionError {}
