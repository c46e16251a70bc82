//! Parts that were placed by the tape: what it read, and how well that places them.

use super::measure::length;
use crate::base::fixed;
use crate::draw::ink::Block;
use crate::solve::{Part, Pattern, TiedPlace};

/// A table for each part that was placed by ties.
pub(super) fn blocks(pattern: &Pattern) -> Vec<Block> {
    let tied = pattern.parts.iter();
    let tied = tied.filter_map(|part| Some((part, part.tied.as_ref()?)));
    tied.flat_map(|(part, tied)| of_part(pattern, part, tied))
        .collect()
}

fn of_part(pattern: &Pattern, part: &Part, tied: &TiedPlace) -> [Block; 3] {
    let units = pattern.units;
    let heads = [("From", false), ("Read", true), ("Over its place", true)];
    let rows = tied.ties.iter().map(|(from, distance, left)| {
        [
            from.clone(),
            length(*distance, units),
            units.in_column(*left),
        ]
    });
    let how = format!(
        "With the tape flat on the panel's face. The distances cross at {} degrees. Its place may be off \
         by {} sideways and {} depthways; that stands in its clearance as `position`.",
        fixed(tied.crossing, 0),
        length(tied.off.sideways, units),
        length(tied.off.depthways, units)
    );
    [
        Block::Heading(format!("{} placed by the tape", part.name)),
        Block::table(&heads, rows),
        Block::Paragraph(how),
    ]
}
