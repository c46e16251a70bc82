//! What stands across the head of the front page.

use super::flow::Piece;
use super::words::{GUTTER, LARGE, MIDDLE, SMALL, Style, fitted, pitch};
use crate::draw::ink::{Anchor, Role, Said, TitleBlock, lettering};

/// Heights of the headline, mm: the title's and the rest's.
pub(super) const LOOSE: [f64; 2] = [LARGE, MIDDLE];
/// The same where all stands tight.
pub(super) const TIGHT: [f64; 2] = [MIDDLE, SMALL];

/// Title, number and what it is for, across the page, the title and the rest in these heights at most.
pub(super) fn headline(title: &TitleBlock, width: f64, [large, middle]: [f64; 2]) -> Piece {
    let paragraph = || Said::first(Role::Paragraph);
    let mut marks = vec![];
    let mut y = 0.0;
    let lines = |height: f64| lettering::wrap(&title.title, height, width - height * 0.1);
    let (height, lines) = [(large, 1), (middle, 2)]
        .into_iter()
        .map(|(height, most)| (height, lines(height), most))
        .find(|(_, lines, most)| lines.len() <= *most)
        .map_or_else(
            || (SMALL, lines(SMALL)),
            |(height, lines, _)| (height, lines),
        );
    let mut lines = lines.into_iter();
    let shown: Vec<String> = lines.by_ref().take(2).collect();
    let rest: String = lines.collect::<Vec<_>>().join(" ");
    for (at, line) in shown.iter().enumerate() {
        let line = match (at, rest.as_str()) {
            (1, rest) if !rest.is_empty() => fitted(&format!("{line} {rest}"), width, &[height]).0,
            _ => line.clone(),
        };
        y -= height;
        let line = Style::heavy(height).at(line, (0.0, y));
        marks.push(line.said(Said::line(Role::Title, at)));
        y -= 0.5 * height;
    }
    let (number, height) = fitted(&title.number_and_revision(), width, &[middle, SMALL]);
    y -= middle;
    let used = lettering::width(&number, height) + GUTTER;
    let beside_title = width - lettering::width(&title.title, large) - 2.0 * GUTTER;
    let whole = used + lettering::width(&title.supplement, SMALL);
    if shown.len() == 1 && whole <= beside_title {
        // All in one line, its end at the right.
        let base = -large;
        let words = Style::plain(SMALL).anchored(Anchor::End);
        let supplement = words.at(title.supplement.as_str(), (width, base));
        let at = width - lettering::width(&title.supplement, SMALL) - GUTTER;
        let words = Style::heavy(height).anchored(Anchor::End);
        marks.push(words.at(number, (at, base)).said(paragraph()));
        marks.push(supplement.said(paragraph()));
        return Piece::new("title", large + 1.0, 0.0, marks);
    }
    marks.push(Style::heavy(height).at(number, (0.0, y)).said(paragraph()));
    let beside = width - used;
    let (at, width) = if beside >= 0.3 * width {
        ((used, y), beside)
    } else {
        ((0.0, y - pitch(SMALL)), width)
    };
    let (words, height) = fitted(&title.supplement, width, &[middle, SMALL]);
    if !words.is_empty() {
        y = at.1;
        marks.push(Style::plain(height).at(words, at).said(paragraph()));
    }
    Piece::new("title", 1.0 - y, 0.0, marks)
}
