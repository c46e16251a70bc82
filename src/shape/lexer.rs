//! Expressions taken apart: what may be written, and where it goes wrong.
//!
//! The evaluator below this takes far more than a shape file may hold, and words its own
//! troubles. So the grammar is checked here first, each error with its place:
//!
//! ```text
//! sum     = product {("+" | "-") product}
//! product = signed {("*" | "/") signed}
//! signed  = {"+" | "-"} value
//! value   = number | "pi" | parameter | "(" sum ")" | name "(" sum ["," sum] ")"
//! ```

use super::fault::{ExpressionError, Fault};
use crate::words::nearest;
use std::ops::Range;

/// Functions of one value.
pub(super) const UNARY: [&str; 7] = ["sqrt", "sin", "cos", "tan", "asin", "acos", "atan"];

/// Functions of two values.
pub(super) const BINARY: [&str; 2] = ["min", "max"];

/// Brackets deeper than this are a mistake, not a shape.
const DEEPEST: usize = 64;

/// Expressions longer than this are a mistake, bytes.
const LONGEST: usize = 2000;

/// A piece of an expression.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Token<'a> {
    /// Digits with at most one point.
    Number(&'a str),
    /// The circle's number.
    Pi,
    /// A parameter's name.
    Parameter(&'a str),
    /// A function of one value, and the bracket after it.
    Unary(&'a str),
    /// A function of two values, and the bracket after it.
    Binary(&'a str),
    /// `+ - * /`.
    Operator(char),
    /// An opening bracket.
    Open,
    /// A closing bracket.
    Close,
    /// The comma between two values of the function named.
    Comma(&'a str),
}

/// What an open bracket belongs to.
#[derive(Debug, Clone, Copy)]
struct Bracket<'a> {
    at: usize,
    function: Option<&'a str>,
    /// How many values it takes, and how many have begun.
    takes: usize,
    begun: usize,
}

/// The tokens of an expression of `parameters`, in an order that the grammar allows.
pub(super) fn tokens<'a>(
    text: &'a str,
    parameters: &[&str],
) -> Result<Vec<Token<'a>>, ExpressionError> {
    let mut reader = Reader {
        text,
        parameters,
        tokens: Vec::new(),
        brackets: Vec::new(),
        at: 0,
    };
    reader.read()?;
    if text.len() > LONGEST {
        return Err(ExpressionError::new(
            Fault::TooLong { longest: LONGEST },
            0..text.len(),
        ));
    }
    Ok(reader.tokens)
}

struct Reader<'a, 'p> {
    text: &'a str,
    parameters: &'p [&'p str],
    tokens: Vec<Token<'a>>,
    brackets: Vec<Bracket<'a>>,
    at: usize,
}

