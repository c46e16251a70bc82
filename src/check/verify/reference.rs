//! What a file must show: the cut line from the definition's own outlines, true arcs and all; every
//! mark as the draughtsman draws it on the file's own sheets; and which pattern it is.

use super::numbers::{Numbered, openings};
use super::seen::CutLine;
use super::wanted::Wanted;
use crate::base::length::Units;
use crate::check::scale::Printer;
use crate::draw::draw;
use crate::draw::ink::Plate;
use crate::geometry::outline::{Segment, Side};
use crate::input::PatternSpec;
use crate::input::families::Library;
use crate::layout::{Setup, SheetSet, plate, sheets_of};
use crate::solve::Pattern;
use kurbo::{Affine, Line, Rect};
use std::sync::{Arc, Mutex, PoisonError};

/// How near straight pieces follow an arc, mm.
const FLAT: f64 = 0.002;

/// What a definition asks of a file, the way it lies on the page.
#[derive(Debug, Clone)]
pub struct Reference {
    pub(crate) cut: CutLine,
    /// Box round each opening.
    pub(crate) openings: Vec<Rect>,
    /// The panel on the page, where its size is known.
    pub(crate) panel: Option<Rect>,
    /// Names of the openings that became one each.
    pub(crate) united: Vec<Vec<String>>,
    /// Openings by the definition's own numbers; none where they were not given.
    pub(crate) numbered: Vec<Numbered>,
    /// Both as one, as sheets say it.
    name: String,
    pattern: Pattern,
    /// The printer that files are corrected for.
    printer: Option<Printer>,
    sheets: Option<Arc<Wanted>>,
    /// What was drawn so far to hold files against.
    drawn: Arc<Mutex<Drawn>>,
}

/// Pages drawn to hold files against, with how they were asked for; `None` for what can't be drawn.
#[derive(Debug, Default)]
struct Drawn {
    plate: Option<Option<Arc<Wanted>>>,
    sheets: Vec<(Setup, Option<Arc<Wanted>>)>,
}

impl Reference {
    /// What a solved pattern asks for; lines to trim along stand among its cut line.
    pub fn of(pattern: &Pattern) -> Self {
        // Seen with the datum edge at the head, the panel lies half a turn round.
        let to_page = if pattern.orientation.datum_at_head() {
            Affine::scale(-1.0)
        } else {
            Affine::IDENTITY
        };
        let mut pieces = vec![];
        let mut openings = vec![];
        for opening in &pattern.openings {
            let from = pieces.len();
            for side in opening.outline.sides() {
                if side.side == Side::Cut {
                    append(&side, to_page, &mut pieces);
                }
            }
            let own = CutLine {
                pieces: pieces[from..].to_vec(),
            };
            openings.extend(own.bounds());
        }
        let title = crate::draw::title_block(pattern);
        Self {
            cut: CutLine { pieces },
            openings,
            panel: pattern
                .panel
                .size
                .map(|size| to_page.transform_rect_bbox(size)),
            united: pattern
                .openings
                .iter()
                .map(|opening| {
                    opening
                        .declared
                        .iter()
                        .map(|own| own.name.clone())
                        .collect()
                })
                .collect(),
            numbered: vec![],
            name: title.number_and_revision(),
            pattern: pattern.clone(),
            printer: None,
            sheets: None,
            drawn: Arc::default(),
        }
    }

    /// For sheets that were corrected for a printer.
    #[must_use]
    pub fn for_printer(mut self, printer: &Printer) -> Self {
        self.printer = Some(printer.clone());
        self
    }

    /// Sheets that are known, so that nothing is to be found out from the file.
    #[must_use]
    pub fn on_sheets(mut self, set: SheetSet) -> Self {
        self.sheets = Some(Arc::new(Wanted::Sheets(set)));
        self
    }

    /// A plate that is known, likewise.
    #[must_use]
    pub fn on_plate(self, plate: Plate) -> Self {
        self.remembered().plate = Some(Some(Arc::new(Wanted::Plate(plate))));
        self
    }

    /// What the definition's bare numbers are in.
    pub(crate) fn units(&self) -> Units {
        self.pattern.units
    }

    fn remembered(&self) -> std::sync::MutexGuard<'_, Drawn> {
        self.drawn.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The sheets that are known.
    pub(crate) fn sheets(&self) -> Option<Arc<Wanted>> {
        self.sheets.clone()
    }

    /// What the whole pattern in one drawing shows.
    pub(crate) fn plate(&self) -> Option<Arc<Wanted>> {
        let mut drawn = self.remembered();
        let plate = drawn.plate.get_or_insert_with(|| {
            let plate = plate(&draw(&self.pattern).ok()?).ok()?;
            Some(Arc::new(Wanted::Plate(plate)))
        });
        plate.clone()
    }

    /// What sheets of this setup show.
    pub(crate) fn on(&self, setup: &Setup, landscape: bool) -> Option<Arc<Wanted>> {
        let mut drawn = self.remembered();
        if let Some((_, known)) = drawn.sheets.iter().find(|(own, _)| own == setup) {
            return known.clone();
        }
        let set = match &self.printer {
            Some(printer) => sheets_of(&self.pattern, &printer.setup(setup))
                .map(|set| printer.correct(&set, landscape)),
            None => sheets_of(&self.pattern, setup),
        };
        let set = set.ok().map(|set| Arc::new(Wanted::Sheets(set)));
        drawn.sheets.push((setup.clone(), set.clone()));
        set
    }

    /// Holds openings against the definition's own numbers besides, by a second path that shares
    /// nothing with what solved the pattern: a fault there is found as well.
    #[must_use]
    pub fn by_numbers(mut self, spec: &PatternSpec, shapes: &Library) -> Self {
        self.numbered = openings(spec, shapes);
        self
    }

    /// Number and revision as sheets say them.
    pub(crate) fn name(&self) -> &str {
        &self.name
    }
}

fn append(side: &Segment, to_page: Affine, pieces: &mut Vec<Line>) {
    let count = match side.radius() {
        Some(radius) if radius > FLAT => {
            let step = 2.0 * libm::acos(1.0 - FLAT / radius);
            (side.sweep().abs() / step).ceil().clamp(1.0, 1e5)
        }
        _ => 1.0,
    };
    for part in 0..count as usize {
        let ends = [part, part + 1].map(|end| to_page * side.at(end as f64 / count));
        pieces.push(Line::new(ends[0], ends[1]));
    }
}
