//! On what sheets a file was drawn, told by the sheets themselves: paper, margin, overlap, and which
//! way to print.

use super::Seen;
use super::frame::upright;
use super::identity::{self, RECORD};
use crate::check::verify::measured::Words;
use crate::layout::PageOrientation::{Either, Landscape, Portrait};
use crate::layout::{KIT, PageFrame, PageOrientation, Paper, Setup, Stock};
use kurbo::{Size, Vec2};

/// Lengths this near to those that are usual, mm, are these.
const USUAL: f64 = 0.01;
/// What the name of a program that drew sheets begins with.
const NAME: &str = "Trimloft ";
/// Lengths are told to this, mm.
const STEP: f64 = 1e3;

/// Setups that may have been used, the likeliest first.
pub(super) fn setups(seen: &Seen<'_>) -> Vec<Setup> {
    let Some((page, sheet)) = seen.file.pages.first().zip(seen.sheets.first()) else {
        return vec![];
    };
    let (to_sheet, size) = upright(page, sheet);
    let window = seen
        .sheets
        .iter()
        .zip(&seen.file.pages)
        .find_map(|(sheet, page)| {
            let window = sheet.window?;
            let (to_sheet, _) = upright(page, sheet);
            // Windows are told at the definition's size.
            let on_page = sheet.to_sheet.inverse().transform_rect_bbox(window);
            Some(to_sheet.transform_rect_bbox(on_page))
        });
    let margin = window.map_or(Setup::MARGIN, |window| {
        let (across, down) = seen.wanted;
        let window = Size::new(window.width() / across, window.height() / down);
        near(PageFrame::margin(size, window), Setup::MARGIN)
    });
    let said: Vec<&str> = page
        .words
        .iter()
        .filter(|words| (to_sheet * words.at).y < window.map_or(0.0, |window| window.y0))
        .map(|words| words.words.as_str())
        .collect();
    // What stands on the sheet beside its code, in the words of the version that drew it.
    let right = window.map_or(f64::INFINITY, |window| window.x1);
    let at_the_side = |after: fn(&str) -> Option<&str>| {
        let beside = |words: &&Words| (to_sheet * words.at).x > right;
        let mut words = page.words.iter().filter(beside);
        words.find_map(|words| after(&words.words).map(str::to_owned))
    };
    let kit = at_the_side(|words| words.strip_prefix(KIT)).unwrap_or_default();
    let program = at_the_side(|words| {
        let at = words.find(NAME)?;
        Some(&words[at..])
    });
    let program = program.unwrap_or_else(|| Setup::PROGRAM.into());
    let record = |words: &Words| words.words.starts_with(RECORD);
    let setup = |paper: Paper, orientation: PageOrientation, joined: bool| Setup {
        margin,
        overlap: overlap(seen).unwrap_or(Setup::OVERLAP),
        orientation,
        one_page: identity::sheets_said(seen).map_or(sheet.is_work(), |sheets| sheets == 1),
        joined,
        record: seen
            .file
            .pages
            .iter()
            .any(|page| page.words.iter().any(record)),
        kit: kit.clone(),
        program: program.clone(),
        ..Setup::new(paper)
    };
    let papers = papers(size, &said);
    let ways = papers.iter().flat_map(|paper| {
        let orientations: &[PageOrientation] = match paper.stock() {
            Stock::Roll { .. } => &[Either, Portrait, Landscape],
            Stock::Sheet(_) if size.width > size.height => &[Landscape],
            Stock::Sheet(_) => &[Portrait],
        };
        orientations
            .iter()
            .flat_map(move |way| [false, true].map(|joined| (paper, *way, joined)))
    });
    ways.map(|(paper, orientation, joined)| setup(paper.clone(), orientation, joined))
        .collect()
}

fn near(length: f64, usual: f64) -> f64 {
    if (length - usual).abs() <= USUAL {
        usual
    } else {
        (length * STEP).round() / STEP
    }
}

/// How much neighbours share, where there are any.
fn overlap(seen: &Seen<'_>) -> Option<f64> {
    let place = |page: usize| -> Option<Vec2> {
        let mut all = seen.laid.groups.iter().flatten();
        all.find(|(own, _)| *own == page).map(|(_, by)| *by)
    };
    seen.laid.joins.iter().find_map(|join| {
        let [first, second] = join.pages;
        let by = place(second)? - place(first)?;
        let window = seen.sheets[first].window?;
        let shared = match by.x.abs() > by.y.abs() {
            true => window.width() - by.x.abs(),
            false => window.height() - by.y.abs(),
        };
        (shared > 0.0).then(|| near(shared, Setup::OVERLAP))
    })
}

/// Papers of this size: those that the sheet names first.
fn papers(page: Size, said: &[&str]) -> Vec<Paper> {
    let (short, long) = (page.min_side(), page.max_side());
    let own = [(short, long), (long, short)]
        .map(|(width, length)| Paper::parse(&format!("{width:.3}x{length:.3}mm")));
    let is_said = |paper: &Paper| said.contains(&paper.common_name().as_str());
    let known = Paper::short_names().map(Paper::parse);
    let mut all: Vec<Paper> = known
        .chain(own)
        .filter_map(Result::ok)
        .filter(|paper| paper.fits(page))
        .collect();
    // What is called a roll is as wide as one of the page's sides.
    for width in [short, long] {
        all.extend(
            Paper::parse(&format!("roll-{width:.3}mm"))
                .ok()
                .filter(is_said),
        );
    }
    all.dedup_by(|a, b| a == b);
    if all.iter().any(is_said) {
        all.retain(is_said);
    }
    all
}
