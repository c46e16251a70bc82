//! One page accounted for: every mark that it must show, and every mark that it shows.

use super::shown::{Shown, seen_through};
use crate::check::verify::measured::{Letters, MeasuredPage, Stroke};
use crate::check::verify::paint::Tone;
use crate::check::verify::wanted::WantedMark;
use crate::draw::ink::{Ink, LineType, Shade, Text, Width, lettering, mark_bounds};
use kurbo::{Affine, BezPath, PathEl, PathSeg, Point, Rect, Shape, Vec2};
use std::cell::OnceCell;
use std::collections::HashMap;

/// How far a point may be from its place, mm.
const WITHIN: f64 = 0.02;
/// How far a letter may be from its place, mm: advances add up along a line.
const LETTER_WITHIN: f64 = 0.05;
/// How much a width may be off, mm.
const WIDTH_WITHIN: f64 = 0.06;
/// How much a dash may be off, mm, and where a stroke begins in its pattern.
const DASH_WITHIN: f64 = 0.03;
const PHASE_WITHIN: f64 = 0.1;
/// How much more or less of a mark may be seen at the edge of its window, mm.
const SHOWN_WITHIN: f64 = 0.06;
/// Straight pieces as short as this, mm, may be the rounding of a number.
const SHORTEST: f64 = 0.02;
/// Side of the squares that marks are sorted into, mm.
const CELL: f64 = 1.0;

/// What became of a page's marks.
#[derive(Debug, Default)]
pub(super) struct Account<'p> {
    /// Marks that it lacks, as places among those wanted.
    pub(super) lacking: Vec<usize>,
    /// Marks that it has and must not have.
    pub(super) extra: Vec<Shown<'p>>,
    /// Marks that are there, in the order wanted, with the order in which they are painted.
    pub(super) found: Vec<(usize, usize)>,
    /// Of these, those of which more or less is seen than must be.
    pub(super) clipped: Vec<usize>,
    /// Those of which it can't be told how much is seen.
    pub(super) ragged: Vec<usize>,
    /// Those that are told otherwise to people who can't see them, and how.
    pub(super) misread: Vec<(usize, &'p str)>,
}

impl Account<'_> {
    /// How much is wrong.
    pub(super) fn wrong(&self) -> usize {
        self.lacking.len()
            + self.extra.len()
            + self.clipped.len()
            + self.ragged.len()
            + self.misread.len()
    }
}

/// Accounts for all marks of a page; `to_sheet` takes the page to the sheet as it must lie.
pub(super) fn account<'p>(
    wanted: &[WantedMark<'_>],
    page: &'p MeasuredPage,
    to_sheet: Affine,
) -> Account<'p> {
    let mut shown: Vec<Shown<'p>> = vec![];
    shown.extend(page.strokes.iter().map(Shown::Stroke));
    shown.extend(page.areas.iter().map(Shown::Area));
    shown.extend(page.letters.iter().map(Shown::Letters));
    shown.retain(|mark| mark.painted().tone != Tone::None);
    shown.sort_unstable_by_key(|mark| mark.painted().order);
    let matcher = Matcher {
        to_sheet,
        outlines: wanted.iter().map(|_| OnceCell::new()).collect(),
        wanted,
    };
    let mut found: Vec<Option<usize>> = vec![None; wanted.len()];
    let mut account = Account::default();
    let by_place: OnceCell<Cells> = OnceCell::new();
    let mut next = 0;
    for mark in shown {
        // As a rule they come in the order wanted.
        while found.get(next).is_some_and(Option::is_some) || matcher.is_blank(next) {
            next += 1;
        }
        let is = |place: &usize| found[*place].is_none() && matcher.is(*place, &mark);
        let place = Some(next).filter(|next| *next < wanted.len() && is(next));
        let place = place.or_else(|| {
            let letters = matches!(mark, Shown::Letters(_));
            let cells = by_place.get_or_init(|| matcher.cells(page.letters.is_empty()));
            let begin = to_sheet * begin(&mark)?;
            cells.near(begin, letters).find(is)
        });
        let Some(place) = place else {
            account.extra.push(mark);
            continue;
        };
        next = place + 1;
        found[place] = Some(mark.painted().order);
        let clip = mark.painted().clip;
        if clip.ragged {
            account.ragged.push(place);
        } else if !matcher.is_seen_alike(place, seen_through(clip, page)) {
            account.clipped.push(place);
        }
        if let (Shown::Area(area), Ink::Text(text)) = (mark, &wanted[place].mark.ink)
            && let Some(label) = &area.label
            && *label != text.words
        {
            account.misread.push((place, label));
        }
    }
    account.extra.retain(|mark| {
        let blank = matches!(mark, Shown::Letters(letters) if letters.words.trim().is_empty()
            && letters.glyphs.iter().all(|(glyph, _)| glyph.is_some()));
        !blank && mark.bounds(page).is_some()
    });
    for (place, found) in found.into_iter().enumerate() {
        match found {
            Some(order) => account.found.push((place, order)),
            None if matcher.is_optional(place) => {}
            None => account.lacking.push(place),
        }
    }
    account
}

