//! Check rulers, one by one, and the scale that they give.

use super::{RULER_WITHIN, Seen};
use crate::base::fixed;
use crate::check::verify::report::{Finding, Outcome, Topic};
use crate::check::verify::seen::{Lie, NoLie, Ruler, Sheet};

/// How far a graduation may be from its place, mm.
const UNEVEN_WITHIN: f64 = 0.03;
/// How far the corner between across and down may be from a right angle, degrees: 0.02 mm over
/// 100 mm.
const SKEW_WITHIN: f64 = 0.0115;
/// Turned by less than this, degrees, is not turned.
const TURN_WITHIN: f64 = 0.0115;

pub(super) fn judge(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let (across, down) = seen.wanted;
    if (across, down) != (1.0, 1.0) {
        let words = format!(
            "drawn for a printer: {} % across, {} % down",
            fixed(100.0 * across, 3),
            fixed(100.0 * down, 3)
        );
        findings.push(Finding::new(Outcome::Sound, Topic::Scale, words));
    }
    for (index, sheet) in seen.sheets.iter().enumerate() {
        match &sheet.lie {
            Ok(lie) => rulers(seen, index, sheet, lie, findings),
            Err(why) => findings.push(unproven(seen, index, sheet, *why)),
        }
    }
    whole(seen, findings);
}

fn unproven(seen: &Seen<'_>, index: usize, sheet: &Sheet, why: NoLie) -> Finding {
    let page = &seen.file.pages[index];
    let words = match why {
        NoLie::TooMany => format!(
            "{} check rulers are on it, where a sheet has 4; hint: verify one sheet to a page",
            sheet.rulers.len()
        ),
        NoLie::Missing if page.strokes.is_empty() && page.pictures > 0 => {
            "it is a picture made of pixels; hint: `trimloft scale --scan` measures those".into()
        }
        NoLie::Missing if sheet.broken > 0 => {
            "a check ruler has lost graduations, so that it can't be told which it is".into()
        }
        NoLie::Missing => format!(
            "{} of the 4 check rulers are found, which is not enough to tell its scale",
            sheet.rulers.len()
        ),
    };
    Finding::new(Outcome::CannotJudge, Topic::CheckRuler, words).on(index)
}

fn rulers(seen: &Seen<'_>, index: usize, sheet: &Sheet, lie: &Lie, findings: &mut Vec<Finding>) {
    let ways = [
        ("across", lie.across, seen.wanted.0),
        ("down", lie.down, seen.wanted.1),
    ];
    for (way, pair, wanted) in ways {
        for ruler in pair.map(|place| &sheet.rulers[place]) {
            findings.push(one(ruler, way, wanted).on(index));
        }
    }
    let mut fault = |words: String| {
        findings.push(Finding::new(Outcome::Fault, Topic::Scale, words).on(index));
    };
    if lie.mirrored {
        fault("mirrored: left and right are exchanged".into());
    }
    if lie.skew.abs() > SKEW_WITHIN {
        fault(format!("out of square by {} degrees", fixed(lie.skew, 3)));
    }
    if sheet.ruler_lost {
        fault("a check ruler runs off the page, or is clipped".into());
    }
    if sheet.ruler_covered {
        findings.push(
            Finding::new(
                Outcome::CannotJudge,
                Topic::CheckRuler,
                "something was painted over a check ruler",
            )
            .on(index),
        );
    }
    if lie.turn.abs() > TURN_WITHIN && seen.file.pages[index].turned == 0 {
        let words = format!("turned by {} degrees on the page", fixed(lie.turn, 2));
        findings.push(Finding::new(Outcome::Changed, Topic::Page, words).on(index));
    }
}

fn one(ruler: &Ruler, way: &str, wanted: f64) -> Finding {
    let (is, should) = (ruler.length(), ruler.kind.nominal() * wanted);
    let off = is - should;
    // Half a micrometre less than nothing is nothing.
    let shown_off = if off.abs() < 5e-4 { 0.0 } else { off };
    let mut words = format!(
        "{} ruler {way}: {is:.3} mm, error {shown_off:+.3} mm",
        ruler.kind.words()
    );
    let mut outcome = Outcome::Sound;
    if off.abs() > RULER_WITHIN {
        outcome = Outcome::Fault;
    }
    if ruler.uneven > UNEVEN_WITHIN * ruler.scale().max(1.0) {
        outcome = Outcome::Fault;
        words += &format!(
            "; a graduation is {} mm off its place",
            fixed(ruler.uneven, 3)
        );
    }
    Finding::new(outcome, Topic::CheckRuler, words).measured(is, should)
}

/// The settings that usually shrink a page so much: fitted to the printable area of its own paper, or A4
/// and Letter taken for one another.
fn shrinkers((across, down): (f64, f64)) -> &'static str {
    let usual = 0.90..0.99;
    if usual.contains(&across) && usual.contains(&down) {
        "; what usually shrinks so much: `Fit to page`, `Shrink oversized pages`, a browser's margins"
    } else {
        ""
    }
}

/// The scale of the whole file, where its pages agree.
fn whole(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let proven: Vec<(usize, (f64, f64))> = seen
        .sheets
        .iter()
        .enumerate()
        .filter(|(_, sheet)| sheet.lie.is_ok())
        .map(|(index, sheet)| {
            let (across, down) = sheet.scales;
            (index, (across / seen.wanted.0, down / seen.wanted.1))
        })
        .collect();
    let Some((_, first)) = proven.first().copied() else {
        return;
    };
    let within = RULER_WITHIN / 100.0;
    let same =
        |a: (f64, f64), b: (f64, f64)| (a.0 - b.0).abs() <= within && (a.1 - b.1).abs() <= within;
    let percent = |scale: (f64, f64)| {
        format!(
            "{} % across and {} % down",
            fixed(100.0 * scale.0, 3),
            fixed(100.0 * scale.1, 3)
        )
    };
    let all = proven.iter().all(|(_, scale)| same(*scale, first));
    let full = |scale: (f64, f64)| same(scale, (1.0, 1.0));
    if all && full(first) {
        if proven.len() == seen.sheets.len() {
            let words = format!("full size, {}", percent(first));
            findings.push(Finding::new(Outcome::Sound, Topic::Scale, words));
        }
    } else if all {
        let words = format!(
            "scaled to {}; hint: draw the pattern again, and print that file; a file corrected \
             for a printer is verified with `--printer`{}",
            percent(first),
            shrinkers(first)
        );
        findings.push(Finding::new(Outcome::Fault, Topic::Scale, words));
    } else {
        for (index, scale) in proven.iter().filter(|(_, scale)| !full(*scale)) {
            let words = format!("scaled to {}", percent(*scale));
            findings.push(Finding::new(Outcome::Fault, Topic::Scale, words).on(*index));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::shrinkers;

    #[test]
    fn the_usual_shrinkers_are_named_where_they_would_do_it() {
        // A4 and Letter fitted to borders of 4 to 6.35 mm, and A4 to Letter.
        for scale in [0.9597, 0.9412, 0.9407, 0.9727] {
            assert!(shrinkers((scale, scale)).contains("Fit to page"), "{scale}");
        }
        for scale in [(0.5, 0.5), (1.02, 1.02), (0.96, 1.0), (0.998, 0.998)] {
            assert!(shrinkers(scale).is_empty(), "{scale:?}");
        }
    }
}
