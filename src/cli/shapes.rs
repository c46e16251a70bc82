//! `trimloft shapes`: what can be cut.

use super::Failure;
use super::args::ShapesArgs;
use super::{meaning, report};
use serde::Serialize;
use trimloft::base::fixed;
use trimloft::base::length::Units;
use trimloft::input::families::{Expression, Family, Library};
use trimloft::input::{ParameterKind, Value};

pub(super) fn run(args: &ShapesArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.families)?;
    let Some(name) = &args.name else {
        return if args.json {
            let told: Vec<_> = shapes.families().map(FamilyJson::from).collect();
            report::print_json(&told)
        } else {
            report::print(&list(&shapes))
        };
    };
    let family = shapes
        .find(name)
        .map_err(|error| Failure::usage(format!("{error}; hint: {}", error.hint())))?;
    if args.json {
        report::print_json(&FamilyJson::from(family))
    } else {
        report::print(&told(family, args.units.into()))
    }
}

/// Every family in a line.
fn list(shapes: &Library) -> String {
    let names = shapes.families().map(|family| family.name().len());
    let width = names.max().unwrap_or(0);
    let line = |family: &Family| {
        let (name, title, about) = (family.name(), family.title(), family.about());
        format!("{name:width$}  {title}: {about}\n")
    };
    shapes.families().map(line).collect()
}

/// One family with its parameters, lengths in `units`.
fn told(family: &Family, units: Units) -> String {
    let (name, title, about) = (family.name(), family.title(), family.about());
    let mut lines = format!("{name}: {title}\n{about}\n\n");
    let names = family.parameters().iter().map(|one| one.name.len());
    let width = names.max().unwrap_or(0);
    for parameter in family.parameters() {
        let stands = match parameter.kind {
            ParameterKind::Size => "to be given, such as",
            ParameterKind::Radius => "in an opening, unless given,",
        };
        let limits = match parameter.limits(units) {
            none if none.is_empty() => none,
            limits => format!("; {limits}"),
        };
        lines += &format!(
            "  {:width$}  {} ({stands} {}{limits})\n",
            parameter.name,
            parameter.about,
            with_unit(parameter.default, units),
        );
    }
    lines
}

/// A value as it is written after `--set`.
pub(super) fn with_unit(value: Value, units: Units) -> String {
    match value.angle {
        true => format!("{} deg", fixed(value.number, 3)),
        false => units.exact(value.number),
    }
}

#[derive(Serialize)]
struct FamilyJson<'a> {
    name: &'a str,
    title: &'a str,
    about: &'a str,
    open: bool,
    parameters: Vec<ParameterJson<'a>>,
}

#[derive(Serialize)]
struct ParameterJson<'a> {
    name: &'a str,
    about: &'a str,
    kind: &'static str,
    default: String,
    at_least: Option<&'a str>,
    at_most: Option<&'a str>,
}

impl<'a> From<&'a Family> for FamilyJson<'a> {
    fn from(family: &'a Family) -> Self {
        Self {
            name: family.name(),
            title: family.title(),
            about: family.about(),
            open: family.is_open(),
            parameters: family
                .parameters()
                .iter()
                .map(|parameter| ParameterJson {
                    name: &parameter.name,
                    about: &parameter.about,
                    kind: parameter.kind.word(),
                    default: with_unit(parameter.default, Units::Mm),
                    at_least: parameter.at_least.as_ref().map(Expression::written),
                    at_most: parameter.at_most.as_ref().map(Expression::written),
                })
                .collect(),
        }
    }
}