/// Where a mark begins on the page.
fn begin(mark: &Shown<'_>) -> Option<Point> {
    match mark {
        Shown::Stroke(stroke) => first_point(&stroke.path),
        Shown::Area(area) => first_point(&area.path),
        Shown::Letters(letters) => letters.glyphs.first().map(|(_, at)| *at),
    }
}

fn first_point(path: &BezPath) -> Option<Point> {
    plain(path).next().map(|piece| piece[0])
}

/// Wanted marks by where they begin: lettering, and all others.
struct Cells(HashMap<(i64, i64, bool), Vec<usize>>);

fn cell(at: Point) -> (i64, i64) {
    let side = |at: f64| (at / CELL).floor() as i64;
    (side(at.x), side(at.y))
}

impl Cells {
    fn near(&self, at: Point, letters: bool) -> impl Iterator<Item = usize> + '_ {
        let low = cell(at - Vec2::new(LETTER_WITHIN, LETTER_WITHIN));
        let high = cell(at + Vec2::new(LETTER_WITHIN, LETTER_WITHIN));
        let columns = low.0..=high.0;
        let places = columns.flat_map(move |column| (low.1..=high.1).map(move |row| (column, row)));
        let near = places.filter_map(move |(column, row)| self.0.get(&(column, row, letters)));
        near.flatten().copied()
    }
}

struct Matcher<'w> {
    wanted: &'w [WantedMark<'w>],
    to_sheet: Affine,
    /// Outlines of lettering, for files that hold it so.
    outlines: Vec<OnceCell<BezPath>>,
}

impl Matcher<'_> {
    fn outline(&self, place: usize, text: &Text) -> &BezPath {
        self.outlines[place].get_or_init(|| lettering::outline(text))
    }

    fn cells(&self, lettering_is_outlines: bool) -> Cells {
        let mut cells: HashMap<_, Vec<usize>> = HashMap::new();
        for (place, wanted) in self.wanted.iter().enumerate() {
            let (begin, letters) = match &wanted.mark.ink {
                Ink::Stroke { path, .. } | Ink::Fill { path, .. } => (first_point(path), false),
                Ink::Text(text) if lettering_is_outlines => {
                    (first_point(self.outline(place, text)), false)
                }
                Ink::Text(text) => (lettering::placed(text).next().map(|(_, at)| at), true),
            };
            if let Some((column, row)) = begin.map(cell) {
                cells.entry((column, row, letters)).or_default().push(place);
            }
        }
        Cells(cells)
    }

    /// Whether a wanted mark leaves no mark in a file.
    fn is_blank(&self, place: usize) -> bool {
        self.wanted
            .get(place)
            .is_some_and(|wanted| match &wanted.mark.ink {
                Ink::Stroke { path, .. } | Ink::Fill { path, .. } => {
                    matches!(path.elements(), [] | [PathEl::MoveTo(_)])
                }
                Ink::Text(text) => text.words.is_empty(),
            })
    }

    /// Whether a mark may as well be left out: it leaves no ink, or none in its window.
    fn is_optional(&self, place: usize) -> bool {
        let WantedMark { mark, window } = self.wanted[place];
        let empty = match &mark.ink {
            Ink::Stroke { path, .. } => plain(path).next().is_none(),
            Ink::Fill { path, .. } => path.area().abs() < 1e-9,
            Ink::Text(text) => text.words.trim().is_empty(),
        };
        let seen = mark_bounds(mark).intersect(window);
        empty || seen.width() <= SHOWN_WITHIN || seen.height() <= SHOWN_WITHIN
    }

    /// Whether a shown mark is the wanted one.
    fn is(&self, place: usize, shown: &Shown<'_>) -> bool {
        match (&self.wanted[place].mark.ink, shown) {
            (Ink::Stroke { path, line }, Shown::Stroke(stroke)) => {
                stroke.painted.tone == Tone::Ink
                    && (stroke.width - line.width.mm()).abs() <= WIDTH_WITHIN
                    && self.same(path, &stroke.path)
                    && has_dashes(stroke, line.kind, line.width, line.phase)
            }
            (Ink::Fill { path, shade }, Shown::Area(area)) => {
                let tone = match shade {
                    Shade::Black => Tone::Ink,
                    Shade::White => Tone::Paper,
                };
                area.painted.tone == tone && area.outlined.is_none() && self.same(path, &area.path)
            }
            (Ink::Text(text), Shown::Area(area)) => {
                area.painted.tone == Tone::Ink
                    && is_as_heavy(text, area.outlined)
                    && self.same(self.outline(place, text), &area.path)
            }
            (Ink::Text(text), Shown::Letters(letters)) => {
                letters.painted.tone == Tone::Ink
                    && is_as_heavy(text, letters.outlined)
                    && self.same_letters(text, letters)
            }
            _ => false,
        }
    }

    /// Whether two paths are one.
    fn same(&self, wanted: &BezPath, shown: &BezPath) -> bool {
        let (mut wanted, mut shown) = (plain(wanted).peekable(), plain(shown).peekable());
        // Where the path is that both have come to.
        let mut here: Option<Point> = None;
        loop {
            let (a, b) = (wanted.peek(), shown.peek());
            let near = |(a, b): (&Point, &Point)| a.distance(self.to_sheet * *b) <= WITHIN;
            let next = a.map(|piece| piece[0]);
            // So short that it may be the rounding of a number, and where the path is: many such
            // pieces together would draw another line.
            let is_rounding = |[from, first, _, to]: [Point; 4]| {
                from == first
                    && from.distance(to) <= SHORTEST
                    && (here.is_none()
                        || here
                            .into_iter()
                            .chain(next)
                            .any(|at| at.distance(to) <= 2.0 * SHORTEST))
            };
            match (a, b) {
                (None, None) => return here.is_some(),
                (Some(a), Some(b)) if a.iter().zip(b).all(near) => {
                    here = Some(a[3]);
                    wanted.next();
                    shown.next();
                }
                // A number that is rounded may lose a piece, or bring one.
                (Some(a), Some(_)) if is_rounding(*a) => drop(wanted.next()),
                (Some(a), None) if here.is_some() && is_rounding(*a) => drop(wanted.next()),
                (_, Some(b)) if is_rounding(b.map(|point| self.to_sheet * point)) => {
                    here = here.or(Some(self.to_sheet * b[3]));
                    shown.next();
                }
                _ => return false,
            }
        }
    }

    fn same_letters(&self, text: &Text, letters: &Letters) -> bool {
        let (_, along) = lettering::baseline(text);
        let along = along * lettering::em(text.height);
        let up = Vec2::new(-along.y, along.x);
        let turned = |way: Vec2| self.to_sheet * way.to_point() - self.to_sheet * Point::ZERO;
        let mut shown = letters.glyphs.iter();
        let mut placed = lettering::placed(text);
        let letters_agree = placed.all(|(glyph, at)| {
            shown.next().is_some_and(|(own, place)| {
                *own == Some(glyph) && at.distance(self.to_sheet * *place) <= LETTER_WITHIN
            })
        });
        letters_agree
            && shown.next().is_none()
            && (turned(letters.along) - along).hypot() <= LETTER_WITHIN
            && (turned(letters.up) - up).hypot() <= LETTER_WITHIN
    }

    /// Whether as much is seen of a mark through this as must be.
    fn is_seen_alike(&self, place: usize, through: Rect) -> bool {
        let WantedMark { mark, window } = self.wanted[place];
        let through = self.to_sheet.transform_rect_bbox(through);
        let same = |a: Rect, b: Rect| {
            let sides = [a.x0 - b.x0, a.y0 - b.y0, a.x1 - b.x1, a.y1 - b.y1];
            sides.iter().all(|apart| apart.abs() <= SHOWN_WITHIN)
        };
        if same(window, through) {
            return true;
        }
        let bounds = mark_bounds(mark);
        let empty = |seen: Rect| seen.width() <= SHOWN_WITHIN || seen.height() <= SHOWN_WITHIN;
        let (must, does) = (bounds.intersect(window), bounds.intersect(through));
        same(must, does) || (empty(must) && empty(does))
    }
}

