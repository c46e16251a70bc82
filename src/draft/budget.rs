//! The clearance of each worked-out opening, as a table that adds up, and what each part keeps.

use super::measure::{length, tool_size};
use crate::clearance::{Kind, Row};
use crate::drawing::{Block, fixed};
use crate::length::Units;
use crate::pattern::{Clearances, Pattern};

/// The tables of all openings that were worked out from parts.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    let mut blocks = vec![];
    for clearance in &pattern.clearances {
        blocks.push(Block::Heading(format!(
            "Clearance of {}",
            clearance.opening
        )));
        blocks.push(Block::Paragraph(how(clearance, pattern.units)));
        blocks.push(terms(clearance));
    }
    if !pattern.spacings.is_empty() {
        blocks.push(Block::Heading("What each part keeps".into()));
        blocks.push(kept(pattern));
    }
    blocks
}

fn how(clearance: &Clearances, units: Units) -> String {
    let mut words = format!(
        "Round {}, mm to each side; what is not given has a stated design value.",
        clearance.parts.join(", ")
    );
    if let Some(tool) = clearance.tool {
        words += &format!(
            " Corners: the tool of Ø{} is the largest that clears.",
            tool_size(tool, units)
        );
    }
    if clearance.grown_by > 0.0 {
        words += &format!(
            " No tool was small enough: the box was grown by {} to each side.",
            length(clearance.grown_by, units)
        );
    }
    words
}

fn terms(clearance: &Clearances) -> Block {
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
            fixed(row.value.sideways, 2),
            fixed(row.value.depthways, 2),
            row.reason,
        ]
    };
    Block::table(&heads, clearance.budget.rows().into_iter().map(row))
}

fn kept(pattern: &Pattern) -> Block {
    let heads = [
        ("Part", false),
        ("Least distance", true),
        ("After all movement", true),
        ("Gap asked for", true),
        ("At worst case", true),
    ];
    let rows = pattern.spacings.iter().map(|clear| {
        [
            clear.part.clone(),
            length(clear.now.distance, pattern.units),
            length(clear.after_moves.distance, pattern.units),
            length(clear.gap, pattern.units),
            length(clear.at_worst, pattern.units),
        ]
    });
    Block::table(&heads, rows)
}
