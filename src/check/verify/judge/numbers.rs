//! The cut line held against the definition's own numbers, by a path that shares nothing with what
//! solves and draws: see [`crate::check::verify::numbers`].

use super::{CUT_WITHIN, Seen};
use crate::check::verify::numbers::{Numbered, Plain};
use crate::check::verify::reference::Reference;
use crate::check::verify::report::{Finding, Outcome, Topic};
use crate::check::verify::seen::{CutLine, FAR, Index};
use kurbo::{Affine, Point, Rect, Vec2};

/// Distance between the points that are looked for, mm.
const STEP: f64 = 0.5;
/// An opening nearer than this to the panel's ends, mm, may be cut short by them.
const NEAR_END: f64 = 0.05;

pub(super) fn judge(
    seen: &Seen<'_>,
    reference: &Reference,
    placed: &[(usize, Vec2)],
    findings: &mut Vec<Finding>,
) {
    if reference.numbered.is_empty() {
        return;
    }
    let cut = CutLine {
        pieces: placed
            .iter()
            .flat_map(|(page, by)| {
                let own = &seen.sheets[*page].cut;
                own.mapped(Affine::translate(*by)).pieces
            })
            .collect(),
    };
    let shown = Index::of(&cut);
    let lean = lean_drawn(seen, placed);
    let (mut held, mut left): (Vec<&str>, Vec<String>) = (vec![], vec![]);
    let placed: Vec<(&Numbered, Result<Placed, String>)> = reference
        .numbered
        .iter()
        .map(|numbered| (numbered, place(numbered, reference, lean)))
        .collect();
    let outlines: Vec<&Placed> = placed
        .iter()
        .filter_map(|(_, own)| own.as_ref().ok())
        .collect();
    for (numbered, own) in &placed {
        let own = match own {
            Ok(own) => own,
            Err(why) => {
                left.push(format!("{} ({why})", numbered.name));
                continue;
            }
        };
        let covered = |point: Point| {
            let others = outlines.iter().filter(|other| !std::ptr::eq(**other, own));
            point.y * own.away <= CUT_WITHIN || others.into_iter().any(|other| other.holds(point))
        };
        let off = own
            .cut
            .points(STEP)
            .map(|point| (shown.distance(point), point))
            .filter(|(off, point)| *off > CUT_WITHIN && !covered(*point))
            .fold(0.0, |most: f64, (off, _)| most.max(off));
        if off <= CUT_WITHIN {
            held.push(&numbered.name);
            continue;
        }
        let far = match off >= FAR {
            true => format!("{} or more", seen.units.doubt(FAR, 0)),
            false => seen.units.doubt(off, 3),
        };
        let words = format!(
            "{}: by the definition's own numbers it has another place or size: {far} off",
            numbered.name
        );
        findings.push(Finding::new(Outcome::Fault, Topic::Numbers, words).measured(off, 0.0));
    }
    if !held.is_empty() {
        let held = held.join(", ");
        let words = format!("placed and sized as the definition's own numbers say: {held}");
        findings.push(Finding::new(Outcome::Sound, Topic::Numbers, words));
    }
    if !left.is_empty() {
        let words = format!("not judged by this second path: {}", left.join(", "));
        findings.push(Finding::new(Outcome::Sound, Topic::Numbers, words));
    }
}

/// An opening on the page.
struct Placed {
    all: CutLine,
    cut: CutLine,
    /// Box round it.
    bounds: Rect,
    away: f64,
}

impl Placed {
    fn of(plain: &Plain, lean: f64) -> Self {
        let (all, cut) = plain.placed(lean);
        Self {
            bounds: all.bounds().unwrap_or(Rect::ZERO),
            all,
            cut,
            away: plain.away,
        }
    }

    /// Whether a point is inside: a line from it to the right crosses the outline an odd number of
    /// times.
    fn holds(&self, point: Point) -> bool {
        if !self.bounds.contains(point) {
            return false;
        }
        let crosses = self.all.pieces.iter().filter(|piece| {
            let (low, high) = (piece.p0 - point, piece.p1 - point);
            (low.y > 0.0) != (high.y > 0.0) && {
                let right = low.x - low.y * (high.x - low.x) / (high.y - low.y);
                right > 0.0
            }
        });
        crosses.count() % 2 == 1
    }
}

/// Where an opening stands; why it is not judged where it is not.
fn place(numbered: &Numbered, reference: &Reference, lean: Option<f64>) -> Result<Placed, String> {
    let plain = numbered.plain.as_ref().map_err(Clone::clone)?;
    let lean = lean.ok_or("no centreline is drawn")?;
    let own = Placed::of(plain, lean);
    let bounds = own.bounds;
    if let Some(panel) = reference.panel {
        let room = panel.inset(-NEAR_END);
        let far = if own.away > 0.0 {
            bounds.y1 > room.y1
        } else {
            bounds.y0 < room.y0
        };
        if bounds.x0 < room.x0 || bounds.x1 > room.x1 || far {
            return Err("it reaches the panel's end".into());
        }
    }
    let judged = |name: &String| {
        let of_name = |other: &&Numbered| other.name == *name;
        reference
            .numbered
            .iter()
            .find(of_name)
            .is_some_and(|other| other.plain.is_ok())
    };
    let united = reference
        .united
        .iter()
        .filter(|names| names.contains(&numbered.name));
    match united.flatten().find(|name| !judged(name)) {
        Some(other) => Err(format!("it runs into {other}")),
        None => Ok(own),
    }
}

/// How far the centreline that is drawn goes to the right in 1 mm to the head.
fn lean_drawn(seen: &Seen<'_>, placed: &[(usize, Vec2)]) -> Option<f64> {
    let lines = placed.iter().flat_map(|(page, by)| {
        let pieces = seen.sheets[*page].centreline.pieces.iter();
        pieces.map(move |piece| (piece.p0 + *by, piece.p1 + *by))
    });
    // Axes of openings stand beside it.
    let through = lines.filter_map(|(from, to)| {
        let along = to - from;
        let lean = along.x / along.y;
        let at_edge = from.x - lean * from.y;
        (at_edge.abs() <= 1.0 && along.y.abs() > 10.0).then_some((along.y.abs(), lean))
    });
    through
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|longest| longest.1)
}
