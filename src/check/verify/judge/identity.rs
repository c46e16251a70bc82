//! Who a file says that it is: number and revision on every sheet, and which sheet of how many.

use super::Seen;
use crate::check::verify::measured::MeasuredPage;
use crate::check::verify::reference::Reference;
use crate::check::verify::report::{FileKind, Finding, Outcome, Topic};
use crate::check::verify::seen::Sheet;
use std::collections::BTreeMap;

/// How far a value may stand from under its name in a title block, mm.
const UNDER: f64 = 0.3;
/// How far below its name a value may stand, mm: less than to the name of the next row.
const BELOW: f64 = 8.0;
/// How words end that were shortened for want of room.
const SHORTENED: &str = "...";

pub(super) fn judge(seen: &Seen<'_>, reference: &Reference, findings: &mut Vec<Finding>) {
    let mut sound = true;
    for (index, (page, sheet)) in seen.file.pages.iter().zip(&seen.sheets).enumerate() {
        if let Some((outcome, words)) = whose(page, sheet, reference) {
            sound = false;
            findings.push(Finding::new(outcome, Topic::Identity, words).on(index));
        }
    }
    if seen.kind == FileKind::Pdf {
        let before = findings.len();
        sheets(seen, findings);
        neighbours(seen, findings);
        sound &= findings.len() == before;
    }
    if sound {
        let words = format!("every sheet says that it is {}", reference.name());
        findings.push(Finding::new(Outcome::Sound, Topic::Identity, words));
    }
}

/// What is wrong with who a page says that it is.
pub(super) fn whose(
    page: &MeasuredPage,
    sheet: &Sheet,
    reference: &Reference,
) -> Option<(Outcome, String)> {
    let wanted = reference.name();
    let said = at_the_head(page, sheet);
    let Some(first) = said.first().filter(|said| !said.contains('\u{fffd}')) else {
        let words = "nothing on it that can be read says which pattern and revision it is";
        return Some((Outcome::CannotJudge, words.into()));
    };
    // Words of the work that a join hides may reach over the window too: any of them may be it.
    if !said.iter().any(|said| said_as(said, wanted)) {
        let words = format!("it says that it is `{first}`, the definition is `{wanted}`");
        return Some((Outcome::Fault, words));
    }
    None
}

/// Words without what is not seen: other programs may write a hyphen as a soft one.
fn plain(words: &str) -> String {
    words.replace('\u{ad}', "-")
}

/// Whether words are those wanted, or as much of them as there was room for.
fn said_as(words: &str, wanted: &str) -> bool {
    let words = &plain(words);
    let short = words.strip_suffix(SHORTENED);
    words == wanted || short.is_some_and(|short| wanted.starts_with(short))
}

/// What stands over the window, from the left: number and revision among it.
fn at_the_head<'p>(page: &'p MeasuredPage, sheet: &Sheet) -> Vec<&'p str> {
    let Some(window) = sheet.window else {
        return vec![];
    };
    let over = page
        .words
        .iter()
        .map(|words| (sheet.to_sheet * words.at, words));
    let mut over: Vec<_> = over
        .filter(|(at, _)| at.y > window.y1 - UNDER && at.x > window.x0 - BELOW)
        .collect();
    over.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    over.into_iter()
        .map(|(_, words)| words.words.as_str())
        .collect()
}

/// Every sheet is there, once, in order; and so is every page of the record, which is counted by
/// itself and stands behind them.
fn sheets(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let told: Vec<Option<Counted>> = seen.file.pages.iter().map(counted).collect();
    if let Some(untold) = told.iter().position(Option::is_none) {
        let words = format!("page {} does not say which sheet it is", untold + 1);
        findings.push(Finding::new(Outcome::CannotJudge, Topic::Identity, words));
        return;
    }
    let told: Vec<Counted> = told.into_iter().flatten().collect();
    for (word, name) in COUNTED {
        let of_word = told.iter().filter(|one| one.word == word);
        let numbers: Vec<(usize, usize)> = of_word.map(|one| (one.number, one.count)).collect();
        whole(&numbers, name, findings);
    }
    let is_record = |one: &Counted| one.word == RECORD;
    if told
        .windows(2)
        .any(|pair| is_record(&pair[0]) && !is_record(&pair[1]))
    {
        let words = "its record stands before its sheets";
        findings.push(Finding::new(Outcome::Fault, Topic::Identity, words));
    }
}

