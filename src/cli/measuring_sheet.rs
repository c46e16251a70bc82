//! `trimloft measuring-sheet`: one page to fill in at the vehicle.

use super::args::MeasuringSheetArgs;
use super::{Failure, report};
use trimloft::ask::{Standing, measuring_sheet};
use trimloft::base::Direction;
use trimloft::layout::{Paper, Stock};
use trimloft::model::panel::{Face, Orientation};
use trimloft::output::{pdf, write_whole};

/// The file's name.
const NAME: &str = "measuring-sheet.pdf";

pub(super) fn run(args: &MeasuringSheetArgs) -> Result<(), Failure> {
    let standing = Standing {
        seen_from: args.seen_from.as_deref().and_then(Face::from_word),
        datum_edge: args.datum.as_deref().and_then(Direction::from_word),
    };
    if let (Some(face), Some(edge)) = (standing.seen_from, standing.datum_edge) {
        Orientation::new(face, edge, edge.opposite()).map_err(Failure::usage)?;
    }
    let paper = Paper::parse(&args.paper).map_err(Failure::usage)?;
    let Stock::Sheet(page) = paper.stock() else {
        return Err(Failure::usage(
            "a measuring sheet is one sheet: name no roll",
        ));
    };
    let set = measuring_sheet(standing, args.units.into(), page).map_err(Failure::usage)?;
    let path = args.out.join(NAME);
    pdf(&set)
        .and_then(|bytes| write_whole(&path, &bytes))
        .map_err(|error| Failure::falls_short(format!("{error}; hint: {}", error.hint())))?;
    report::print(&format!("{}\n", path.display()))
}
