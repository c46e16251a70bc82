//! The clearance of each worked-out opening, as a table that adds up, and what each part keeps.

use crate::base::fixed;
use crate::base::length::Units;
use crate::draw::ink::Block;
use crate::model::clearance::{Budget, Kind, Row};
use crate::solve::{Clearances, Part, Pattern};

/// What the last column of the kept table is: one figure for all directions.
const AT_WORST: &str = "At worst case: the least distance, in whichever direction it lies, less all that \
    may go wrong in the direction in which that is most. Where sideways and depthways differ, no less is \
    left than this; below 0, part and panel could touch.";

/// The tables of all openings that were worked out from parts.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    let mut blocks = vec![];
    for clearance in &pattern.clearances {
        blocks.push(Block::Heading(format!(
            "Clearance of {}",
            clearance.opening
        )));
        let parts = pattern.parts.iter();
        let parts = parts.filter(|part| clearance.parts.contains(&part.name));
        let (drilled, kept): (Vec<&Part>, Vec<&Part>) =
            parts.partition(|part| part.drilled.is_some());
        for alike in with_one_budget(&kept, &clearance.budget) {
            blocks.push(Block::Paragraph(how(clearance, &alike, pattern.units)));
            let budget = alike[0].budget(&clearance.budget);
            blocks.push(terms(&budget, pattern.units));
        }
        let holes = drilled.iter().filter_map(|part| drilled_together(part));
        blocks.extend(holes.map(Block::Paragraph));
    }
    if !pattern.spacings.is_empty() {
        blocks.push(Block::Heading("What each part keeps".into()));
        blocks.push(kept(pattern));
        blocks.push(Block::Paragraph(AT_WORST.into()));
    }
    blocks
}

/// Parts of an opening by the clearance that is kept round them, in the order they were told in.
fn with_one_budget<'a>(parts: &[&'a Part], whole: &Budget) -> Vec<Vec<&'a Part>> {
    let mut groups: Vec<(Budget, Vec<&Part>)> = vec![];
    for part in parts {
        let own = part.budget(whole);
        match groups.iter_mut().find(|(budget, _)| *budget == own) {
            Some((_, group)) => group.push(part),
            None => groups.push((own, vec![part])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// What is said of a hole that panel and bracket are drilled together for.
fn drilled_together(part: &Part) -> Option<String> {
    let drilled = part.drilled?;
    Some(format!(
        "{}, {}: panel and bracket are DRILLED TOGETHER, in place, Ø{} mm (ISO 273, {} fit). It has \
         that hole and no other clearance: where the panel is cut by itself, do not use it.",
        part.name,
        drilled.bolt.name,
        fixed(drilled.hole(), 1),
        drilled.fit.word()
    ))
}

fn how(clearance: &Clearances, parts: &[&Part], units: Units) -> String {
    let mut words = format!(
        "Round {}, {} to each side; what is not given has a stated design value.",
        parts
            .iter()
            .map(|part| part.name.as_str())
            .collect::<Vec<_>>()
            .join(", "),
        units.word()
    );
    if units == Units::In {
        words += " Each figure is rounded by itself.";
    }
    if !clearance.sides.is_empty() {
        let sides = clearance.sides.iter();
        let sides = sides.map(|(side, gap)| format!("{} to the {side}", units.length(*gap)));
        let sides: Vec<String> = sides.collect();
        let rest = match parts.iter().any(|part| part.gap.is_some()) {
            true => ", where that is more than its own",
            false => "; the table has the narrowest",
        };
        words += &format!(" Gaps of single sides: {}{rest}.", sides.join(", "));
    }
    if let Some(tool) = clearance.tool {
        words += &format!(
            " Corners: the tool of Ø{} is the largest that clears.",
            units.tool(tool)
        );
    }
    if clearance.grown_by > 0.0 {
        words += &format!(
            " No tool was small enough: the box was grown by {} to each side.",
            units.length(clearance.grown_by)
        );
    }
    words
}

fn terms(budget: &Budget, units: Units) -> Block {
    let heads = [
        ("Term", false),
        ("Sideways", true),
        ("Depthways", true),
        ("Why", false),
    ];
    let row = |row: Row| {
        let name = match row.kind {
            Kind::Combined => format!("  {}", row.name),
            Kind::Added | Kind::Together | Kind::Total | Kind::WorstCase => row.name.to_owned(),
        };
        [
            name,
            units.in_column(row.value.sideways),
            units.in_column(row.value.depthways),
            row.reason,
        ]
    };
    Block::table(&heads, budget.rows().into_iter().map(row))
}

/// To the hundredth, as the terms beside it: rounded farther, a part would seem to keep more.
fn kept(pattern: &Pattern) -> Block {
    let units = pattern.units;
    let head = |words: &str| format!("{words}, {}", units.word());
    let measured = [
        "Least distance",
        "After all movement",
        "Gap asked for",
        "At worst case",
    ];
    let measured = measured.map(head);
    let columns = measured.iter().map(|words| (words.as_str(), true));
    let heads: Vec<(&str, bool)> = std::iter::once(("Part", false)).chain(columns).collect();
    let label = |name: &String| {
        let part = pattern.parts.iter().find(|part| part.name == *name);
        part.map_or_else(|| name.clone(), Part::label)
    };
    let rows = pattern.spacings.iter().map(|clear| {
        [
            label(&clear.part),
            units.in_column(clear.now.distance),
            units.in_column(clear.after_moves.distance),
            units.in_column(clear.gap),
            units.in_column(clear.at_worst),
        ]
    });
    Block::table(&heads, rows)
}
