//! A printer's correction: sheets drawn so that they print true on it.
//!
//! A printer with scale `s` turns a length `l` of the file into `s l` on paper, so everything is
//! drawn at `1 / s`, about the middle of the page. Where the printer's own fixed point lies is not
//! known and moves the print only as a whole; from the middle, what the drawing grows by is shared
//! by both edges. The page keeps its size, for that is what chooses the paper.
//!
//! Printer file, kept small:
//!
//! ```toml
//! format = 1
//!
//! [printer]
//! name = "front desk"
//! measured = 2026-03-02      # a date
//! across = 0.994             # what was read over what was drawn
//! down = 0.997              # both of the portrait paper, whatever a page's orientation
//! paper = "iso_a4_210x297mm" # short and PWG 5101.1 names alike
//! margin = 6.35              # mm
//! ```

use super::Scales;
use crate::base::fixed;
use crate::draw::ink::{Ink, Mark};
use crate::input::{PrinterSpec, Report, Source};
use crate::layout::{Page, PageOrientation, Paper, Setup, SheetSet, Stock};
use kurbo::{Affine, Point, Rect, Size};
use std::fmt;

/// Farthest scale from 1 that is a printer's own; beyond it is the print dialog.
const CORRECTED: f64 = 0.03;

/// A printer, as its rulers showed it.
#[derive(Debug, Clone, PartialEq)]
pub struct Printer {
    /// What it is called where it stands.
    pub name: String,
    /// When it was measured, `YYYY-MM-DD`; may be empty.
    pub measured: String,
    /// Scale across the portrait paper, 0.97 to 1.03.
    pub across: f64,
    /// Scale down the portrait paper, 0.97 to 1.03.
    pub down: f64,
    /// Paper it was measured with, by its PWG 5101.1 name.
    pub paper: String,
    /// Border to keep free on that paper, mm.
    pub margin: f64,
}

/// Why a printer can't be corrected.
#[derive(Debug, Clone, PartialEq)]
pub enum PrinterError {
    /// A scale that no printer has.
    Scale {
        /// Direction, in a word.
        way: &'static str,
        /// The scale.
        scale: f64,
    },
    /// A direction without a reading.
    NotRead {
        /// Direction, in a word.
        way: &'static str,
    },
    /// A name or date that can't be kept in a file of one line each.
    Name(String),
    /// A date not written `YYYY-MM-DD`.
    Date(String),
    /// A margin out of range, mm.
    Margin(f64),
}

impl Printer {
    /// A printer with these scales, checked.
    ///
    /// # Errors
    /// [`PrinterError`] where a direction was not read, a scale is more than 3 % off, the name is
    /// empty or holds control characters, the date is not one, or the margin is not 0 to 50 mm.
    pub fn new(
        name: &str,
        measured: &str,
        scales: &Scales,
        paper: &str,
        margin: f64,
    ) -> Result<Self, PrinterError> {
        let read = |scale: Option<super::Measured>, way| match scale {
            Some(scale) => Ok(scale.value),
            None => Err(PrinterError::NotRead { way }),
        };
        let printer = Self {
            name: name.trim().into(),
            measured: measured.into(),
            across: read(scales.across, "across")?,
            down: read(scales.down, "down")?,
            paper: paper.into(),
            margin,
        };
        printer.check()?;
        Ok(printer)
    }

    /// The printer of a printer file.
    ///
    /// # Errors
    /// Everything that is wrong with the file, each at its place.
    pub fn read(source: &Source) -> Result<Self, Report> {
        let spec = PrinterSpec::read(source)?;
        if let Err(error) = Paper::parse(&spec.paper.value) {
            let problem = spec.paper.problem(error.to_string());
            return Err(Report::new(source, vec![problem]));
        }
        let printer = Self {
            name: spec.name.value.trim().into(),
            measured: spec.measured.unwrap_or_default(),
            across: spec.across,
            down: spec.down,
            paper: spec.paper.value,
            margin: spec.margin,
        };
        let wrong = printer.check().err();
        match wrong {
            None => Ok(printer),
            Some(error) => {
                let name = crate::input::Placed {
                    value: (),
                    span: spec.name.span,
                };
                Err(Report::new(source, vec![name.problem(error.to_string())]))
            }
        }
    }

    /// What it makes of a length across and down a page, portrait or landscape.
    pub fn scales(&self, landscape: bool) -> (f64, f64) {
        // A landscape page runs through the printer as a portrait one does.
        if landscape {
            (self.down, self.across)
        } else {
            (self.across, self.down)
        }
    }

    /// Whether every value is in its range; to be called on what was read from a file.
    ///
    /// # Errors
    /// As [`Printer::new`].
    pub fn check(&self) -> Result<(), PrinterError> {
        for (way, scale) in [("across", self.across), ("down", self.down)] {
            // Not turned round: a scale that is no number must fail.
            let held = (scale - 1.0).abs() <= CORRECTED + 1e-12;
            if !held {
                return Err(PrinterError::Scale { way, scale });
            }
        }
        for words in [&self.name, &self.paper] {
            if words.is_empty() || words.chars().any(char::is_control) {
                return Err(PrinterError::Name(words.clone()));
            }
        }
        if !self.measured.is_empty() && !is_date(&self.measured) {
            return Err(PrinterError::Date(self.measured.clone()));
        }
        if !(0.0..=crate::layout::Setup::WIDEST_MARGIN).contains(&self.margin) {
            return Err(PrinterError::Margin(self.margin));
        }
        Ok(())
    }

    /// The same sheets, drawn so that they print true here; `landscape` where their paper is.
    pub fn correct(&self, set: &SheetSet, landscape: bool) -> SheetSet {
        let map = self.map(set.size, landscape);
        SheetSet {
            pages: set.pages.iter().map(|page| self.page(page, map)).collect(),
            ..set.clone()
        }
    }

