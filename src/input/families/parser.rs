//! Expressions read into steps, each error with its place.
//!
//! ```text
//! sum     = product {("+" | "-") product}
//! product = signed {("*" | "/") signed}
//! signed  = {"+" | "-"} value
//! value   = number | "pi" | parameter | "(" sum ")" | name "(" sum ["," sum] ")"
//! ```

use super::fault::{ExpressionError, Fault, RESERVED_WORDS};
use super::step::{Apply, Step};
use crate::base::words::nearest;
use std::ops::Range;

/// Brackets deeper than this are a mistake, not a shape; it bounds the parser's own depth too.
const DEEPEST: usize = 64;

/// Expressions longer than this are a mistake, bytes.
const LONGEST: usize = 2000;

/// The steps of an expression of `parameters`, each after those that give its values.
pub(super) fn steps(text: &str, parameters: &[&str]) -> Result<Vec<Step>, ExpressionError> {
    if text.len() > LONGEST {
        let fault = Fault::TooLong { longest: LONGEST };
        return Err(ExpressionError::new(fault, 0..text.len()));
    }
    if text.trim().is_empty() {
        return Err(ExpressionError::new(Fault::Empty, 0..text.len()));
    }
    let mut parser = Parser {
        text,
        parameters,
        at: 0,
        depth: 0,
        steps: Vec::new(),
    };
    parser.sum()?;
    match parser.next() {
        None => Ok(parser.steps),
        Some(')') => Err(parser.here(Fault::NotOpened)),
        Some(found) => Err(parser.unexpected(found, "an operator")),
    }
}

struct Parser<'a> {
    text: &'a str,
    parameters: &'a [&'a str],
    at: usize,
    depth: usize,
    steps: Vec<Step>,
}

impl<'a> Parser<'a> {
    fn sum(&mut self) -> Result<(), ExpressionError> {
        self.product()?;
        while let Some(sign @ ('+' | '-')) = self.next() {
            let apply = if sign == '+' {
                Apply::Add
            } else {
                Apply::Subtract
            };
            self.operation(apply, Self::product)?;
        }
        Ok(())
    }

    fn product(&mut self) -> Result<(), ExpressionError> {
        self.signed()?;
        while let Some(sign @ ('*' | '/')) = self.next() {
            let apply = if sign == '*' {
                Apply::Multiply
            } else {
                Apply::Divide
            };
            self.operation(apply, Self::signed)?;
        }
        Ok(())
    }

    /// An operator and the value after it.
    fn operation(
        &mut self,
        apply: Apply,
        value: fn(&mut Self) -> Result<(), ExpressionError>,
    ) -> Result<(), ExpressionError> {
        self.at += 1;
        self.next();
        let from = self.at;
        value(self)?;
        self.apply(apply, from);
        Ok(())
    }

    fn signed(&mut self) -> Result<(), ExpressionError> {
        let mut negative = false;
        while let Some(sign @ ('+' | '-')) = self.next() {
            negative ^= sign == '-';
            self.at += 1;
        }
        let from = self.at;
        self.value()?;
        if negative {
            self.apply(Apply::Negate, from);
        }
        Ok(())
    }

    fn value(&mut self) -> Result<(), ExpressionError> {
        match self.next() {
            None => Err(ExpressionError::new(
                Fault::EndsEarly,
                self.text.len()..self.text.len(),
            )),
            Some('(') => self.bracket(None, 1),
            Some('0'..='9' | '.') => self.number(),
            Some(letter) if letter.is_alphabetic() || letter == '_' => self.name(),
            Some(found) => Err(self.unexpected(found, "a value")),
        }
    }

    fn number(&mut self) -> Result<(), ExpressionError> {
        let (word, place) = self.word(|letter| letter == '.');
        let plain = word
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b'.');
        match word.parse() {
            Ok(number) if plain => self.steps.push(Step::Number(number)),
            _ => {
                let written = word.into();
                return Err(ExpressionError::new(Fault::BadNumber { written }, place));
            }
        }
        Ok(())
    }

    fn name(&mut self) -> Result<(), ExpressionError> {
        let (word, place) = self.word(|_| false);
        if let Some(apply) = Apply::function(word) {
            if self.next() != Some('(') {
                let function = word.into();
                return Err(ExpressionError::new(Fault::NoBracket { function }, place));
            }
            self.bracket(Some(word), apply.takes())?;
            self.apply(apply, place.start);
        } else if word == "pi" {
            self.steps.push(Step::Number(std::f64::consts::PI));
        } else if self.parameters.contains(&word) {
            self.steps.push(Step::Parameter(word.into()));
        } else {
            let known = self.parameters.iter().copied().chain(RESERVED_WORDS);
            let fault = Fault::UnknownName {
                name: word.into(),
                nearest: nearest(word, known).map(Into::into),
            };
            return Err(ExpressionError::new(fault, place));
        }
        Ok(())
    }

    /// A bracket with the values that it takes, from its opening on.
    fn bracket(&mut self, function: Option<&str>, takes: usize) -> Result<(), ExpressionError> {
        let open = self.at..self.at + 1;
        if self.depth == DEEPEST {
            let fault = Fault::TooDeep { deepest: DEEPEST };
            return Err(ExpressionError::new(fault, open));
        }
        self.depth += 1;
        for begun in 1..=takes {
            self.at += 1;
            self.sum()?;
            let due = if begun < takes { ',' } else { ')' };
            match (self.next(), function) {
                (Some(found), _) if found == due => {}
                (Some(',' | ')'), Some(function)) => {
                    let function = function.into();
                    return Err(self.here(Fault::WrongCount { function, takes }));
                }
                (Some(found), _) => return Err(self.unexpected(found, "an operator")),
                (None, _) => return Err(ExpressionError::new(Fault::NotClosed, open)),
            }
        }
        self.at += 1;
        self.depth -= 1;
        Ok(())
    }

    fn apply(&mut self, apply: Apply, from: usize) {
        self.steps.push(Step::Apply(apply, from..self.at));
    }

    /// The next letter that is no space; the place moves up to it.
    fn next(&mut self) -> Option<char> {
        let rest = &self.text[self.at..];
        self.at = self.text.len() - rest.trim_start().len();
        self.text[self.at..].chars().next()
    }

    /// The run of letters, digits, `_` and what is `allowed` besides, and its place.
    fn word(&mut self, allowed: fn(char) -> bool) -> (&'a str, Range<usize>) {
        let rest = &self.text[self.at..];
        let part = |letter: char| letter.is_alphanumeric() || letter == '_' || allowed(letter);
        let length = rest.find(|letter| !part(letter)).unwrap_or(rest.len());
        let place = self.at..self.at + length;
        self.at = place.end;
        (&rest[..length], place)
    }

    fn unexpected(&self, found: char, wanted: &'static str) -> ExpressionError {
        self.here(Fault::Unexpected { found, wanted })
    }

    /// Something wrong with the next letter.
    fn here(&self, fault: Fault) -> ExpressionError {
        let letter = self.text[self.at..].chars().next();
        ExpressionError::new(fault, self.at..self.at + letter.map_or(0, char::len_utf8))
    }
}
