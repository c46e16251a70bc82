//! A family's arithmetic worked out the plain way: read from the left, one letter after the other.
//!
//! Families are evaluated elsewhere by a library; this shares nothing with it.

use std::collections::BTreeMap;

/// Deepest nesting of brackets and signs.
const DEEPEST: usize = 200;

/// The value of an expression, `None` where it has none.
pub(super) fn value(written: &str, names: &BTreeMap<String, f64>) -> Option<f64> {
    let mut reader = Reader {
        rest: written.trim(),
        names,
        depth: 0,
    };
    let value = reader.sum()?;
    (reader.rest.is_empty() && value.is_finite()).then_some(value)
}

struct Reader<'a> {
    rest: &'a str,
    names: &'a BTreeMap<String, f64>,
    depth: usize,
}

impl<'a> Reader<'a> {
    /// Takes a sign or bracket, if it comes next.
    fn takes(&mut self, sign: char) -> bool {
        let after = self.rest.strip_prefix(sign);
        self.rest = after.map_or(self.rest, str::trim_start);
        after.is_some()
    }

    /// Takes letters as long as they are wanted.
    fn word(&mut self, wanted: impl Fn(char) -> bool) -> &'a str {
        let end = self.rest.find(|letter| !wanted(letter));
        let (word, rest) = self.rest.split_at(end.unwrap_or(self.rest.len()));
        self.rest = rest.trim_start();
        word
    }

    fn sum(&mut self) -> Option<f64> {
        let mut all = self.product()?;
        loop {
            if self.takes('+') {
                all += self.product()?;
            } else if self.takes('-') {
                all -= self.product()?;
            } else {
                return Some(all);
            }
        }
    }

    fn product(&mut self) -> Option<f64> {
        let mut all = self.factor()?;
        loop {
            if self.takes('*') {
                all *= self.factor()?;
            } else if self.takes('/') {
                all /= self.factor()?;
            } else {
                return Some(all);
            }
        }
    }

    fn factor(&mut self) -> Option<f64> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return None;
        }
        let value = if self.takes('-') {
            self.factor().map(|value| -value)
        } else if self.takes('+') {
            self.factor()
        } else if self.takes('(') {
            let inside = self.sum();
            inside.filter(|_| self.takes(')'))
        } else if self
            .rest
            .starts_with(|first: char| first.is_ascii_digit() || first == '.')
        {
            self.word(|letter| letter.is_ascii_digit() || letter == '.')
                .parse()
                .ok()
        } else {
            self.named()
        };
        self.depth -= 1;
        value
    }

    fn named(&mut self) -> Option<f64> {
        let name = self.word(|letter| letter.is_alphanumeric() || letter == '_');
        if !self.takes('(') {
            return match name {
                "pi" => Some(std::f64::consts::PI),
                name => self.names.get(name).copied(),
            };
        }
        let first = self.sum()?;
        let second = if self.takes(',') {
            Some(self.sum()?)
        } else {
            None
        };
        if !self.takes(')') {
            return None;
        }
        let angle = first.to_radians();
        Some(match (name, second) {
            ("min", Some(second)) => first.min(second),
            ("max", Some(second)) => first.max(second),
            ("sqrt", None) => libm::sqrt(first),
            ("sin", None) => libm::sin(angle),
            ("cos", None) => libm::cos(angle),
            ("tan", None) => libm::tan(angle),
            ("asin", None) => libm::asin(first).to_degrees(),
            ("acos", None) => libm::acos(first).to_degrees(),
            ("atan", None) => libm::atan(first).to_degrees(),
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_those_of_a_pocket_calculator() {
        let names = BTreeMap::from([("width".into(), 80.0), ("r".into(), 6.0)]);
        for (written, should) in [
            ("-width / 2 + r", Some(-34.0)),
            ("2 * (width - 3 * -r) / 4", Some(49.0)),
            ("min(width, 30) / 2 - max(r, 1)", Some(9.0)),
            ("sqrt(r * r + 64)", Some(10.0)),
            ("10 - 4 - 3", Some(3.0)),
            ("2 * sin(30) + cos(60) + tan(45)", Some(2.5)),
            ("asin(0.5) + atan(1)", Some(75.0)),
            ("pi", Some(std::f64::consts::PI)),
            ("height", None),
            ("1 / 0", None),
            ("(1", None),
            ("1 2", None),
        ] {
            match (value(written, &names), should) {
                (Some(is), Some(should)) => assert!((is - should).abs() < 1e-12, "{written}: {is}"),
                (is, should) => assert_eq!(is, should, "{written}"),
            }
        }
    }
}
