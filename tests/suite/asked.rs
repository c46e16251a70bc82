//! Definitions that questions make, whatever is answered.

use crate::common::random::{Came, hold};
use proptest::prelude::*;
use std::cell::RefCell;
use std::collections::BTreeSet;
use toml_edit::DocumentMut;
use trimloft::ask::{Blank, BlankKind, Question, asked_by, blank, questions};
use trimloft::input::families::Library;
use trimloft::input::{PatternSpec, Report, Source};
use trimloft::solve::solve;

/// Dice that were thrown before, without end.
struct Dice<'a>(std::iter::Cycle<std::slice::Iter<'a, u16>>);

impl Dice<'_> {
    fn up_to(&mut self, most: u16) -> u16 {
        self.0.next().copied().unwrap_or_default() % (most + 1)
    }

    fn of<'w, T>(&mut self, all: &'w [T]) -> &'w T {
        &all[usize::from(self.up_to(all.len() as u16 - 1))]
    }
}

/// What may be written in a blank: mostly what could be measured there.
fn text(dice: &mut Dice<'_>, id: &str, blank: &Blank) -> String {
    let small = matches!(id, "thickness" | "position" | "profile-error") || id.ends_with("gap");
    let angle = |dice: &mut Dice<'_>| format!("{} deg", dice.up_to(20));
    match &blank.kind {
        BlankKind::Length if id == "width" => format!("{}", 600 + dice.up_to(1200)),
        BlankKind::Length if small => format!("{}.5 mm", dice.up_to(5)),
        BlankKind::Length if blank.label.contains("corner") => format!("{} mm", dice.up_to(6)),
        BlankKind::Length if id == "edge" || id == "profile" => format!("{}", dice.up_to(30)),
        BlankKind::Length if dice.up_to(20) == 0 => "1/2 in".into(),
        BlankKind::Length => format!("{} mm", 20 + dice.up_to(180)),
        BlankKind::Angle => angle(dice),
        BlankKind::Place(sides) => format!("{} mm {}", dice.up_to(120), dice.of(sides)),
        BlankKind::Choice(words) => dice.of(words).0.clone(),
        BlankKind::YesOrNo => (*dice.of(&["yes", "no"])).into(),
        BlankKind::Count(most) => dice.up_to((*most).min(3) as u16).to_string(),
        BlankKind::Name => format!("name-{}", dice.up_to(9)),
    }
}

fn answer(dice: &mut Dice<'_>, question: &Question) -> Vec<Vec<String>> {
    let is_curve = matches!(question.id.as_str(), "edge" | "profile");
    let rows = match is_curve {
        true => 3,
        false => 1 + usize::from(dice.up_to(2)).min(question.most_rows - 1),
    };
    let mut row = |index: usize| -> Vec<String> {
        let each = question.blanks.iter().enumerate();
        each.map(|(place, blank)| {
            if is_curve && place == 0 {
                return format!("{}", 300 * index);
            }
            match blank.may_be_empty && dice.up_to(1) == 0 {
                true => String::new(),
                false => text(dice, &question.id, blank),
            }
        })
        .collect()
    };
    (0..rows).map(&mut row).collect()
}

/// A definition answered by chance: what is needed nearly always, what may be left out now and then.
fn answered(dice: &mut Dice<'_>, shapes: &Library) -> DocumentMut {
    let mut definition = blank("asked");
    let mut done = BTreeSet::new();
    loop {
        let all = questions(&definition, shapes);
        // What may be left out at first can be needed after another answer: then it is asked again.
        let is_new = |own: &Question| !done.contains(&(own.id.clone(), own.usual.is_some()));
        let Some(next) = all.into_iter().find(is_new) else {
            return definition;
        };
        let is_left_out = match next.usual {
            Some(_) => dice.up_to(3) > 0,
            None => dice.up_to(60) == 0,
        };
        if !is_left_out {
            // Refused answers are told by another test.
            let _ = next.write(&mut definition, &answer(dice, &next));
        }
        done.insert((next.id, next.usual.is_some()));
    }
}