impl<'a> Reader<'a, '_> {
    fn read(&mut self) -> Result<(), ExpressionError> {
        loop {
            self.skip_spaces();
            let Some(next) = self.rest().chars().next() else {
                return self.finish();
            };
            let from = self.at;
            match next {
                _ if self.wants_value() => self.value(next)?,
                '+' | '-' | '*' | '/' => self.push(Token::Operator(next), 1),
                ')' => self.close()?,
                ',' => self.comma()?,
                _ => return Err(self.unexpected(from, "an operator")),
            }
        }
    }

    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    fn skip_spaces(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }

    fn push(&mut self, token: Token<'a>, bytes: usize) {
        self.tokens.push(token);
        self.at += bytes;
    }

    /// Whether a value must come next, rather than an operator.
    fn wants_value(&self) -> bool {
        !matches!(
            self.tokens.last(),
            Some(Token::Number(_) | Token::Pi | Token::Parameter(_) | Token::Close)
        )
    }

    fn value(&mut self, next: char) -> Result<(), ExpressionError> {
        let from = self.at;
        match next {
            '+' | '-' => self.push(Token::Operator(next), 1),
            '(' => {
                self.push(Token::Open, 1);
                self.open(from, None, 1)?;
            }
            '0'..='9' | '.' => self.number()?,
            _ if next.is_alphabetic() || next == '_' => self.name()?,
            _ => return Err(self.unexpected(from, "a value")),
        }
        Ok(())
    }

    fn number(&mut self) -> Result<(), ExpressionError> {
        let part = |letter: char| letter.is_alphanumeric() || letter == '.' || letter == '_';
        let word = self.word(part);
        let plain = word
            .chars()
            .all(|letter| letter.is_ascii_digit() || letter == '.');
        if !plain || word.parse::<f64>().is_err() {
            let fault = Fault::BadNumber {
                written: word.into(),
            };
            return Err(ExpressionError::new(fault, self.at..self.at + word.len()));
        }
        self.push(Token::Number(word), word.len());
        Ok(())
    }

    fn name(&mut self) -> Result<(), ExpressionError> {
        let from = self.at;
        let word = self.word(|letter| letter.is_alphanumeric() || letter == '_');
        let unary = UNARY.contains(&word);
        if !unary && !BINARY.contains(&word) {
            let token = if word == "pi" {
                Token::Pi
            } else if self.parameters.contains(&word) {
                Token::Parameter(word)
            } else {
                return Err(self.unknown(word));
            };
            self.push(token, word.len());
            return Ok(());
        }
        let token = if unary {
            Token::Unary(word)
        } else {
            Token::Binary(word)
        };
        self.push(token, word.len());
        self.skip_spaces();
        if !self.rest().starts_with('(') {
            let fault = Fault::NoBracket {
                function: word.into(),
            };
            return Err(ExpressionError::new(fault, from..from + word.len()));
        }
        self.at += 1;
        self.open(self.at - 1, Some(word), if unary { 1 } else { 2 })
    }

    fn unknown(&self, word: &str) -> ExpressionError {
        let known = self.parameters.iter().copied().chain(RESERVED_WORDS);
        let fault = Fault::UnknownName {
            name: word.into(),
            nearest: nearest(word, known).map(Into::into),
        };
        ExpressionError::new(fault, self.at..self.at + word.len())
    }

    fn open(
        &mut self,
        at: usize,
        function: Option<&'a str>,
        takes: usize,
    ) -> Result<(), ExpressionError> {
        if self.brackets.len() == DEEPEST {
            return Err(ExpressionError::new(
                Fault::TooDeep { deepest: DEEPEST },
                at..at + 1,
            ));
        }
        self.brackets.push(Bracket {
            at,
            function,
            takes,
            begun: 1,
        });
        Ok(())
    }

    fn close(&mut self) -> Result<(), ExpressionError> {
        let here = self.at..self.at + 1;
        let Some(bracket) = self.brackets.pop() else {
            return Err(ExpressionError::new(Fault::NotOpened, here));
        };
        if bracket.begun < bracket.takes {
            return Err(wrong_count(bracket, here));
        }
        self.push(Token::Close, 1);
        Ok(())
    }

    fn comma(&mut self) -> Result<(), ExpressionError> {
        let here = self.at..self.at + 1;
        match self.brackets.last_mut() {
            Some(bracket) if bracket.begun < bracket.takes => {
                bracket.begun += 1;
                let function = bracket.function.unwrap_or_default();
                self.push(Token::Comma(function), 1);
                Ok(())
            }
            Some(bracket) if bracket.function.is_some() => Err(wrong_count(*bracket, here)),
            _ => Err(self.unexpected(here.start, "an operator")),
        }
    }

    fn finish(&self) -> Result<(), ExpressionError> {
        let end = self.text.len();
        if self.tokens.is_empty() {
            return Err(ExpressionError::new(Fault::Empty, 0..end));
        }
        if self.wants_value() {
            return Err(ExpressionError::new(Fault::EndsEarly, end..end));
        }
        match self.brackets.last() {
            Some(bracket) => Err(ExpressionError::new(
                Fault::NotClosed,
                bracket.at..bracket.at + 1,
            )),
            None => Ok(()),
        }
    }

    /// The longest run of letters that `part` allows.
    fn word(&self, part: impl Fn(char) -> bool) -> &'a str {
        let rest = self.rest();
        let end = rest.find(|letter| !part(letter)).unwrap_or(rest.len());
        &rest[..end]
    }

    fn unexpected(&self, from: usize, wanted: &'static str) -> ExpressionError {
        let found = self.text[from..].chars().next().unwrap_or_default();
        let fault = Fault::Unexpected { found, wanted };
        ExpressionError::new(fault, from..from + found.len_utf8())
    }
}

fn wrong_count(bracket: Bracket<'_>, place: Range<usize>) -> ExpressionError {
    let function = bracket.function.unwrap_or_default().into();
    let takes = bracket.takes;
    ExpressionError::new(Fault::WrongCount { function, takes }, place)
}

/// Words that no parameter may be called.
pub(super) const RESERVED_WORDS: [&str; 10] = [
    "sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "min", "max", "pi",
];
