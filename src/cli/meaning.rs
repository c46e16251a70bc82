//! From what was typed to what is meant.

use super::Failure;
use super::args::{FamiliesArgs, OrientationArg, OutrightArgs, SheetArgs, ToolsArgs};
use super::report;
use std::collections::BTreeMap;
use std::path::Path;
use trimloft::base::Direction;
use trimloft::base::length::{
    LengthError, Offset, Units, has_angle_unit, parse_angle, parse_length, parse_offset,
};
use trimloft::check::scale::Printer;
use trimloft::input::families::{Library, LibraryError};
use trimloft::input::{Outright, PatternSpec, ShopSpec, Source, Value};
use trimloft::layout::{PageOrientation, Paper, Setup};
use trimloft::model::panel::{Face, OrientationError};

/// The shipped families, and the user's own where a folder is named.
pub(super) fn library(args: &FamiliesArgs) -> Result<Library, Failure> {
    let shipped = Library::shipped();
    let Some(folder) = &args.shapes else {
        return Ok(shipped);
    };
    shipped.with_folder(folder).map_err(|errors| {
        for error in &errors {
            match error {
                LibraryError::Unreadable { .. } | LibraryError::TooMany { .. } => {
                    report::tell(format_args!("error: {error}\n"))
                }
                LibraryError::Unsound(report) => report::tell(report),
            }
        }
        Failure::falls_short(format!(
            "the shapes of `{}` can't be used",
            folder.display()
        ))
    })
}

/// The shop's own tools, where a file of them is named.
pub(super) fn shop(args: &ToolsArgs) -> Result<Option<ShopSpec>, Failure> {
    let Some(file) = &args.shop else {
        return Ok(None);
    };
    let shop = Source::open(file, file).and_then(|source| ShopSpec::read(&source));
    shop.map(Some).map_err(|report| {
        report::tell(&report);
        Failure::falls_short(format!("the tools of `{}` can't be used", file.display()))
    })
}

/// How sheets are to be made.
pub(super) fn setup(args: &SheetArgs, printer: Option<&Printer>) -> Result<Setup, Failure> {
    let paper = Paper::parse(paper_name(args, printer)).map_err(Failure::usage)?;
    let mut setup = Setup::new(paper);
    setup.one_page = args.one_page;
    setup.joined = args.joined;
    if let Some(printer) = printer {
        setup.margin = printer.margin;
    }
    if let Some(margin) = &args.margin {
        setup.margin = length("--margin", margin, Units::Mm)?;
    }
    if let Some(overlap) = &args.overlap {
        setup.overlap = length("--overlap", overlap, Units::Mm)?;
    }
    setup.orientation = match args.orientation {
        Some(OrientationArg::Portrait) => PageOrientation::Portrait,
        Some(OrientationArg::Landscape) => PageOrientation::Landscape,
        None => PageOrientation::Either,
    };
    setup.check().map_err(Failure::usage)?;
    Ok(setup)
}

/// The paper's name as it was given: on the command line, by the printer, or not at all.
pub(super) fn paper_name<'a>(args: &'a SheetArgs, printer: Option<&'a Printer>) -> &'a str {
    match (&args.paper, printer) {
        (Some(paper), _) => paper,
        (None, Some(printer)) => &printer.paper,
        (None, None) => "a4",
    }
}

/// The printer of a printer file, where one is named.
pub(super) fn printer(file: Option<&Path>) -> Result<Option<Printer>, Failure> {
    let Some(file) = file else { return Ok(None) };
    match Source::open(file, file).and_then(|source| Printer::read(&source)) {
        Ok(printer) => Ok(Some(printer)),
        Err(report) => {
            report::tell(&report);
            Err(Failure::falls_short(format!(
                "the printer file `{}` can't be used",
                file.display()
            )))
        }
    }
}

