//! What an expression is worked out by.

use std::ops::Range;

/// A step of working out an expression, on a stack of values (postfix notation).
#[derive(Debug, Clone)]
pub(super) enum Step {
    /// Puts a number on the stack.
    Number(f64),
    /// Puts a parameter's value on the stack.
    Parameter(String),
    /// Takes its values off the stack and puts the result there; with its place, to point at.
    Apply(Apply, Range<usize>),
}

/// What can be done to one value or two.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Apply {
    Negate,
    Sqrt,
    Sin,
    Cos,
    Tan,
    Asin,
    Acos,
    Atan,
    Add,
    Subtract,
    Multiply,
    Divide,
    Min,
    Max,
}