    /// The margin to lay sheets of this size out with, mm, so that neither the file nor the print
    /// comes nearer to the paper's edge than the printer's own margin.
    pub fn layout_margin(&self, page: Size, landscape: bool) -> f64 {
        let (across, down) = self.scales(landscape);
        let along = |scale: f64, side: f64| {
            let middle = side / 2.0;
            middle - scale * (middle - self.margin)
        };
        along(across, page.width)
            .max(along(down, page.height))
            .max(self.margin)
    }

    /// Sheets that keep clear of the edge on paper and in the file, and that name the printer.
    pub(crate) fn setup(&self, setup: &Setup) -> Setup {
        let longest = match setup.paper.stock() {
            Stock::Sheet(size) => size,
            Stock::Roll { width, at_most } => Size::new(width, at_most),
        };
        let turned = Size::new(longest.height, longest.width);
        let ways = match setup.orientation {
            PageOrientation::Portrait => vec![(longest, false)],
            PageOrientation::Landscape => vec![(turned, true)],
            PageOrientation::Either => vec![(longest, false), (turned, true)],
        };
        let margin = ways
            .into_iter()
            .map(|(page, landscape)| self.layout_margin(page, landscape))
            .fold(setup.margin, f64::max);
        Setup {
            note: self.words(),
            margin,
            ..setup.clone()
        }
    }

    /// What every corrected sheet must say, in two parts.
    pub fn words(&self) -> [String; 2] {
        let on = match self.measured.as_str() {
            "" => String::new(),
            date => format!("; measured {date}"),
        };
        [
            format!("Corrected for printer \"{}\"", self.name),
            format!("right only there{on}"),
        ]
    }

    /// The printer as a file, as this module describes it.
    pub fn to_toml(&self) -> String {
        let number = |value: f64| {
            let text = fixed(value, 6);
            // A whole number would read back as an integer.
            if text.contains('.') {
                text
            } else {
                text + ".0"
            }
        };
        let measured = match self.measured.as_str() {
            "" => String::new(),
            date => format!("measured = {date}\n"),
        };
        format!(
            "format = 1\n\n[printer]\nname = {}\n{measured}across = {}\ndown = {}\npaper = {}\n\
             margin = {}\n",
            quoted(&self.name),
            number(self.across),
            number(self.down),
            quoted(&self.paper),
            number(self.margin)
        )
    }

    /// From the page as it should print to the page as it must be drawn.
    pub(super) fn map(&self, page: Size, landscape: bool) -> Affine {
        let (across, down) = self.scales(landscape);
        let middle = (page / 2.0).to_vec2();
        Affine::translate(middle)
            * Affine::scale_non_uniform(1.0 / across, 1.0 / down)
            * Affine::translate(-middle)
    }

    fn page(&self, page: &Page, map: Affine) -> Page {
        let marks = |marks: &[Mark]| marks.iter().map(|mark| self.mark(mark, map)).collect();
        let corner = |x, y| map * Point::new(x, y);
        Page {
            kind: page.kind,
            bookmark: page.bookmark.clone(),
            furniture: marks(&page.furniture),
            work: marks(&page.work),
            window: Rect::from_points(
                corner(page.window.x0, page.window.y0),
                corner(page.window.x1, page.window.y1),
            ),
        }
    }

    /// Paths are mapped; line widths stay, for a line's middle is what is measured and cut to.
    /// Lettering stands at its mapped place, and never outgrows it.
    fn mark(&self, mark: &Mark, map: Affine) -> Mark {
        let mut mark = mark.clone();
        match &mut mark.ink {
            Ink::Stroke { path, .. } | Ink::Fill { path, .. } => path.apply_affine(map),
            Ink::Text(text) => {
                text.at = map * text.at;
                text.height /= self.across.max(self.down);
            }
        }
        mark
    }
}

fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let digits =
        |part: &str, count| part.len() == count && part.bytes().all(|b| b.is_ascii_digit());
    let within = |part: &str, most: u8| part.parse::<u8>().is_ok_and(|n| n >= 1 && n <= most);
    matches!(parts[..], [year, month, day] if digits(year, 4) && digits(month, 2)
        && digits(day, 2) && within(month, 12) && within(day, 31))
}

/// A basic string of TOML. Control characters are refused before they come here.
fn quoted(words: &str) -> String {
    format!("\"{}\"", words.replace('\\', "\\\\").replace('"', "\\\""))
}

impl fmt::Display for PrinterError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Scale { way, scale } => write!(
                out,
                "scale {way} `{}` is more than a printer is ever off; allowed: {} to {}; hint: \
                 the print dialog scaled the page: print at actual size and read again",
                fixed(*scale, 4),
                fixed(1.0 - CORRECTED, 2),
                fixed(1.0 + CORRECTED, 2)
            ),
            Self::NotRead { way } => write!(
                out,
                "the scale {way} was not read; hint: a correction needs rulers read across and \
                 down"
            ),
            Self::Name(name) => write!(
                out,
                "`{}` can't be kept in a printer file; allowed: at least one letter, no control \
                 characters",
                name.escape_debug()
            ),
            Self::Date(date) => write!(
                out,
                "`{}` is no date; allowed: `YYYY-MM-DD`",
                date.escape_debug()
            ),
            Self::Margin(margin) => write!(
                out,
                "margin `{} mm` is out of range; allowed: 0 to {} mm",
                fixed(*margin, 3),
                fixed(crate::layout::Setup::WIDEST_MARGIN, 0)
            ),
        }
    }
}

impl std::error::Error for PrinterError {}