/// The definition that `--shape` and its values make, where it was given.
pub(super) fn outright(args: &OutrightArgs) -> Result<Option<PatternSpec>, Failure> {
    let (Some(shape), Some(seen_from), Some(page_up)) =
        (&args.shape, &args.seen_from, &args.page_up)
    else {
        return Ok(None);
    };
    let units = args.units.into();
    let with = args
        .values
        .iter()
        .map(|text| value(text, units))
        .collect::<Result<BTreeMap<_, _>, _>>()?;
    if with.len() < args.values.len() {
        return Err(Failure::usage("`--set` names a value twice"));
    }
    let offset = match &args.offset {
        Some(text) => {
            parse_offset(text, units).map_err(|error| unread("--offset", text, &error))?
        }
        None => Offset {
            distance: 0.0,
            towards: None,
        },
    };
    let from_datum = match &args.from_datum {
        Some(text) => length("--from-datum", text, units)?,
        None => 0.0,
    };
    let datum_edge = args
        .datum
        .as_deref()
        .map(|word| direction("--datum", word))
        .transpose()?;
    let spec = PatternSpec::outright(Outright {
        units,
        shape: shape.clone(),
        with,
        offset,
        from_datum,
        seen_from: face("--seen-from", seen_from)?,
        page_up: direction("--page-up", page_up)?,
        datum_edge,
    });
    match spec.panel.orientation() {
        Ok(_) => Ok(Some(spec)),
        Err(error) => Err(turned_wrong(error)),
    }
}

/// Directions that do not go together, in the words that were typed.
pub(super) fn turned_wrong(error: OrientationError) -> Failure {
    Failure::usage(match error {
        OrientationError::UpAlongLook { seen_from, page_up } => {
            let look = seen_from.look();
            let across: Vec<&str> = Direction::ALL
                .into_iter()
                .filter(|direction| *direction != look && *direction != look.opposite())
                .map(Direction::word)
                .collect();
            format!(
                "`--page-up {page_up}` lies along the reader's look with `--seen-from \
                 {seen_from}`; allowed: {}",
                across.join(", ")
            )
        }
        OrientationError::DatumAtSide {
            datum_edge,
            page_up,
        } => format!(
            "`--datum {datum_edge}` does not lie at the head or the foot of the page with \
             `--page-up {page_up}`; allowed: {page_up}, {}",
            page_up.opposite()
        ),
    })
}

/// `width=92`: a value of a shape.
fn value(text: &str, units: Units) -> Result<(String, Value), Failure> {
    let (name, written) = text.split_once('=').ok_or_else(|| {
        Failure::usage(format!(
            "`--set {text}` lacks its `=`; hint: write `--set width=92`"
        ))
    })?;
    let angle = has_angle_unit(written);
    let number = if angle {
        parse_angle(written)
    } else {
        parse_length(written, units)
    };
    let number = number.map_err(|error| unread("--set", text, &error))?;
    Ok((name.trim().to_owned(), Value { number, angle }))
}

/// A length as typed.
pub(super) fn length(flag: &str, text: &str, units: Units) -> Result<f64, Failure> {
    parse_length(text, units).map_err(|error| unread(flag, text, &error))
}

/// An angle as typed.
pub(super) fn angle(flag: &str, text: &str) -> Result<f64, Failure> {
    parse_angle(text).map_err(|error| unread(flag, text, &error))
}

pub(super) fn direction(flag: &str, word: &str) -> Result<Direction, Failure> {
    let known = Direction::ALL.map(Direction::word);
    Direction::from_word(word).ok_or_else(|| unknown_word(flag, word, known, Direction::hint(word)))
}

pub(super) fn face(flag: &str, word: &str) -> Result<Face, Failure> {
    let known = Face::ALL.map(Face::word);
    Face::from_word(word).ok_or_else(|| unknown_word(flag, word, known, Face::hint(word)))
}

fn unknown_word(flag: &str, word: &str, known: [&str; 6], hint: Option<String>) -> Failure {
    let hint = hint.map_or_else(String::new, |hint| format!("; hint: {hint}"));
    Failure::usage(format!(
        "`{flag} {word}` is not known; allowed: {}{hint}",
        known.join(", ")
    ))
}

/// A length, an angle or a side that can't be read.
pub(super) fn unread(flag: &str, text: &str, error: &LengthError) -> Failure {
    let hint = error
        .hint()
        .map_or_else(String::new, |hint| format!("; hint: {hint}"));
    Failure::usage(format!("`{flag} {text}`: {error}{hint}"))
}
