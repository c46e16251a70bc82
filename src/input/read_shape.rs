//! Reads a shape file, table by table.

use super::field::{ANY_LENGTH, choice, filled_text, filled_word, length, number, text, value};
use super::file::read_file;
use super::problem::{Placed, Problem};
use super::report::Report;
use super::shape::{CornerSpec, ParameterKind, ParameterSpec, ShapeSpec};
use super::source::Source;
use super::table::{Entry, Table};
use crate::base::length::{
    LengthError, Units, has_angle_unit, has_length_unit, parse_angle, parse_length,
};
use crate::base::words::{listed, shown};
use crate::geometry::outline::Side;
use toml::de::DeValue;

/// Fewest corners that hold an area.
const FEWEST_CORNERS: usize = 3;

/// Most corners of a family.
const MOST_CORNERS: usize = 500;

/// Most parameters of a family.
const MOST_PARAMETERS: usize = 50;

/// Most letters of all corners' expressions together: a corner takes some thirty.
const MOST_LETTERS: usize = 100_000;

/// Words that expressions keep for themselves.
const RESERVED: [&str; 10] = [
    "min", "max", "sqrt", "sin", "cos", "tan", "asin", "acos", "atan", "pi",
];

impl ShapeSpec {
    /// Reads a shape file; bare numbers in it are mm.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place. Expressions are not looked
    /// into.
    pub fn read(source: &Source) -> Result<Self, Report> {
        read_file(source, shape)
    }
}

fn shape(file: &mut Table<'_>) -> Option<ShapeSpec> {
    let name = file.required("name", filled_word);
    let title = file.required("title", filled_text);
    let about = file.optional("about", text);
    let parameters = file.optional_table("parameters", parameters);
    let corners = file.tables("corner", FEWEST_CORNERS..=MOST_CORNERS, corner);
    check_letters(&corners, file);
    Some(ShapeSpec {
        name: name?,
        title: title?.value,
        about: about.map(|about| about.value).unwrap_or_default(),
        parameters: parameters.unwrap_or_default(),
        corners,
    })
}

fn parameters(table: &mut Table<'_>) -> Option<Vec<ParameterSpec>> {
    let reading = table.reading;
    let all = table.take_all();
    if all.len() > MOST_PARAMETERS {
        let message = format!(
            "the shape has {} parameters: at most {MOST_PARAMETERS} are allowed",
            all.len()
        );
        let problem = Problem::new(message);
        reading.report(Problem {
            span: table.span.clone(),
            ..problem
        });
        return None;
    }
    let read = all.into_iter().filter_map(|(key, entry)| {
        if let Err(message) = check_parameter_name(key.value) {
            reading.report(key.problem(message));
        }
        let title = format!("`[parameters.{}]`", shown(key.value));
        entry.table(title, |table| parameter(key.map(str::to_owned), table))
    });
    Some(read.collect())
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

fn parameter(name: Placed<String>, table: &mut Table<'_>) -> Option<ParameterSpec> {
    let about = table.optional("about", text);
    let kind = table.optional("kind", |entry| {
        choice(entry, &ParameterKind::ALL, ParameterKind::word)
    });
    let default = table.required("default", value);
    let at_least = table.optional("at_least", expression);
    let at_most = table.optional("at_most", expression);
    Some(ParameterSpec {
        name,
        about: about.map(|about| about.value).unwrap_or_default(),
        kind: kind.map_or(ParameterKind::Size, |kind| kind.value),
        default: default?,
        at_least,
        at_most,
    })
}

fn corner(table: &mut Table<'_>) -> Option<CornerSpec> {
    let x = table.required("x", expression);
    let y = table.required("y", expression);
    let radius = table.optional("radius", expression);
    let side = table.optional("to_next", |entry| choice(entry, &SIDES, side_word));
    Some(CornerSpec {
        x: x?,
        y: y?,
        radius,
        side: side.map_or(Side::Cut, |side| side.value),
    })
}

/// Expressions are worked out for every opening: what they cost is bounded together.
fn check_letters(corners: &[CornerSpec], file: &Table<'_>) {
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
            return file.reading.report(corner.x.problem(message).hint(hint));
        }
    }
}

const SIDES: [Side; 2] = [Side::Cut, Side::Open];

fn side_word(side: Side) -> &'static str {
    match side {
        Side::Cut => "cut",
        Side::Open => "open",
    }
}

/// An expression as written; a literal with its unit stands as its bare number of mm or degrees.
fn expression(entry: &Entry<'_>) -> Option<String> {
    match entry.value.get_ref() {
        DeValue::String(text) if is_literal(text) => Some(value(entry)?.number.to_string()),
        DeValue::String(_) => filled_text(entry),
        _ if number(entry).is_some() => Some(length(entry, ANY_LENGTH)?.to_string()),
        _ => entry.wrong_kind(
            "an expression",
            "write `width / 2`, `5 mm` or a bare number",
        ),
    }
}

/// Whether the text is a number with its unit, and no arithmetic on parameters.
fn is_literal(text: &str) -> bool {
    let read = if has_angle_unit(text) {
        parse_angle(text)
    } else if has_length_unit(text) {
        parse_length(text, Units::Mm)
    } else {
        return false;
    };
    // A parameter may be named as a unit is: `1 - m` is arithmetic.
    !matches!(
        read,
        Err(LengthError::NotALength(_) | LengthError::NotAnAngle(_))
    )
}
