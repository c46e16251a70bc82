//! Who a file says that it is: number and revision on every sheet, and which sheet of how many.

use super::Seen;
use crate::check::verify::measured::{MeasuredPage, Words};
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
fn whose(page: &MeasuredPage, sheet: &Sheet, reference: &Reference) -> Option<(Outcome, String)> {
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
    let fields = [
        ("Number", &reference.number),
        ("Revision", &reference.revision),
    ];
    fields.into_iter().find_map(|(name, wanted)| {
        let said = field(page, sheet, name)?;
        (!said_as(said, wanted)).then(|| {
            let words = format!("its title block says {name} `{said}`, the definition `{wanted}`");
            (Outcome::Fault, words)
        })
    })
}

/// Whether words are those wanted, or as much of them as there was room for.
///
/// Other programs may write a hyphen as a soft one.
fn said_as(words: &str, wanted: &str) -> bool {
    let words = &words.replace('\u{ad}', "-");
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

/// The value under a name of a title block.
fn field<'p>(page: &'p MeasuredPage, sheet: &Sheet, name: &str) -> Option<&'p str> {
    let names = page.words.iter().filter(|words| words.words == name);
    names
        .filter_map(|label| {
            let under = |words: &&Words| {
                let by = sheet.to_sheet * label.at - sheet.to_sheet * words.at;
                by.x.abs() <= UNDER && by.y > 0.0 && by.y <= BELOW
            };
            page.words.iter().find(under)
        })
        .map(|value| value.words.as_str())
        .next()
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
    for number in 1..=count {
        match told.iter().filter(|(own, _)| *own == number).count() {
            0 => add(
                Outcome::Fault,
                format!("{name} {number} of {count} is missing"),
            ),
            1 => {}
            times => {
                let words = format!("{name} {number} of {count} is there {times} times");
                add(Outcome::Fault, words);
            }
        }
    }
    if told.windows(2).any(|pair| pair[0].0 > pair[1].0) {
        add(Outcome::Fault, format!("its {name}s are out of order"));
    }
}

/// The word before a record page's number.
const RECORD: &str = "RECORD ";
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
        COUNTED.iter().find_map(|(word, _)| {
            let (number, count) = words.words.strip_prefix(word)?.split_once(" OF ")?;
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
