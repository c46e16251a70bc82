//! Sheets laid over the definition by the cut line that they show.

use super::{CUT_WITHIN, Seen};
use crate::check::verify::measured::MeasuredPage;
use crate::check::verify::reference::Reference;
use crate::check::verify::seen::{CutLine, FAR, Index, Sheet};
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// Distance between the points at which what is shown is looked at, mm: ends are always looked at,
/// and two lines of straight pieces are farthest apart at an end of one of them.
pub(super) const SHOWN_STEP: f64 = 4.0;
/// Turned by less than this share of a quarter is not turned.
const STRAIGHT: f64 = 2e-4;
/// Most openings by which sheets are tried.
const MOST: usize = 40;

/// From a page to its sheet as it must lie, its lower left corner at the origin; and its size.
pub(super) fn upright(page: &MeasuredPage, sheet: &Sheet) -> (Affine, Size) {
    let turned = match &sheet.lie {
        Ok(lie) => {
            let quarters = lie.turn / 90.0;
            let nearest = quarters.round();
            if (quarters - nearest).abs() <= STRAIGHT && !lie.mirrored {
                match nearest.rem_euclid(4.0) as u8 {
                    0 => Affine::IDENTITY,
                    1 => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0]),
                    2 => Affine::new([-1.0, 0.0, 0.0, -1.0, 0.0, 0.0]),
                    _ => Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
                }
            } else {
                lie.to_sheet
            }
        }
        Err(_) => Affine::IDENTITY,
    };
    let all = turned.transform_rect_bbox(page.size.to_rect());
    (
        Affine::translate(-all.origin().to_vec2()) * turned,
        all.size(),
    )
}

/// The sheets, with what is to be added to each one's coordinates so that it lies as the definition
/// has it.
pub(super) fn laid(seen: &Seen<'_>, reference: &Reference) -> Vec<(usize, Vec2)> {
    let should = Index::of(&reference.cut);
    let groups = &seen.laid.groups;
    let mut taken: Vec<Rect> = vec![];
    let mut placed = vec![];
    for group in groups {
        let pieces = group.iter().flat_map(|(page, by)| {
            let own = &seen.sheets[*page].cut;
            own.mapped(Affine::translate(*by)).pieces
        });
        let shown = CutLine {
            pieces: pieces.collect(),
        };
        let by = best(reference, &should, &shown, groups.len() == 1, &taken);
        taken.extend(shown.bounds().map(|own| own + by));
        placed.extend(group.iter().map(|(page, own)| (*page, by + *own)));
    }
    placed
}

/// The first shift under which all stands right, else the one that brings it nearest. Openings that
/// are alike have a place each: where others were laid, nothing is laid again, unless it stands right
/// nowhere else, as what two islands show in common does.
fn best(
    reference: &Reference,
    should: &Index<'_>,
    shown: &CutLine,
    whole: bool,
    taken: &[Rect],
) -> Vec2 {
    let own = shown.bounds().unwrap_or(Rect::ZERO);
    let is_taken = |by: Vec2| {
        taken
            .iter()
            .any(|other| (other.center() - (own + by).center()).hypot() <= FAR)
    };
    let (again, anew): (Vec<Vec2>, Vec<Vec2>) = shifts(reference, shown, whole)
        .into_iter()
        .partition(|by| is_taken(*by));
    let mut best: Option<(f64, Vec2)> = None;
    for by in anew.into_iter().chain(again) {
        let enough = best.map_or(f64::INFINITY, |(least, _)| least);
        let off = off(should, shown, by, enough);
        if off < enough {
            best = Some((off, by));
        }
        if off <= CUT_WITHIN {
            break;
        }
    }
    best.map_or(Vec2::ZERO, |best| best.1)
}

/// Ways to lay what sheets show over the definition: by the corners and the middle of the cut line,
/// or, for sheets that do not hang together, by those of each opening.
fn shifts(reference: &Reference, shown: &CutLine, whole: bool) -> Vec<Vec2> {
    let Some(own) = shown.bounds() else {
        return vec![];
    };
    if whole {
        let all = reference.cut.bounds();
        return all
            .into_iter()
            .flat_map(|all| by_box(own, all, all))
            .collect();
    }
    let openings = || reference.openings.iter().take(MOST);
    let pairs = openings().flat_map(|left| openings().map(move |low| (left, low)));
    pairs
        .flat_map(|(left, low)| by_box(own, *left, *low))
        .collect()
}

/// How far what is shown is off at most, looked at until it is `enough`.
fn off(index: &Index<'_>, shown: &CutLine, by: Vec2, enough: f64) -> f64 {
    let points = shown.points(SHOWN_STEP).map(|point: Point| point + by);
    let mut worst = 0.0_f64;
    for point in points {
        worst = worst.max(index.distance(point));
        if worst > enough {
            break;
        }
    }
    worst
}

fn by_box(own: Rect, left: Rect, low: Rect) -> impl Iterator<Item = Vec2> {
    let ends = |of: Rect| ([of.x0, of.x1, of.center().x], [of.y0, of.y1, of.center().y]);
    let (own_x, own_y) = ends(own);
    let (x, y) = (ends(left).0, ends(low).1);
    let pairs = (0..3).flat_map(|column| (0..3).map(move |row| (column, row)));
    pairs.map(move |(column, row)| Vec2::new(x[column] - own_x[column], y[row] - own_y[row]))
}