fn throws() -> impl Strategy<Value = Vec<u16>> {
    prop::collection::vec(any::<u16>(), 300)
}

/// What a definition's text comes to: nothing, or all that is wrong with it.
fn judged(text: &str, shapes: &Library) -> Result<(), Report> {
    let source = Source::new("asked.toml", text);
    let spec = PatternSpec::read(&source)?;
    let solved = solve(&spec, shapes).map_err(|problems| Report::new(&source, problems))?;
    assert!(!solved.openings.is_empty());
    Ok(())
}

/// Whatever is answered, there is a pattern; or an answer is missing, or each problem is told by a
/// question.
#[test]
fn answers_make_a_pattern_or_are_refused_by_their_questions() {
    let shapes = Library::shipped();
    hold(400, 0.25, throws(), |throws| {
        let mut dice = Dice(throws.iter().cycle());
        let definition = answered(&mut dice, &shapes);
        let text = definition.to_string();
        let Err(report) = judged(&text, &shapes) else {
            return Ok(Came::Through);
        };
        let asked = questions(&definition, &shapes);
        if !asked
            .iter()
            .any(|question| question.is_lacking(&definition))
        {
            for problem in &report.problems {
                let by = asked_by(&text, &asked, problem);
                let place = problem.span.clone().map(|span| &text[span]);
                prop_assert!(by.is_some(), "{} at {place:?}\n{text}", problem.message);
            }
        }
        Ok(Came::Refused)
    });
}

/// Going back to any one answer and giving another leaves all others as they were, of the questions
/// that still are asked; and so does taking it back.
/// Sizes of shapes that rows of lists ask for.
const SIZES: [&str; 3] = ["width", "height", "diameter"];

#[test]
fn going_back_changes_nothing_else() {
    let shapes = Library::shipped();
    let changed = RefCell::new(BTreeSet::new());
    hold(60, 0.9, throws(), |throws| {
        let mut dice = Dice(throws.iter().cycle());
        let first = answered(&mut dice, &shapes);
        let asked = questions(&first, &shapes);
        // Other units put every number in other words: a test of its own holds that it stays as long.
        for question in asked.iter().filter(|own| own.id != "units") {
            for rows in [answer(&mut dice, question), vec![]] {
                let mut definition = first.clone();
                if question.write(&mut definition, &rows).is_err() {
                    continue;
                }
                let still: BTreeSet<String> = questions(&definition, &shapes)
                    .into_iter()
                    .map(|own| own.id)
                    .collect();
                for other in &asked {
                    // A shape has its own sizes: those that the other shape has as well stay.
                    let is_of_it = question
                        .id
                        .strip_suffix(".what")
                        .is_some_and(|table| other.id.strip_suffix(".size") == Some(table));
                    if other.id == question.id || is_of_it || !still.contains(&other.id) {
                        continue;
                    }
                    // So has one in a list, whose rows ask for the sizes of its usual shape.
                    let reads = |definition| {
                        let mut rows = other.read(definition);
                        let sizes = other.blanks.iter().map(|own| own.label.as_str());
                        let sizes = sizes.map(|label| SIZES.contains(&label));
                        let sizes: Vec<bool> = sizes.collect();
                        for row in rows.iter_mut().filter(|_| question.id.ends_with(".what")) {
                            let mut of_shape = sizes.iter();
                            row.retain(|_| !of_shape.next().unwrap_or(&false));
                        }
                        rows
                    };
                    prop_assert_eq!(
                        reads(&definition),
                        reads(&first),
                        "{} changed {}\n{}",
                        &question.id,
                        &other.id,
                        first.to_string()
                    );
                }
                changed.borrow_mut().insert(question.id.clone());
            }
        }
        Ok(Came::Through)
    });
    let changed = changed.into_inner();
    assert!(changed.len() >= 40, "only {changed:?}");
}
