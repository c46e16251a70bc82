//! Every mark on every page accounted for: what the definition's own sheets show must be there, at
//! its place, uncovered, and nothing else.

use super::account::{Account, account as accounted, wanted_box};
use super::frame::upright;
use super::setups::setups;
use super::told::{self, Page};
use super::{Seen, identity};
use crate::check::verify::measured::MeasuredPage;
use crate::check::verify::paint::Tone;
use crate::check::verify::reference::Reference;
use crate::check::verify::report::{FileKind, Finding, Outcome, Topic};
use crate::check::verify::seen::Sheet;
use crate::check::verify::wanted::{Wanted, WantedMark};
use crate::draw::ink::{Ink, Layer, Shade};
use kurbo::{Affine, Rect, Shape, Vec2};
use std::sync::Arc;

/// Most areas that are held against everything under them.
const MOST_COVERS: usize = 500;

pub(super) fn judge(seen: &Seen<'_>, reference: &Reference, findings: &mut Vec<Finding>) {
    let found: Vec<Arc<Wanted>> = match seen.kind {
        FileKind::Svg => reference.plate().into_iter().collect(),
        FileKind::Pdf => match reference.sheets() {
            Some(sheets) => vec![sheets],
            None => candidates(seen, reference),
        },
    };
    let best = found
        .iter()
        .map(|wanted| Whole::of(seen, reference, wanted))
        .min_by_key(|whole| whole.wrong);
    let Some(whole) = best else {
        let words = "the definition can't be laid on sheets like these, so that their ink can't be \
                     accounted for";
        findings.push(Finding::new(Outcome::CannotJudge, Topic::Page, words));
        return;
    };
    findings.extend(whole.findings);
}

/// What the definition's own sheets show, drawn each way that may have been used; of these only the
/// first under which as many sheets come out as the file has, where there is one.
fn candidates(seen: &Seen<'_>, reference: &Reference) -> Vec<Arc<Wanted>> {
    let setups = setups(seen);
    let sheet = seen.file.pages.iter().zip(&seen.sheets).next();
    let landscape = sheet.is_some_and(|(page, sheet)| {
        let (_, size) = upright(page, sheet);
        size.width > size.height
    });
    let all = setups
        .iter()
        .filter_map(|setup| reference.on(setup, landscape));
    let all: Vec<Arc<Wanted>> = all.collect();
    let as_many = |wanted: &&Arc<Wanted>| wanted.pages().0 == seen.file.pages.len();
    let likely: Vec<Arc<Wanted>> = all.iter().filter(as_many).cloned().collect();
    if likely.is_empty() { all } else { likely }
}

/// How far the frame round a page's window stands from where it must.
fn aside(wanted: &[WantedMark<'_>], sheet: &Sheet, to_sheet: Affine) -> Option<Vec2> {
    let boxes = wanted.iter().filter_map(|wanted| match &wanted.mark.ink {
        Ink::Stroke { path, .. } if wanted.mark.layer == Layer::Frame => Some(path.bounding_box()),
        _ => None,
    });
    let must = boxes.max_by(|a, b| a.area().total_cmp(&b.area()))?;
    let own = sheet.to_sheet.inverse().transform_rect_bbox(sheet.window?);
    Some(must.origin() - to_sheet.transform_rect_bbox(own).origin())
}

/// A file held against one way to draw it.
struct Whole {
    wrong: usize,
    findings: Vec<Finding>,
}

impl Whole {
    fn of(seen: &Seen<'_>, reference: &Reference, wanted: &Wanted) -> Self {
        let (mut wrong, mut marks) = (0, 0);
        let mut findings = vec![];
        let places = identity::places(seen, wanted.pages());
        for (index, (page, sheet)) in seen.file.pages.iter().zip(&seen.sheets).enumerate() {
            // A page of another pattern is named as such; what else it shows says nothing more.
            if identity::whose(page, sheet, reference).is_some() {
                continue;
            }
            let Some(place) = places[index] else {
                let words = "the definition has no such page";
                findings.push(Finding::new(Outcome::Fault, Topic::Identity, words).on(index));
                continue;
            };
            let own = wanted.page(place);
            let (to_sheet, _) = upright(page, sheet);
            let mut to_sheet = to_sheet;
            let mut account = accounted(&own, page, to_sheet);
            // Another program may put all of a page a little aside.
            if account.wrong() > 0
                && let Some(by) = aside(&own, sheet, to_sheet)
            {
                let moved = Affine::translate(by) * to_sheet;
                let other = accounted(&own, page, moved);
                if other.wrong() < account.wrong() {
                    (to_sheet, account) = (moved, other);
                }
            }
            wrong += account.wrong();
            marks += account.found.len();
            let hidden = hidden(&account, &own, page, to_sheet);
            let page = Page {
                index,
                page,
                layers: &seen.file.layers,
                to_sheet,
                wanted: &own,
                units: seen.units,
            };
            findings.extend(told::findings(&page, &account, hidden));
        }
        told::whole_layers(&mut findings);
        let known = wanted.titles();
        let titles = seen.file.pages.iter().flat_map(|page| &page.titles);
        let mut titles = titles.chain(&seen.file.titles);
        if let Some(other) = titles.find(|title| !known.contains(title.as_str())) {
            let words = format!("it is told as `{}`", told::plain(other));
            findings.push(Finding::new(Outcome::Fault, Topic::Identity, words));
        }
        if findings.is_empty() {
            let words = format!("all {marks} marks of every page are accounted for, and no other");
            findings.push(Finding::new(Outcome::Sound, Topic::Ink, words));
        }
        Self { wrong, findings }
    }
}

/// Wanted marks that something was painted over that must not be, or not after them; `None` where
/// there are too many such areas to tell.
fn hidden(
    account: &Account<'_>,
    wanted: &[WantedMark<'_>],
    page: &MeasuredPage,
    to_sheet: Affine,
) -> Option<Vec<usize>> {
    let mut covers: Vec<(usize, Rect)> = vec![];
    for mark in &account.extra {
        let painted = mark.painted();
        // Light letters and lines hide what they lie on as well.
        if painted.tone == Tone::Paper
            && let Some(bounds) = mark.bounds(page)
        {
            covers.push((painted.order, to_sheet.transform_rect_bbox(bounds)));
        }
    }
    if covers.len() > MOST_COVERS {
        return None;
    }
    let mut hidden = vec![];
    let meets = |a: Rect, b: Rect| a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
    if !covers.is_empty() {
        for (place, order) in &account.found {
            let own = wanted_box(wanted[*place]);
            let is_over = |(after, cover): &(usize, Rect)| after > order && meets(*cover, own);
            if covers.iter().any(is_over) {
                hidden.push(*place);
            }
        }
    }
    // Grounds that are cleared must be cleared before what stands on them is drawn.
    let in_order = account.found.windows(2).all(|pair| pair[0].1 < pair[1].1);
    if !in_order {
        let grounds = account.found.iter().filter(|(place, _)| {
            let ink = &wanted[*place].mark.ink;
            matches!(
                ink,
                Ink::Fill {
                    shade: Shade::White,
                    ..
                }
            )
        });
        for (ground, after) in grounds {
            let cleared = wanted_box(wanted[*ground]);
            hidden.extend(account.found.iter().filter_map(|(place, order)| {
                let turned = (place > ground) != (order > after) && place != ground;
                (turned && meets(cleared, wanted_box(wanted[*place]))).then_some(*place)
            }));
        }
    }
    Some(hidden)
}
