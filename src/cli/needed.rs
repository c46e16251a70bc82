//! What `draw --shape` still needs, all at once.

use super::Failure;
use super::args::OutrightArgs;
use super::shapes::with_unit;
use trimloft::input::ParameterKind;
use trimloft::input::families::Library;

/// What must be told of a shape that is drawn with no file and was not: directions, place and sizes,
/// each with what it is and an example. Nothing to say where both directions are told: what else may
/// lack is found as the shape is solved.
pub(super) fn check(args: &OutrightArgs, shapes: &Library) -> Result<(), Failure> {
    let Some(shape) = &args.shape else {
        return nothing_idle(args);
    };
    if args.seen_from.is_some() && args.page_up.is_some() {
        return Ok(());
    }
    let family = shapes
        .find(shape)
        .map_err(|error| Failure::usage(format!("{error}; hint: {}", error.hint())))?;
    let mut lines: Vec<(String, String)> = vec![];
    let mut need = |option: &str, about: &str| lines.push((option.to_owned(), about.to_owned()));
    if args.seen_from.is_none() {
        need(
            "--seen-from below",
            "where you stand: behind, front, below, above, left or right",
        );
    }
    if args.page_up.is_none() {
        need(
            "--page-up front",
            "the vehicle direction at the head of the page: front, rear, left, right, up or down",
        );
    }
    if !family.is_open() && args.from_datum.is_none() {
        need(
            "--from-datum 60",
            "from the datum edge to the shape's middle",
        );
    }
    for parameter in family.parameters() {
        let names = args.values.iter().filter_map(|value| value.split_once('='));
        let given = names.clone().any(|(name, _)| name.trim() == parameter.name);
        if given || parameter.kind == ParameterKind::Radius {
            continue;
        }
        let limits = match parameter.limits(args.units.into()) {
            none if none.is_empty() => none,
            limits => format!("; {limits}"),
        };
        need(
            &format!(
                "--set {}=\"{}\"",
                parameter.name,
                with_unit(parameter.default, args.units.into())
            ),
            &format!("{}{limits}", parameter.about),
        );
    }
    let width = lines.iter().map(|(option, _)| option.len()).max();
    let width = width.unwrap_or(0);
    let told: String = lines
        .iter()
        .map(|(option, about)| format!("\n  {option:width$}  {about}"))
        .collect();
    Err(Failure::usage(format!(
        "`--shape {shape}` needs, with figures of your own:{told}\nhint: `trimloft shapes {shape}` \
         tells all of it; nothing that is measured is made up"
    )))
}

/// What tells of a shape would be passed over beside files: clap's `requires` looks away where the
/// option that it asks for conflicts with another.
fn nothing_idle(args: &OutrightArgs) -> Result<(), Failure> {
    let told = [
        ("--set", !args.values.is_empty()),
        ("--offset", args.offset.is_some()),
        ("--from-datum", args.from_datum.is_some()),
        ("--seen-from", args.seen_from.is_some()),
        ("--page-up", args.page_up.is_some()),
        ("--datum", args.datum.is_some()),
    ];
    match told.iter().find(|(_, is_told)| *is_told) {
        Some((option, _)) => Err(Failure::usage(format!(
            "`{option}` goes with `--shape <FAMILY>`, not with pattern files; hint: write it in the file"
        ))),
        None => Ok(()),
    }
}
