//! One definition looked at while it is worked on: its picture, what was found, and what paper it
//! takes.
//!
//! The same pipeline as [`produce`](super::produce::produce) without its bytes for the printer. A
//! finding that stops a pattern from being drawn does not keep it from being seen.

use super::produce::{ProduceError, sheets_for};
use crate::base::paper::file_stem;
use crate::check::scale::Printer;
use crate::draw::{View, draw};
use crate::input::PatternSpec;
use crate::input::families::Library;
use crate::layout::{PageKind, Setup, SheetError, SheetSet, plate_and_shift};
use crate::output::svg;
use crate::solve::{Pattern, solve};
use kurbo::{Affine, Size};

/// What is seen of a definition.
#[derive(Debug, Clone)]
pub struct Look {
    /// The pattern, solved, with all that was found.
    pub pattern: Pattern,
    /// Name of its files, less their ending.
    pub stem: String,
    /// The drawing that is written as its SVG.
    pub svg: String,
    /// Width and height of the drawing, mm.
    pub size: Size,
    /// From the panel frame to the drawing's `viewBox`: mm, y down.
    pub to_svg: Affine,
    /// Its sheets, or why there are none; `None` where they were not asked for.
    pub sheets: Option<Result<Sheets, SheetError>>,
}

/// The paper that a pattern takes.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheets {
    /// What each page is for, in order.
    pub pages: Vec<PageKind>,
    /// Width and height of each, mm.
    pub size: Size,
}

impl Look {
    /// Its sheets, where there are any.
    pub fn laid_out(&self) -> Option<&Sheets> {
        self.sheets.as_ref()?.as_ref().ok()
    }

    /// Whether it can be printed as it is: nothing that was found stops it, and the paper takes it.
    pub fn prints(&self) -> bool {
        self.laid_out().is_some() && !self.pattern.findings.iter().any(|finding| finding.stops())
    }
}

/// Solves and draws one definition, and lays its sheets out without making their bytes, where paper is
/// named. Laying out takes about as long as all the rest: the work is drawn anew for its sheets.
///
/// # Errors
/// Problems of the definition, letters that the typeface lacks, and a drawing that can't be made.
pub fn look(
    spec: &PatternSpec,
    shapes: &Library,
    paper: Option<(&Setup, Option<&Printer>)>,
) -> Result<Look, ProduceError> {
    let pattern = solve(spec, shapes).map_err(ProduceError::Definition)?;
    let drawing = draw(&pattern).map_err(ProduceError::Letter)?;
    let (plate, shift) = plate_and_shift(&drawing)?;
    let on_page = View::of(pattern.orientation).affine();
    let y_down = Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, plate.size.height]);
    let of = |(set, _): (SheetSet, _)| Sheets {
        pages: set.pages.iter().map(|page| page.kind).collect(),
        size: set.size,
    };
    let sheets =
        paper.map(|(setup, printer)| sheets_for(&pattern, &drawing, setup, printer).map(of));
    Ok(Look {
        stem: file_stem(&pattern.identity.number.value, &pattern.identity.revision),
        svg: svg(&plate).map_err(ProduceError::Write)?,
        size: plate.size,
        to_svg: y_down * Affine::translate(shift) * on_page,
        sheets,
        pattern,
    })
}
