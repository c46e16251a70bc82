//! What a finding is called: the same name for the same thing, and no two alike in a pattern.

use super::Opening;
use kurbo::Rect;
use std::fmt;

/// What a finding is called, such as `ligament: arms, piece 2 of 3, hole clip`.
///
/// Its kind comes first, then what it is about and what lies on the other side, so that only the
/// same finding of the same things bears it. A name that holds a comma, a plus or a quote stands in
/// single quotes, with its own doubled.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingId(String);

impl FindingId {
    /// The finding of that kind, of which a pattern has one.
    pub(super) fn of(kind: &str) -> Self {
        Self(kind.into())
    }

    /// The same, about a thing of that name.
    pub(super) fn about(self, name: &str) -> Self {
        self.and(&quoted(name))
    }

    /// The same, with that thing on the other side; `what` tells things apart that share a name.
    pub(super) fn beside(self, what: &str, name: &str) -> Self {
        self.and(&format!("{what} {}", quoted(name)))
    }

    /// The same, about that opening.
    pub(super) fn opening(self, opening: &Opening) -> Self {
        self.and(&of_opening(opening))
    }

    /// The same, with that opening on the other side.
    pub(super) fn beside_opening(self, opening: &Opening) -> Self {
        self.and(&format!("opening {}", of_opening(opening)))
    }

    /// The same, about one of several pieces.
    pub(super) fn piece(self, piece: Piece) -> Self {
        match piece.words() {
            Some(words) => self.and(&words),
            None => self,
        }
    }

    /// What kind of finding it is: `ligament`.
    pub fn kind(&self) -> &str {
        self.0.split(": ").next().unwrap_or_default()
    }

    /// As it stands in a file.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    fn and(mut self, words: &str) -> Self {
        self.0 += if self.0.contains(": ") { ", " } else { ": " };
        self.0 += words;
        self
    }
}

impl fmt::Display for FindingId {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

fn of_opening(opening: &Opening) -> String {
    let names: Vec<String> = opening.names().into_iter().map(quoted).collect();
    let mut words = names.join(" + ");
    if let Some(piece) = opening.piece.words() {
        words += ", ";
        words += &piece;
    }
    words
}

/// A name as part of an id, such that two different ones never read alike.
fn quoted(name: &str) -> String {
    if name.contains([',', '+', '\'']) {
        format!("'{}'", name.replace('\'', "''"))
    } else {
        name.into()
    }
}

/// Which of the pieces that an opening fell into, counted along the datum edge and away from it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Piece {
    /// From 1.
    pub number: usize,
    /// How many there are.
    pub of: usize,
}

impl Piece {
    /// The one piece of an opening that is whole.
    pub const WHOLE: Self = Self { number: 1, of: 1 };

    fn words(self) -> Option<String> {
        (self.of > 1).then(|| format!("piece {} of {}", self.number, self.of))
    }

    /// For each of some outlines, which piece it is of those that bear the same name.
    pub(super) fn count<N: PartialEq>(outlines: &[(N, Rect)]) -> Vec<Self> {
        let place = |at: usize| {
            let (_, bounds) = &outlines[at];
            (bounds.x0, bounds.y0, at)
        };
        let before = |one: usize, other: usize| {
            let ((x, y, at), (x2, y2, at2)) = (place(one), place(other));
            let order = x.total_cmp(&x2).then(y.total_cmp(&y2)).then(at.cmp(&at2));
            order.is_lt()
        };
        (0..outlines.len())
            .map(|at| {
                let alike =
                    (0..outlines.len()).filter(|other| outlines[*other].0 == outlines[at].0);
                let (number, of) = alike.fold((1, 0), |(number, of), other| {
                    (number + usize::from(before(other, at)), of + 1)
                });
                Self { number, of }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn pieces_are_counted_along_the_edge_by_name() {
        let at = |x: f64, y: f64| Rect::new(x, y, x + 10.0, y + 10.0);
        let outlines = [
            ("a", at(50.0, 0.0)),
            ("b", at(0.0, 0.0)),
            ("a", at(10.0, 5.0)),
            ("a", at(10.0, 0.0)),
        ];
        let counted: Vec<_> = Piece::count(&outlines)
            .into_iter()
            .map(|piece| (piece.number, piece.of))
            .collect();
        assert_eq!(counted, [(3, 3), (1, 1), (2, 3), (1, 3)]);
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

        #[test]
        fn different_names_never_read_alike(
            one in prop::collection::vec("[a,'+ ]{1,5}", 2),
            other in prop::collection::vec("[a,'+ ]{1,5}", 2),
        ) {
            let id = |names: &[String]| {
                let id = FindingId::of("kind").about(&names[0]).about(&names[1]);
                id.as_str().to_owned()
            };
            prop_assert_eq!(id(&one) == id(&other), one == other);
        }
    }
}
