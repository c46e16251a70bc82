//! A shape file as written.

use super::field::{choice, choices, keys};
use super::file::read_file;
use super::got::{Field, Got};
use super::keys::Kind;
use super::problem::Placed;
use super::reading::Reading;
use super::report::Report;
use super::source::Source;
use super::value::Value;
use crate::base::words::{listed, shown};
use crate::geometry::outline::Side;

/// Most letters of all corners' expressions together: a corner takes some thirty.
const MOST_LETTERS: usize = 100_000;

/// Words that expressions keep for themselves.
pub(super) const RESERVED: [&str; 10] = [
    "min", "max", "sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "pi",
];

keys! {
/// A shape file: a family of outlines, as corners that depend on parameters.
#[derive(Debug, Clone)]
pub struct ShapeSpec file {
    /// The family's name, as patterns call it.
    name: Placed<String> = Kind::FilledWord, required;
    /// What it is called on lists.
    title: String = Kind::FilledText, required;
    /// What it is for; may be empty.
    about: String = Kind::Text;
    /// What patterns may set, each in a table of its name.
    parameters: Vec<ParameterSpec> = Kind::Named(&PARAMETER, 50);
    /// Its corners, in their order.
    corners("corner"): Vec<CornerSpec> = Kind::Tables(&CornerSpec::KEYS, 3, 500), required;
}
check(_table, reading) {
    check_letters(corners.as_deref().unwrap_or_default(), reading);
}
}

keys! {
/// `[parameters.X]`: what a pattern may set.
const PARAMETER;
/// What it is; may be empty.
about = Kind::Text;
/// What decides what may stand in where nobody gives it: a size is never made up, a radius is 0 for a
/// part and the default for an opening.
kind = choice!(ParameterKind), or(ParameterKind::Size);
/// An example, with which the family is proved; an angle makes the parameter an angle.
default = Kind::ShapeValue, required;
/// Expression for the least value, mm or degrees.
at_least = Kind::Expression;
/// Expression for the greatest value, mm or degrees.
at_most = Kind::Expression;
}

keys! {
/// `[[corner]]`: one corner, and the side from it to the next.
#[derive(Debug, Clone)]
pub struct CornerSpec {
    /// Expression, mm, to the right as one faces the panel with its datum edge at the foot.
    x: Placed<String> = Kind::Expression, required;
    /// Expression, mm, away from the datum edge.
    y: Placed<String> = Kind::Expression, required;
    /// Expression for the corner's radius, mm; a sharp corner has none.
    radius: Option<Placed<String>> = Kind::Expression;
    /// What lies along the side from this corner to the next.
    side("to_next"): Side = choice!(Side), or(Side::Cut);
}
}

choices!(ParameterKind, Side);

impl ShapeSpec {
    /// Reads a shape file; bare numbers in it are mm.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place. Expressions are not looked
    /// into.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, &Self::KEYS)
    }
}

impl Field for Vec<ParameterSpec> {
    fn of(got: &Placed<Got>, reading: &Reading<'_>) -> Option<Self> {
        let Got::Free(all) = &got.value else {
            return None;
        };
        let read = all.iter().filter_map(|(name, got)| {
            let table = got.value.table()?;
            if let Err(message) = check_parameter_name(&name.value) {
                reading.report(name.problem(message));
            }
            Some(ParameterSpec {
                name: name.clone(),
                about: table.get("about", reading)?,
                kind: table.get("kind", reading).unwrap_or(ParameterKind::Size),
                default: table.get("default", reading)?,
                at_least: table.get("at_least", reading)?,
                at_most: table.get("at_most", reading)?,
            })
        });
        Some(read.collect())
    }
    fn absent() -> Option<Self> {
        Some(vec![])
    }
}

fn check_parameter_name(name: &str) -> Result<(), String> {
    if RESERVED.contains(&name) {
        return Err(format!(
            "`{name}` can't name a parameter: expressions keep {} for themselves",
            listed(&RESERVED, " and ")
        ));
    }
    let begins = name.starts_with(|letter: char| letter.is_ascii_alphabetic() || letter == '_');
    let allowed = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'_';
    if begins && name.bytes().all(allowed) {
        return Ok(());
    }
    Err(format!(
        "`{}` can't name a parameter: letters a to z, digits and `_` are allowed, not beginning \
         with a digit",
        shown(name)
    ))
}

/// Expressions are worked out for every opening: what they cost is bounded together.
fn check_letters(corners: &[CornerSpec], reading: &Reading<'_>) {
    let mut letters = 0;
    for corner in corners {
        let all = [Some(&corner.x), Some(&corner.y), corner.radius.as_ref()];
        letters += all
            .iter()
            .flatten()
            .map(|one| one.value.len())
            .sum::<usize>();
        if letters > MOST_LETTERS {
            let message = format!(
                "the corners' expressions have more than {MOST_LETTERS} letters from here on"
            );
            let hint = "write them shorter, or draw the shape with fewer corners";
            return reading.report(corner.x.problem(message).hint(hint));
        }
    }
}

/// `[parameters.X]`: what a pattern may set.
#[derive(Debug, Clone)]
pub struct ParameterSpec {
    /// Its name: an identifier, and none of the words that expressions keep for themselves.
    pub name: Placed<String>,
    /// What it is; may be empty.
    pub about: String,
    /// What it is.
    pub kind: ParameterKind,
    /// An example, with which the family is proved; of a radius, what stands in an opening that does
    /// not say. An angle here makes the parameter an angle.
    pub default: Placed<Value>,
    /// Expression for the least value, mm or degrees; a literal stands as its bare number.
    pub at_least: Option<Placed<String>>,
    /// Expression for the greatest value, as `at_least`.
    pub at_most: Option<Placed<String>>,
}

/// What a parameter is, which decides what may stand in where nobody gives it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ParameterKind {
    /// Measured: it is never made up.
    Size,
    /// Radius of corners: 0 for a part, the default for an opening.
    Radius,
}

impl ParameterKind {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Size, Self::Radius];

    /// The word for it in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Size => "size",
            Self::Radius => "radius",
        }
    }
}
