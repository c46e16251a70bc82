//! Sizes of pages and boxes, print preferences, and what another program did to the file.

use super::{PAGE_WITHIN, Seen};
use crate::base::fixed;
use crate::check::verify::measured::MeasuredPage;
use crate::check::verify::report::{FileKind, Finding, Outcome, Topic};
use crate::layout::Paper;
use kurbo::{Rect, Size};

/// What this program calls itself in a file.
const PROGRAM: &str = "Trimloft";

/// How much the two directions of a drawing's scale may differ, as a share.
const STRETCH_WITHIN: f64 = 1e-4;

pub(super) fn judge(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    sizes(seen, findings);
    for (index, page) in seen.file.pages.iter().enumerate() {
        boxes(page, index, findings);
    }
    for what in &seen.file.unread {
        let words = format!("the file has {what}, which are not read here");
        findings.push(Finding::new(Outcome::CannotJudge, Topic::File, words));
    }
    changes(seen, findings);
    preferences(seen, findings);
}

fn sizes(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let pages = &seen.file.pages;
    let Some(first) = pages.first() else { return };
    let differs = |page: &MeasuredPage| {
        (page.size.width - first.size.width).abs() > PAGE_WITHIN
            || (page.size.height - first.size.height).abs() > PAGE_WITHIN
    };
    let size = mm(first.size);
    match pages.iter().position(differs) {
        Some(other) => findings.push(
            Finding::new(
                Outcome::Fault,
                Topic::Page,
                format!(
                    "its size is {}, that of page 1 is {size}; hint: all sheets of a pattern \
                     have one size",
                    mm(pages[other].size)
                ),
            )
            .on(other),
        ),
        None => {
            let name = match (seen.kind, paper(first.size)) {
                (FileKind::Svg, _) => String::new(),
                (FileKind::Pdf, Some(name)) => format!(", {name}"),
                (FileKind::Pdf, None) => ", no standard paper".into(),
            };
            let pages = match pages.len() {
                1 => "1 page".into(),
                count => format!("{count} pages"),
            };
            findings.push(Finding::new(
                Outcome::Sound,
                Topic::Page,
                format!("{pages} of {size}{name}"),
            ));
        }
    }
}

fn boxes(page: &MeasuredPage, index: usize, findings: &mut Vec<Finding>) {
    let all = page.size.to_rect();
    if let Some(lost) = cropped(page.shown, all) {
        let words = format!(
            "cropped: {lost}; {} are left of {}",
            mm(page.shown.size()),
            mm(page.size)
        );
        findings.push(Finding::new(Outcome::Fault, Topic::Page, words).on(index));
    }
    for (name, own) in &page.odd_boxes {
        let words = format!("its {name} box is not the page, but {}", mm(own.size()));
        findings.push(Finding::new(Outcome::Changed, Topic::Page, words).on(index));
    }
    if (page.user_unit - 1.0).abs() > 1e-9 {
        let words = format!(
            "hidden scale: a unit stands for {} units (UserUnit), which many programs do not heed",
            fixed(page.user_unit, 4)
        );
        findings.push(Finding::new(Outcome::Fault, Topic::Page, words).on(index));
    }
    if let Some((across, down)) = page.stretch
        && (across / down - 1.0).abs() > STRETCH_WITHIN
    {
        let words = format!(
            "hidden scale: width and height do not fit the viewBox: {} mm to a unit across, {} \
             down",
            fixed(across, 4),
            fixed(down, 4)
        );
        findings.push(Finding::new(Outcome::Fault, Topic::Page, words).on(index));
    }
    if page.turned != 0 {
        let words = format!("turned by {} degrees when shown (Rotate)", page.turned);
        findings.push(Finding::new(Outcome::Changed, Topic::Page, words).on(index));
    }
    for what in &page.unread {
        let words = format!("the page has {what}, which are not read here");
        findings.push(Finding::new(Outcome::CannotJudge, Topic::Page, words).on(index));
    }
}

/// What was cut off a page at which edge, in words.
fn cropped(shown: Rect, all: Rect) -> Option<String> {
    let lost: Vec<String> = [
        ("left", shown.x0 - all.x0),
        ("right", all.x1 - shown.x1),
        ("foot", shown.y0 - all.y0),
        ("head", all.y1 - shown.y1),
    ]
    .into_iter()
    .filter(|(_, lost)| *lost > PAGE_WITHIN)
    .map(|(edge, lost)| format!("{} mm at the {edge}", fixed(lost, 2)))
    .collect();
    (!lost.is_empty()).then(|| lost.join(", "))
}

fn changes(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let mut changed = |words: String| {
        findings.push(Finding::new(Outcome::Changed, Topic::File, words));
    };
    if seen.kind == FileKind::Pdf {
        match &seen.file.producer {
            Some(producer) if producer.starts_with(PROGRAM) => {}
            Some(producer) => {
                let plain: String = producer
                    .chars()
                    .filter(|letter| !letter.is_control())
                    .take(80)
                    .collect();
                changed(format!("saved by another program, `{plain}`"));
            }
            None => changed("saved by another program, which does not give its name".into()),
        }
        if seen.file.repacked {
            changed("saved again: its objects are packed together".into());
        }
    }
    let is_known = |name: &&str| seen.file.layers.iter().any(|layer| layer == name);
    let known = ["cut", "check-ruler"].iter().filter(|name| is_known(name));
    match known.count() {
        2 => {}
        0 => changed(
            "flattened: its layers are gone; rulers, marks and cut line are told by their form"
                .into(),
        ),
        _ => changed("some of its layers are gone".into()),
    }
    let pictures: usize = seen.file.pages.iter().map(|page| page.pictures).sum();
    if pictures > 0 {
        changed(format!("holds pictures made of pixels: {pictures}"));
    }
}

fn preferences(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let Some(asked) = seen.file.preferences else {
        return;
    };
    if asked.a_part {
        let words = "asks to print a part of its pages only; hint: choose all pages by hand";
        findings.push(Finding::new(Outcome::Changed, Topic::Preferences, words));
    }
    let mut lost = vec![];
    if !asked.no_scaling {
        lost.push("not to scale");
    }
    if !asked.one_side {
        lost.push("to print on one side");
    }
    if !asked.paper_by_page {
        lost.push("to choose the paper by the page");
    }
    findings.push(if lost.is_empty() {
        Finding::new(
            Outcome::Sound,
            Topic::Preferences,
            "asks not to be scaled, for one side, and for paper of the page's size",
        )
    } else {
        Finding::new(
            Outcome::Changed,
            Topic::Preferences,
            format!(
                "no longer asks a print dialog {}: the sheets are the same, and their rulers tell \
                 what a printer makes of them; hint: choose `Actual size` or `100 %` by hand",
                lost.join(", ")
            ),
        )
    });
}

fn mm(size: Size) -> String {
    format!("{} x {} mm", fixed(size.width, 2), fixed(size.height, 2))
}

/// A known paper of this size, in either orientation.
fn paper(size: Size) -> Option<&'static str> {
    Paper::short_names().find(|name| Paper::parse(name).is_ok_and(|paper| paper.fits(size)))
}
