//! How a panel may lie, by the vehicle's axes alone.

use super::{FROM_DATUM, HEIGHT, WIDTH};
use kurbo::Point;

/// A point or a direction of the vehicle: to the front, to the left, up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Axes(pub(super) [f64; 3]);

impl Axes {
    pub(super) fn of(word: &str) -> Self {
        Self(match word {
            "front" => [1.0, 0.0, 0.0],
            "rear" => [-1.0, 0.0, 0.0],
            "left" => [0.0, 1.0, 0.0],
            "right" => [0.0, -1.0, 0.0],
            "up" => [0.0, 0.0, 1.0],
            "down" => [0.0, 0.0, -1.0],
            other => panic!("{other}"),
        })
    }

    /// The way that somebody faces who stands there and looks at the vehicle.
    pub(super) fn look_from(face: &str) -> Self {
        Self::of(match face {
            "behind" => "front",
            "front" => "rear",
            "below" => "up",
            "above" => "down",
            "left" => "right",
            "right" => "left",
            other => panic!("{other}"),
        })
    }

    pub(super) fn cross(self, other: Self) -> Self {
        let ([a, b, c], [d, e, f]) = (self.0, other.0);
        Self([b * f - c * e, c * d - a * f, a * e - b * d])
    }

    pub(super) fn dot(self, other: Self) -> f64 {
        self.0.iter().zip(other.0).map(|(a, b)| a * b).sum()
    }

    pub(super) fn times(self, by: f64) -> Self {
        Self(self.0.map(|part| part * by))
    }

    pub(super) fn plus(self, other: Self) -> Self {
        Self([0, 1, 2].map(|i| self.0[i] + other.0[i]))
    }

    /// The word for this direction.
    pub(super) fn word(self) -> &'static str {
        WORDS
            .into_iter()
            .find(|word| Self::of(word) == self)
            .unwrap()
    }
}

const WORDS: [&str; 6] = ["front", "rear", "left", "right", "up", "down"];
const FACES: [&str; 6] = ["behind", "front", "below", "above", "left", "right"];

/// One way for a panel to lie.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    pub(super) face: &'static str,
    pub(super) datum: &'static str,
    pub(super) up: &'static str,
}

impl Way {
    pub(super) fn all() -> impl Iterator<Item = Self> {
        FACES.into_iter().flat_map(|face| {
            WORDS
                .into_iter()
                .flat_map(move |datum| WORDS.into_iter().map(move |up| Self { face, datum, up }))
        })
    }

    /// The head of the page lies across the reader's look, the datum edge at its head or foot.
    pub(super) fn can_be(self) -> bool {
        let up = Axes::of(self.up);
        up.dot(Axes::look_from(self.face)) == 0.0 && up.dot(Axes::of(self.datum)).abs() == 1.0
    }

    /// What lies to the reader's right with `up` at the head: the right hand of somebody who
    /// faces `look` with the head to `up` is `look x up`.
    pub(super) fn right_with(self, up: Axes) -> Axes {
        Axes::look_from(self.face).cross(up)
    }

    /// What lies at the right of the page.
    pub(super) fn page_right(self) -> Axes {
        self.right_with(Axes::of(self.up))
    }

    /// Away from the datum edge.
    pub(super) fn inward(self) -> Axes {
        Axes::of(self.datum).times(-1.0)
    }

    /// Where a point of the vehicle lies on the page, both from where the centreline meets the
    /// datum edge.
    pub(super) fn on_page(self, place: Axes) -> Point {
        Point::new(place.dot(self.page_right()), place.dot(Axes::of(self.up)))
    }

    /// Where the end lies that readings start from unless told: the left, or the front of a panel
    /// that runs along the vehicle.
    pub(super) fn usual_zero(self) -> Axes {
        let along = self.page_right();
        let left = along.dot(Axes::of("left"));
        match left {
            0.0 if along.dot(Axes::of("front")) == 0.0 => along,
            0.0 => Axes::of("front"),
            _ => Axes::of("left"),
        }
    }

    /// A tape reading from an end, and a depth from the datum edge, on a panel whose centreline
    /// lies half way.
    pub(super) fn reading(self, zero: Axes, across: f64, depth: f64) -> Point {
        self.on_page(
            zero.times(WIDTH / 2.0 - across)
                .plus(self.inward().times(depth)),
        )
    }

    pub(super) fn definition(self, side: &str, tables: &str) -> String {
        let Self { face, datum, up } = self;
        format!(
            "format = 1\n[pattern]\nnumber = \"F-1\"\ntitle = \"F\"\n[panel]\nname = \"Panel\"\n\
             width = {WIDTH}\nheight = {HEIGHT}\nextent = \"panel\"\nseen_from = \"{face}\"\n\
             datum_edge = \"{datum}\"\npage_up = \"{up}\"\n{tables}\n[[opening]]\nname = \"eff\"\n\
             shape = \"letter-f\"\ncentre_offset = \"30 mm {side}\"\nfrom_datum = {FROM_DATUM}\n"
        )
    }
}
