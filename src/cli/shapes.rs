//! `trimloft shapes`: what can be cut.

use super::Failure;
use super::args::ShapesArgs;
use super::{meaning, report};
use serde::Serialize;
use trimloft::drawing::fixed;
use trimloft::shape::{Expression, Family};
use trimloft::spec::Value;

pub(super) fn run(args: &ShapesArgs) -> Result<(), Failure> {
    let shapes = meaning::library(&args.families)?;
    let Some(name) = &args.name else {
        if args.json {
            report::print_json(&shapes.families().map(FamilyJson::from).collect::<Vec<_>>());
        } else {
            let width = shapes
                .families()
                .map(|family| family.name().len())
                .max()
                .unwrap_or(0);
            for family in shapes.families() {
                println!(
                    "{:width$}  {}: {}",
                    family.name(),
                    family.title(),
                    family.about()
                );
            }
        }
        return Ok(());
    };
    let family = shapes.find(name).map_err(Failure::usage)?;
    if args.json {
        report::print_json(&FamilyJson::from(family));
    } else {
        tell(family);
    }
    Ok(())
}

fn tell(family: &Family) {
    println!(
        "{}: {}\n{}\n",
        family.name(),
        family.title(),
        family.about()
    );
    let width = family
        .parameters()
        .iter()
        .map(|parameter| parameter.name.len())
        .max()
        .unwrap_or(0);
    for parameter in family.parameters() {
        let limits: Vec<String> = [
            ("at least", &parameter.at_least),
            ("at most", &parameter.at_most),
        ]
        .into_iter()
        .filter_map(|(words, limit)| {
            limit
                .as_ref()
                .map(|limit| format!(", {words} {}", limit.written()))
        })
        .collect();
        println!(
            "  {:width$}  {} (default {}{})",
            parameter.name,
            parameter.about,
            with_unit(parameter.default),
            limits.concat()
        );
    }
}

fn with_unit(value: Value) -> String {
    format!(
        "{} {}",
        fixed(value.number, 3),
        if value.angle { "deg" } else { "mm" }
    )
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
                    default: with_unit(parameter.default),
                    at_least: parameter.at_least.as_ref().map(Expression::written),
                    at_most: parameter.at_most.as_ref().map(Expression::written),
                })
                .collect(),
        }
    }
}
