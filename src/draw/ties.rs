//! Parts that were placed by the tape: what it read, and how well that places them.

use super::opening::cross;
use super::view::View;
use crate::base::fixed;
use crate::draw::ink::{Block, Layer, Line as Pen, Mark, Width};
use crate::solve::{Part, Pattern, TiedPlace};

/// Arms of the cross that a tape is held to, mm.
const ARM: f64 = 4.0;

/// Crosses at the points of parts that tapes were held to.
pub(super) fn crosses(pattern: &Pattern, view: View) -> Vec<Mark> {
    let pen = Pen::continuous(Width::Thin);
    let held = pattern.parts.iter().filter_map(|part| part.tied.as_ref());
    held.flat_map(TiedPlace::held)
        .map(|at| Mark::stroke(Layer::Parts, cross(view.point(at), ARM), pen))
        .collect()
}

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
    let rows = tied.ties.iter().map(|tie| {
        [
            tie.from.clone(),
            units.length(tie.distance),
            units.in_column(tie.over),
        ]
    });
    let how = format!(
        "With the tape flat on the panel's face. The distances cross at {} degrees. Its place may be off \
         by {} sideways and {} depthways; that stands in its clearance as `position`.",
        fixed(tied.crossing, 0),
        units.length(tied.off.sideways),
        units.length(tied.off.depthways)
    );
    [
        Block::Heading(format!("{} placed by the tape", part.name)),
        Block::table(&heads, rows),
        Block::Paragraph(how),
    ]
}