fn is_as_heavy(text: &Text, outlined: Option<f64>) -> bool {
    match outlined {
        Some(width) => {
            text.heavy && (width - lettering::heavy_stroke(text.height)).abs() <= WIDTH_WITHIN
        }
        None => !text.heavy,
    }
}

fn has_dashes(stroke: &Stroke, kind: LineType, width: Width, phase: f64) -> bool {
    let wanted = kind.dashes(width);
    let shown = stroke.dashes.lengths();
    let whole: f64 = wanted.iter().sum();
    let apart = (stroke.dashes.phase - phase).rem_euclid(whole.max(1e-9));
    wanted.len() == shown.len()
        && wanted
            .iter()
            .zip(shown)
            .all(|(a, b)| (a - b).abs() <= DASH_WITHIN)
        && (wanted.is_empty() || apart <= PHASE_WITHIN || whole - apart <= PHASE_WITHIN)
}

/// Four points: those of a curve, or of a straight piece, its ends twice.
type Piece = [Point; 4];

/// The pieces of a path, however it is written.
fn plain(path: &BezPath) -> impl Iterator<Item = Piece> + '_ {
    path.segments().map(|segment| match segment {
        PathSeg::Line(line) => [line.p0, line.p0, line.p1, line.p1],
        PathSeg::Quad(quad) => {
            let cubic = quad.raise();
            [cubic.p0, cubic.p1, cubic.p2, cubic.p3]
        }
        PathSeg::Cubic(cubic) => [cubic.p0, cubic.p1, cubic.p2, cubic.p3],
    })
}

/// Box round a wanted mark as far as it is seen.
pub(super) fn wanted_box(wanted: WantedMark<'_>) -> Rect {
    mark_bounds(wanted.mark).intersect(wanted.window)
}
