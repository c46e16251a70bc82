//! The whole way through, for one definition.

use super::papers::Paper;
use crate::base::paper::file_stem;
use crate::check::scale::Printer;
use crate::check::verify::{Against, Outcome, Reference, prove};
use crate::draw::ink::Drawing;
use crate::draw::ink::lettering::MissingLetter;
use crate::draw::{draw, oblique_view};
use crate::input::families::Library;
use crate::input::{PatternSpec, Problem};
use crate::layout::{PageKind, Setup, SheetError, SheetSet, Stock, plate, sheets_beside};
use crate::output::{WriteError, pdf, svg};
use crate::solve::{Finding, Pattern, solve};
use kurbo::Size;
use std::fmt;

/// Which files to make.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Formats {
    /// Sheets to print.
    pub pdf: bool,
    /// The whole pattern as one drawing.
    pub svg: bool,
    /// A picture of how panel and parts stand.
    pub view: bool,
    /// Outlines of the drawing are closed where a mouth is open.
    pub closed: bool,
}

/// What a definition gives.
#[derive(Debug, Clone)]
pub struct Product {
    /// Name of the files, less their ending.
    pub stem: String,
    /// The PDF's bytes, where asked for.
    pub pdf: Option<Vec<u8>>,
    /// The SVG's text, where asked for.
    pub svg: Option<String>,
    /// The picture of how panel and parts stand, where asked for.
    pub view: Option<String>,
    /// What each page of the PDF is for, in order; none where no PDF was made.
    pub pages: Vec<PageKind>,
    /// Size of each page, mm; `None` where no PDF was made.
    pub page_size: Option<Size>,
    /// What was found while solving.
    pub findings: Vec<Finding>,
    /// Number and revision, and what the pattern under them is.
    pub paper: Paper,
}

/// Solves, draws and writes one definition, and proves what was written: full size, whole, and
/// equal to the definition.
///
/// # Errors
/// Problems of the definition, letters that the typeface lacks, paper that the pattern does not
/// fit, and bytes that can't be proven.
pub fn produce(
    spec: &PatternSpec,
    shapes: &Library,
    setup: &Setup,
    formats: Formats,
) -> Result<Product, ProduceError> {
    produce_for(spec, shapes, setup, formats, None)
}

/// As [`produce`], with sheets corrected for a printer where one is given. The SVG stays true.
///
/// # Errors
/// As [`produce`].
pub fn produce_for(
    spec: &PatternSpec,
    shapes: &Library,
    setup: &Setup,
    formats: Formats,
    printer: Option<&Printer>,
) -> Result<Product, ProduceError> {
    let pattern = solved(spec, shapes)?;
    let drawing = draw(&pattern).map_err(ProduceError::Letter)?;
    let mut scales = None;
    let (mut pages, mut page_size, mut pdf_bytes, mut svg_text) = (vec![], None, None, None);
    let mut reference = Reference::of(&pattern).by_numbers(spec, shapes);
    if formats.pdf {
        let set;
        (set, scales) = sheets_for(&pattern, &drawing, setup, printer)?;
        pages = set.pages.iter().map(|page| page.kind).collect();
        page_size = Some(set.size);
        pdf_bytes = Some(pdf(&set).map_err(ProduceError::Write)?);
        reference = reference.on_sheets(set);
    }
    let mut of_closed = None;
    if formats.svg {
        let closed = formats.closed.then(|| pattern.clone().closed());
        let plate = match &closed {
            Some(closed) => plate(&draw(closed).map_err(ProduceError::Letter)?)?,
            None => plate(&drawing)?,
        };
        svg_text = Some(svg(&plate).map_err(ProduceError::Write)?);
        match closed {
            Some(closed) => of_closed = Some(Reference::of(&closed).on_plate(plate)),
            None => reference = reference.on_plate(plate),
        }
    }
    let view = if formats.view {
        let picture = oblique_view(&pattern).map_err(ProduceError::Letter)?;
        Some(svg(&picture).map_err(ProduceError::Write)?)
    } else {
        None
    };
    let written = [
        (pdf_bytes.clone(), scales, &reference),
        (
            svg_text.clone().map(String::into_bytes),
            None,
            of_closed.as_ref().unwrap_or(&reference),
        ),
    ];
    for (bytes, scales, reference) in written {
        let against = Against {
            reference: Some(reference),
            scales,
        };
        bytes.map_or(Ok(()), |bytes| check(bytes, against))?;
    }
    Ok(Product {
        stem: stem(&pattern),
        view,
        pdf: pdf_bytes,
        svg: svg_text,
        pages,
        page_size,
        paper: Paper::of(&pattern),
        findings: pattern.findings,
    })
}