/// Numbers that are each there once, in order, and agree how many they are.
fn whole(told: &[(usize, usize)], name: &str, findings: &mut Vec<Finding>) {
    let mut add = |outcome, words: String| {
        findings.push(Finding::new(outcome, Topic::Identity, words));
    };
    let Some((_, count)) = told.first().copied() else {
        return;
    };
    if let Some((_, other)) = told.iter().find(|(_, of)| *of != count) {
        let words = format!("some {name}s are of {count}, some of {other}");
        return add(Outcome::Fault, words);
    }
    let mut times: BTreeMap<usize, usize> = BTreeMap::new();
    for (number, _) in told {
        *times.entry(*number).or_default() += 1;
    }
    let mut missing = (1..=count).filter(|number| !times.contains_key(number));
    if let Some(first) = missing.next() {
        let more = match count.saturating_sub(times.len()) {
            0 | 1 => String::new(),
            lacking => format!(", and {} more", lacking - 1),
        };
        let words = format!("{name} {first} of {count} is missing{more}");
        add(Outcome::Fault, words);
    }
    if let Some((number, times)) = times.iter().find(|(_, times)| **times > 1) {
        let words = format!("{name} {number} of {count} is there {times} times");
        add(Outcome::Fault, words);
    }
    if told.windows(2).any(|pair| pair[0].0 > pair[1].0) {
        add(Outcome::Fault, format!("its {name}s are out of order"));
    }
}

/// Which of the definition's pages each page of the file is by what it says, or else by its place;
/// `pages` are how many there are, and how many of them are sheets.
pub(super) fn places(seen: &Seen<'_>, (all, sheets): (usize, usize)) -> Vec<Option<usize>> {
    let place = |(index, page): (usize, &MeasuredPage)| {
        let said = counted(page).and_then(|said| {
            let at = said.number.checked_sub(1)?;
            match said.word == RECORD {
                true => at.checked_add(sheets).filter(|at| *at < all),
                false => Some(at).filter(|at| *at < sheets),
            }
        });
        said.or(Some(index).filter(|index| *index < all))
    };
    seen.file.pages.iter().enumerate().map(place).collect()
}

/// How many sheets there are by the first page that says so.
pub(super) fn sheets_said(seen: &Seen<'_>) -> Option<usize> {
    let mut said = seen.file.pages.iter().filter_map(counted);
    said.find(|said| said.word != RECORD).map(|said| said.count)
}

/// The word before a record page's number.
pub(super) const RECORD: &str = "RECORD ";
/// The words before pages' numbers, and what such pages are called.
const COUNTED: [(&str, &str); 2] = [("SHEET ", "sheet"), (RECORD, "record page")];

/// `SHEET 2 OF 4` as numbers.
struct Counted {
    word: &'static str,
    number: usize,
    count: usize,
}

fn counted(page: &MeasuredPage) -> Option<Counted> {
    page.words.iter().find_map(|words| {
        let said = plain(&words.words);
        COUNTED.iter().find_map(|(word, _)| {
            let (number, count) = said.strip_prefix(word)?.split_once(" OF ")?;
            Some(Counted {
                word,
                number: number.parse().ok()?,
                count: count.parse().ok()?,
            })
        })
    })
}

/// Sheets that say they lie side by side must share register marks.
fn neighbours(seen: &Seen<'_>, findings: &mut Vec<Finding>) {
    let cells: BTreeMap<(usize, usize), usize> = seen
        .file
        .pages
        .iter()
        .enumerate()
        .filter_map(|(index, page)| Some((cell_of(page)?, index)))
        .collect();
    for ((row, column), page) in &cells {
        for next in [(*row, column + 1), (row + 1, *column)] {
            let Some(other) = cells.get(&next) else {
                continue;
            };
            let joined = |pages: [usize; 2]| pages == [*page, *other] || pages == [*other, *page];
            if !seen.laid.joins.iter().any(|join| joined(join.pages)) {
                let words = format!(
                    "pages {} and {} lie side by side and share no register marks",
                    page + 1,
                    other + 1
                );
                findings.push(Finding::new(Outcome::Fault, Topic::Register, words));
            }
        }
    }
}

/// `Row 1, column 2` as numbers.
fn cell_of(page: &MeasuredPage) -> Option<(usize, usize)> {
    page.words.iter().find_map(|words| {
        let (row, column) = words.words.strip_prefix("Row ")?.split_once(", column ")?;
        Some((row.parse().ok()?, column.parse().ok()?))
    })
}