/// The sheets of a drawn pattern, and what they are scaled by across and down where they are
/// corrected for a printer.
pub(super) fn sheets_for(
    pattern: &Pattern,
    drawing: &Drawing,
    setup: &Setup,
    printer: Option<&Printer>,
) -> Result<(SheetSet, Option<(f64, f64)>), SheetError> {
    let Some(printer) = printer else {
        return Ok((sheets_beside(pattern, drawing, setup)?, None));
    };
    let setup = &printer.setup(setup);
    let set = sheets_beside(pattern, drawing, setup)?;
    let landscape = is_landscape(setup, set.size);
    let (across, down) = printer.scales(landscape);
    let scales = (1.0 / across, 1.0 / down);
    Ok((printer.correct(&set, landscape), Some(scales)))
}

/// A definition solved, where nothing about it stops it from being drawn.
///
/// # Errors
/// Problems of the definition, and findings that nobody answers for.
pub(crate) fn solved(spec: &PatternSpec, shapes: &Library) -> Result<Pattern, ProduceError> {
    let pattern = solve(spec, shapes).map_err(ProduceError::Definition)?;
    refuse_what_stops(&pattern)?;
    Ok(pattern)
}

/// Whether pages of this size are landscape.
fn is_landscape(setup: &Setup, page: Size) -> bool {
    match setup.paper.stock() {
        Stock::Sheet(_) => page.width > page.height,
        Stock::Roll { width, .. } => (page.width - width).abs() > 0.01,
    }
}

/// Reads back what was written, and holds it against the definition.
fn check(bytes: Vec<u8>, against: Against<'_>) -> Result<(), ProduceError> {
    let report =
        prove(bytes, against).map_err(|error| ProduceError::Unproven(error.to_string()))?;
    match report.outcome() {
        Outcome::Sound => Ok(()),
        worst => {
            let words: Vec<String> = report.of(worst).map(ToString::to_string).collect();
            Err(ProduceError::Unproven(words.join("; ")))
        }
    }
}

/// Name of the files of a pattern, less their ending: number and revision.
fn stem(pattern: &Pattern) -> String {
    file_stem(&pattern.identity.number.value, &pattern.identity.revision)
}

/// Findings that stop a pattern, as problems of its definition.
fn refuse_what_stops(pattern: &Pattern) -> Result<(), ProduceError> {
    let problems: Vec<Problem> = pattern
        .findings
        .iter()
        .filter(|finding| finding.stops())
        .map(|finding| Problem::new(finding.message.clone()).hint(finding.how_to_go_on()))
        .collect();
    if problems.is_empty() {
        Ok(())
    } else {
        Err(ProduceError::Definition(problems))
    }
}

impl From<SheetError> for ProduceError {
    fn from(error: SheetError) -> Self {
        match error {
            SheetError::Letter(missing) => Self::Letter(missing),
            other => Self::Sheets(other),
        }
    }
}

/// Why a definition gave nothing.
#[derive(Debug)]
pub enum ProduceError {
    /// The definition has problems, each with its place.
    Definition(Vec<Problem>),
    /// A letter that the typeface lacks.
    Letter(MissingLetter),
    /// The pattern does not fit the paper.
    Sheets(SheetError),
    /// The bytes could not be made.
    Write(WriteError),
    /// Read back, the bytes are not what the definition asks for; what was found.
    Unproven(String),
}

impl ProduceError {
    /// Problems to show in the definition's file.
    pub fn into_problems(self) -> Vec<Problem> {
        let message = self.to_string();
        let hint = match self {
            Self::Definition(problems) => return problems,
            Self::Letter(missing) => Some(missing.hint()),
            Self::Write(error) => Some(error.hint()),
            Self::Unproven(_) => Some(
                "this is a fault in the program, not in the pattern: report it with the pattern",
            ),
            // What would help stands in the message itself.
            Self::Sheets(_) => None,
        };
        vec![Problem {
            message,
            hint: hint.map(Into::into),
            span: None,
        }]
    }
}

impl fmt::Display for ProduceError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Definition(problems) => {
                let messages: Vec<&str> = problems
                    .iter()
                    .map(|problem| problem.message.as_str())
                    .collect();
                out.write_str(&messages.join("; "))
            }
            Self::Letter(error) => error.fmt(out),
            Self::Sheets(error) => error.fmt(out),
            Self::Write(error) => error.fmt(out),
            Self::Unproven(found) => {
                write!(
                    out,
                    "what was written does not prove right when read back: {found}"
                )
            }
        }
    }
}

impl std::error::Error for ProduceError {}
